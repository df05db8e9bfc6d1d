"""The pages say of gas and of ties what the answers say, in the house's units, holes and all."""

import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from handbook import assets, load
from handbook.answers.gas import gas
from handbook.answers.ties import ties
from handbook.house.house import House, build
from handbook.pages.content import Bullets, Facts, Note, Page, Para, Table, plain
from handbook.pages.parts.cleanouts import cleanout_part
from handbook.pages.parts.gas import gas_part
from handbook.pages.parts.plumber import plumber_part
from handbook.pages.things import thing_page
from handbook.record.grammar.record import Record

EXAMPLE = assets.example_house() / "house.yaml"


def example(**changes: Any) -> House:
    """Build the example with some of its sections changed; every scalar is text, as it is read."""
    tree = yaml.load(EXAMPLE.read_text("utf-8"), Loader=yaml.BaseLoader)
    for section, change in changes.items():
        tree[section] = tree[section] | change
    return build(Record.model_validate(tree), EXAMPLE.parent)


@pytest.fixture(scope="module")
def house() -> House:
    return load(EXAMPLE).house


def page_in(pages: Any, name: str) -> Page:
    return next(page for part in pages for page in part.pages if page.id == name)


def words(page: Page) -> str:
    said: list[str] = []
    for block in page.blocks:
        match block:
            case Para(line):
                said.append(plain(line))
            case Bullets(lines) | Note(_, lines):
                said += [plain(line) for line in lines]
            case Facts(rows):
                said += [f"{label}: {plain(line)}" for label, line in rows]
            case Table():
                said += [" | ".join(plain(cell) for cell in row) for row in block.rows]
    return "\n".join(said)


def tables(page: Page, caption: str) -> dict[str, list[str]]:
    """Return the rows of the tables whose caption begins so, by their first cell."""
    found = [b for b in page.blocks if isinstance(b, Table) and b.caption.startswith(caption)]
    rows = [[plain(cell) for cell in row] for block in found for row in block.rows]
    return {row[0]: row[1:] for row in rows}


# --- gas


def test_the_homeowner_reads_what_the_stub_could_feed_and_whose_work_it_is(house: House) -> None:
    said = words(page_in(gas_part(house), "gas_system"))
    assert "can carry 50,000 Btu/h. That is enough for the 40,000 Btu/h" in said
    assert "A licensed plumber sizes, connects and tests" in said
    assert re.search(r"Enough for one of these: .* or barbecue", said)
    assert re.search(r"Not enough for: .*tankless", said)


def test_a_heater_that_leaves_the_stub_nothing_is_said_so_beside_the_pipes_it_needs(
    house: House,
) -> None:
    """By hand: 157,000 Btu/h pass GT2, 40,000 of them the heater's; with one of 142,800 in its
    place 259,800. The 1 in pipe carries 257,000 by IFGC Table 402.4(2), row of 60 ft: nothing is
    left for the stub, which was sized for 40,000."""
    page = page_in(gas_part(house), "gas_system")
    lines = [plain(block.line) for block in page.blocks if isinstance(block, Para)]
    (said,) = (line for line in lines if line.startswith("As pipes and meter are, the patio"))
    assert "(G9) can then carry nothing beside any of these. " in said
    assert "That is too little for its 40,000 Btu/h." in said


def test_what_fails_for_heater_and_stub_together_is_named_and_what_is_enough(house: House) -> None:
    """By hand: 237,000 - 40,000 + 40,000 for the stub + the heater, held against a meter of 425
    cubic feet an hour: 379,800 with one of 142,800, but 436,000 with one of 199,000. In the sizes
    of the table the pipes carry both: IFGC Table 402.4(2), row of 60 ft, has 528 for GT2 (356),
    257 for GT3 (229) and 137 for GT4 (127 thousand Btu/h)."""
    page = page_in(gas_part(house), "gas_system")
    said = [plain(line) for b in page.blocks if isinstance(b, Bullets) for line in b.lines]
    assert "Tankless water heater of 2 gpm: the pipes are enough, and so is the meter." in said
    large = (
        "Large household tankless water heater: the pipes are enough, but the meter (GM) has to "
        "pass 436,000 Btu/h or more (its class is 425,000 Btu/h)."
    )
    assert large in said


def test_the_plumbers_table_holds_every_run_as_the_answer_has_it(house: House) -> None:
    rows = tables(page_in(plumber_part(house), "gas_pipe"), "Gas sizing")
    answer = gas(house)
    assert len(rows) == len(answer.runs)
    for run in answer.runs:
        row = rows.get(run.id) or rows[run.name]
        assert row[1] == f"{run.load_btuh:,.0f}"
        assert row[3] == f"{run.capacity_btuh:,.0f}"
        assert row[5] == f"{run.margin_btuh:,.0f}"
    assert rows["GT4"][0] == "3/4 in black steel"
    assert rows["GT4"][4] == "IFGC 402.4(2), row of 60 ft"


def test_the_stubs_own_page_says_what_it_could_take(house: House) -> None:
    assert "Could take: 50,000 Btu/h in all" in words(thing_page(house, house.items["G9"]))


def test_a_metric_house_reads_kilowatts() -> None:
    metric = example(house={"units": "metric"})
    # 50,000 Btu/h at 3412.14 Btu/h a kW = 14.7 kW
    assert "can carry 14.7 kW" in words(page_in(gas_part(metric), "gas_system"))
    rows = tables(page_in(plumber_part(metric), "gas_pipe"), "Gas sizing")
    assert rows["GT4"][3] == "40.2"  # 137,000 Btu/h
    assert rows["GT4"][2] == "17.374 m"  # 57 ft


def test_a_pipe_over_its_capacity_is_a_warning_to_the_homeowner(house: House) -> None:
    tree = yaml.load(EXAMPLE.read_text("utf-8"), Loader=yaml.BaseLoader)
    stove = next(a for a in tree["gas"]["appliances"] if a["id"] == "range")
    stove["gas"]["input"] = "120000 Btu/h"  # with the dryer's 22,000 more than GT4's 137,000
    over = build(Record.model_validate(tree), Path())
    notes = [b for b in page_in(gas_part(over), "gas_system").blocks if isinstance(b, Note)]
    warned = [plain(line) for note in notes if note.word == "warning" for line in note.lines]
    assert warned[0] == "The gas pipe to GT4 has 142,000 Btu/h on it and carries 137,000 Btu/h."
    assert "licensed plumber" in warned[-1]


def test_a_missing_fact_is_said_in_the_plumbers_part_and_nothing_is_promised() -> None:
    tree = yaml.load(EXAMPLE.read_text("utf-8"), Loader=yaml.BaseLoader)
    del tree["gas"]["appliances"][1]["gas"]["input"]
    hole = build(Record.model_validate(tree), Path())
    assert "not known yet" in words(page_in(gas_part(hole), "gas_system"))
    assert "Not known: the input of range (Range)." in words(
        page_in(plumber_part(hole), "gas_pipe")
    )


# --- ties


def test_every_cleanout_has_its_tapes_on_the_cleanouts_page(house: House) -> None:
    rows = tables(page_in(cleanout_part(house), "cleanout_list"), "From the corners of")
    drains = house.record.drains
    assert drains
    assert {c.id for c in drains.cleanouts or ()} == set(rows)
    # C1 stands 10 ft along the front and 3 ft out: the square root of 109 is 10.44 ft
    assert rows["C1"][0] == "10 ft 5 1/2 in, front left"
    assert rows["C1"][1].startswith("3 ft, mark on the wall, 10 ft from the front left corner")
    assert rows["C1"][2] == "toward the street"


def test_what_else_is_hidden_has_its_tapes_in_the_plumbers_part(house: House) -> None:
    rows = tables(page_in(plumber_part(house), "buried_and_hidden"), "From the corners of")
    rows |= tables(page_in(plumber_part(house), "ties_outdoors"), "From the corners of")
    cleanouts = {c.id for c in (house.record.drains or pytest.fail("no drains")).cleanouts or ()}
    assert set(rows) | cleanouts == {tie.thing for tie in ties(house).ties}


@pytest.mark.parametrize("thing", ["C1", "W1", "W3", "BV1"])
def test_a_buried_things_own_page_has_its_tapes(house: House, thing: str) -> None:
    from handbook.pages.things import thing_pages

    page = next(page for page in thing_pages(house) if page.id == thing)
    assert thing in tables(page, "From the corners of")


def test_without_the_buildings_corners_the_page_says_that_it_needs_them() -> None:
    from handbook.pages.things import thing_pages

    bare = example(site={"building": "unknown"})
    page = next(page for page in thing_pages(bare) if page.id == "W1")
    assert "Not known: the building's corners (`site: building`)." in words(page)


def test_a_metric_house_reads_its_tapes_in_centimetres() -> None:
    metric = example(house={"units": "metric"})
    rows = tables(page_in(cleanout_part(metric), "cleanout_list"), "From the corners of")
    # 10.44 ft = 3.182 m, to the centimetre
    assert rows["C1"][0] == "3.18 m, front left"


def test_a_backwater_valve_stands_in_the_book_beside_the_cleanouts_each_fact_once() -> None:
    """The plumber opens it before a cable passes: on paper too its lid has to be found."""
    (part,) = cleanout_part(load(EXAMPLE).house)
    (page,) = (page for page in part.pages if page.tag == "BV1")
    said = [plain(block.line) for block in page.blocks if isinstance(block, Para)]
    text = " ".join(said)
    assert "Lift the square lid in the floor, two screws." in text
    assert "2 ft in front of the softener" in text
    for label in ("Where", "Stands in", "Drains through it", "Access", "Its lid", "Cable"):
        assert text.count(f"{label}: ") == 1, label
