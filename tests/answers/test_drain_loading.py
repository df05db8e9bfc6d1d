"""What drains carry, on houses small enough to add up on paper, and what holds for every house.

The arithmetic stands beside each assertion; the figures are those of the tables held in
`tests/published/test_drain_tables.py`.
"""

import json
from collections.abc import Iterable, Sequence
from pathlib import Path

import pytest
import yaml
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from handbook.answers.drain_loading import DrainLoading, drain_loading
from handbook.answers.draining.drain_units import Code, addends, code_of, units_of
from handbook.answers.draining.stretch_loads import StretchLoad
from handbook.answers.draining.trap_arms import TrapArm
from handbook.house.house import House, build
from handbook.output.told_drain_loading import loading_json, loading_text
from handbook.pages.content import Line, Table, plain
from handbook.pages.parts.drain_loads import drain_loads
from handbook.record.grammar.record import Record

BATH = {"level": "main", "room": "bath"}
KINDS = (
    *("water closet", "lavatory", "bathtub", "tub and shower", "shower", "bidet"),
    *("kitchen sink", "bar sink", "dishwasher", "laundry box", "laundry tub", "floor drain"),
)


def house(text: str, **facts: object) -> House:
    tree = yaml.load(text, Loader=yaml.BaseLoader)
    rooms = [{"id": name, "name": name} for name in ("bath", "bath-2", "bath-3", "powder", "other")]
    levels = [{"id": "main", "name": "Main", "rooms": rooms}]
    record = {"format": "1", "house": {"name": "Drains", **facts}, "levels": levels, **tree}
    return build(Record.model_validate(record), Path())


def loading(text: str, **facts: object) -> DrainLoading:
    return drain_loading(house(text, **facts))


def load(text: str, stretch: str, **facts: object) -> StretchLoad:
    (found,) = [it for it in loading(text, **facts).stretches if it.id == stretch]
    return found


def arm(text: str, **facts: object) -> TrapArm:
    return loading(text, **facts).arms[0]


def fixtures(*kinds: str, room: str = "bath", to: str = "D1") -> list[dict[str, object]]:
    return [
        {"id": f"{room}-{n}", "kind": kind, "place": {"room": room}, "drain": {"to": to}}
        for n, kind in enumerate(kinds)
    ]


def units(code: str, *rooms: tuple[str, ...]) -> int | None:
    """Return the units of the fixtures in each room, all on one drain."""
    listed = [f for n, kinds in enumerate(rooms) for f in fixtures(*kinds, room=ROOMS[n])]
    subject = house(yaml.safe_dump({"fixtures": listed}))
    return units_of(subject.record.fixtures or (), Code(code)).most


ROOMS = ("bath", "bath-2", "bath-3", "powder", "other")
FULL = ("water closet", "lavatory", "bathtub")
HALF = ("water closet", "lavatory")


# --- groups


@pytest.mark.parametrize(
    ("rooms", "irc"),
    [
        ((FULL,), 5),  # the group, not 3 + 1 + 2 = 6
        ((HALF,), 4),
        ((FULL, HALF), 7),  # a bath and a half
        ((FULL, FULL), 8),
        ((FULL, FULL, HALF), 9),
        ((FULL, FULL, FULL), 10),
        ((FULL, FULL, FULL, HALF), 11),
        ((FULL, FULL, FULL, FULL), 15),  # past the table: three baths 10, and one 5
        ((HALF, HALF), 8),  # no row for two half baths: 4 + 4
        (((*FULL, "lavatory"),), 6),  # the second lavatory by itself: 5 + 1
        (((*FULL, "shower"),), 5),  # a tub and a shower in one bath
        (((*FULL, "bidet"),), 5),  # a bidet belongs to the group
        ((("water closet",), ("lavatory",), ("bathtub",)), 6),  # not together: 3 + 1 + 2
        ((("kitchen sink", "dishwasher"),), 2),
        ((("laundry box", "laundry tub"),), 3),
        ((("laundry box",), ("laundry tub",)), 4),  # in two rooms: 2 + 2
        ((("floor drain",),), 0),
    ],
)
def test_groups_count_as_the_residential_code_counts_them(rooms, irc: int) -> None:
    assert units("IRC", *rooms) == irc


@pytest.mark.parametrize(
    ("rooms", "ipc", "upc"),
    [
        ((FULL,), 5, 6),  # the UPC has no groups: 3 + 1 + 2
        ((FULL, FULL), 10, 12),  # the IPC has no value for several baths: 5 + 5
        ((HALF,), 4, 4),
        (((*FULL, "shower"),), 7, 8),  # the IPC's group takes one of them: 5 + 2
        ((("kitchen sink", "dishwasher"),), 2, 4),
        ((("laundry box", "laundry tub"),), 4, 5),  # the UPC's washer counts 3
    ],
)
def test_the_other_codes_are_kept_apart(rooms, ipc: int, upc: int) -> None:
    assert (units("IPC", *rooms), units("UPC", *rooms)) == (ipc, upc)


def test_a_fixture_that_the_code_does_not_list_has_no_upper_bound() -> None:
    assert units("UPC", ("floor drain",)) is None
    assert units("IRC", ("other",)) is None


def test_a_load_is_the_sum_of_its_baths_its_other_groups_and_single_fixtures() -> None:
    """IRC Table P3004.1: a bath and a half 7, a laundry group 3, a lavatory by itself 1."""
    rooms = ((*FULL, "lavatory"), HALF, ("laundry box", "laundry tub"))
    listed = [f for n, kinds in enumerate(rooms) for f in fixtures(*kinds, room=ROOMS[n])]
    subject = house(yaml.safe_dump({"fixtures": listed}))
    found = addends(subject.record.fixtures or (), Code("IRC"))
    assert [(part.groups, part.units) for part in found] == [
        (
            (
                ("full_bath", ("bath-0", "bath-1", "bath-2")),
                ("half_bath", ("bath-2-0", "bath-2-1")),
            ),
            7,
        ),
        ((("laundry", ("bath-3-0", "bath-3-1")),), 3),
        (((None, ("bath-3",)),), 1),
    ]


@given(st.lists(st.sampled_from(KINDS), max_size=9), st.sampled_from(["IRC", "IPC"]))
@settings(deadline=None)
def test_a_group_never_counts_more_than_its_members(kinds: list[str], code: str) -> None:
    listed = [kind for kind in kinds if units(code, (kind,)) is not None]
    singly = sum(units(code, (kind,)) or 0 for kind in listed)
    together = units(code, tuple(listed))
    assert together is not None
    assert together <= singly


def baths(kinds: Sequence[str]) -> tuple[int, int]:
    """Baths that can be made of these, and closets that have a lavatory."""
    bathing = sum(kinds.count(kind) for kind in ("bathtub", "tub and shower", "shower"))
    pairs = min(kinds.count("water closet"), kinds.count("lavatory"))
    return min(pairs, bathing), pairs


@given(st.lists(st.sampled_from(KINDS), max_size=8), st.sampled_from(KINDS))
@settings(deadline=None)
def test_one_more_fixture_that_completes_no_bath_never_makes_a_load_smaller(
    kinds: list[str], more: str
) -> None:
    assume(baths(kinds) == baths([*kinds, more]))
    assert (units("IRC", (*kinds, more)) or 0) >= (units("IRC", tuple(kinds)) or 0)


def test_completing_a_bath_can_make_a_load_smaller_as_the_table_prints_it() -> None:
    """IRC Table P3004.1: two half baths 4 + 4, a bath and a half 7; a closet, a tub and a shower
    3 + 2 + 2, the group of a full bath 5."""
    assert (units("IRC", (*HALF, *HALF)), units("IRC", (*HALF, *HALF, "bathtub"))) == (8, 7)
    one = ("water closet", "bathtub", "shower")
    assert (units("IRC", one), units("IRC", (*one, "lavatory"))) == (7, 5)


# --- which code


@pytest.mark.parametrize(
    ("books", "code"),
    [
        ([], "IRC"),
        (["International Residential Code"], "IRC"),
        (["International Plumbing Code"], "IPC"),
        (["International Residential Code", "Uniform Plumbing Code"], "UPC"),
        (["International Plumbing Code", "International Residential Code"], "IRC"),
        (["National Electrical Code"], "IRC"),
    ],
)
def test_the_code_is_the_one_that_the_record_names(books: list[str], code: str) -> None:
    named = [{"name": name, "edition": "2021"} for name in books]
    subject = house("{}", codes=named)
    assert code_of(subject).name == code


def test_a_code_that_nobody_named_is_an_assumption_that_is_said() -> None:
    said = "The record names no plumbing code; the tables of the IRC are used."
    codes = [{"name": "International Residential Code", "edition": "2021"}]
    assert said in loading(TWO).assumed
    assert said not in loading(TWO, codes=codes).assumed


# --- loads


TWO = """
drains:
  discharge: {id: SEWER, kind: public sewer}
  stretches:
    - {id: D1, kind: branch, to: D2, by: 6 ft of 3 in PVC, slope: 1/4 in per ft}
    - {id: D2, kind: stack, to: D3, by: 9 ft of 3 in PVC}
    - {id: D3, kind: building drain, to: SEWER, by: 30 ft of 4 in PVC, slope: 1/4 in per ft}
    - {id: D4, kind: branch, to: D3, by: 6 ft of 2 in PVC, slope: 1/4 in per ft}
fixtures:
  - {id: wc, kind: water closet, place: {room: bath}, drain: {to: D1}}
  - {id: lav, kind: lavatory, place: {room: bath}, drain: {to: D1}}
  - {id: tub, kind: bathtub, place: {room: bath}, drain: {to: D1}}
  - {id: sink, kind: laundry tub, place: {room: other}, drain: {to: D4}}
"""


@pytest.mark.parametrize(
    ("stretch", "column", "most", "allowed", "left"),
    [
        ("D1", "branch", 5, 20, 15),  # a bath group on 3 in, into a stack
        ("D2", "stack", 5, 48, 43),
        ("D3", "building drain", 7, 216, 209),  # with the laundry tub
        ("D4", "building drain", 2, 21, 19),  # a branch of the building drain, not of a stack
    ],
)
def test_each_stretch_is_read_in_its_own_column(
    stretch: str, column: str, most: int, allowed: int, left: int
) -> None:
    found = load(TWO, stretch)
    assert (found.column, found.load.most, found.allowed, found.left) == (
        column,
        most,
        allowed,
        left,
    )
    assert found.fits
    assert found.missing == ()


def test_a_group_counts_only_where_all_of_it_drains_through() -> None:
    """The tub on a branch of its own: 2 there, 3 + 1 on D1, and the group from the stack on."""
    parted = TWO.replace("place: {room: bath}, drain: {to: D1}}\n  - {id: sink", "TUB").replace(
        "TUB", "place: {room: bath}, drain: {to: D4}}\n  - {id: sink"
    )
    assert load(parted, "D1").load.most == 4
    assert load(parted, "D4").load.most == 4  # tub 2, laundry tub 2
    assert load(parted, "D3").load.most == 7  # bath group 5, laundry tub 2


def test_a_drain_over_its_capacity_does_not_fit() -> None:
    """2 in carries 10 on a stack: nine lavatories fit, eleven do not."""
    text = "drains: {{stretches: [{{id: D1, kind: stack, by: 9 ft of 2 in PVC, to: S}}], {}}}\n"
    top = text.format("discharge: {id: S}")
    nine = top + yaml.safe_dump({"fixtures": fixtures(*["lavatory"] * 9)})
    eleven = top + yaml.safe_dump({"fixtures": fixtures(*["lavatory"] * 11)})
    assert (load(nine, "D1").fits, load(nine, "D1").left) == (True, 1)
    assert (load(eleven, "D1").fits, load(eleven, "D1").left) == (False, -1)


def test_the_uniform_code_counts_water_closets_on_three_inches() -> None:
    """Three on a 3 in horizontal drain: 9 of 35 units, but a fourth closet is one too many."""
    drain = "by: 9 ft of 3 in PVC, slope: 1/4 in per ft"
    top = f"drains: {{stretches: [{{id: D1, kind: building drain, {drain}, to: S}}], "
    top += "discharge: {id: S}}\n"
    upc = [{"name": "Uniform Plumbing Code", "edition": "2021"}]
    for count, fits in ((3, True), (4, False)):
        text = top + yaml.safe_dump({"fixtures": fixtures(*["water closet"] * count)})
        assert load(text, "D1", codes=upc).fits is fits


# --- holes


@pytest.mark.parametrize(
    ("old", "new", "stretch", "lack"),
    [
        ("kind: stack, to: D3", "to: D3", "D2", "kind"),
        ("by: 9 ft of 3 in PVC", "by: {length: 9 ft}", "D2", "size"),
        ("30 ft of 4 in PVC, slope: 1/4 in per ft", "30 ft of 4 in PVC", "D3", "slope"),
        ("kind: branch, to: D3", "kind: branch", "D4", "to"),
        ("by: 9 ft of 3 in PVC", "by: 9 ft of 8 in PVC", "D2", "figure"),
    ],
)
def test_what_is_not_recorded_leaves_a_stretch_without_a_verdict(
    old: str, new: str, stretch: str, lack: str
) -> None:
    assert TWO.count(old) == 1
    found = load(TWO.replace(old, new), stretch)
    assert lack in found.lacks
    assert found.fits is None
    assert len(found.missing) == len(found.lacks)


def test_a_fixture_whose_drain_is_not_recorded_may_be_on_any_stretch() -> None:
    text = TWO + "  - {id: bidet, kind: bidet, place: {room: other}}\n"
    found = load(text, "D1")
    assert (found.load.least, found.load.most) == (5, 6)  # the bath, and the bidet's 1
    assert found.fits  # 6 of 20 whichever way it is
    assert "where the waste goes of: Bidet" in found.missing


def test_a_stretch_that_ends_in_a_hole_may_run_into_any_but_what_leads_to_it() -> None:
    text = TWO.replace("kind: branch, to: D3", "kind: branch")
    assert (load(text, "D1").load.least, load(text, "D1").load.most) == (5, 7)
    assert (load(text, "D4").load.least, load(text, "D4").load.most) == (2, 2)


def test_without_rooms_a_load_is_between_the_group_and_its_members() -> None:
    text = TWO.replace("place: {room: bath}, ", "")
    found = load(text, "D1")
    assert (found.load.least, found.load.most) == (5, 6)
    assert "rooms" in found.lacks


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_a_hole_only_widens_what_a_complete_record_says(data: st.DataObject) -> None:
    """Random trees of drains: forgetting pointers and rooms keeps the true load in the range."""
    count = data.draw(st.integers(1, 6))
    below = [data.draw(st.integers(0, n - 1)) if n else None for n in range(count)]
    kinds = data.draw(st.lists(st.sampled_from(KINDS), min_size=1, max_size=8))
    stretches = [
        {"id": f"D{n}", "kind": "branch" if n else "building drain", "to": _to(under)}
        for n, under in enumerate(below)
    ]
    placed = [
        {
            "id": f"f{n}",
            "kind": kind,
            "place": {"room": data.draw(st.sampled_from(["bath", "other"]))},
            "drain": {"to": f"D{data.draw(st.integers(0, count - 1))}"},
        }
        for n, kind in enumerate(kinds)
    ]
    whole = _house(stretches, placed)
    for thing in data.draw(st.lists(st.sampled_from([*stretches, *placed]), max_size=3)):
        thing.pop("to", None)
        thing.pop(data.draw(st.sampled_from(["drain", "place"])), None)
    holed = drain_loading(_house(stretches, placed))
    for true, known in zip(drain_loading(whole).stretches, holed.stretches, strict=True):
        assert true.load.most is not None
        assert known.load.least <= true.load.most
        assert known.load.most is None or known.load.most >= true.load.most


def _to(under: int | None) -> str:
    return "SEWER" if under is None else f"D{under}"


def _house(stretches: list[dict[str, object]], placed: list[dict[str, object]]) -> House:
    drains = {"discharge": {"id": "SEWER"}, "stretches": stretches}
    return house(yaml.safe_dump({"drains": drains, "fixtures": placed}))


# --- traps and their arms


def lavatory(drain: str, vents: str = "[{id: V1, serves: [D1]}]") -> str:
    return f"""
drains:
  discharge: {{id: SEWER}}
  vents: {vents}
  stretches:
    - {{id: D1, kind: branch, to: D2, by: 3 ft of 2 in PVC, slope: 1/4 in per ft}}
    - {{id: D2, kind: branch, to: SEWER, by: 3 ft of 2 in PVC, slope: 1/4 in per ft}}
fixtures:
  - {{id: lav, kind: lavatory, drain: {{to: D1, {drain}}}}}
"""


GOOD = "by: 4 ft of 1-1/2 in PVC, slope: 1/4 in per ft, trap: 1-1/4 in"


def test_a_trap_arm_within_its_table_is_good() -> None:
    found = arm(lavatory(GOOD))
    verdicts = (found.trap_too_small, found.too_long, found.too_short, found.too_flat)
    assert verdicts == (False, False, False, False)
    assert found.falls_too_far is False  # 4 ft x 1/4 in per ft = 1 in; its size is 1-1/2 in
    assert (found.vent, found.lacks) == ("V1", ())


@pytest.mark.parametrize(
    ("drain", "verdict"),
    [
        # IRC Table P3105.1: 5 ft for a 1-1/4 in trap
        (GOOD.replace("4 ft", "5 ft 1 in"), "too_long"),
        # two diameters of a 1-1/2 in arm: 3 in
        (GOOD.replace("4 ft", "2 in"), "too_short"),
        (GOOD.replace("1/4 in per ft", "1/8 in per ft"), "too_flat"),
        # 4 ft x 1/2 in per ft = 2 in, more than 1-1/2 in
        (GOOD.replace("1/4 in per ft", "1/2 in per ft"), "falls_too_far"),
        (GOOD.replace("trap: 1-1/4 in", "trap: 1 in"), "trap_too_small"),
    ],
)
def test_what_is_wrong_with_a_trap_or_its_arm(drain: str, verdict: str) -> None:
    assert getattr(arm(lavatory(drain)), verdict) is True
    assert getattr(arm(lavatory(GOOD)), verdict) is False


def test_an_arm_runs_on_through_what_is_not_vented() -> None:
    """4 ft of its own, then 3 ft of D1, to the vent of D2: 7 ft and 1-3/4 in of fall."""
    found = arm(lavatory(GOOD, "[{id: V1, serves: [D2]}]"))
    assert found.length is not None
    assert (found.length.feet, found.fall_in) == (7, 1.75)
    assert found.too_long


def test_a_vent_on_the_drain_itself_may_be_nearer_than_its_end() -> None:
    found = arm(lavatory(GOOD.replace("4 ft", "7 ft"), "[{id: V1, serves: [lav]}]"))
    assert found.on_own_drain
    assert found.too_long is None


def test_an_arm_without_a_vent_waits_for_it() -> None:
    found = arm(lavatory(GOOD, "[]"))
    assert found.lacks == ("vent",)
    assert (found.too_long, found.falls_too_far) == (None, None)


def test_an_arm_ends_where_its_water_drops() -> None:
    dropping = lavatory(GOOD, "[{id: V1, serves: [D2]}]").replace(
        "D1, kind: branch", "D1, kind: stack"
    )
    assert arm(dropping).vent is None


def test_water_closets_have_no_limit() -> None:
    assert loading(lavatory(GOOD).replace("kind: lavatory", "kind: water closet")).arms == ()


def test_the_uniform_code_wants_vents_nearer() -> None:
    """UPC Table 1002.2: 2 ft 6 in for 1-1/4 in."""
    upc = [{"name": "Uniform Plumbing Code", "edition": "2021"}]
    assert arm(lavatory(GOOD), codes=upc).too_long
    assert not arm(lavatory(GOOD.replace("4 ft", "2 ft 6 in")), codes=upc).too_long


def test_metric_names_and_rounded_lengths_are_the_codes_own() -> None:
    """1-1/2 in and 6 ft are printed 40 mm and 1829 mm; 2 percent for 1/4 in per ft."""
    drain = "by: 1829 mm of 40 mm PVC, slope: 2 %, trap: 40 mm"
    found = arm(lavatory(drain))
    assert (found.too_long, found.too_flat, found.falls_too_far) == (False, False, False)


# --- vents


@pytest.mark.parametrize(
    ("size", "length", "too_small"),
    [
        # The bath's drain must be 3 in (IPC 710.1(1) note a): half of it is 1-1/2 in.
        ("1-1/2 in", "40 ft", False),
        ("1-1/4 in", "40 ft", True),
        # IPC 906.2: over 40 ft a size larger, 2 in
        ("1-1/2 in", "41 ft", True),
        ("2 in", "41 ft", False),
        ("1-1/2 in", "unknown", None),
        ("2 in", "unknown", False),  # large enough however long
        ("1-1/4 in", "unknown", True),  # too small however short
        ("unknown", "20 ft", None),
    ],
)
def test_a_vent_is_half_the_drain_that_is_asked_for(
    size: str, length: str, too_small: bool | None
) -> None:
    vent = f"  vents: [{{id: V1, serves: [D1], size: {size}, length: {length}}}]\nfixtures:"
    (found,) = loading(TWO.replace("fixtures:", vent)).vents
    assert found.too_small is too_small


def test_half_of_what_is_asked_for_not_of_what_is_there() -> None:
    """A laundry tub on a 2 in branch: 1-1/2 in is asked for, and the least vent is 1-1/4 in."""
    vent = "  vents: [{id: V1, serves: [D4], size: 1-1/4 in, length: 20 ft}]\nfixtures:"
    (found,) = loading(TWO.replace("fixtures:", vent)).vents
    assert (found.needs, found.too_small) == (1.25, False)


def test_the_uniform_code_limits_how_far_a_vent_runs() -> None:
    """UPC Table 703.2: 1-1/4 in carries one unit for 45 ft; the laundry tub's two need 1-1/2 in."""
    upc = [{"name": "Uniform Plumbing Code", "edition": "2021"}]
    for length, needs in (("20 ft", 1.5), ("61 ft", 2)):  # 1-1/2 in runs 60 ft at most
        vent = f"  vents: [{{id: V1, serves: [D4], size: 2 in, length: {length}}}]\nfixtures:"
        (found,) = loading(TWO.replace("fixtures:", vent), codes=upc).vents
        assert found.needs == needs


def test_a_vent_longer_than_any_size_may_run_is_said_so_and_not_as_a_number() -> None:
    """UPC Table 703.2: even 4 in runs 300 ft at most."""
    upc = [{"name": "Uniform Plumbing Code", "edition": "2021"}]
    vent = "  vents: [{id: V1, serves: [D4], size: 2 in, length: 301 ft}]\nfixtures:"
    subject = house(TWO.replace("fixtures:", vent), codes=upc)
    answer = drain_loading(subject)
    line = "2 in: needs a size larger than the table has; too small"
    assert line in loading_text(subject, answer)
    (told,) = json.loads(loading_json(answer))["vents"].values()
    assert (told["needs_in"], told["needs_more_than_table"]) == (None, True)
    cells = [plain(row[3]) for row in tables(drain_loads(subject), "Vents against")]
    assert cells == ["a size larger than the table has"]


def tables(blocks: Iterable[object], caption: str) -> list[tuple[Line, ...]]:
    found = [b for b in blocks if isinstance(b, Table) and b.caption.startswith(caption)]
    return [row for block in found for row in block.rows]


# --- one more bath


def more(text: str, **facts: object) -> dict[str, tuple[int | None, int | None, bool | None]]:
    found = loading(text, **facts).one_more_bath
    return {it.into: (it.adds, it.carries, it.fits) for it in found}


TALL = """
fixtures: {fixtures}
drains:
  stretches:
    - {{id: D1, kind: branch, to: ST, by: 4 ft of 2 in PVC}}
    - {{id: D2, kind: branch, to: ST, by: 4 ft of 3 in PVC}}
    - {{id: ST, kind: stack, to: BD, by: 9 ft of 3 in PVC}}
    - {{id: BD, kind: building drain, by: 9 ft of 4 in PVC, slope: 1/4 in per ft}}
"""


def test_one_more_bath_counts_with_the_baths_that_are_there() -> None:
    """IRC Table P3004.1: one bath 5, two baths 8; alone it adds 5, with another one 3.

    D1, of 2 in, takes no toilet: IPC Table 710.1(1) note a asks for 3 in.
    """
    text = TALL.format(fixtures=fixtures(*FULL, to="D2"))
    assert more(text) == {"D2": (3, 8, True), "ST": (3, 8, True), "BD": (3, 8, True)}
    empty = TALL.format(fixtures=[])
    assert more(empty)["D2"] == (5, 5, True)


def test_one_more_bath_is_too_much_where_any_drain_below_cannot_carry_it() -> None:
    """IPC Table 710.1(1): 3 in at 1/8 in per ft carries 36. Twelve laundry tubs at 2 are 24 and
    ten lavatories 10: 34 there, 39 with the bath. The stack above carries 48."""
    many = [*["laundry tub"] * 12, *["lavatory"] * 10]
    text = TALL.format(fixtures=fixtures(*many, to="BD"))
    text = text.replace("by: 9 ft of 4 in PVC, slope: 1/4", "by: 9 ft of 3 in PVC, slope: 1/8")
    (into,) = [it for it in loading(text).one_more_bath if it.into == "ST"]
    assert (into.adds, into.over, into.fits) == (5, ("BD",), False)


def test_one_more_bath_is_not_told_where_a_drain_below_has_no_size() -> None:
    text = TALL.format(fixtures=[]).replace("by: 9 ft of 4 in PVC, ", "")
    (into,) = [it for it in loading(text).one_more_bath if it.into == "ST"]
    assert (into.unknown, into.fits) == (("BD",), None)
