"""Spill, drain-down, shut-down and pans, by hand on a house of a few straight pipes.

Flow out of an open end is checked against EPANET in tests/published; here it is what the hydraulic
formulas give on one pipe, and the arithmetic of times and volumes stands beside each check.
"""

from pathlib import Path
from typing import Any

import pytest

from handbook import assets, load
from handbook.answers.drain_down import drain_down
from handbook.answers.flowing.outflow import outflow
from handbook.answers.isolate import isolate
from handbook.answers.pan_flow import pans
from handbook.answers.route import route
from handbook.answers.shut_down import shut_down
from handbook.answers.spill import spill, still_runs, worst_flow
from handbook.house.house import House, build
from handbook.output.told_spill import drain_text, spill_text
from handbook.pages.content import Table, plain
from handbook.pages.parts.spills import spill_tables
from handbook.record.grammar.record import Record
from handbook.tables import table

SQUARE = [["0 ft", "0 ft"], ["20 ft", "0 ft"], ["20 ft", "20 ft"], ["0 ft", "20 ft"]]


def place(level: str, x: str, y: str, height: str = "2 ft") -> dict[str, Any]:
    return {"level": level, "room": f"{level}-room", "at": [x, y], "height": height}


def house(*fixtures: dict[str, Any], **more: Any) -> House:
    """A main in the lower room, a sink on the upper level, a laundry tub beside the main."""
    record: dict[str, Any] = {
        "format": "1",
        "house": {"name": "Test"},
        "levels": [
            {
                "id": level,
                "name": level.capitalize(),
                "elevation": f"{feet} ft",
                "rooms": [{"id": f"{level}-room", "name": f"{level} room", "outline": SQUARE}],
            }
            for level, feet in (("lower", 0), ("upper", 10))
        ],
        "stairs": [
            {
                "id": "st",
                "foot": {"level": "lower", "room": "lower-room", "at": ["10 ft", "10 ft"]},
                "head": {"level": "upper", "room": "upper-room", "at": ["14 ft", "10 ft"]},
                "steps": "14",
            }
        ],
        "water": {
            "static_pressure": {"value": "60 psi", "at": "W1", "near": "W1"},
            "valves": [
                {
                    "id": "W1",
                    "main": "yes",
                    "kind": "ball",
                    "from": "street",
                    "by": "1 ft of 1 in copper L",
                    "place": place("lower", "1 ft", "1 ft"),
                }
            ],
            "tees": [
                {
                    "id": "T1",
                    "from": "W1",
                    "by": "10 ft of 3/4 in copper L",
                    "place": place("lower", "1 ft", "10 ft"),
                }
            ],
        },
        "fixtures": [
            {
                "id": "sink",
                "name": "Sink",
                "kind": "lavatory",
                "rim": "3 ft",
                "place": place("upper", "1 ft", "19 ft"),
                "cold": {
                    "from": "T1",
                    "by": "20 ft of 1/2 in copper L",
                    "stop": {
                        "id": "W9",
                        "kind": "angle stop",
                        "place": place("upper", "1 ft", "19 ft"),
                    },
                },
                "hot": "none",
            },
            {
                "id": "tub",
                "name": "Tub",
                "kind": "laundry tub",
                "rim": "2 ft",
                "place": place("lower", "3 ft", "3 ft"),
                "cold": {"from": "T1", "by": "4 ft of 1/2 in copper L", "stop": "none"},
                "hot": "none",
            },
            *fixtures,
        ],
        **more,
    }
    return build(Record.model_validate(record), Path())


def test_what_is_on_the_floor_is_flow_times_the_walk() -> None:
    found, subject = spill(house(), "sink"), house()
    assert found.gpm is not None
    walk = route(subject, "sink", "W9").seconds or 0.0
    onward = route(subject, "W9", "W1").seconds
    assert onward is not None
    at_main = found.steps[1]
    assert at_main.close == ("W1",)
    # the stop in vain, then on to the main: seconds add up, said in fives and rounded up;
    # gallons = gpm x s / 60, of the seconds that are said
    assert at_main.seconds is not None
    assert at_main.seconds % 5 == 0
    assert max(5, walk + onward) <= at_main.seconds < walk + onward + 5
    assert at_main.gallons == pytest.approx(found.gpm * at_main.seconds / 60)


def test_the_flow_is_that_of_the_open_end_of_the_recorded_pipe() -> None:
    # 1/2 in copper type L has a bore of 0.545 in (ASTM B88)
    assert spill(house(), "sink").bore_in == pytest.approx(0.545)
    assert spill(house(), "sink").gpm == outflow(house(), "sink.cold", 0.545).gpm


def test_behind_its_closed_stop_nothing_more_runs_out() -> None:
    assert spill(house(), "sink").steps[0].after.gallons == 0


def test_with_the_main_closed_the_pipe_above_the_hole_still_runs_out() -> None:
    # The tub (outlet 2 ft up) is opened by its supply. Above it stand 20 ft of 1/2 in to the sink
    # (13 ft up), of which (13 - 2) / (13 - 2) = all, since T1 is 2 ft up: 20 x 0.0121 gal/ft
    # (copper L, Copper Development Association) = 0.242 gal.
    after = spill(house(), "tub").steps[-1].after
    assert after.gallons == pytest.approx(20 * 0.0121, rel=0.01)
    assert after.seconds is not None


def test_a_hose_runs_by_its_own_bore() -> None:
    subject = house()
    washer = subject.record.fixtures[1].model_copy(update={"kind": "laundry box"})  # type: ignore[index]
    fixtures = (subject.record.fixtures[0], washer)  # type: ignore[index]
    changed = build(subject.record.model_copy(update={"fixtures": fixtures}), Path())
    found = spill(changed, "tub")
    assert found.bore_in == 0.375
    assert any("hose" in said for said in found.assumed)


def test_an_unrecorded_size_is_named_and_no_flow_is_made_up() -> None:
    subject = house()
    sink = subject.record.fixtures[0]  # type: ignore[index]
    cold = sink.cold.model_copy(update={"by": None})  # type: ignore[union-attr]
    fixtures = (sink.model_copy(update={"cold": cold}),)
    found = spill(build(subject.record.model_copy(update={"fixtures": fixtures}), Path()), "sink")
    assert found.gpm is None
    assert found.steps == ()
    assert found.missing


def test_before_work_at_the_upper_sink_the_lower_tub_drains_what_stands_above() -> None:
    answer = drain_down(house(), "sink")
    # closing the main leaves everything joined; the work is at the stop at 12 ft, so of the 20 ft
    # of 1/2 in copper L (0.0121 gal/ft) from 2 ft up to the outlet at 13 ft one eleventh stands
    # above it
    (way,) = answer.leaving
    assert (answer.close, way.low, way.high) == (("W1",), "tub", "sink")
    assert answer.gallons == pytest.approx(20 / 11 * 0.0121, rel=0.01)


def test_work_past_a_fixtures_own_stop_closes_that_stop_alone() -> None:
    assert drain_down(house(), "sink").stops == ("W9",)
    assert drain_down(house(), "tub").stops == ()  # it has none of its own
    told = drain_text(drain_down(house(), "sink"), "us")
    assert (
        "on its faucet, valve or hose: close W9; nothing to drain, but for what stands in its"
        in told
    )


def test_nobody_works_behind_a_valve_that_a_motor_turns() -> None:
    """Common practice, no source: it may open by itself. W6 stands between W22 and W5."""
    assert drain_down(load(assets.example_house()).house, "HB2").close == ("W5",)


def test_cold_and_hot_that_nothing_joins_leave_each_by_its_own_way() -> None:
    subject = load(assets.example_house()).house
    apart = drain_down(subject, "hall-lav").leaving  # the manifolds' valves part them
    assert [way.sides for way in apart] == [("cold",), ("hot",)]
    (together,) = drain_down(subject, "laundry-tub").leaving  # behind the softener they are one
    assert together.sides == ("cold", "hot")


def test_water_that_leaves_by_the_work_itself_has_its_least_time() -> None:
    (way,) = drain_down(house(), "tub").leaving
    # 1/2 in copper L, 0.545 in bore; 11 ft of head, half of it: 2.38 psi; open end 29.84 c d^2
    opening = table("openings").values
    gpm = opening["constant"] * opening["open_end"] * 0.545**2 * (11 / 2 * 0.433) ** 0.5
    assert way.seconds == pytest.approx(way.gallons / gpm * 60, rel=0.01)


def test_before_work_at_the_lower_tub_the_riser_has_to_leave_by_the_work_itself() -> None:
    answer = drain_down(house(), "tub")
    (way,) = answer.leaving
    assert way.low is None
    assert answer.gallons == pytest.approx(20 * 0.0121, rel=0.01)  # as above


def test_a_leaking_heater_gives_all_it_holds() -> None:
    heater = {"id": "WH1", "capacity": "50 gal", "cold": {"from": "W1", "by": "2 ft of 3/4 in PEX"}}
    found = spill(house(heaters=[heater]), "WH1")
    assert found.steps[0].after.gallons >= 50


def test_the_heater_is_made_safe_first_and_set_to_work_last() -> None:
    order = shut_down(load(assets.example_house()).house)
    assert order.down[0].thing == "WH1"
    wet = [do.thing for do in order.back].index("WH1")
    assert all(do.thing != "W5" for do in order.back[wet:])  # the main is open long before
    assert "relight" not in " ".join(do.do for do in (*order.down, *order.back))


def test_the_lawn_is_emptied_before_its_own_valve_is_shut_and_all_its_valves_open_again() -> None:
    """BP1, where the air comes in, stands ahead of W4 (the example's record)."""
    order = shut_down(load(assets.example_house()).house)
    down, back = ([do.thing for do in way] for way in (order.down, order.back))
    assert down.index("IRR") < down.index("W4")
    assert back[-2:] == ["W3", "W4"]


def test_the_highest_tap_lets_air_in_and_the_lowest_drains() -> None:
    down = [do.thing for do in shut_down(house()).down]
    assert down.index("W1") < down.index("tub") < down.index("sink")


def test_nobody_is_sent_to_open_a_toilet_or_a_machine() -> None:
    """The highest outlet is a washer's, the lowest a toilet's: neither stays open by itself."""
    ends = [("washer", "laundry box", "upper", "6 ft"), ("toilet", "water closet", "lower", "6 in")]
    subject = house(
        *(
            {
                "id": name,
                "kind": kind,
                "place": place(level, "5 ft", "5 ft", height),
                "cold": {"from": "T1", "by": "5 ft of 1/2 in copper L", "stop": "none"},
            }
            for name, kind, level, height in ends
        )
    )
    taps = sorted(subject.hydraulics.taps.values(), key=lambda tap: tap.height)
    assert (taps[0].owner, taps[-1].owner) == ("toilet", "washer")
    down = [do.thing for do in shut_down(subject).down]
    assert down.index("tub") < down.index("sink")
    assert not {"washer", "toilet"} & set(down)
    (way,) = drain_down(subject, "washer").leaving
    assert (way.low, way.high) == ("tub", "sink")


def test_a_pans_drain_carries_what_its_depth_drives_through_it() -> None:
    guards = {
        "pans": [
            {
                "id": "P1",
                "under": "WH1",
                "depth": "2 1/2 in",
                "drain": {"by": "5 ft of 3/4 in copper L"},
            }
        ]
    }
    heater = {"id": "WH1", "cold": {"from": "W1", "by": "2 ft of 3/4 in PEX"}}
    (pan,) = pans(house(heaters=[heater], safeguards=guards))
    # Hydraulic Institute: 29.84 x 0.62 x 0.785^2 in x sqrt(2.5/12 ft x 0.433 psi/ft) = 3.42 gpm
    assert pan.carries_gpm == pytest.approx(3.42, abs=0.01)
    assert pan.holds_a_burst is False


def test_the_worst_of_several_suspects_is_the_one_that_runs_most() -> None:
    subject = house()
    flows = {name: spill(subject, name).gpm or 0.0 for name in ("sink", "tub")}
    assert flows["tub"] > flows["sink"]  # shorter pipe of the same bore, and lower
    assert worst_flow(subject, ("sink", "tub")) == flows["tub"]
    assert worst_flow(subject, ()) is None


@pytest.mark.parametrize("thing", ["hall-wc", "laundry-box", "WH1"])
def test_a_metric_house_spills_and_drains_the_same(thing: str) -> None:
    us = load(assets.example_house()).house
    facts = us.record.house.model_copy(update={"units": "metric"})
    metric = build(us.record.model_copy(update={"house": facts}), us.folder)
    assert spill(metric, thing).steps == spill(us, thing).steps
    assert drain_down(metric, thing).at_most == drain_down(us, thing).at_most
    assert " L" in spill_text(spill(metric, thing), "metric")
    assert " gal" not in spill_text(spill(metric, thing), "metric")


def test_what_still_runs_at_the_most_is_that_of_the_indoor_supply_that_gets_most() -> None:
    house = load(assets.example_house()).house
    after = still_runs(house)
    assert after is not None
    indoors = [name for name in house.water.own if name not in ("IRR", "HB1", "HB2")]
    own = [[s for s in spill(house, name).steps if not s.utility][-1].after for name in indoors]
    assert after.at_most == max(each.at_most for each in own)
    assert after in own


def before_work() -> dict[str, tuple[str, ...]]:
    """Return the plumber's table of what to close before work, by fixture."""
    tables = [b for b in spill_tables(load(assets.example_house()).house) if isinstance(b, Table)]
    found = next(each for each in tables if each.caption == "Before work at a fixture")
    return {plain(row[0]): tuple(plain(cell) for cell in row[1:]) for row in found.rows}


def test_the_table_before_work_closes_what_the_kitchens_own_page_closes() -> None:
    first, second, *_ = isolate(load(assets.example_house()).house, "kitchen-sink").shown
    for_faucet, for_stops, *_ = before_work()["Kitchen sink"]
    assert for_faucet == " and ".join(first.close)
    assert for_stops == " and ".join(second.close)


def test_one_place_where_cold_and_hot_run_out_is_said_once_with_the_longer_time() -> None:
    *_, held, where = before_work()["Washer"]
    assert held == "cold 0.2 gal; hot 0.2 gal"
    # alone the hot takes about 5 seconds, the cold about 10
    assert where == "at the work itself, about 10 seconds or longer"
