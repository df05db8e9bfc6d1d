"""Stoppage on two houses worked out on paper (they are drawn in `drain_houses`)."""

from typing import Any

import pytest
from drain_houses import RANCH, SPLIT, drain_trees, house, house_of
from hypothesis import given
from hypothesis import strategies as st

from handbook import assets, load
from handbook.answers.draining.cable_fit import fitting
from handbook.answers.draining.common_signs import lowest_rises
from handbook.answers.draining.standing_waste import standing_waste
from handbook.answers.draining.tries import TwoWay
from handbook.answers.not_asked import NoSuchThingError
from handbook.answers.reach import reach, reaches
from handbook.answers.stoppage import Stoppage, stoppage
from handbook.house.house import House
from handbook.measures import Length
from handbook.record.problems import RecordError
from handbook.tables import table

BATH = ("wc", "lav", "tub")


def ranch(*backs_up: str, clear: tuple[str, ...] = ()) -> Stoppage:
    return stoppage(house(RANCH), backs_up, clear)


def split(*backs_up: str, clear: tuple[str, ...] = ()) -> Stoppage:
    return stoppage(house(SPLIT), backs_up, clear)


# --- which stretch --------------------------------------------------------------------------------


def test_one_slow_while_the_rest_run_clear_is_its_own_trap() -> None:
    """Trade pages on drain diagnosis: one slow, the others normal: its trap or own branch."""
    assert ranch("lav", clear=("wc", "tub", "sink")).stretches == ("lav",)
    assert ranch("sink", clear=BATH).stretches == ("sink", "K1")


def test_a_group_that_is_slow_points_to_what_it_shares() -> None:
    """Trade pages: several of one group point to their branch."""
    assert ranch("wc", "lav", clear=("tub", "sink")).stretches == ("B1",)
    assert ranch("wc", "tub", clear=("sink",)).stretches == ("M1",)


def test_all_of_them_point_to_the_main_line_and_past_its_end() -> None:
    """Trade pages: all affected points to the building drain or the building sewer."""
    answer = ranch("wc", "tub", "sink")
    assert answer.stretches == ("M2", "S1")
    assert answer.beyond == "CITY"


def test_with_one_sign_alone_everything_below_it_is_possible() -> None:
    assert ranch("lav").stretches == ("lav", "B1", "M1", "M2", "S1")


def test_what_would_narrow_it_down_is_one_fixture_a_joint() -> None:
    # From lav: at B1 the toilet joins, at M1 the tub, at M2 the sink.
    assert ranch("lav").tells_more == ("wc", "tub", "sink")


# --- where it comes up ----------------------------------------------------------------------------


def test_waste_comes_up_at_the_lowest_rim_above_the_stoppage() -> None:
    """Trade page: waste finds the lowest opening above the clog. Tub 14 in, toilet 15 in."""
    assert ranch("wc", "tub", "sink").overflows_first == "tub"
    assert ranch("wc", "lav", clear=("tub",)).overflows_first == "wc"


def test_it_is_seen_first_at_the_lowest_drain_opening_not_at_the_lowest_rim() -> None:
    """Common practice, no source: a tub's drain opens some 14 in below its rim, a toilet's bowl
    fills to its own. Toilet rim 15 in; tub rim 20 in, so its drain is at 6 in."""
    text = RANCH.replace("kind: bathtub, rim: 14 in", "kind: bathtub, rim: 20 in")
    answer = stoppage(house(text), ("wc", "tub"), ("sink",))
    assert answer.overflows_first == "wc"
    assert answer.shows.first == "tub"


def test_a_backwater_valve_keeps_the_backup_from_the_floor_drain() -> None:
    # Floor drain -96 in and laundry tub -62 in lie behind BV; next is the shower at 3 in.
    answer = split("wc", "shower", "ltub")
    assert answer.stretches == ("BD", "BS")
    assert answer.overflows_first == "shower"
    assert answer.overflow.held == {"BV": ("fd", "ltub")}
    assert any("comes up first at fd" in said for said in answer.said)


def test_behind_the_valve_its_own_waste_comes_up_at_the_floor_drain() -> None:
    answer = split("ltub", clear=("wc",))
    assert answer.stretches == ("ltub", "L1")
    assert answer.overflows_first == "fd"  # by what it is: its rim is its floor
    assert "BV (Backwater valve) stands in L1; it may hang shut instead." in answer.said


def test_a_dry_floor_drain_behind_a_valve_is_not_proof() -> None:
    answer = split("wc", "shower", clear=("fd",))
    assert answer.stretches == ("ST",)
    assert any("fd" in said and "BD or BS" in said for said in answer.said)


def test_rims_of_one_height_are_all_named() -> None:
    answer = stoppage(house(RANCH.replace("rim: 15 in", "rim: 14 in")), BATH, ("sink",))
    assert answer.overflow.candidates == ("wc", "tub")
    assert answer.overflows_first == "wc"


# --- use, and whom to call ------------------------------------------------------------------------


def test_what_drains_through_it_is_out_of_use_and_the_rest_is_not() -> None:
    answer = ranch("wc", "lav", clear=("tub",))
    assert answer.do_not_use == ("wc", "lav")
    assert answer.may_use == ("tub", "sink", "tap")


def test_rinse_water_and_condensate_count_where_the_record_sends_them_there() -> None:
    assert split("ltub", clear=("wc",)).do_not_use == ("SF", "fd", "ltub", "CO1")
    assert split("ltub", clear=("wc",)).may_use == ("wc", "shower")
    # CO2 ends outdoors: it is nothing to the drains.


def test_a_softener_whose_rinse_water_goes_nobody_knows_where_is_kept_out_of_use() -> None:
    answer = stoppage(house(SPLIT.replace(", drain: ltub", "")), ["wc"], ["shower"])
    assert "SF" in answer.do_not_use
    assert any("SF" in said for said in answer.assumed)


@pytest.mark.parametrize("one", [*BATH, "sink"])
def test_a_fixtures_own_trap_is_for_a_plunger(one: str) -> None:
    rest = tuple(f for f in (*BATH, "sink") if f != one)
    assert ranch(one, clear=rest).call == "plunger"


def test_everything_else_is_for_a_licensed_plumber() -> None:
    assert ranch("lav").call == "licensed plumber"
    assert ranch("wc", "lav", clear=("tub",)).call == "licensed plumber"
    floor = split("fd", clear=("ltub", "wc", "shower"))
    assert floor.stretches == ("fd",)
    assert floor.call == "licensed plumber"


def test_the_sewer_utility_is_called_too_where_it_may_be_in_the_street() -> None:
    assert ranch("wc", "sink").also_call == ("sewer utility",)
    assert ranch("wc", "lav", clear=("tub",)).also_call == ()
    assert split("wc", "ltub").also_call == ()  # a septic tank


# --- the cleanouts --------------------------------------------------------------------------------


def told(answer: Stoppage) -> list[tuple[str, str, tuple[float, float | None]]]:
    return [(each.id, each.direction, each.cable_ft) for each in answer.cleanouts]


def test_cleanouts_come_outdoors_first_with_the_cable_to_both_ends() -> None:
    # M2 (10 ft) or S1 (50 ft). C3 stands at the head of S1: 0 to 50 down, 0 to 10 up M2.
    # C1 (2 in) is 4 + 20 ft from M2, to 84: only a cable between two ranges takes 2 in and 4 in,
    # but it stands above all waste. C2, 4 ft down M2, has 0 to 6 + 50 before it: it lets waste out.
    assert told(ranch("wc", "tub", "sink")) == [
        ("C3", "downstream", (0, 50)),
        ("C3", "upstream", (0, 10)),
        ("C1", "downstream", (24, 84)),
        ("C2", "downstream", (0, 56)),
    ]


def test_of_two_outdoors_the_nearest_comes_first_whichever_way_it_faces() -> None:
    # A cleanout out in the yard at the head of M1: 20 ft with the flow to M2; C3 is beside it.
    yard = (
        "    - {id: C4, name: Yard cleanout, kind: wall, on: M1, along: 0 ft, facing: downstream,"
        " size: 4 in, place: {level: outside, height: 0 in}}\n"
    )
    answer = stoppage(house(RANCH + yard), ["wc", "tub", "sink"])
    assert told(answer)[:3] == [
        ("C3", "downstream", (0, 50)),
        ("C3", "upstream", (0, 10)),
        ("C4", "downstream", (20, 80)),
    ]


def test_where_nobody_recorded_the_free_space_comes_after_where_it_is_recorded() -> None:
    """IRC P3005.2.9 asks for 18 in of clear space: unknown, there may be no room to work."""
    yard = (
        "    - {{id: {}, name: Yard cleanout, kind: wall, on: M2, along: {} ft, facing: downstream,"
        " size: 4 in, {} place: {{level: outside, height: 0 in}}}}\n"
    )
    near, far = yard.format("C8", 2, ""), yard.format("C9", 0, "clear: 3 ft,")
    tries = stoppage(house(RANCH + near + far), ["wc", "tub", "sink"]).cleanouts
    order = [each.id for each in tries if each.id in ("C8", "C9")]
    assert order == ["C9", "C8"]
    assert {each.id: each.space_known for each in tries}["C8"] is False


def test_an_opening_below_the_standing_waste_is_said_to_let_it_out() -> None:
    """Plumbing Engineer: a plug below the standing waste releases it. Rim 14 in, C2 at 0 in."""
    by_id = {each.id: each for each in ranch("wc", "tub", "sink").cleanouts}
    assert by_id["C2"].lets_out is True
    assert by_id["C1"].lets_out is True  # 12 in, two inches below the tub's rim
    dry = ranch("wc", "tub", clear=("sink",)).cleanouts  # M1, uphill of C3
    assert {each.id: each.lets_out for each in dry}["C3"] is False


def test_the_two_way_cleanout_tells_the_street_from_the_house() -> None:
    """Trade pages: standing full, beyond it; empty, before it (the latter common practice)."""
    assert ranch("wc", "tub", "sink").two_way == (TwoWay("C3", ("S1",), ("M2",)),)


def test_a_cleanout_is_a_sign_of_its_own() -> None:
    assert ranch("wc", "C3").stretches == ("S1",)
    assert ranch("wc", "sink", clear=("C3",)).stretches == ("M2",)


def test_a_cleanout_part_of_the_way_down_leaves_its_own_stretch_possible_either_way() -> None:
    # C2 stands 4 ft down M2 of 10 ft: the block may be above it or below it.
    assert ranch("wc", "C2").stretches == ("M2", "S1")
    assert ranch("wc", "sink", clear=("C2",)).stretches == ("M2",)


def test_a_stretch_that_no_cleanout_reaches_is_said_with_where_a_cable_goes_in() -> None:
    answer = ranch("wc", "lav", clear=("tub",))
    assert answer.cleanouts == ()
    assert any("No cleanout surely reaches B1" in said for said in answer.said)
    assert any("with the toilet pulled" in said for said in answer.said)


# --- signs that do not fit, and holes -------------------------------------------------------------


def test_signs_that_no_single_stoppage_explains_are_said_to_be_so() -> None:
    answer = ranch("lav", "sink", clear=("wc",))
    assert answer.stretches == ()
    assert answer.said[0].startswith("No single stoppage explains")
    assert answer.apart == {"lav": ("lav",), "sink": ("sink", "K1")}
    assert answer.call == "licensed plumber"


def test_while_no_one_stretch_explains_the_signs_nothing_that_drains_is_used() -> None:
    """Common practice, no source: signs that contradict each other leave nothing to trust."""
    answer = ranch("lav", "sink", clear=("wc",))
    assert set(answer.do_not_use) == {"lav", "sink", "wc", "tub"}
    assert answer.may_use == ("tap",)  # outdoors, with no drain
    assert "Until a plumber has looked, use nothing that drains." in answer.said
    standing = ranch("C2", clear=("wc", "lav", "sink", "tub"))
    assert standing.stretches == ()
    assert standing.may_use == ("tap",)


def test_a_vent_that_serves_all_of_them_is_named() -> None:
    text = SPLIT.replace("serves: [ST]", "serves: [ST, L1]")
    answer = stoppage(house(text), ["wc", "ltub"], ["fd", "shower"])
    assert any(said.startswith("V1 (Bath vent) serves all of them") for said in answer.said)
    without = stoppage(house(SPLIT), ["wc", "ltub"], ["fd", "shower"])
    assert not any("vent" in said for said in without.said)


def test_a_rim_that_is_not_recorded_leaves_the_first_open_only_where_it_matters() -> None:
    unknown = RANCH.replace("rim: 14 in", "rim: unknown")
    answer = stoppage(house(unknown), BATH, ["sink"])
    # The tub's rim is somewhere above the floor, 0 in; the toilet's is at 15 in.
    assert answer.overflows_first is None
    assert answer.overflow.candidates == ("wc", "tub")
    assert any("rim of tub" in said for said in answer.missing)
    upstairs = SPLIT.replace("rim: 3 in", "rim: unknown").replace("on: L1", "on: ST")
    # The shower's rim is above its floor at 0 ft, the floor drain at -8 ft: it cannot matter.
    assert stoppage(house(upstairs), ["wc", "ltub"]).overflows_first == "fd"


def test_rims_on_one_level_compare_without_its_elevation() -> None:
    text = RANCH.replace("elevation: 0 ft, ", "")
    assert stoppage(house(text), BATH, ["sink"]).overflows_first == "tub"


def test_levels_without_an_elevation_do_not_compare() -> None:
    text = SPLIT.replace("elevation: -8 ft, ", "").replace("on: L1", "on: BD")
    answer = stoppage(house(text), ["wc", "ltub"])
    assert answer.overflows_first is None
    assert any("elevation of the level low" in said for said in answer.missing)


def test_a_drain_that_leads_nowhere_recorded_keeps_everything_out_of_use() -> None:
    text = RANCH.replace("id: B1, name: Bath branch, kind: branch, to: M1", "id: B1, kind: branch")
    answer = stoppage(house(text), ["wc"])
    assert answer.stretches == ("wc", "B1")
    assert set(answer.do_not_use) == {"wc", "lav", "tub", "sink"}
    assert any("Where B1 runs into" in said for said in answer.missing)


def test_a_fixture_whose_drain_is_not_recorded_is_kept_out_of_use() -> None:
    text = RANCH.replace("drain: {to: K1, by: 2 ft of 1-1/2 in PVC}", "drain: unknown")
    answer = stoppage(house(text), ["wc", "lav"], ["tub"])
    assert "sink" in answer.do_not_use
    assert any("sink" in said for said in answer.assumed)


def test_a_house_of_fixtures_alone_says_what_it_needs() -> None:
    bare = {"format": "1", "house": {"name": "Bare"}, "fixtures": [{"id": "a", "kind": "shower"}]}
    answer = stoppage(house_of(bare), ["a"])
    assert answer.stretches == ("a",)
    assert answer.call == "licensed plumber"
    assert any("Where a runs into" in said for said in answer.missing)


@pytest.mark.parametrize(
    ("thing", "said"),
    [
        ("lavv", "did you mean `lav`"),
        ("tap", "no drain"),
        ("M1", "stretch of drain"),
    ],
)
def test_what_cannot_back_up_is_refused(thing: str, said: str) -> None:
    with pytest.raises(NoSuchThingError, match=said):
        ranch(thing)


def test_the_same_thing_cannot_back_up_and_run_clear() -> None:
    with pytest.raises(NoSuchThingError, match="at once"):
        ranch("wc", clear=("wc",))


def test_a_metric_house_gives_the_same_answer() -> None:
    metric = RANCH.replace("units: US", "units: metric")
    for feet in (1, 2, 3, 4, 10, 12, 20, 50):
        metric = metric.replace(f" {feet} ft of", f" {feet * 0.3048:.4f} m of")
    us, si = ranch("wc", "tub", "sink"), stoppage(house(metric), ["wc", "tub", "sink"])
    assert (us.stretches, us.do_not_use) == (si.stretches, si.do_not_use)
    for ours, theirs in zip(us.cleanouts, si.cleanouts, strict=True):
        assert ours.id == theirs.id
        assert ours.cable_ft == pytest.approx(theirs.cable_ft, abs=0.01)


def test_no_word_of_the_table_tells_anyone_to_open_a_cleanout_under_a_backup() -> None:
    assert "nobody opens a cleanout" in table("drain_diagnosis").values["opening"]["never"]


# --- a dishwasher empties into the sink's trap (common practice, no source)

DISHWASHER = (
    "  - {id: dw, name: Dishwasher, kind: dishwasher, rim: 5 in, place: {room: kitchen},"
    " drain: {to: sink}}\n"
)


def with_dishwasher() -> House:
    return house(RANCH.replace("  - {id: tap,", DISHWASHER + "  - {id: tap,"))


def test_nothing_comes_up_at_a_dishwasher_but_at_the_sink_whose_trap_takes_its_waste() -> None:
    answer = stoppage(with_dishwasher(), ["sink", "dw"], ["wc", "lav", "tub"])
    assert answer.stretches == ("sink", "K1")
    assert answer.overflows_first == "sink"


def test_a_blocked_hose_stays_the_dishwashers_own() -> None:
    answer = stoppage(with_dishwasher(), ["dw"], ["sink"])
    assert (answer.stretches, answer.overflows_first) == (("dw",), "dw")


def test_with_the_main_blocked_no_dishwasher_is_the_lowest_rim() -> None:
    # 5 in above the floor it is lower than any rim, but it is pumped out over a loop
    answer = stoppage(with_dishwasher(), ["wc", "tub", "sink", "dw"])
    assert answer.overflows_first == "tub"


def test_fixtures_that_drain_into_each_other_are_a_circle() -> None:
    circle = RANCH.replace("drain: {to: K1, by: 2 ft of 1-1/2 in PVC}", "drain: {to: dw}")
    with pytest.raises(RecordError, match="leads in a circle"):
        house(circle.replace("  - {id: tap,", DISHWASHER + "  - {id: tap,"))


# --- the lowest opening rises


def test_a_floor_drain_that_rises_points_below_where_the_other_level_comes_in() -> None:
    found = lowest_rises(house(SPLIT))
    assert found is not None
    tree = house(SPLIT).drains
    low = found.backs_up[0]
    assert low == min(tree.rims, key=lambda f: (tree.rims[f].elevation or Length(0)).inches)
    above = [f for f, rim in tree.rims.items() if rim.level != tree.rims[low].level]
    shared = [leg for leg in tree.downhill(low) if set(tree.through(leg)) & set(above)]
    assert list(found.stretches) == shared


def test_a_house_of_one_level_has_no_such_sign() -> None:
    assert lowest_rises(house(RANCH)) is None


# --- cleanouts against reach


@given(drain_trees(), st.data())
def test_exactly_the_cleanouts_that_reach_what_is_blocked_are_to_be_tried(
    record: dict[str, Any], data: st.DataObject
) -> None:
    stretches = [s["id"] for s in record["drains"]["stretches"]]
    facing = st.sampled_from(["upstream", "downstream", "both ways"])
    record["drains"]["cleanouts"] = [
        {"id": f"C{n}", "on": on, "along": "1 ft", "facing": data.draw(facing), "size": "4 in"}
        for n, on in enumerate(data.draw(st.lists(st.sampled_from(stretches), max_size=4)))
    ]
    subject = house_of(record)
    for fixture in subject.drains.rims:
        answer = stoppage(subject, [fixture])
        wanted = {
            (reach.cleanout, step.direction, step.stretch)
            for reach in reaches(subject)
            for step in reach.reached
            if step.stretch in answer.stretches
        }
        tried = {(t.id, t.direction, leg) for t in answer.cleanouts for leg in t.reaches}
        assert tried == wanted


@given(drain_trees(), st.data())
def test_as_far_as_one_cable_takes_is_never_farther_than_it_goes(
    record: dict[str, Any], data: st.DataObject
) -> None:
    size = st.sampled_from(["1-1/2 in", "2 in", "3 in", "4 in", "6 in"])
    for stretch in record["drains"]["stretches"]:
        stretch["by"]["size"] = data.draw(size)
    on = data.draw(st.sampled_from([s["id"] for s in record["drains"]["stretches"]]))
    record["drains"]["cleanouts"] = [
        {"id": "C", "on": on, "along": "0 ft", "facing": "both ways", "size": data.draw(size)}
    ]
    subject = house_of(record)
    for fixture in subject.drains.rims:
        for each in stoppage(subject, [fixture]).cleanouts:
            kept = each.within
            assert (kept.id, kept.direction, kept.near) == (each.id, each.direction, each.near)
            assert kept.steps == each.steps[: len(kept.steps)]
            assert (kept.far.high or 0) <= (each.far.high or 0)
            if each.fits:
                assert fitting(kept.steps[-1].sizes, kept.near)


def test_a_machine_is_not_offered_where_it_meets_what_backs_up_though_it_runs_well() -> None:
    """Common practice, no source: a pump pushes its water into a full pipe as well, and it comes
    up at the tub. A sink at the same place stays in use."""
    washer = RANCH.replace("kind: kitchen sink", "kind: laundry box")
    for text, usable in ((RANCH, True), (washer, False)):
        answer = stoppage(house(text), ["tub"], ["sink"])
        assert ("sink" in answer.may_use) is usable
        assert ("sink" in answer.do_not_use) is not usable


def test_the_sewer_company_is_called_only_where_all_back_up_or_the_lowest_does() -> None:
    """Of the ranch the lowest rim is the tub's."""
    home = house(RANCH)
    assert stoppage(home, ["lav"]).also_call == ()
    assert stoppage(home, ["tub"]).also_call == ("sewer utility",)
    assert stoppage(home, ["lav", "sink"]).also_call == ("sewer utility",)


def test_a_backwater_valves_lid_stays_shut_while_the_main_line_may_stand_above_it() -> None:
    """The example's BV1 lies in the lower floor at -9 ft 6 in; blocked below it the main line
    fills to the powder room's toilet. Common practice, no source: its flap holds, its lid does not.
    """
    home = load(assets.example_house()).house
    all_ = [name for name in home.drains.rims if name not in home.drains.closed]
    main = stoppage(home, all_)
    by = {(each.id, each.direction): each for each in main.cleanouts}
    assert by["C4", "downstream"].floods
    assert not by["C1", "upstream"].floods
    assert [each.floods for each in main.cleanouts if each.fits is not False][-1]
    assert standing_waste(home.drains, "BV1", ["D20"]) is not None


def test_a_cable_that_may_stray_into_a_branch_is_told_of_the_flap_there() -> None:
    """C1's riser is 5 ft 9 1/2 in, D20 6 ft long, and D19 joins at D20's head: 11 ft 9 1/2 in."""
    home = load(assets.example_house()).house
    (stray,) = [each for each in reach(home, "C1").doubtful if each.valves]
    assert (stray.stretch, stray.valves) == ("D19", ("BV1",))
    assert stray.at is not None
    assert stray.at.exact == pytest.approx(141.5)
