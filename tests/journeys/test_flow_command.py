"""Flow asked from the command line: the JSON that machines read, and the words people read."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

import handbook
from handbook.cli import main

EXAMPLE = str(Path(handbook.__file__).parents[1] / "example_house")


def asked(*words: str) -> str:
    done = CliRunner().invoke(main, ["flow", EXAMPLE, *words])
    assert done.exit_code == 0, done.output
    return done.output


def test_the_json_has_every_fixture_and_every_run_with_its_figures():
    said = json.loads(asked("--json"))
    house = handbook.load(EXAMPLE).house
    assert set(said["fixtures"]) == set(house.water.own)
    assert {"pressure_psi", "flow_gpm", "peak", "alone"} <= set(said["fixtures"]["hall-tub"])
    assert {"demand_gpm", "velocity_ft_s", "loss_psi"} <= set(said["runs"]["W5"])
    assert {"worst", "costliest", "upsizing", "spare", "assumed", "missing"} <= set(said)


def test_the_text_tells_the_three_best_pipes_to_lay_larger_in_order():
    said = json.loads(asked("--json"))
    best = [each["run"] for each in said["upsizings"]][:3]
    told = [line for line in asked().splitlines() if " gives back " in line]
    assert [line.partition(" to ")[2].partition(" in ")[0] for line in told] == best
    assert told[0].startswith("The 11 ft to T20 in 3/4 in instead of 1/2 in gives back ")
    there = said["upsizings"][0]["pressure_psi"]
    assert there == pytest.approx(
        said["worst"]["pressure_psi"] + said["upsizings"][0]["gives_back_psi"], abs=0.002
    )


def test_what_comes_before_any_pipe_is_changed_is_told_before_the_pipes():
    said = json.loads(asked("--json"))
    assert [each["thing"] for each in said["adjustments"]] == ["PRV1", "PRV1", "SOF"]
    for each in said["adjustments"]:
        assert each["pressure_psi"] == pytest.approx(
            said["worst"]["pressure_psi"] + each["gives_back_psi"], abs=0.002
        )
    told = asked()
    assert told.index("Before any pipe is changed: PRV1 set to 67 psi") < told.index(" gives back ")


def test_the_json_has_the_way_to_the_worst_fixture_and_a_sentence_a_bathroom():
    said = json.loads(asked("--json"))
    assert [step["thing"] for step in said["way"]][:2] == ["WM", "WM"]
    assert said["way"][-1]["run"] == said["worst"]["supply"]
    assert said["way"][-1]["left_psi"] == said["worst"]["pressure_psi"]
    assert set(said["bathrooms"]) == {"powder", "hall-bath", "primary-bath"}
    assert all(each["said"] in asked() for each in said["bathrooms"].values())


def test_a_speed_limit_is_told_with_whose_it_is():
    said = asked()
    assert "8 ft/s in metal pipe (NSPC 10.14), but in hot copper 5 ft/s up to 140 °F (NSPC" in said
    assert "12 ft/s in plastic pipe (IRC Table P2903.8.1, from memory)" in said


def test_running_lowers_what_a_fixture_gets_and_leaves_what_it_gets_alone():
    alone = json.loads(asked("--json"))["fixtures"]["primary-shower"]
    beside = json.loads(asked("--running", "laundry-box, hall-tub", "--json"))
    assert beside["running"] == ["laundry-box", "hall-tub"]
    assert beside["fixtures"]["primary-shower"]["flow_gpm"] < alone["flow_gpm"]
    assert beside["fixtures"]["primary-shower"]["alone"] == alone["alone"]
    # the service carries the two that run, and they alone
    drawn = sum(beside["fixtures"][name]["flow_gpm"] for name in beside["running"])
    assert beside["runs"]["W5"]["flow_gpm"] == pytest.approx(drawn, abs=0.01)


def test_the_text_names_the_worst_fixture_and_what_it_leans_on():
    said = asked()
    assert "Worst at peak: primary-shower" in said
    assert "Assumed: The supply is taken to hold its static pressure" in said
    assert "Not known: what BP1 takes off the pressure" in said


def test_a_wrong_id_is_refused_with_the_nearest():
    done = CliRunner().invoke(main, ["flow", EXAMPLE, "--running", "hall-tup"])
    assert done.exit_code == 2
    assert "did you mean `hall-tub`?" in done.output


def test_python_gives_the_same_answer():
    answer = handbook.load(EXAMPLE).flow(["laundry-box"])
    said = json.loads(asked("--running", "laundry-box", "--json"))
    for name, each in answer.fixtures.items():
        assert said["fixtures"][name]["pressure_psi"] == pytest.approx(
            each.asked.pressure_psi, abs=0.001
        )
