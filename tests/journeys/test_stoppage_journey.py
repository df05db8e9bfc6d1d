"""A backup in the example house: from the command, in the book and on the phone, one answer."""

import json
import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from handbook import assets, load
from handbook.answers.draining.cable_fit import fitting
from handbook.answers.draining.cable_walk import Cable
from handbook.answers.draining.common_signs import common_signs
from handbook.answers.reach import reach as reach_from
from handbook.answers.reach import reaches
from handbook.answers.stoppage import stoppage
from handbook.cli import main
from handbook.house.house import House, build
from handbook.measures import parse_pipe_size
from handbook.output import paper
from handbook.output.photos import Photos
from handbook.output.told_drains import stoppage_json
from handbook.output.told_reach import reach_text
from handbook.pages.book import book
from handbook.pages.content import Book, Bullets, Facts, Line, Note, Page, Para, Part, Table, plain
from handbook.pages.drain_groups import blocked_by_name
from handbook.pages.parts.one_sign_table import CAPTION
from handbook.pages.parts.stoppages import stoppage_blocks
from handbook.pages.which_drains import signs, which_drains
from handbook.pages.words import situation
from handbook.record.grammar.record import Record

EXAMPLE = str(assets.example_house())
STRAY = " (at 11 ft it may get into D19, to the flap of BV1)"


@pytest.fixture(scope="module")
def home() -> House:
    return load(EXAMPLE).house


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments))


def asked(*arguments: str) -> dict:
    done = run("stoppage", EXAMPLE, *arguments, "--json")
    assert done.exit_code == 0, done.output
    return json.loads(done.stdout)


# --- the command ----------------------------------------------------------------------------------


def test_the_floor_drain_and_the_tub_are_the_lower_branch_behind_its_valve() -> None:
    """By hand: D17 and D18 meet in D19, in which BV1 stands; the kitchen does not pass it."""
    answer = asked("floor-drain", "laundry-tub", "--clear", "kitchen-sink", "hall-wc")
    assert answer["stretches"] == ["D19"]
    assert answer["overflows_first"] == "floor-drain"
    # The softener rinses into the tub, the furnace's condensate into the floor drain.
    assert {"floor-drain", "laundry-tub", "SOF", "CD1"} <= set(answer["do_not_use"])
    # The two machines meet it in D20, and drain into a full pipe as well.
    others = set(answer["do_not_use"]) - {"floor-drain", "laundry-tub", "SOF", "CD1"}
    assert others == {"laundry-box", "dishwasher"}
    assert "hall-wc" in answer["may_use"]
    assert answer["call"] == "licensed plumber"
    # C4 opens 32 1/4 in above D17 (-94 in over -126 1/4 in), then 4 ft of D17, 3 ft of D19.
    (cleanout,) = answer["cleanouts"]
    assert cleanout["id"] == "C4"
    assert cleanout["direction"] == "downstream"
    assert cleanout["cable_ft"] == pytest.approx([32.25 / 12 + 4, 32.25 / 12 + 7], abs=0.01)
    assert cleanout["through"] == ["2 in", "3 in"]


def test_all_of_it_is_the_main_line_and_the_two_way_cleanout_comes_first() -> None:
    answer = asked("kitchen-sink", "hall-wc", "laundry-tub")
    assert answer["stretches"] == ["D20", "D21"]
    assert answer["cleanouts"][0]["id"] == "C1"
    # C1 opens at the ground, -60 in, over D21 at -129 1/2 in; D21 is 42 ft long.
    assert answer["cleanouts"][0]["cable_ft"] == pytest.approx([5.79, 47.79], abs=0.01)
    assert answer["two_way"] == [{"id": "C1", "standing": ["D21"], "empty": ["D20"]}]
    assert answer["also_call"] == ["sewer utility"]


def test_where_no_cleanout_reaches_the_cable_goes_in_at_the_tub_then_at_the_pulled_toilet() -> None:
    """By hand: the toilet's arm is 1 ft of 3 in, and D2 2 ft of 3 in; the tub's arm is 2 ft of
    1-1/2 in and D1 4 ft of 2 in, so that D2 begins at 6 ft."""
    signs = ("hall-wc", "hall-tub", "--clear", "hall-lav")
    tub, entry = asked(*signs)["at_fixtures"]
    assert (tub["id"], tub["cable_ft"]) == ("hall-tub", [6, 8])
    assert (entry["id"], entry["cable_ft"], entry["through"]) == ("hall-wc", [1, 3], ["3 in"])
    assert entry["closet_auger"]["reach_ft"] == [3, 6]
    text = run("stoppage", EXAMPLE, *signs).output
    assert "first a closet auger, 3/8 to 1/2 in, 3 to 6 ft: the toilet's own trap" in text
    assert "with the toilet pulled, downstream: 1 to 3 ft of cable from the flange" in text


def test_every_part_of_the_answer_that_machines_look_for_is_there() -> None:
    wanted = ("stretches", "overflows_first", "do_not_use", "may_use", "cleanouts", "call")
    assert set(wanted) <= set(asked("hall-lav"))


def test_clear_takes_several_and_may_be_said_twice(home: House) -> None:
    one = asked("hall-wc", "--clear", "hall-lav", "kitchen-sink")
    two = asked("hall-wc", "--clear", "hall-lav", "--clear", "kitchen-sink")
    assert one == two == json.loads(_python(home, ["hall-wc"], ["hall-lav", "kitchen-sink"]))


def _python(home: House, backs_up: list[str], clear: list[str]) -> str:
    return stoppage_json(home, stoppage(home, backs_up, clear))


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("hall-wcc",), "did you mean `hall-wc`"),
        (("HB1",), "no drain"),
        (("hall-wc", "--clear"), "requires an argument"),
        (("hall-wc", "--clear", "hall-wc"), "at once"),
        ((), "Missing argument"),
    ],
)
def test_what_cannot_be_asked_ends_with_2(arguments: tuple[str, ...], said: str) -> None:
    done = run("stoppage", EXAMPLE, *arguments)
    assert done.exit_code == 2
    assert said in done.output


def test_the_text_warns_first_and_names_the_plumbers_cleanouts_in_order() -> None:
    told = run("stoppage", EXAMPLE, "kitchen-sink", "hall-wc", "laundry-tub").output
    assert told.startswith("Nobody opens a cleanout while waste may stand above it; an occupant")
    # Both outdoors; D20 and D21 are 5 ft of cable from C1, and 37 ft from C6.
    assert told.index("1. C1") < told.index("2. C1") < told.index("3. C6")
    assert "Call a licensed plumber; also the sewer utility." in told


def test_a_plug_is_eased_before_it_is_pulled_wherever_a_plumber_reads_of_it(home: House) -> None:
    """Common practice, no source: what stands above an opening shows at its thread."""
    eased = "the plug is eased, not pulled"
    assert eased in run("stoppage", EXAMPLE, "kitchen-sink", "hall-wc", "laundry-tub").output
    pages = {page.id: page for page in book(home).pages}
    told = [plain(line) for b in pages["stoppage_table"].blocks if isinstance(b, Bullets)
            for line in b.lines]  # fmt: skip
    assert any(eased in line for line in told)
    reading = "full (waste at the thread of its eased plug"
    for page in ("stoppage_table", "C1"):
        told = [plain(line) for b in pages[page].blocks if isinstance(b, Bullets)
                for line in b.lines]  # fmt: skip
        assert any(reading in line for line in told), page


def test_reach_says_both_ways_and_what_is_not_sure() -> None:
    answer = json.loads(run("reach", EXAMPLE, "C1", "--json").output)
    told = {(r["stretch"], r["direction"]): r["cable_ft"] for r in answer["reached"]}
    # Up from C1: 6 ft of D20, 11 ft of D16; each with the riser of 69 1/2 in.
    assert told[("D16", "upstream")] == pytest.approx([69.5 / 12 + 6, 69.5 / 12 + 17], abs=0.01)
    assert {d["stretch"] for d in answer["doubtful"]} == {"D7", "D13", "D19"}
    text = run("reach", EXAMPLE, "C1").output
    assert "downstream: D21 (Building sewer), 5 to 48 ft through 4 in" in text


def test_reach_of_the_whole_house_lists_what_no_cleanout_reaches() -> None:
    """By hand: no cleanout stands on, or above, the tub's, the toilets', the shower's or the floor
    drain's own branches, nor on the primary sinks'."""
    missed = ["D1", "D2", "D4", "D5", "D6", "D18"]
    answer = json.loads(run("reach", EXAMPLE, "--json").output)
    assert [gap["stretch"] for gap in answer["unreached"]] == missed
    assert len(answer["cleanouts"]) == 10
    text = run("reach", EXAMPLE).output
    assert [line.split()[3] for line in text.splitlines() if "by none" in line] == missed


def test_reach_of_what_is_no_cleanout_ends_with_2() -> None:
    done = run("reach", EXAMPLE, "D21")
    assert done.exit_code == 2
    assert "no cleanout" in done.output


# --- the pages ------------------------------------------------------------------------------------


def rows(page: Page, caption: str) -> Iterator[list[str]]:
    for block in page.blocks:
        if isinstance(block, Table) and block.caption == caption:
            yield from ([plain(cell) for cell in row] for row in block.rows)


def test_the_red_sheet_has_a_row_for_the_largest_groups_that_run_together(home: House) -> None:
    (page,) = which_drains(home)
    rising, *told = rows(page, "What to tell the plumber")
    assert len(told) > 6
    told = [row for row in told if "Others not known" not in row[0]]
    groups = [answer for answer in common_signs(home) if len(answer.backs_up) > 1]
    said = {plain(blocked_by_name(home, answer)): len(answer.backs_up) for answer in groups}
    kept = [said[row[1]] for row in told]  # every row is one of the groups
    left_out = [size for legs, size in said.items() if legs not in {row[1] for row in told}]
    assert max(left_out, default=0) <= min(kept)
    assert told[0][0] == "All of them"
    assert "floor drain, utility room if backwater valve (BV1) fails" in told[0][2]
    # the lowest opening rises: past the backwater valve that should keep it dry
    assert rising[0] == "Floor drain, utility room: rises when another level drains"
    assert rising[1:] == [
        told[0][1],
        "at that one; backwater valve (BV1) fails then",
        told[0][3],
    ]


def test_each_cleanouts_page_says_all_that_it_reaches(home: House) -> None:
    pages = {page.id: page for page in book(home).pages}
    for reach in reaches(home):
        told = list(rows(pages[reach.cleanout], "What a cable reaches from here"))
        assert [row[0].split()[0] for row in told] == [step.stretch for step in reach.reached]


def test_the_plumbers_table_has_every_place_and_what_no_cleanout_reaches(home: House) -> None:
    pages = {page.id: page for page in book(home).pages}
    told = list(rows(pages["stoppage_table"], "Signs and stoppages"))
    told = [row for row in told if "Others not known" not in row[0]]
    own = home.drains.legs
    with_pipe = [a for a in common_signs(home) if any(not own[leg].own for leg in a.stretches)]
    assert len(told) == len(with_pipe) + 1  # and one for the lowest opening that rises
    for row, answer in zip(told[1:], with_pipe, strict=True):
        fitting = [each.id for each in answer.cleanouts if each.fits]
        assert all(f"{cleanout} " in row[3] for cleanout in fitting), row[0]
    by_legs = {row[1]: row[3] for row in told}
    # By hand: C1 and C6 lie on the main line and get to D15 alone; C5 stands 6 ft 6 in down D13,
    # of 9 ft 5 in, with 10 ft of D15 below it: 2 ft 11 in + 10 ft, and 1/2 in of riser.
    stack_b = by_legs["D13 (stack B, lower part); D15 (building drain, stack B to stack A)"]
    assert stack_b.startswith(
        f"C1 up to D15, 22 to 33 ft, 4 in{STRAY};\nC6 down to D15, 16 to 27 ft, 4 in"
    )
    assert "C5 down to part of D13 and D15, 0 to 13 ft, 3 in, 4 in" in stack_b
    main = by_legs["D20 (building drain, to the outdoor cleanout); D21 (building sewer)"]
    assert main.endswith("if C1 stands full when its plug is eased: D21; if it is empty: D20")
    behind = by_legs["D19 (lower level branch, through the backwater valve)"]
    flap = " (first, once no waste stands above its lid: open BV1, flap out)"
    assert behind == "C4 down, 6 to 10 ft, 2 in, 3 in" + flap
    # the toilet's arm is 1 ft of 3 in, D2 2 ft
    assert by_legs["D2 (hall bath branch)"].endswith(
        "in at toilet, hall bath (a closet auger first), with the toilet pulled: 1 to 3 ft from "
        "the flange, 3 in, a medium cable, 5/16 to 1/2 in"
    )
    missed = [plain(b.line) for b in pages["stoppage_table"].blocks if hasattr(b, "line")]
    assert "No cable from a cleanout surely reaches: D1; D2; D4; D5; D6; D18." in missed


def test_a_way_up_past_the_backwater_valves_branch_is_marked_so_and_no_other_is(
    home: House,
) -> None:
    """By hand: only C1 opens against the flow, and passes where D19, which holds BV1, comes in at
    the head of D20: 5 ft 9 1/2 in of riser and 6 ft of D20, fed by the foot."""
    (page,) = (page for page in book(home).pages if page.id == "stoppage_table")
    cells = [row[3] for row in rows(page, "Signs and stoppages")]
    ways = [way for cell in cells for way in cell.split(";\n")]
    assert {way.startswith("C1 up") for way in ways if STRAY in way} == {True}
    assert all(STRAY in way for way in ways if way.startswith("C1 up"))
    (first, _) = (way for way in asked("powder-wc", "hall-wc")["cleanouts"] if way["id"] == "C1")
    assert first["strays"] == []  # down the sewer
    text = run("reach", EXAMPLE, "C1").output
    short = "at BV1: feed less than that until its flap is out; open it and take"
    assert f"   at 11 ft it may get into D19, to the flap of BV1; {short}" in text


def test_page_and_command_say_alike_how_much_waste_a_backwater_valves_lid_holds_back(
    home: House,
) -> None:
    """By hand: BV1's lid lies on the lower floor at -9 ft, the rim of the powder room's toilet at
    1 ft 3 in: 10 ft 3 in."""
    stands = "it stays shut while waste may stand above it: blocked below it, waste can stand "
    stands += "10 ft 3 in above its lid, up to the rim of toilet, powder room: "
    pages = {page.id: page for page in book(home).pages}
    for name in ("C4", "C1", "stoppage_table"):
        bullets = [block for block in pages[name].blocks if isinstance(block, Bullets)]
        assert any(stands in plain(line) for b in bullets for line in b.lines), name
    for said in (("reach", "C4"), ("reach", "C1"), ("stoppage", "laundry-tub", "floor-drain")):
        assert stands in run(said[0], EXAMPLE, *said[1:]).output, said


def test_two_stacks_that_back_up_together_have_their_row_on_both_pages(home: House) -> None:
    """By hand: stack A runs into D16 at its head, stack B through D15 into the same; below lie D20
    and D21. The form says the same of one toilet on each."""
    pages = {page.id: page for page in book(home).pages}
    found = [r for r in rows(pages["stoppage_table"], "Signs and stoppages") if "With" in r[0]]
    ((sign, legs, _, cable),) = found
    assert sign == "Some on D7 (stack A). With some on D13 (stack B, lower part). Others not known"
    assert re.findall(r"D\d+", legs) == ["D16", "D20", "D21"]
    assert asked("hall-wc", "powder-wc")["stretches"] == ["D16", "D20", "D21"]
    assert "C1 up to D20 and D16, 5 to 23 ft" in cable
    red = list(rows(which_drains(home)[0], "What to tell the plumber"))
    (row,) = [row for row in red if "With" in row[0]]
    baths = "Some of: the hall bath; the primary bath. "
    assert row[0] == baths + "With some of: the main level; washer. Others not known"
    assert re.findall(r"D\d+", row[1]) == ["D16", "D20", "D21"]


def test_the_book_answers_one_sign_and_one_drain_that_runs_clear(home: House) -> None:
    """The hall toilet backs up, of the others only the powder room is known, to run clear. By
    hand: below the toilet D2 takes the tub, D7 the rest of both baths, and D16, which leads past
    where the powder room comes in on the main level, is ruled out."""
    pages = {page.id: page for page in book(home).pages}
    told = dict(rows(pages["stoppage_table"], CAPTION))
    up_to, _, _ = told["Toilet, hall bath"].partition(" [all on the main level; washer]")
    assert re.sub(r" \[.*?\]", ",", up_to) == "its trap, D2, D7"
    assert asked("hall-wc", "--clear", "powder-wc")["stretches"] == ["hall-wc", "D2", "D7"]


def test_page_and_command_say_alike_how_a_plug_below_the_waste_is_opened(home: House) -> None:
    """Common practice, no source: from one side, over a bucket, or not yet."""
    pages = {page.id: page for page in book(home).pages}
    bullets = [block for block in pages["C3"].blocks if isinstance(block, Bullets)]
    (said,) = [
        said
        for block in bullets
        for line in block.lines
        if "waste can stand" in (said := plain(line))
    ]
    assert "17 ft 6 in above its opening" in said
    # how it is opened stands once, where the part on cleanouts begins
    (caution,) = [block for block in pages["cleanout_list"].blocks if isinstance(block, Note)]
    (how,) = [said for line in caution.lines if "is eased" in (said := plain(line))]
    _, _, how = how.partition("its plug is ")
    assert how.startswith("eased, not pulled, from one side with a bucket at hand")
    assert f"Its plug is {how}" in reach_text(home, reach_from(home, "C3"))


def test_on_paper_the_way_to_the_form_says_that_only_a_phone_shows_it(home: House) -> None:
    (page,) = (page for page in book(home).pages if page.id == "stoppage_table")
    said = " ".join(plain(block.line) for block in page.blocks if hasattr(block, "line"))
    assert "the form, which only a phone shows" in said


def test_each_way_that_the_table_prints_is_for_one_cable(home: House) -> None:
    """Its sizes lie in one range of `tables/drain_cables`, or in two with a size of cable in
    common (common practice)."""
    (page,) = (page for page in book(home).pages if page.id == "stoppage_table")
    cells = [row[3] for row in rows(page, "Signs and stoppages")]
    printed = [
        way for cell in cells for way in cell.split(";\n") if re.match(r"C\d+ (up|down)", way)
    ]
    assert len(printed) > 20
    for way in printed:
        sizes = re.findall(r"([\d/-]+ in)\b", way.partition(" ft, ")[2])
        assert sizes, way
        assert fitting(map(parse_pipe_size, sizes), Cable(0, None)), way


def test_the_form_answers_the_plumber_at_the_door(home: House) -> None:
    """The hall toilet and tub back up, the powder room runs clear: which cleanout, which way, how
    far? By hand: D2 or D7, as the powder room comes in below D7. C9 opens 26 3/4 in above D3,
    which is 2 ft long, and D7 19 ft 6 in: 4 ft 3 in to 23 ft 9 in. Nothing gets into D2."""
    form = signs(home)
    fixtures = list(home.drains.rims)
    wc, tub, clear = map(fixtures.index, ("hall-wc", "hall-tub", "powder-wc"))
    places = enumerate(form.places)
    at = tuple(n for n, through in places if {wc, tub} <= set(through) and clear not in through)
    (facts,) = dict(form.answers)[at]
    assert isinstance(facts, Facts)
    shown = plain(dict(facts.rows)["Show the plumber"])
    assert shown.startswith("C9 (Cleanout in the hall bath) with the flow, 4 to 24 ft of cable; ")


def test_the_table_says_which_stretch_runs_into_which(home: House) -> None:
    said = " ".join(plain(line) for line in _read_first(home))
    chains = said.partition("Which runs into which: ")[2].rstrip(".").split("; ")
    pairs = {pair for chain in chains for pair in pairwise(chain.split(" > "))}
    stretches = {leg.id: leg.to for leg in home.drains.legs.values() if not leg.own}
    assert pairs == {(leg, to) for leg, to in stretches.items() if to in stretches}
    assert "toward the public sewer in the street" in said


def _read_first(home: House) -> tuple[Line, ...]:
    first = stoppage_blocks(home)[0]
    assert isinstance(first, Bullets)
    return first.lines


def test_a_cleanouts_own_line_that_takes_no_waste_is_said_to_take_none(home: House) -> None:
    pages = {page.id: page for page in book(home).pages}
    for name, said in (
        ("C6", "Drains through it: Nothing: it is there to reach the drain with a cable."),
        ("C1", "Drains through it: Everything that drains."),
    ):
        lines = [plain(block.line) for block in pages[name].blocks if isinstance(block, Para)]
        assert any(said in line for line in lines), name


def test_a_house_without_drains_has_no_such_page() -> None:
    assert which_drains(built()) == ()


def built(**sections: Any) -> House:
    record = {"format": "1", "house": {"name": "Made up"}, **sections}
    return build(Record.model_validate(record), Path())


def test_the_red_sheet_stays_one_sheet_however_many_groups_there_are(tmp_path: Path) -> None:
    names = [f"Bathroom number {n} of the long upper hall" for n in range(20)]
    rooms = [{"id": f"r{n}", "name": name} for n, name in enumerate(names)]
    fixtures = [
        {
            "id": f"f{n}-{side}",
            "name": f"The {side} basin, {names[n].lower()}",
            "kind": "lavatory",
            "rim": "34 in",
            "place": {"room": f"r{n}"},
            "drain": {"to": f"D{n}"},
        }
        for n in range(20)
        for side in ("left", "right")
    ]
    stretches = [{"id": "D", "kind": "building drain", "to": "END"}]
    stretches += [{"id": f"D{n}", "kind": "branch", "to": "D"} for n in range(20)]
    many = built(
        levels=[{"id": "up", "name": "Upper", "rooms": rooms}],
        fixtures=fixtures,
        drains={"discharge": {"id": "END"}, "stretches": stretches},
    )
    pages = which_drains(many)
    blank = Page(situation("backup"), "A drain backs up", ())
    made = Book("Handbook", "Many", (), (Part("red", "Now", (*pages, blank)),))
    printed = paper.book_pdf(made, Photos(Path()), tmp_path / "red.pdf")
    assert printed.warnings == ()
    assert 3 <= len(list(rows(pages[0], "What to tell the plumber"))) < 21
