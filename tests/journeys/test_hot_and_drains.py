"""Hot water, its expansion and what drains carry: one answer on the command line, in the book, and
from Python, in both systems of units, on the example house."""

import json
import re

import pytest
from click.testing import CliRunner
from situation_houses import house
from walked_content import blocks, text

from handbook import assets, tables
from handbook.answers.drain_loading import drain_loading
from handbook.answers.heating.hot_said import wait
from handbook.answers.hot_water import hot_water
from handbook.cli import main
from handbook.house.house import House
from handbook.pages.book import book
from handbook.pages.content import Bullets, Page, Table, plain

EXAMPLE = (assets.example_house() / "house.yaml").read_text("utf-8")
METRIC = EXAMPLE.replace("  units: US\n", "  units: metric\n")
US_UNITS = re.compile(r"\d (?:gal|ft|psi|gpm|in per ft|°F)\b")


def said(tmp_path, record: str, *arguments: str) -> str:
    (tmp_path / "house.yaml").write_text(record, "utf-8")
    command, *options = arguments
    done = CliRunner().invoke(main, [command, str(tmp_path), *options])
    assert done.exit_code == 0, done.output
    return done.output


def page(subject: House, name: str) -> Page:
    (found,) = [page for page in book(subject).pages if page.id == name]
    return found


@pytest.mark.parametrize("command", ["hot", "expansion", "drains"])
def test_json_is_the_same_whatever_the_houses_units(tmp_path, command: str) -> None:
    assert METRIC != EXAMPLE
    answers = [json.loads(said(tmp_path, r, command, "--json")) for r in (EXAMPLE, METRIC)]
    for answer in answers:
        answer.pop("assumed", None)  # sentences: in the house's units
    assert answers[0] == answers[1]


@pytest.mark.parametrize("command", ["hot", "expansion", "drains"])
def test_a_metric_house_is_answered_in_metric(tmp_path, command: str) -> None:
    own = said(tmp_path, METRIC, command).split("Source:")[0]
    assert not [
        line
        for line in own.splitlines()
        if US_UNITS.search(line) and not line.lstrip().startswith("RC1 runs:")  # a recorded text
    ]
    assert US_UNITS.search(said(tmp_path, EXAMPLE, command))


def test_the_wait_in_json_is_the_volume_at_the_flow(tmp_path) -> None:
    answer = json.loads(said(tmp_path, EXAMPLE, "hot", "--json"))
    for outlet in answer["outlets"].values():
        way = outlet["from_heater"]
        seconds = way["volume_gal"] / outlet["flow_gpm"] * 60
        assert way["seconds"] == pytest.approx(seconds, abs=0.1)
        assert outlet["from_loop"]["volume_gal"] < way["volume_gal"]


def test_the_examples_tank_is_large_enough_and_rightly_charged(tmp_path) -> None:
    heater = json.loads(said(tmp_path, EXAMPLE, "expansion", "--json"))["heaters"]["WH1"]
    # 50 gal from 40 F (8.345 lb/gal) to 120 F (8.250): 0.576 gal; PRV1 closes the system
    assert (heater["system"], heater["by"]) == ("closed", "PRV1")
    assert heater["swells_gal"] == pytest.approx(0.576, abs=0.001)
    assert heater["tank"]["big_enough"]
    assert heater["tank"]["charge_right"]


def test_the_examples_drains_add_up(tmp_path) -> None:
    stretches = json.loads(said(tmp_path, EXAMPLE, "drains", "--json"))["stretches"]
    # IRC P3004.1. Stack A: two full baths 8, the second lavatory of one 1. Stack B: washer 2,
    # powder room 4, kitchen 2. All: two and a half baths 9, lavatory 1, washer 2, kitchen 2,
    # laundry tub 2, floor drain 0.
    assert stretches["D7"]["units"] == [9, 9]
    assert stretches["D13"]["units"] == [8, 8]
    assert stretches["D21"]["units"] == [16, 16]
    assert all(stretch["fits"] for stretch in stretches.values())


def test_the_household_reads_the_wait_of_each_outlet() -> None:
    subject = house(EXAMPLE)
    answer = hot_water(subject)
    lines = [plain(line) for block in blocks([page(subject, "hot_waits")], Bullets)
             for line in block.lines]  # fmt: skip
    (waited,) = blocks([page(subject, "hot_waits")], Table)
    runs, rests = waited.head[1].lower(), waited.head[2].lower()
    lines += [
        f"{plain(name)}: {plain(near)} {runs}, {plain(far)} {rests}."
        for name, near, far in waited.rows
    ]
    assert answer.outlets
    for outlet in answer.outlets:
        assert f"{outlet.name}: {wait(answer, outlet)}." in lines


def test_the_plumbers_table_has_a_row_for_each_stretch_with_what_is_left() -> None:
    subject = house(EXAMPLE)
    rows = blocks([page(subject, "drain_loading")], Table)[0].rows
    left = {plain(row[0]).split()[0]: plain(row[-1]) for row in rows}
    assert left == {it.id: str(it.left) for it in drain_loading(subject).stretches}


def test_the_room_to_swell_is_said_where_the_hot_water_is() -> None:
    subject = house(EXAMPLE)
    assert "PRV1 (pressure-reducing valve) lets the water go back no further" in text(
        page(subject, "swelling_room")
    )


def test_every_table_stands_on_the_page_of_sources_with_how_it_is_known() -> None:
    (listed,) = blocks([page(house(EXAMPLE), "table_sources")], Table)
    rows = {tuple(plain(cell) for cell in row) for row in listed.rows}
    known = [tables.table(name) for name in tables.names()]
    practice = "common practice"
    how = {
        t.title: practice
        if t.source.startswith(practice)
        else ("read" if t.seen else "from memory")
        for t in known
    }
    assert rows == {(t.title, t.source, how[t.title]) for t in known}


def test_without_lengths_the_book_says_what_is_needed_and_no_seconds() -> None:
    lost = re.sub(r"by: \{length: [^,]*, ", "by: {", EXAMPLE)
    assert lost != EXAMPLE
    made = text(page(house(lost), "hot_waits"))
    assert "the length of the pipe to" in made
    answer = hot_water(house(lost))
    for outlet in answer.outlets:
        if outlet.from_loop is None and outlet.from_heater is None:
            assert f"{outlet.name}: " not in made


def heater_facts(record: str) -> str:
    return text([page(house(record), "WH1")])


def test_a_control_marked_in_letters_is_left_to_its_makers_chart() -> None:
    assert "its maker's chart" in heater_facts(EXAMPLE)  # its dial stands at A
    assert "its maker's chart" not in heater_facts(EXAMPLE.replace("setting: A", "setting: warm"))


def test_a_mixing_valve_behind_a_heater_is_named_with_its_temperature() -> None:
    """The valve is put ahead of everything that the heater feeds."""
    valve = "  equipment:\n    - {id: MV9, name: Mixing valve, kind: mixing valve, from: WH1}\n"
    assert "Mixed down by" not in heater_facts(EXAMPLE)
    assert "MV9" in heater_facts(EXAMPLE.replace("  equipment:\n", valve, 1))
