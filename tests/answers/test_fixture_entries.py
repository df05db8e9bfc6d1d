"""A cable that goes in at a fixture: lengths by hand, and on random trees by walking the record."""

from typing import Any

from drain_houses import RANCH, drain_trees, house, house_of
from hypothesis import given
from hypothesis import strategies as st

from handbook.answers.draining.cable_fit import advice
from handbook.answers.draining.fixture_entries import FixtureEntry, closet_auger
from handbook.answers.stoppage import Stoppage, stoppage

TUB = "tub, name: Tub, kind: bathtub, rim: 14 in, place: {room: bath}, drain: {to: B2, "


def ranch(*backs_up: str, clear: tuple[str, ...] = ()) -> Stoppage:
    return stoppage(house(RANCH), backs_up, clear)


def told(entry: FixtureEntry) -> tuple[str, str, tuple[float, float | None], tuple[str, ...]]:
    return entry.id, entry.how, entry.cable_ft, entry.through


def test_at_a_pulled_toilet_the_cable_is_its_arm_and_what_can_be_blocked() -> None:
    # The toilet's arm is 1 ft of 3 in, B1 3 ft of 3 in: from 1 ft to 1 + 3 ft.
    (entry,) = [way for way in ranch("wc", "lav", clear=("tub",)).at_fixtures if way.id == "wc"]
    assert told(entry) == ("wc", "with the toilet pulled", (1, 4), ("3 in",))
    # Common practice: 2 to 3 in pipe takes a medium cable.
    assert advice(entry.steps, "US") == "a medium cable, 5/16 to 1/2 in"


def test_no_toilet_is_pulled_where_a_cable_goes_in_at_an_overflow_before() -> None:
    """Common practice, no source. The tub's trap is 1-1/2 in, its branch 2 in, the toilet's B1 3
    in; a cable of 5/16 in is in the range for the first two and in that for the last two."""
    tub = "kind: bathtub, rim: 14 in, place: {room: bath}, drain: {to: "
    text = RANCH.replace(
        f"{tub}B2, by: 2 ft of 1-1/2 in PVC", f"{tub}B1, by: 2 ft of 1-1/2 in PVC, trap: 1-1/2 in"
    )
    entries = stoppage(house(text), ["wc", "tub"], ["sink"]).at_fixtures
    assert [entry.id for entry in entries] == ["lav", "tub", "wc"]
    assert advice(entries[1].steps, "US").startswith("a cable, 5/16 in")


def test_a_toilet_has_a_closet_auger_first_and_a_basin_has_not() -> None:
    """Closet augers are made from 3 to 6 ft long (common practice, no source)."""
    first = {each.id: each.auger_first for each in ranch("wc").at_fixtures}
    first |= {each.id: each.auger_first for each in ranch("lav", clear=("wc",)).at_fixtures}
    assert first == {"wc": True, "lav": False}
    assert closet_auger().reach_ft == (3, 6)


def test_with_the_trap_taken_off_the_arms_own_size_comes_first() -> None:
    # 2 ft of 1-1/2 in arm, then K1: 12 ft of 2 in, to which no cleanout goes.
    (entry,) = ranch("sink", clear=("wc",)).at_fixtures
    assert told(entry) == ("sink", "with the trap taken off", (0, 14), ("1-1/2 in", "2 in"))


def test_through_an_overflow_it_passes_the_trap_first() -> None:
    text = RANCH.replace(f"{TUB}by: 2 ft of 1-1/2 in PVC", f"{TUB}by: 2 ft of 2 in PVC, trap: 3 in")
    (entry,) = stoppage(house(text), ["tub"], ["wc"]).at_fixtures
    # 2 ft of arm; then B2, which C1 gets to, is 4 ft.
    assert told(entry) == ("tub", "through the overflow", (0, 6), ("3 in", "2 in"))


def test_a_trap_that_is_not_recorded_leaves_the_cable_untold() -> None:
    (entry,) = ranch("tub", clear=("wc",)).at_fixtures
    assert entry.through[0] == "not recorded"
    assert "cannot be told" in advice(entry.steps, "US")


def test_what_a_cleanout_gets_to_needs_no_fixture() -> None:
    assert ranch("wc", "tub", "sink").at_fixtures == ()


# --- random trees ---------------------------------------------------------------------------------


def with_arms(record: dict[str, Any], data: st.DataObject) -> dict[str, int]:
    """Give every fixture an arm and a trap, and return all lengths in feet."""
    for fixture in record["fixtures"]:
        arm = f"{data.draw(st.integers(1, 9))} ft"
        fixture["drain"] |= {"by": {"length": arm, "size": "3 in"}, "trap": "3 in"}
    pipes = {f["id"]: f["drain"]["by"] for f in record["fixtures"]}
    pipes |= {s["id"]: s["by"] for s in record["drains"]["stretches"]}
    return {name: int(by["length"].split()[0]) for name, by in pipes.items()}


@given(drain_trees(), st.data())
def test_lengths_are_the_pipes_walked_one_by_one(
    record: dict[str, Any], data: st.DataObject
) -> None:
    length = with_arms(record, data)
    to = {s["id"]: s["to"] for s in record["drains"]["stretches"]}
    to |= {f["id"]: f["drain"]["to"] for f in record["fixtures"]}
    fixtures = [f["id"] for f in record["fixtures"]]
    slow = data.draw(st.sets(st.sampled_from(fixtures), min_size=1))
    clear = data.draw(st.sets(st.sampled_from(fixtures))) - slow
    answer = stoppage(house_of(record), sorted(slow), sorted(clear))
    for entry in answer.at_fixtures:
        ends, at, fed = {}, entry.id, 0
        while at != "END":
            ends[at] = (fed, fed + length[at])
            fed, at = fed + length[at], to[at]
        blocked = [leg for leg in ends if leg in answer.stretches]
        assert list(entry.reaches) == blocked
        assert entry.cable_ft == (ends[blocked[0]][0], ends[blocked[-1]][1])


@given(drain_trees(), st.data())
def test_without_a_cleanout_all_that_can_be_blocked_is_got_to_from_fixtures(
    record: dict[str, Any], data: st.DataObject
) -> None:
    with_arms(record, data)
    fixtures = [f["id"] for f in record["fixtures"]]
    slow = data.draw(st.sets(st.sampled_from(fixtures), min_size=1))
    answer = stoppage(house_of(record), sorted(slow))
    got_to = {leg for entry in answer.at_fixtures for leg in entry.reaches}
    assert got_to == set(answer.stretches)
