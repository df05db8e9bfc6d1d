"""Isolate on small houses drawn by hand: what closes, what is lost, what is assumed, what is said.

The expected ladders are worked out on paper from each house's few pipes; the search itself is
checked against brute force in `test_ladder.py`.
"""

from pathlib import Path
from typing import Any

import pytest

from handbook import load
from handbook.answers.isolate import Isolation, isolate
from handbook.answers.not_asked import NoSuchThingError
from handbook.assets import example_house
from handbook.house.house import House, build
from handbook.record.grammar.record import Record


def house(water: dict[str, Any], fixtures: Any = (), **more: Any) -> House:
    record = {
        "format": "1",
        "house": {"name": "Test house"},
        "levels": [
            {"id": "main", "name": "Main level", "rooms": [{"id": "kitchen", "name": "Kitchen"}]},
            {
                "id": "upper",
                "name": "Upper level",
                "rooms": [
                    {"id": "bath", "name": "Hall bath"},
                    {"id": "ensuite", "name": "Ensuite"},
                ],
            },
        ],
        "water": water,
        "fixtures": list(fixtures),
        **more,
    }
    return build(Record.model_validate(record), Path())


def valve(name: str, from_: str | None, **more: Any) -> dict[str, Any]:
    return {"id": name, "kind": "ball", **({"from": from_} if from_ else {}), **more}


def stop(name: str) -> dict[str, Any]:
    return {"id": name, "kind": "angle stop", "where": "beside it"}


def lav(room: str, feeds: tuple[str, str], **stops: str) -> dict[str, Any]:
    return {
        "id": f"{room}-lav",
        "name": f"Sink in the {room}",
        "kind": "lavatory",
        "place": {"room": room},
        "cold": {"from": feeds[0], "stop": stop(stops["cold"]) if "cold" in stops else "none"},
        "hot": {"from": feeds[1], "stop": stop(stops["hot"]) if "hot" in stops else "none"},
    }


STREET_TO_MAIN = [
    valve("U1", "street", utility="yes", kind="curb stop"),
    valve("W1", "U1", main="yes"),
]


def closes(answer: Isolation) -> list[tuple[str, ...]]:
    return [rung.close for rung in answer.ladder]


def plain_house(**heater: Any) -> House:
    """Curb stop, main, heater with a cold shutoff; two baths off a cold and a hot pipe."""
    fixtures = [
        lav("bath", ("W2", "W3"), cold="W10", hot="W11"),
        lav("ensuite", ("W1", "WH1"), cold="W12", hot="W13"),
    ]
    heaters = [{"id": "WH1", "cold": {"from": "W1", "stop": stop("W9")}, **heater}]
    valves = [*STREET_TO_MAIN, valve("W2", "W1"), valve("W3", "WH1")]
    return house({"valves": valves}, fixtures, heaters=heaters)


def test_a_sink_with_cold_and_hot_needs_both_its_stops() -> None:
    answer = isolate(plain_house(), "bath-lav")
    assert answer.ladder[0].close == ("W10", "W11")
    assert answer.ladder[0].also_off == ()


def test_each_step_takes_the_steps_before_for_failed() -> None:
    # W10+W11 fail -> W2+W3 next up; they fail -> the hot side hangs on the heater, so what is
    # left is W1 (losing all), then U1.
    assert closes(isolate(plain_house(), "bath-lav")) == [
        ("W10", "W11"),
        ("W2", "W3"),
        ("W1",),
        ("U1",),
    ]


def shown(answer: Isolation) -> list[tuple[str, ...]]:
    return [rung.close for rung in answer.shown]


def test_people_are_shown_the_nearest_a_second_handy_one_the_main_and_the_utilitys() -> None:
    # W2 and W3 dry nothing but this room's one sink: they are tried before the whole house.
    answer = isolate(plain_house(), "bath-lav")
    assert shown(answer) == [("W10", "W11"), ("W2", "W3"), ("W1",), ("U1",)]


def test_what_dries_another_room_is_not_shown_before_the_main() -> None:
    # The heater's cold shutoff dries the hot tap of the other bath too.
    answer = isolate(plain_house(), "W13")
    assert closes(answer) == [("W9",), ("W1",), ("U1",)]
    other = isolate(plain_house(), "W11")
    assert closes(other) == [("W3",), ("W9",), ("W1",), ("U1",)]
    assert shown(other) == [("W3",), ("W1",), ("U1",)]


def with_tools(*tools: str, room: str = "bath") -> House:
    """One shower with two stops in its valve; cold W2 and hot W3 up the line, and the main W1,
    on which the kitchen hangs too."""
    first, second = ({"tool": tool} for tool in tools)
    shower: dict[str, Any] = {
        "id": "shower",
        "kind": "shower",
        "place": {"room": "bath"},
        "cold": {"from": "W2", "stop": {"id": "W10", "kind": "integral stop", **first}},
        "hot": {"from": "W3", "stop": {"id": "W11", "kind": "integral stop", **first}},
    }
    valves = [*STREET_TO_MAIN, valve("W2", "W1", **second), valve("W3", "W1")]
    return house({"valves": valves}, [shower, lav(room, ("W2", "W3")), lav("kitchen", ("W1",) * 2)])


def test_a_step_that_needs_a_tool_is_passed_over_for_one_in_the_hand_that_loses_little() -> None:
    answer = isolate(with_tools("flat screwdriver", "none"), "shower")
    assert answer.ladder[0].close == ("W10", "W11")
    assert answer.ladder[0].tools == ("flat screwdriver",)
    assert shown(answer) == [("W2", "W3"), ("W1",), ("U1",)]


def test_what_a_tool_would_spare_is_kept_beside_the_steps_shown() -> None:
    answer = isolate(with_tools("flat screwdriver", "none"), "shower")
    assert answer.with_tool == answer.ladder[0]


def looped(check: bool) -> House:
    """A heater feeds the bath through W3; the pump's return joins the heater again."""
    pump: dict[str, Any] = {"id": "RC1", "from": "W3", "shutoff": stop("W15"), "to": "WH1"}
    if check:
        pump["check"] = {"id": "CK1", "from": "RC1"}
    valves = [*STREET_TO_MAIN, valve("W3", "WH1")]
    heaters = [{"id": "WH1", "cold": {"from": "W1", "stop": stop("W9")}}]
    fixtures = [lav("bath", ("W1", "W3")), *(lav(f"cold-{n}", ("W1", "W1")) for n in "abc")]
    return house({"valves": valves, "recirculation": pump}, fixtures, heaters=heaters)


def test_a_loop_is_cut_by_one_valve_only_because_its_check_valve_holds() -> None:
    answer = isolate(looped(check=True), "W15")
    assert shown(answer)[0] == ("W3",)
    assert answer.counts_on == ("CK1",)


def test_a_loop_without_a_check_valve_is_fed_from_both_ends() -> None:
    answer = isolate(looped(check=False), "W15")
    assert shown(answer)[0] != ("W3",)
    assert answer.counts_on == ()


def test_a_thing_and_its_valve_go_on_to_the_same_next_valve() -> None:
    home = looped(check=True)
    assert shown(isolate(home, "RC1"))[1:] == shown(isolate(home, "W15"))


def test_a_step_that_needs_a_tool_stays_first_where_the_next_loses_another_room() -> None:
    answer = isolate(with_tools("flat screwdriver", "none", room="ensuite"), "shower")
    assert shown(answer)[0] == ("W10", "W11")


def test_a_step_that_needs_a_tool_stays_first_where_the_next_needs_one_too() -> None:
    answer = isolate(with_tools("flat screwdriver", "meter key"), "shower")
    assert shown(answer)[0] == ("W10", "W11")


def test_what_is_lost_is_said_by_the_largest_place_that_is_wholly_off() -> None:
    answer = isolate(plain_house(), "WH1")
    # Closing the heater's cold shutoff dries both hot taps: the only hot water there is.
    assert answer.ladder[0].close == ("W9",)
    assert answer.ladder[0].also_off == ("bath-lav.hot", "ensuite-lav.hot")
    assert answer.ladder[0].also_off_said == ("all hot water in the house",)


def test_a_heater_that_loses_its_supply_is_made_safe_by_its_fuel() -> None:
    gas = isolate(plain_house(fuel="natural gas", kind="storage"), "bath-lav")
    electric = isolate(plain_house(fuel="electric", kind="storage"), "bath-lav")
    assert gas.ladder[0].heater == ()
    assert "PILOT" in gas.ladder[2].heater[0]
    assert "breaker" in electric.ladder[2].heater[0]


def test_a_leaking_valve_is_not_its_own_remedy() -> None:
    answer = isolate(plain_house(), "W2")
    assert closes(answer) == [("W1",), ("U1",)]


def test_a_stretch_of_pipe_is_stopped_upstream_of_it() -> None:
    answer = isolate(plain_house(), "pipe to bath-lav.cold")
    assert answer.ladder[0].close == ("W2",)
    assert answer.ladder[0].also_off == ("bath-lav.cold",)


def recirculated(check: Any) -> House:
    """A hot loop: heater, hot main shutoff W3, far tee, pump, and the return to the heater."""
    valves = [*STREET_TO_MAIN, valve("W3", "WH1")]
    water = {
        "valves": valves,
        "tees": [{"id": "T1", "from": "W3"}],
        "recirculation": {"id": "RP1", "from": "T1", "to": "WH1", "check": check},
    }
    heaters = [{"id": "WH1", "cold": {"from": "W1", "stop": stop("W9")}}]
    return house(water, [lav("bath", ("W1", "T1"), cold="W10", hot="W11")], heaters=heaters)


def test_with_its_check_valve_the_loop_is_stopped_by_the_hot_shutoff() -> None:
    answer = isolate(recirculated({"id": "CV1"}), "T1")
    assert answer.ladder[0].close == ("W3",)


def test_without_its_check_valve_water_comes_back_through_the_return() -> None:
    # Closing W3 leaves WH1 -> return -> T1 open, so the cold supply of the heater has to close.
    answer = isolate(recirculated("none"), "T1")
    assert answer.ladder[0].close == ("W9",)


SOFTENED = {
    "valves": STREET_TO_MAIN,
    "softeners": [
        {
            "id": "SF1",
            "from": "W1",
            "bypass": {
                "inlet": stop("W5"),
                "outlet": stop("W6"),
                "across": {**stop("W7"), "stands": "closed"},
            },
        }
    ],
}


def test_a_softener_is_taken_out_by_opening_its_bypass() -> None:
    answer = isolate(house(SOFTENED, [lav("bath", ("SF1", "SF1"))]), "SF1")
    first = answer.ladder[0]
    assert (first.close, first.open, first.also_off) == (("W5", "W6"), ("W7",), ())


def test_a_single_lever_bypass_is_one_valve() -> None:
    water = {
        "valves": STREET_TO_MAIN,
        "softeners": [
            {
                "id": "SF1",
                "from": "W1",
                "bypass": {"lever": {"id": "W5", "kind": "single-lever bypass"}},
            }
        ],
    }
    first = isolate(house(water, [lav("bath", ("SF1", "SF1"))]), "SF1").ladder[0]
    assert (first.close, first.open, first.also_off) == (("W5",), (), ())
    assert "bypass mark" in first.turns[0].do


def test_a_stuck_valve_and_one_that_does_not_hold_are_passed_over() -> None:
    for condition in ("stuck", "does not hold"):
        valves = [*STREET_TO_MAIN, valve("W2", "W1", condition=condition)]
        answer = isolate(house({"valves": valves}, [lav("bath", ("W2", "W2"))]), "bath-lav")
        assert closes(answer) == [("W1",), ("U1",)]


def test_a_thing_behind_a_closed_valve_is_said_to_be_off_already() -> None:
    valves = [*STREET_TO_MAIN, valve("W2", "W1", stands="closed")]
    answer = isolate(house({"valves": valves}, [lav("bath", ("W2", "W2"))]), "bath-lav")
    assert answer.already_off
    assert answer.ladder == ()


def test_an_unrecorded_feed_is_assumed_aloud() -> None:
    water = {"valves": STREET_TO_MAIN}
    sink = {"id": "sink", "kind": "kitchen sink", "cold": {"stop": stop("W20")}}
    answer = isolate(house(water, [sink]), "sink")
    assert closes(answer) == [("W20",), ("W1",), ("U1",)]
    assert any("behind the main shutoff W1" in said for said in answer.assumed)


def test_a_recorded_feed_is_not_called_an_assumption() -> None:
    assert isolate(plain_house(), "bath-lav").assumed == ()


def test_a_fixture_without_recorded_pipes_gets_the_whole_house() -> None:
    answer = isolate(house({"valves": STREET_TO_MAIN}, [{"id": "tub", "kind": "bathtub"}]), "tub")
    assert closes(answer) == [("W1",), ("U1",)]
    assert any("not recorded" in said for said in answer.assumed)


def test_without_any_recorded_valve_the_answer_says_what_is_missing() -> None:
    answer = isolate(house({}, [lav("bath", ("street", "street"))]), "bath-lav")
    assert answer.ladder == ()
    assert any("No shutoff" in said for said in answer.missing)


def test_the_fifteen_line_record_still_names_the_main() -> None:
    answer = isolate(house({"valves": [valve("W1", None, main="yes")]}), "house")
    assert closes(answer) == [("W1",)]


def test_an_unknown_thing_gets_the_nearest_name() -> None:
    with pytest.raises(NoSuchThingError, match="did you mean `bath-lav`"):
        isolate(plain_house(), "bath-lavv")


def test_a_backflow_preventer_lets_nothing_back() -> None:
    # The irrigation pipe behind BP1 cannot be fed from the house side again: closing W4 is enough
    # even though a second source joins behind it.
    water = {
        "sources": [{"id": "street"}, {"id": "well"}],
        "valves": [*STREET_TO_MAIN, valve("W4", "W1"), valve("W8", "well")],
        "equipment": [{"id": "BP1", "kind": "backflow preventer", "from": "W4"}],
        "tees": [{"id": "T9", "feeds": [{"from": "BP1"}, {"from": "W8"}]}],
        "irrigation": {"id": "IR1", "from": "T9"},
    }
    at_device = isolate(house(water), "BP1")
    behind = isolate(house(water), "IR1")
    assert at_device.ladder[0].close == ("W4", "W8")  # its body is wet from both sides
    assert behind.ladder[0].close == ("W4", "W8")
    before = isolate(house(water), "pipe to BP1")
    assert before.ladder[0].close == ("W4",)  # the well's water cannot come back through it


def test_what_lights_a_heater_decides_how_it_is_put_to_rest() -> None:
    # Common practice, no source: a heater that is lit by electricity has no PILOT to turn to.
    def said(**facts: str) -> str:
        return isolate(plain_house(fuel="natural gas", **facts), "WH1").ladder[0].heater[0]

    assert "PILOT" in said(ignition="pilot")
    assert "PILOT" not in said(ignition="electronic")
    assert "breaker (14)" in said(ignition="electronic", breaker="14")


def test_a_room_is_told_to_be_one_with_what_to_ask_about_it() -> None:
    subject = load(example_house()).house
    with pytest.raises(NoSuchThingError, match="is a room") as refused:
        isolate(subject, "hall-bath")
    assert "handbook through HOUSE hall-bath" in refused.value.hint


def test_what_is_recorded_of_the_utilitys_valve_is_not_said_to_be_missing() -> None:
    answer = isolate(plain_house(), "U1")
    assert answer.missing == ("U1 is the utility's own valve: what is before it, they alone stop.",)


def test_no_valve_stops_a_floor_drain() -> None:
    drain = {"id": "fd", "kind": "floor drain"}
    answer = isolate(house({"valves": STREET_TO_MAIN}, [drain]), "fd")
    assert answer.is_drain
    assert (answer.ladder, answer.missing, answer.already_off) == ((), (), False)


def test_a_main_recorded_as_closed_is_named_with_what_to_close_if_water_comes_all_the_same() -> (
    None
):
    valves = [STREET_TO_MAIN[0], valve("W1", "U1", main="yes", stands="closed")]
    answer = isolate(house({"valves": valves}, [lav("bath", ("W1", "W1"))]), "bath-lav")
    assert answer.ladder == ()
    assert [turn.id for turn in answer.kept_off] == ["W1"]
    assert [rung.close for rung in answer.nevertheless] == [("U1",)]
