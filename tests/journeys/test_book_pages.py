"""The book behind the emergency pages: what it says is the record's, and nothing is left open."""

import re
from collections.abc import Callable, Iterator

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from situation_houses import ELECTRIC, FIFTEEN_LINES, FULL, HOSTILE, METRIC, house
from walked_content import blocks, lines, quantities, spans, text

from handbook import assets, load, measures, tables
from handbook.answers.behind import behind
from handbook.answers.draining.cable_fit import jetting
from handbook.answers.draining.common_signs import common_signs
from handbook.answers.gas import gas
from handbook.answers.isolate import isolate
from handbook.answers.route import pace, route, said_walk
from handbook.house.house import House
from handbook.house.places import BY_EYE
from handbook.loading import Asked
from handbook.output import (
    told_behind,
    told_drain_loading,
    told_drains,
    told_flow,
    told_gas,
    told_hot_water,
    told_reach,
    told_route,
    told_spill,
    told_ties,
)
from handbook.pages.book import book
from handbook.pages.content import (
    Book,
    Bullets,
    Facts,
    Go,
    HouseNote,
    Page,
    Para,
    Photo,
    Steps,
    SubHead,
    Table,
    Tag,
    plain,
)
from handbook.pages.parts.valve import how_to_close, how_to_open
from handbook.pages.parts.way_there import starts
from handbook.pages.things import thing_pages
from handbook.pages.words import sentences
from handbook.record.entry import Entry
from handbook.record.grammar.common import DrainRun, GasRun, WaterRun
from handbook.record.ids import entries

OTHERS = ("emergency_part", "situation_part", "whom_part")
"""The parts that are made, and tested, elsewhere."""

EXAMPLE = (assets.example_house() / "house.yaml").read_text("utf-8")
HOUSES = {
    "fifteen lines": FIFTEEN_LINES,
    "full": FULL,
    "electric": ELECTRIC,
    "metric": METRIC,
    "hostile": HOSTILE,
    "example": EXAMPLE,
}


@pytest.fixture(scope="module", params=HOUSES)
def any_house(request: pytest.FixtureRequest) -> House:
    return house(HOUSES[request.param])


def own_pages(made: Book) -> list[Page]:
    own = [page for part in made.parts if part.id not in OTHERS for page in part.pages]
    return [page for page in own if page.id != "table_sources"]  # the same in every house


def page(subject: House, name: str) -> Page:
    (found,) = [page for page in book(subject).pages if page.id == name]
    return found


def part_titles(subject: House) -> list[str]:
    return [part.title for part in book(subject).parts]


def all_pages(subject: House) -> list[Page]:
    return [*book(subject).pages, *thing_pages(subject)]


# --- nothing is left hanging ------------------------------------------------------------------


def test_no_table_list_or_page_is_empty(any_house: House) -> None:
    made = all_pages(any_house)
    assert all(page.blocks for page in made)
    assert all(table.rows for table in blocks(made, Table))
    assert all(facts.rows for facts in blocks(made, Facts))
    assert all(steps.steps for steps in blocks(made, Steps))
    assert all(bullets.lines for bullets in blocks(made, Bullets))


def test_how_to_turn_uses_the_words_of_the_valves_own_pages() -> None:
    subject = house(EXAMPLE)
    (kinds,) = blocks([page(subject, "how_to_turn")], Table)
    rows = {plain(row[0]): [plain(cell) for cell in row[1:3]] for row in kinds.rows}
    for name in ("W1", "W6", "W45"):  # the utility's, and two with words of their own
        item = subject.items[name]
        (cells,) = (
            cells for head, cells in rows.items() if name in head.split(": ")[-1].split(", ")
        )
        assert cells == [
            sentences(how_to_close(subject, item)),
            sentences(how_to_open(subject, item)),
        ]


def test_no_heading_stands_without_anything_under_it(any_house: House) -> None:
    for made in all_pages(any_house):
        after = (*made.blocks[1:], SubHead("the end"))
        for block, following in zip(made.blocks, after, strict=True):
            assert not (isinstance(block, SubHead) and isinstance(following, SubHead)), made.id


def test_no_line_is_blank(any_house: House) -> None:
    assert all(plain(para.line).strip() for para in blocks(all_pages(any_house), Para))


def test_every_link_leads_to_a_page_of_the_book(any_house: House) -> None:
    made = book(any_house)
    known = {page.id for page in made.pages}
    for source in (made.parts, thing_pages(any_house)):
        assert {go.page for go in spans(source, Go)} <= known


def test_every_tag_is_that_of_a_thing_in_the_record(any_house: House) -> None:
    made = (book(any_house).parts, thing_pages(any_house))
    assert {tag.id for tag in spans(made, Tag)} <= set(any_house.items) | {"street"}


def test_no_two_pages_have_one_id_and_none_of_ours_can_be_a_things(any_house: House) -> None:
    ids = [page.id for page in book(any_house).pages]
    assert len(ids) == len(set(ids))
    ours = [page.id for page in book(any_house).pages if page.tag is None]
    assert all("_" in name for name in ours)  # no id of a record may hold an underscore


def test_every_tagged_thing_has_its_page_under_its_tag(any_house: House) -> None:
    tagged = [item.id for item in any_house.items.values() if item.tagged]
    assert [page.id for page in thing_pages(any_house)] == tagged
    assert all(page.tag == page.id for page in thing_pages(any_house))


def test_the_emergencies_come_first_and_the_holes_are_confessed(any_house: House) -> None:
    titles = part_titles(any_house)
    assert titles[0] == "If something is wrong"
    assert "What is not recorded" in titles


# --- what is printed is what is recorded ------------------------------------------------------


def values(entry: Entry) -> Iterator[object]:
    """Every value of every entry, leaves only."""
    for inner in entries(entry):
        for name in type(inner).model_fields:
            value = getattr(inner, name)
            yield from value if isinstance(value, tuple) else (value,)


def known_quantities(subject: House) -> set[str]:
    """What may be printed: the record's texts, its measures said, the tables, the answers."""
    units = subject.record.house.units
    say: dict[type, Callable[..., str]] = {
        measures.Length: measures.say_length,
        measures.Pressure: measures.say_pressure,
        measures.Flow: measures.say_flow,
        measures.Temperature: measures.say_temperature,
        measures.HeatRate: measures.say_heat_rate,
        measures.Volume: measures.say_volume,
        measures.Slope: measures.say_slope,
    }
    said: set[str] = set()
    for value in values(subject.record):
        if type(value) in say:
            said |= quantities(say[type(value)](value, units))
        if isinstance(value, measures.Length):  # a height, to what the eye can tell
            said |= quantities(measures.say_length(value, units, BY_EYE))
        if isinstance(value, measures.Pressure):
            said |= quantities(measures.say_gas_pressure(value, units))
        said |= quantities(str(value))
    known = [tables.table(name) for name in tables.names()]
    tables_said = yaml.safe_dump([it.values for it in known])
    for fahrenheit, _ in tables.table("scald").values:
        said |= quantities(measures.say_temperature(measures.Temperature(fahrenheit), units))
    for row in tables.table("outlet_flows").values.values():
        said |= quantities(measures.say_flow(measures.Flow(row["gpm"]), units))
    reckoned = " ".join(answers(subject))
    return said | quantities(" ".join(tables_said.split())) | quantities(reckoned)


def answers(subject: House) -> Iterator[str]:
    """What is reckoned from the record, as the command line says it."""
    asked, units = Asked(subject), subject.record.house.units
    yield told_hot_water.hot_text(asked.hot_water(), units)
    yield told_hot_water.expansion_text(subject, asked.expansion())
    yield told_drain_loading.loading_text(subject, asked.drain_loading())
    sized = asked.gas()
    yield told_gas.gas_text(sized, units)
    for outlet in (each for each in sized.outlets if each.kind == "appliance"):
        for fit in outlet.fits:
            heater = {outlet.id: fit.btuh}
            yield told_gas.gas_text(gas(subject, instead=heater), units)
            for stub in (each for each in sized.outlets if each.wants_btuh is not None):
                both = heater | {stub.id: stub.wants_btuh}
                yield told_gas.gas_text(gas(subject, instead=both), units)
    yield told_ties.ties_text(asked.ties(), units)
    for cleanout in subject.drains.cleanouts:
        yield told_reach.reach_text(subject, asked.reach(cleanout))
    for answer in common_signs(subject):
        yield told_drains.stoppage_text(subject, answer)
    yield jetting(units)
    yield told_flow.flow_text(subject, asked.flow())
    yield told_spill.shut_down_text(asked.shut_down(), units)
    for pan in asked.pans():
        for gpm in (pan.carries_gpm, pan.burst_gpm):
            yield measures.say_flow(measures.Flow(gpm), units) if gpm else ""
    yield pace(units)
    for item in subject.items.values():
        for room in starts(subject, item):
            yield said_walk(route(subject, room, item.id), units)
    for room in subject.places.rooms:
        yield told_behind.as_text(subject, behind(subject, room))
    water = subject.record.water
    if water and water.inside_main and water.outside_main:
        way = route(subject, str(water.outside_main), str(water.inside_main))
        yield told_route.route_text(way, units)
    for owner in subject.water.own:
        yield told_spill.spill_text(asked.spill(owner), units)
        yield told_spill.drain_text(asked.drain_down(owner), units)


def test_every_quantity_in_the_book_is_the_records_or_a_tables(any_house: House) -> None:
    made = [*own_pages(book(any_house)), *thing_pages(any_house)]
    printed = quantities(text(made))
    assert printed <= known_quantities(any_house)


FILLED = """
format: 1
house: {{name: The house, units: {units}}}
water:
  static_pressure: {{value: {psi} psi, at: the gauge}}
  meter: {{id: WM, size: 3/4 in, by: {a} ft of 1 in PEX}}
  valves:
    - {{id: W1, main: yes, from: WM, by: {b} ft of 3/4 in PEX, place: {{height: {c} in}}}}
  equipment: [{{id: PR, kind: pressure-reducing valve, from: W1, set_to: {d} psi}}]
heaters:
  - {{id: H1, kind: storage, fuel: electric, capacity: {e} gal, setting: {f} F, input: {g} MBH}}
fixtures:
  - {{id: tub, kind: bathtub, cold: {{from: PR, by: {h} ft of 1/2 in PEX}},
     drain: {{to: D1, by: {i} ft of 2 in PVC, slope: 1/4 in per ft}}}}
drains:
  stretches: [{{id: D1, by: {j} ft of 3 in PVC, invert: -{k} in}}]
  cleanouts: [{{id: C1, on: D1, along: {a} in, size: 3 in, clear: {b} in}}]
"""


@settings(max_examples=25, deadline=None)
@given(
    # a heater is set to something between ice and steam; the rest may be any figure
    st.lists(st.integers(33, 199), min_size=12, max_size=12),
    st.sampled_from(["US", "metric"]),
)
def test_whatever_is_measured_is_what_is_printed(numbers: list[int], units: str) -> None:
    names = ("psi", *"abcdefghijk")
    subject = house(FILLED.format(units=units, **dict(zip(names, numbers, strict=True))))
    printed = quantities(text(own_pages(book(subject))))
    assert printed <= known_quantities(subject)
    runs = {measures.say_length(measures.Length(12.0 * n), units) for n in numbers[1:3]}
    assert all(f"{run} of" in text(page(subject, "water_pipe")) for run in runs)


CHANGES = [
    # (what is written, what is written instead, the page, what it says then)
    ("name: Inner main", "name: Cellar main", "in_a_minute", "Cellar main"),
    ("behind the blue door, height: 4 ft", "under the stair, height: 4 ft", "W2", "Under the st"),
    ("height: 4 ft", "height: 30 in", "valve_schedule", "2 ft 6 in above the floor"),
    ("kind: ball, from: W1", "kind: gate, from: W1", "W2", "clockwise"),
    ("from: W1,", "condition: stuck, from: W1,", "valve_schedule", "is stuck"),
    ("setting: 125 F", "setting: 140 F", "how_hot", "The heater is set to 140 °F"),
    ("on: D1, place", "on: D1, facing: both ways, place", "cleanout_list", "faces both ways"),
    ("watches: [H1]", "watches: [P1]", "leak_protection", "P1 (Heater pan)"),
    ("kind: range, gas", "kind: range, model: blue, gas", "equipment_list", "blue"),
    ("drain: {to: floor drain}}]", "drain: none}]", "leak_protection", "none (looked)"),
    ("kind: bathtub", "kind: bathtub\n    model: deep", "room_bath", "deep"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "name", "says"), CHANGES, ids=[c[3] for c in CHANGES])
def test_a_page_says_what_the_record_says_once_it_is_changed(
    old: str, new: str, name: str, says: str
) -> None:
    assert FULL.count(old) == 1
    assert says not in text(page(house(FULL), name))
    assert says in text(page(house(FULL.replace(old, new)), name))


def test_a_fact_that_is_left_out_is_not_recorded_and_none_was_looked_for() -> None:
    facts = "kind: electric heater"
    assert facts not in FULL
    unknown = text(page(house(FULL), "H1"))
    looked = text(page(house(FULL.replace("pan: P1", "pan: none\n    vent: none")), "H1"))
    assert "not recorded" in unknown
    assert "none (looked)" in looked


def test_a_hole_is_listed_until_it_is_filled_or_confirmed_absent() -> None:
    hole = "the pan under it"
    assert hole not in text(page(house(FULL), "not_recorded"))
    assert hole in text(page(house(FULL.replace("    pan: P1\n", "")), "not_recorded"))
    assert hole not in text(page(house(FULL.replace("pan: P1", "pan: none")), "not_recorded"))


def test_the_ladder_of_a_valve_is_that_of_isolate() -> None:
    subject = house(EXAMPLE)
    for made in thing_pages(subject):
        if subject.items[made.id].kind != "shutoff":
            continue
        shown = [turn.id for rung in isolate(subject, made.id).shown for turn in rung.turns]
        steps = [step.do for block in blocks([made], Steps) for step in block.steps]
        told = [tag.id for tag in spans(tuple(steps), Tag)]
        assert told == shown, made.id


def test_the_schedule_lists_every_valve_once() -> None:
    subject = house(EXAMPLE)
    rows = [row for table in blocks([page(subject, "valve_schedule")], Table) for row in table.rows]
    listed = sorted(tag.id for tag in spans(tuple(row[0] for row in rows), Tag))
    kinds = {"shutoff", "stop", "gas valve"}
    assert listed == sorted(i.id for i in subject.items.values() if i.kind in kinds)


def test_every_run_of_the_record_stands_in_a_table_for_the_plumber() -> None:
    subject = house(EXAMPLE)
    named = ("water_pipe", "drain_pipe", "gas_pipe")
    tables_said = "\n".join(text(page(subject, name)) for name in named)
    record = subject.record
    runs = [getattr(entry, "by", None) for entry in entries(record)]
    piped = [run for run in runs if isinstance(run, WaterRun | DrainRun | GasRun) and run.length]
    assert len(piped) > 80
    for run in piped:
        length = measures.say_length(run.length, "US")
        assert f"{length} of {run.size} {run.material}" in tables_said


def test_every_photo_is_shown_once_in_the_book_with_where_and_when() -> None:
    subject = house(EXAMPLE)
    said = text(page(subject, "open_walls"))
    for photo in subject.record.walls.photos:  # type: ignore[union-attr]
        assert said.count(photo.caption) == 2  # the picture's own words, and the caption's


@pytest.mark.parametrize(
    ("name", "shown"),
    [("W5", ["PH1"]), ("C1", ["PH7"]), ("C10", ["PH5"]), ("room_hall-bath", ["PH3"])],
)
def test_a_thing_leads_to_the_very_photos_that_show_it(name: str, shown: list[str]) -> None:
    """As the record's `shows` says, read by hand."""
    subject = house(EXAMPLE)
    marks = [photo.mark for photo in blocks([page(subject, "open_walls")], Photo)]
    links = [go for go in spans(page(subject, name), Go) if go.page == "open_walls"]
    assert [go.spot for go in links] == [f"photo-{photo}" for photo in shown]
    assert {go.spot for go in links} <= set(marks)


def test_a_wall_that_takes_more_than_its_ceiling_says_what_else_may_leak() -> None:
    """By hand: beside the pipes to the upper level, the walls of the dining room, the kitchen and
    the entry hall may hold those of the refrigerator, the sink, the dishwasher, the powder room."""
    subject = house(EXAMPLE)
    why = (
        "This closes more than for the ceiling, as pipes to the kitchen and powder room may leak "
        "here too."
    )
    assert [why in text(page(subject, f"if_{sign}-main")) for sign in ("wall", "ceiling")] == [
        True,
        False,
    ]


def test_a_thing_is_found_in_walking_order_by_level_and_room() -> None:
    heads = [table.caption for table in blocks([page(house(FULL), "valve_schedule")], Table)]
    # elevations 9 ft and -9 ft: from the top of the house down, then outside
    assert heads[:3] == ["Upper level", "Lower level", "Outside"]


# --- the small, the electric, the metric house ------------------------------------------------


def test_fifteen_lines_make_a_small_book_that_says_where_the_main_is() -> None:
    subject = house(FIFTEEN_LINES)
    assert part_titles(subject) == [
        "If something is wrong",
        "What to do when",
        "Know your house",
        "Water shutoffs, one by one",
        "Care",
        "What is not recorded",
        "Whom to call, and when",
    ]
    minute = text(page(subject, "in_a_minute"))
    assert "W1 (Main shutoff). Behind the blue door. Turn the lever a quarter turn" in minute
    assert "Stops all water in the house" in text(page(subject, "W1"))


def test_the_minute_names_the_gas_valve_only_for_who_is_told_to_close_it() -> None:
    minute = text(page(house(EXAMPLE), "in_a_minute"))
    gas = minute[minute.index("All gas") :]
    assert gas.index("Smell gas? Leave at once") < gas.index("Only if told to: Turn")


def test_no_tool_is_named_for_a_valve_that_only_the_utility_turns() -> None:
    subject = house(EXAMPLE)
    assert "wrench" not in text(page(subject, "G1"))


def test_an_all_electric_house_has_no_gas_part_and_no_gas_in_its_pages() -> None:
    subject = house(ELECTRIC)
    assert "Gas" not in part_titles(subject)
    said = text(own_pages(book(subject))).replace("Gas\nnone (looked)", "")
    assert not re.search(r"\bgas\b", said, re.IGNORECASE)


def test_a_metric_house_is_told_in_metric_units() -> None:
    printed = quantities(text(own_pages(book(house(METRIC)))))
    assert "52 °C" in printed  # 125 F is 51.7 C
    assert "1.22 m" in printed  # 4 ft x 0.3048 = 1.219 m, to the centimetre
    assert not {q for q in printed if q.endswith((" ft", " psi", " °F", " gal"))}


# --- care with people -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("setting", "said"),
    [
        # Moritz and Henriques style table (secondary source): second-degree burn of adult skin
        # after 8 minutes at 120 F, 17 s at 131 F, 3 s at 140 F.
        ("120 F", "in 8 minutes"),
        ("131 F", "in 17 seconds"),
        ("140 F", "in 3 seconds"),
        ("125 F", "in 17 seconds"),  # between two rows, the faster burn
        ("150 F", "in less than 3 seconds"),  # past the table, no figure is made up
    ],
)
def test_the_scald_warning_is_that_of_the_published_table(setting: str, said: str) -> None:
    subject = house(FULL.replace("setting: 125 F", f"setting: {setting}"))
    assert said in text(page(subject, "how_hot"))


def test_no_page_tells_anyone_to_open_a_gas_valve_or_to_relight() -> None:
    for made in thing_pages(house(EXAMPLE)):
        if made.tag and made.tag.startswith("G"):
            opens = [
                plain(line)
                for facts in blocks([made], Facts)
                for label, line in facts.rows
                if label == "Open it"
            ]
            assert all(said.startswith("Never yourself") for said in opens)
    said = text(own_pages(book(house(EXAMPLE))))
    assert not re.search(r"(?<!never )(?<!nor )\brelight (?:it|the)", said, re.IGNORECASE)


def test_every_page_of_a_cleanout_on_the_phone_warns_of_a_standing_backup() -> None:
    subject = house(EXAMPLE)
    made = [p for p in thing_pages(subject) if subject.items[p.id].kind == "cleanout"]
    assert len(made) >= 7
    assert all("while any drain is backed up" in text(page) for page in made)


def test_the_utilitys_valve_is_left_to_the_utility() -> None:
    (made,) = [p for p in thing_pages(house(FULL)) if p.id == "U1"]
    assert "The water utility closes it." in text(made)


def test_text_of_the_record_stays_text() -> None:
    """What looks like markup is kept as it is in lines; only notes are Markdown, and sanitised."""
    said = list(lines(tuple(own_pages(book(house(HOSTILE))))))
    assert any("<script>alert(1)</script>" in line for line in said)
    assert not blocks(own_pages(book(house(HOSTILE))), HouseNote)


def test_the_notes_stand_in_the_part_that_they_name() -> None:
    notes = """
notes:
  - {title: Trips, text: "Close it **first**.", part: care}
  - {title: Slab, text: "Cut with care.", part: plumber}
  - {title: Keys, text: "With the neighbor.", part: house}
"""
    parts = {part.id: part for part in book(house(FULL + notes)).parts}
    found = {
        name: [block.markdown for block in blocks(part.pages, HouseNote)]
        for name, part in parts.items()
    }
    assert found["care_part"] == ["Close it **first**."]
    assert found["plumber_part"] == ["Cut with care."]
    assert found["notes_part"] == ["With the neighbor."]


def test_the_cover_says_what_the_record_says_of_the_house() -> None:
    made = book(load(assets.example_house()).house)
    facts = {label: plain(line) for label, line in made.facts}
    record = load(assets.example_house()).house.record.house
    assert facts["Lot"] == record.lot
    assert record.permit.number == facts["Permit"]  # type: ignore[union-attr]
    codes = [f"{code.name}, {code.edition}" for code in record.codes or ()]
    assert codes
    assert all(code in facts["Built under"] for code in codes)
    assert made.date == record.recorded.on  # type: ignore[union-attr]


def test_the_books_address_is_the_records_line_by_line() -> None:
    written = FIFTEEN_LINES.replace(
        "name: The small house", "name: X\n  address: |\n    1 A St\n    B"
    )
    assert book(house(written)).address == ("1 A St", "B")


def test_a_chore_says_when_it_is_due_where_the_record_says_when_it_was_done() -> None:
    battery = "watches: [H1], battery: {kind: AA, changed: 2026-03-01}"
    said = text(page(house(FULL.replace("watches: [H1]", battery)), "care_yours"))
    assert "Last done March 1, 2026; next due March 1, 2027." in said  # 12 months later
    assert "Last done" not in text(page(house(FULL), "care_yours"))


def test_the_honest_gaps_of_the_example_are_confessed() -> None:
    said = text(page(house(EXAMPLE), "not_recorded"))
    for gap in ("the free space in front of it", "its battery", "where its pipe ends"):
        assert gap in said
    assert "its drain" not in said  # a hose bibb has none as a rule


def test_a_thing_may_be_called_like_a_situation() -> None:
    valves = "[{id: water, main: yes}, {id: gas, from: water}]"
    made = book(house(f"format: 1\nhouse: {{name: Test}}\nwater: {{valves: {valves}}}\n"))
    addresses = [page.id.casefold() for page in made.pages]
    assert len(addresses) == len(set(addresses))
