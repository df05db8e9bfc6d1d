"""Stoppage against brute force: on random trees every leg is blocked in turn and water is poured.

The pouring is written here from the record alone; it shares nothing with the search.
"""

from collections.abc import Callable, Collection, Iterator
from typing import Any

import pytest
from drain_houses import drain_trees, house_of
from hypothesis import given
from hypothesis import strategies as st

from handbook.answers.draining.blocked import overflow, possible, shows
from handbook.answers.stoppage import stoppage

Tree = dict[str, Any]
BELOW_RIM = {"bathtub": 14, "shower": 3, "lavatory": 5, "kitchen sink": 8, "laundry tub": 12}
"""Inches from the rim down to the drain's opening; a bowl fills to its rim."""


def runs_into(record: Tree) -> dict[str, str]:
    stretches = {s["id"]: s["to"] for s in record["drains"]["stretches"]}
    return stretches | {f["id"]: f["drain"]["to"] for f in record["fixtures"]}


def drains_away(record: Tree, fixture: str, blocked: str) -> bool:
    """Pour at a fixture, and follow the water until it leaves or stops."""
    to, at = runs_into(record), fixture
    while at != "END":
        if at == blocked:
            return False
        at = to[at]
    return True


def backing_up(record: Tree, blocked: str) -> set[str]:
    return {f["id"] for f in record["fixtures"] if not drains_away(record, f["id"], blocked)}


def comes_up_at(record: Tree, blocked: str, height: Callable[[Tree], int]) -> list[str]:
    """Let water rise from the block into every pipe that no valve shuts; the lowest heights."""
    to = runs_into(record)
    valves = record["drains"]["equipment"]
    shut = {it["on"] for it in valves} if valves != "none" else set()
    wet, rising = {blocked}, [blocked]
    while rising:
        at = rising.pop()
        fresh = [leg for leg, into in to.items() if into == at and leg not in shut | wet]
        wet.update(fresh)
        rising += fresh
    rims = {f["id"]: height(f) for f in record["fixtures"] if f["id"] in wet}
    if not rims:  # every way up is shut: what is poured behind a valve stays there
        rims = {
            f["id"]: height(f)
            for f in record["fixtures"]
            if not drains_away(record, f["id"], blocked)
        }
    return [fixture for fixture, rim in rims.items() if rim == min(rims.values())]


def rim_of(fixture: Tree) -> int:
    floor = {"low": -36, "high": 0}[fixture["place"]["level"]]  # 3 ft x 12
    return floor + int(fixture["rim"].split()[0])


def opening_of(fixture: Tree) -> int:
    """Its drain's opening; how far below the rim is common practice, no source."""
    floor = rim_of(fixture) - int(fixture["rim"].split()[0])
    return max(floor, rim_of(fixture) - BELOW_RIM.get(fixture["kind"], 0))


def legs(record: Tree) -> Iterator[str]:
    yield from runs_into(record)


@given(drain_trees(), st.data())
def test_exactly_the_legs_that_agree_with_every_sign_can_be_blocked(
    record: Tree, data: st.DataObject
) -> None:
    fixtures = [f["id"] for f in record["fixtures"]]
    slow = data.draw(st.sets(st.sampled_from(fixtures), min_size=1))
    clear = data.draw(st.sets(st.sampled_from(fixtures))) - slow
    agree = {
        leg
        for leg in legs(record)
        if slow <= backing_up(record, leg) and not clear & backing_up(record, leg)
    }
    found = possible(house_of(record).drains, sorted(slow), sorted(clear))
    assert set(found) == agree
    assert len(found) == len(agree)


@given(drain_trees(), st.data())
def test_the_leg_that_is_blocked_is_always_among_those_named(
    record: Tree, data: st.DataObject
) -> None:
    blocked = data.draw(st.sampled_from(sorted(legs(record))))
    wet = backing_up(record, blocked)
    if not wet:
        return
    dry = {f["id"] for f in record["fixtures"]} - wet
    slow = data.draw(st.sets(st.sampled_from(sorted(wet)), min_size=1))
    clear = data.draw(st.sets(st.sampled_from(sorted(dry)))) if dry else set()
    answer = stoppage(house_of(record), sorted(slow), sorted(clear))
    assert blocked in answer.stretches
    # and nothing that would feed it may be used
    assert wet <= set(answer.do_not_use)
    assert set(answer.do_not_use) | set(answer.may_use) == {f["id"] for f in record["fixtures"]}
    assert not set(answer.do_not_use) & set(answer.may_use)


@given(drain_trees(), st.data())
def test_what_may_be_used_reaches_the_sewer_whichever_leg_it_is(
    record: Tree, data: st.DataObject
) -> None:
    fixtures = [f["id"] for f in record["fixtures"]]
    slow = data.draw(st.sets(st.sampled_from(fixtures), min_size=1))
    answer = stoppage(house_of(record), sorted(slow))
    for leg in answer.stretches:
        assert all(drains_away(record, fixture, leg) for fixture in answer.may_use)


@pytest.mark.parametrize(("where", "height"), [(overflow, rim_of), (shows, opening_of)])
@given(drain_trees(), st.data())
def test_it_comes_up_at_the_lowest_rim_or_opening_that_the_water_gets_to(
    where: Any, height: Any, record: Tree, data: st.DataObject
) -> None:
    wetting = [leg for leg in legs(record) if backing_up(record, leg)]
    leg = data.draw(st.sampled_from(sorted(wetting)))
    found = where(house_of(record).drains, [leg])
    assert list(found.candidates) == comes_up_at(record, leg, height)
    assert found.first in found.candidates


@given(drain_trees(), st.data())
def test_every_cleanout_from_which_a_cable_runs_down_to_the_block_is_to_be_tried(
    record: Tree, data: st.DataObject
) -> None:
    """A cable fed with the flow follows the water: pour at the cleanout's own stretch."""
    stretches = [s["id"] for s in record["drains"]["stretches"]]
    stand = data.draw(st.lists(st.sampled_from(stretches), min_size=1, max_size=5))
    record["drains"]["cleanouts"] = [
        {"id": f"C{n}", "on": on, "along": "0 ft", "facing": "downstream", "size": "4 in"}
        for n, on in enumerate(stand)
    ]
    house = house_of(record)
    for blocked in stretches:
        if not (wet := backing_up(record, blocked)):
            continue
        dry = [f["id"] for f in record["fixtures"] if f["id"] not in wet]
        answer = stoppage(house, sorted(wet), dry)
        get_there = {f"C{n}" for n, on in enumerate(stand) if not drains_away(record, on, blocked)}
        assert {each.id for each in answer.cleanouts if blocked in each.reaches} == get_there


FLOORS = {"low": -36, "high": 0, "outside": -12}
"""Inches; the ground's in `site`."""


def spot(draw: st.DrawFn) -> Tree:
    level = draw(st.sampled_from(sorted(FLOORS)))
    return {"level": level, "height": f"{draw(st.integers(0, 60))} in"}


@st.composite
def opened_trees(draw: st.DrawFn) -> Tree:
    """A random tree with cleanouts at heads of stretches, and lids over its valves; all so near
    that a cable is long enough."""
    record = draw(drain_trees())
    on = st.sampled_from([s["id"] for s in record["drains"]["stretches"]])
    record["site"] = {"grade": "-1 ft"}
    record["drains"]["cleanouts"] = [
        {"id": f"C{n}", "on": draw(on), "along": "0 ft", "facing": "downstream", "size": "4 in"}
        | {"place": spot(draw)}
        | ({"clear": "3 ft"} if draw(st.booleans()) else {})
        for n in range(draw(st.integers(1, 6)))
    ]
    for valve in valves_of(record):
        if draw(st.booleans()):
            valve["place"] = spot(draw)
    for stretch in record["drains"]["stretches"]:
        stretch["by"]["length"] = f"{draw(st.integers(1, 8))} ft"
    return record


def valves_of(record: Tree) -> list[Tree]:
    found = record["drains"]["equipment"]
    return [] if found == "none" else found


def lets_out(record: Tree, it: Tree, blocked: Collection[str]) -> bool | None:
    """Block each leg in turn, fill up what lies above it, and look whether that is above an opening
    or a lid; None where nobody recorded how high this one is."""
    shut = [leg for leg in blocked if not drains_away(record, it["on"], leg)]
    if not shut:
        return False
    if "place" not in it:
        return None
    opening = FLOORS[it["place"]["level"]] + int(it["place"]["height"].split()[0])
    fixtures = {f["id"]: f for f in record["fixtures"]}
    filled = [rim_of(fixtures[comes_up_at(record, leg, rim_of)[0]]) for leg in shut]
    return max(filled) > opening


def fed(record: Tree, it: Tree, blocked: Collection[str]) -> tuple[list[str], int] | None:
    """Feed a cable with the flow: what it passes up to the last that can be blocked, and how many
    feet up to the first; None where it meets none."""
    to, at, way = runs_into(record), it["on"], []
    while at != "END":
        way.append(at)
        at = to[at]
    met = [leg for leg in way if leg in blocked]
    if not met:
        return None
    feet = {s["id"]: int(s["by"]["length"].split()[0]) for s in record["drains"]["stretches"]}
    passed = way[: way.index(met[-1]) + 1]
    return passed, sum(feet[leg] for leg in way[: way.index(met[0])])


@given(opened_trees(), st.data())
def test_the_cleanout_tried_first_lets_out_least_and_takes_the_least_cable(
    record: Tree, data: st.DataObject
) -> None:
    """Outdoors before indoors, above the waste before below it, of those the highest (trade pages
    on opening cleanouts); room to work before none known, then the nearest (common practice, no
    source). A valve's lid that may let waste out comes after all of these."""
    fixtures = [f["id"] for f in record["fixtures"]]
    slow = data.draw(st.sets(st.sampled_from(fixtures), min_size=1))
    answer = stoppage(house_of(record), sorted(slow))
    ranks = {}
    for it in record["drains"]["cleanouts"]:
        found = fed(record, it, answer.stretches)
        if found is None:
            continue
        passed, feet = found
        lids = [valve for valve in valves_of(record) if valve["on"] in passed]
        spills = lets_out(record, it, answer.stretches)
        height = FLOORS[it["place"]["level"]] + int(it["place"]["height"].split()[0])
        ranks[it["id"]] = (
            any(lets_out(record, lid, answer.stretches) is not False for lid in lids),
            it["place"]["level"] != "outside",
            spills,
            -height if spills else 0,
            "clear" not in it,
            feet,
        )
    assert [each.id for each in answer.cleanouts] == sorted(ranks, key=ranks.__getitem__)


@given(drain_trees())
def test_a_leg_that_is_named_with_others_lies_on_one_way_down(record: Tree) -> None:
    house = house_of(record)
    for fixture in house.drains.rims:
        found = stoppage(house, [fixture]).stretches
        assert found == house.drains.downhill(fixture)
