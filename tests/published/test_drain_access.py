"""What the codes ask of cleanouts and what our reach then says: both must come to the same.

IPC 708.1.1 to 708.1.5, IRC P3005.2.1 to P3005.2.5 (2015 and later; local limits are often
shorter); the cable ranges are common practice.
"""

import sys
from pathlib import Path
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

sys.path.append(str(Path(__file__).parents[1] / "answers"))  # for the made-up houses

from drain_houses import house_of

from handbook.answers.draining.cable_fit import fitting
from handbook.answers.draining.cable_walk import Cable
from handbook.answers.reach import reaches
from handbook.measures import PipeSize
from handbook.rules import RULES
from handbook.rules.rule import Clear
from handbook.tables import table

FOOT = 12
MOST_APART_FT = 100  # IPC 708.1.1, IRC P3005.2.1
MOST_BEFORE_SEWER_FT = 10  # IPC 708.1.3, IRC P3005.2.3
LARGEST_ASKED_IN = 4  # IPC 708.1.5, IRC P3005.2.5


@st.composite
def lines(draw: st.DrawFn) -> dict[str, Any]:
    """One horizontal line of three stretches, the last of them the sewer, with cleanouts on it."""
    lengths = [draw(st.integers(5, 150)) for _ in range(3)]
    ids = ["D1", "D2", "S"]
    kinds = ["building drain", "building drain", "building sewer"]
    stretches = [
        {"id": i, "kind": k, "to": to, "by": {"length": f"{n} ft", "size": "4 in"}}
        for i, k, to, n in zip(ids, kinds, [*ids[1:], "END"], lengths, strict=True)
    ]
    places = draw(st.sets(st.tuples(st.sampled_from([0, 1, 2]), st.integers(0, 150)), max_size=5))
    cleanouts = [
        {
            "id": f"C{n}",
            "on": ids[which],
            "along": f"{min(at, lengths[which])} ft",
            "facing": "downstream",
            "size": "4 in",
        }
        for n, (which, at) in enumerate(sorted(places))
    ]
    drains = {"discharge": {"id": "END"}, "stretches": stretches, "cleanouts": cleanouts}
    return {"format": "1", "house": {"name": "Line"}, "drains": drains}


def keeps(record: dict[str, Any], name: str) -> bool:
    rule = next(rule for rule in RULES if rule.name == name)
    return all(isinstance(outcome, Clear) for outcome in rule.look(house_of(record)))


@given(lines())
def test_a_line_within_the_spacing_is_within_the_cable_from_its_next_opening_uphill(
    record: dict[str, Any],
) -> None:
    """100 ft apart, and main line cables of 100 ft: nothing after the first opening is too far."""
    if not keeps(record, "cleanouts-too-far-apart"):
        return
    house = house_of(record)
    for reach in reaches(house):
        ahead = [
            step
            for step in reach.reached
            if not any(c.on == step.stretch for c in house.drains.cleanouts.values())
        ]
        before_next = [s for s in ahead if _no_opening_before(house, reach.cleanout, s.stretch)]
        assert all(step.far.low <= MOST_APART_FT * FOOT * 1.005 for step in before_next)


def _no_opening_before(house: Any, cleanout: str, stretch: str) -> bool:
    """Whether no other opening stands between a cleanout and the end of this stretch."""
    tree = house.drains
    own = tree.cleanouts[cleanout]
    way = tree.downhill(own.on)
    passed = way[: way.index(stretch) + 1]
    return not any(
        other.on in passed and (other.on != own.on or other.along > own.along)
        for other in tree.cleanouts.values()
        if other.id != cleanout
    )


@given(lines(), st.integers(0, MOST_BEFORE_SEWER_FT))
def test_a_sewer_with_its_cleanout_is_entered_within_ten_feet(
    record: dict[str, Any], before: int
) -> None:
    """IPC 708.1.3: at the junction, or upstream of it within 10 ft."""
    lengths = [int(s["by"]["length"].split()[0]) for s in record["drains"]["stretches"]]
    on, along = "D2", lengths[1] - before
    if along < 0:
        on, along = "D1", lengths[0] + along
    record["drains"]["cleanouts"] = [
        {"id": "C", "on": on, "along": f"{along} ft", "facing": "downstream"}
    ]
    assert keeps(record, "no-cleanout-at-sewer")
    (reach,) = reaches(house_of(record))
    (sewer,) = [step for step in reach.reached if step.stretch == "S"]
    assert sewer.near == Cable(before * FOOT, before * FOOT)


def test_the_largest_cleanout_that_is_asked_for_takes_a_main_line_cable() -> None:
    assert table("cleanout_sizes").values["most_asked_in"] == LARGEST_ASKED_IN
    fits = fitting([PipeSize(LARGEST_ASKED_IN, "4 in")], Cable(0, MOST_APART_FT * FOOT))
    assert {fit.id: fit.gets_there for fit in fits} == {"main": True, "heavy": True}


def test_cable_ranges_are_as_the_articles_give_them() -> None:
    """General articles on drain cables: hand cables 1/4 to 5/16 in to 25 ft; 3/8 to 1/2 in, 50 to
    100 ft, for 3 to 4 in mains; 1/2 to 3/4 in for sewers (75 to 100 ft: common practice)."""
    rows = {row["id"]: row for row in table("drain_cables").values["ranges"]}
    assert rows["small"]["reach_ft"] == [15, 25]
    assert rows["main"]["pipe_in"] == [3, 4]
    assert rows["main"]["reach_ft"] == [50, 100]
    assert rows["heavy"]["pipe_in"] == [3, 6]


def test_the_main_line_cable_is_as_long_as_cleanouts_may_be_apart() -> None:
    reach_ft = max(row["reach_ft"][1] for row in table("drain_cables").values["ranges"])
    assert reach_ft == table("cleanout_spacing").values["most_apart_ft"] == MOST_APART_FT


def test_jetters_are_as_the_information_pages_give_them() -> None:
    """A general article and a sewer page on jetting: 1,500 to 4,000 psi, 2 to 10 gpm."""
    values = table("drain_jetting").values
    assert (values["pressure_psi"], values["flow_gpm"]) == ([1500, 4000], [2, 10])
