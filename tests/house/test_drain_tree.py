"""The drain tree of a small record: what runs where, where a rim stands, what is not known."""

from pathlib import Path
from typing import Any

import pytest

from handbook.house.drains import ARM, DrainTree
from handbook.house.house import build
from handbook.measures import Length
from handbook.record.grammar.record import Record


def tree(**sections: Any) -> DrainTree:
    levels = [
        {"id": "low", "name": "Low", "elevation": "-9 ft", "rooms": [{"id": "den", "name": "Den"}]},
        {"id": "attic", "name": "Attic"},
    ]
    record = {"format": "1", "house": {"name": "T"}, "levels": levels, **sections}
    return build(Record.model_validate(record), Path()).drains


def stretch(name: str, to: str | None, **more: Any) -> dict[str, Any]:
    return {"id": name, **({"to": to} if to else {}), **more}


LINE = {
    "discharge": {"id": "END"},
    "stretches": [
        stretch("D1", "D2", by="10 ft of 3 in PVC", slope="1/4 in per ft", invert="-2 ft"),
        stretch("D2", "D3", by="20 ft of 4 in PVC", invert="-3 ft"),
        stretch("D3", "END", kind="building sewer"),
    ],
}


def test_each_fixture_has_a_leg_of_its_own_and_runs_down_to_the_discharge() -> None:
    found = tree(
        drains=LINE, fixtures=[{"id": "wc", "kind": "water closet", "drain": {"to": "D1"}}]
    )
    assert found.legs["wc"].kind == ARM
    assert found.downhill("wc") == ("wc", "D1", "D2", "D3")
    assert found.through("D2") == ("wc",)
    assert found.above["D1"] == ("wc",)


def test_a_fixture_without_a_drain_is_not_in_the_tree() -> None:
    fixtures = [
        {"id": "HB", "kind": "hose bibb"},
        {"id": "ice", "kind": "ice maker", "drain": "none"},
        {"id": "lav", "kind": "lavatory"},  # it must have one: not recorded
    ]
    found = tree(drains=LINE, fixtures=fixtures)
    assert list(found.rims) == ["lav"]
    assert not found.ends_known("lav")


def test_a_rim_is_its_floor_and_its_height() -> None:
    fixtures = [
        {"id": "lav", "kind": "lavatory", "rim": "34 in", "place": {"room": "den"}},
        {"id": "fd", "kind": "floor drain", "place": {"level": "low"}},
        {"id": "up", "kind": "lavatory", "rim": "34 in", "place": {"level": "attic"}},
    ]
    rims = tree(fixtures=fixtures).rims
    assert rims["lav"].elevation == Length(-74)  # -9 x 12 + 34
    assert rims["fd"].elevation == Length(-108)  # by what it is, its rim is the floor
    assert rims["up"].elevation is None  # the attic's elevation is not recorded


def test_an_invert_is_read_along_the_fall_to_where_the_next_begins() -> None:
    found = tree(drains=LINE)
    # D1 falls from -24 in to D2's -36 in over 10 ft, whatever its slope says; half way, -30 in.
    assert found.legs["D1"].bottom == Length(-36)
    assert found.legs["D1"].invert_at(60) == Length(-30)
    assert found.legs["D2"].invert_at(12) is None  # neither D3's invert nor a slope is recorded


def test_without_the_next_ones_invert_a_drain_falls_by_its_slope_and_a_stack_by_its_length() -> (
    None
):
    stretches = [
        stretch("D1", None, by="8 ft of 2 in PVC", slope="1/4 in per ft", invert="0 in"),
        stretch("D2", None, by="9 ft of 3 in PVC", kind="stack", invert="0 in"),
    ]
    legs = tree(drains={"stretches": stretches}).legs
    assert legs["D1"].bottom == Length(-2)  # 8 x 1/4
    assert legs["D2"].bottom == Length(-108)


@pytest.mark.parametrize(
    ("place", "inches"),
    [
        ({"room": "den", "height": "20 in"}, -88),  # -108 + 20
        ({"level": "outside", "height": "0 in"}, -60),
        ({"level": "outside", "depth": "1 ft"}, -72),
        ({"level": "attic", "height": "1 ft"}, None),
        ({"room": "den"}, None),
    ],
)
def test_an_opening_stands_on_its_floor_or_on_the_ground(place: dict, inches: int | None) -> None:
    drains = {**LINE, "cleanouts": [{"id": "C1", "on": "D1", "place": place}]}
    opening = tree(drains=drains, site={"grade": "-5 ft"}).openings["C1"]
    assert (opening.inches if opening else None) == inches


def test_rinse_water_and_condensate_run_where_the_record_sends_them() -> None:
    pans = [{"id": "P1", "drain": {"to": "floor drain", "drain": "fd"}}]
    condensate = [
        {"id": "A", "primary": {"to": "floor drain", "drain": "fd"}},
        {"id": "B", "primary": {"to": "pan", "drain": "P1"}},
        {"id": "C", "primary": {"to": "outdoors"}},
        {"id": "D", "primary": {"to": "standpipe"}},
        {"id": "E", "primary": "none"},
        {"id": "F"},
    ]
    water = {"softeners": [{"id": "S", "drain": "D1"}, {"id": "T"}, {"id": "U", "drain": "none"}]}
    fixtures = [{"id": "fd", "kind": "floor drain", "drain": {"to": "D1"}}]
    found = tree(
        drains=LINE,
        fixtures=fixtures,
        water=water,
        safeguards={"pans": pans, "condensate": condensate},
    )
    # C, E and U run into no drain; of D, F and T it is not recorded which.
    assert found.runs_in == {
        "S": "D1", "T": None, "A": "fd", "B": "fd", "D": None, "F": None,
    }  # fmt: skip


def test_pans_that_drain_into_each_other_end_nowhere() -> None:
    pans = [
        {"id": "P1", "drain": {"to": "pan", "drain": "P2"}},
        {"id": "P2", "drain": {"to": "pan", "drain": "P1"}},
    ]
    condensate = [{"id": "A", "primary": {"to": "pan", "drain": "P1"}}]
    assert tree(safeguards={"pans": pans, "condensate": condensate}).runs_in == {"A": None}
