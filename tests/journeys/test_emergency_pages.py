"""The pages for the moment something is wrong, as a reader gets them.

What they tell people to do follows the sources in `emergency_facts`; those are checked in
`tests/published`. Here it is held that every number, tag and place on them is the house's own,
that they read easily, and that they never tell an occupant what belongs to others.
"""

import re
from pathlib import Path

import pytest
from plain_reading import Read, grade, read, sentences, syllables, words
from pypdf import PdfReader
from situation_houses import ELECTRIC, FIFTEEN_LINES, FULL, HOSTILE, METRIC, NASTY, house

from handbook import assets, load
from handbook.answers.heating.relief import keep_away
from handbook.answers.whom import whom
from handbook.house.house import House
from handbook.output import paper
from handbook.output.photos import Photos
from handbook.pages.content import Book, Page, Para, Part, Table, plain
from handbook.pages.emergency import emergency_pages, situation_pages
from handbook.pages.parts.spills import freeze_page
from handbook.pages.pipe_ends import pipe_ends
from handbook.pages.sheet import emergency_sheet
from handbook.pages.tags import tag_sheet
from handbook.pages.things import thing_page

HOUSES = {
    "fifteen lines": FIFTEEN_LINES,
    "full": FULL,
    "electric": ELECTRIC,
    "metric": METRIC,
    "hostile": HOSTILE,
}
CAUTIONS = {
    "water": "warning",
    "will-not-stop": "notice",
    "water-and-power": "danger",
    "gas": "danger",
    "backup": "warning",
    "heater-leaks": "warning",
    "carbon-monoxide": "danger",
    "alarm": "notice",
    "relief-drips": "warning",
    "no-hot-water": "caution",
    "too-hot": "warning",
    "frozen": "warning",
    "trip": "notice",
    "back-on": "caution",
}
"""ANSI Z535: NOTICE for property alone, CAUTION for minor, WARNING and DANGER for grave injury."""

BANNED = (
    "utilize|ensure|prior to|approximately|commence|terminate|isolate|potable|vicinity|evacuate|"
    "in the event|please|shall|fixture|upstream|downstream|stoppage|remediat\\w*|immediately|"
    "appropriate|facilitate|discharge|effluent|appurtenance|basically|simply"
)

VERBS = (
    "ask call catch close count dry empty find get go have keep leave look make open push put run "
    "say see set show shut start stay stop switch take tell try turn use wait wake walk warm wear"
)

CONDITION = r"(?:(?:If|Once) [^:.]*: |(?:If|With) [^:.]*?, (?![^:.]*?, )(?!or ))"
"""A condition in front of its action, up to its colon or, where it has none, its last comma."""


def pages_of(text: str) -> dict[str, Page]:
    home = house(text)
    pages = (*emergency_pages(home), *situation_pages(home))
    return {page.id.removeprefix("if_"): page for page in pages}


def read_all(text: str) -> dict[str, Read]:
    return {name: read(page) for name, page in pages_of(text).items()}


@pytest.fixture(scope="module", params=HOUSES)
def told(request: pytest.FixtureRequest) -> dict[str, Read]:
    return read_all(HOUSES[request.param])


def everything(told: dict[str, Read]) -> str:
    return "\n".join(page.text for page in told.values())


# --- the first right action ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "action"),
    [
        (FIFTEEN_LINES, "Close W1 (Main shutoff). Where: Behind the blue door."),
        (
            FULL,
            "Close W2 (Inner main). Where: Den, lower level; behind the blue door; "
            "4 ft above the floor.",
        ),
        (
            METRIC,
            "Close W2 (Inner main). Where: Den, lower level; behind the blue door; "
            "1.22 m above the floor.",  # 4 ft x 0.3048 = 1.219 m
        ),
    ],
)
def test_the_water_page_begins_with_the_main_where_it_is_and_how_it_turns(
    text: str, action: str
) -> None:
    """Only a toilet's own flap comes before it, where toilets are recorded."""
    acts = [" ".join(act.split()).replace("\u00a0", " ") for act in read_all(text)["water"].actions]
    (first, *_) = [act for act in acts if not act.startswith("If a toilet runs over, see A drain")]
    assert first.startswith(action)
    assert "How: Turn the lever a quarter turn, until it lies across the pipe." in first


def test_the_ladder_goes_from_the_inner_main_to_the_street_and_ends_with_the_plumber() -> None:
    actions = " ".join(" ".join(read_all(FULL)["will-not-stop"].actions).split())
    order = ["Close W2", "Close W1", "555-0103", "U1", "555-0101"]
    found = [actions.index(word) for word in order]
    assert found == sorted(found)


def test_an_occupant_is_never_told_to_turn_the_utilitys_valve() -> None:
    for name, page in read_all(FULL).items():
        assert not re.search(r"(Close|Open) U1", page.text), name
        if "U1" in page.text:
            assert "Turn it only if they tell you to." in page.text


def test_every_stop_of_a_fixture_stands_on_its_levels_page_with_its_side() -> None:
    lines = read_all(FULL)["water-top"].lines
    row = lines[lines.index("Basin, bath") :][:3]
    assert row == ["Basin, bath", "W9 (cold), W10 (hot)", "Left below; right below"]


def test_a_usual_pipe_that_is_not_recorded_is_said_beside_what_to_close() -> None:
    assert "Tub, bath (its hot pipe is not recorded)" in read_all(FULL)["water-top"].lines


def test_what_a_row_leans_on_that_is_not_recorded_is_said_on_its_page() -> None:
    told = read_all(
        FULL.replace("    cold: {from: W3, stop: {id: W12,", "    cold: {stop: {id: W12,")
    )
    assert "taken to be fed behind the main shutoff W2" in told["water-outside"].text
    assert "taken to be" not in read_all(FULL)["water-outside"].text


def test_levels_are_listed_from_the_top_down() -> None:
    order = [name for name in pages_of(FULL) if name.startswith("water-")]
    assert order[1:4] == ["water-top", "water-low", "water-outside"]


def test_closing_the_heaters_cold_shutoff_is_said_to_stop_every_hot_tap() -> None:
    assert "All hot water: close W8" in read_all(FULL)["water"].text


# --- every fact is the record's own ----------------------------------------------------------


def test_every_tag_and_number_on_the_pages_is_in_the_record() -> None:
    home = house(FULL)
    numbers = {p.tel for who in home.record.people or () for p in (who.phone, who.after_hours) if p}
    for name, page in read_all(FULL).items():
        assert page.tags <= set(home.items), name
        assert page.calls <= numbers, name


@pytest.mark.parametrize("number", [f"555-01{n:02d}" for n in (1, 2, 3, 4, 5, 6, 7, 10, 11)])
def test_a_number_changed_in_the_record_changes_on_the_pages(number: str) -> None:
    changed = everything(read_all(FULL.replace(number, "555-0199")))
    assert number in everything(read_all(FULL))
    assert number not in changed
    assert "555-0199" in changed


@pytest.mark.parametrize(
    "words_",
    [
        "behind the blue door",
        "Inner main",
        "in the box",
        "in the grass",
        "by the stairs",
        "on the east wall",
        "above it",
        "by the wall",
        "the red knob",
        "below the sink",
        "left below",
        "Work sink",
        "Gas stove",
        "blown out in fall",
    ],
)
def test_words_changed_in_the_record_change_on_the_pages(words_: str) -> None:
    before, after = (everything(read_all(t)).lower() for t in (FULL, FULL.replace(words_, "quux")))
    assert words_.lower() in before
    assert words_.lower() not in after
    assert "quux" in after


def test_a_tag_changed_in_the_record_changes_on_the_pages() -> None:
    told = read_all(re.sub(r"\bW2\b", "W99", FULL))
    assert not any("W2" in page.tags for page in told.values())
    assert "W99" in told["water"].tags


def test_no_guide_holds_a_number_or_a_tag_of_its_own() -> None:
    folder = Path(__file__).parents[2] / "templates" / "guides"
    for guide in folder.glob("*.md"):
        text = re.sub(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}|^1\. ", "", guide.read_text("utf-8"))
        assert not re.search(r"\d{3}|\b[WGSCP]\d", re.sub(r"(?m)^1\. ", "", text)), guide.name


# --- what is not recorded is said ------------------------------------------------------------


def test_fifteen_lines_make_every_emergency_page_with_two_numbers_and_one_valve() -> None:
    told = read_all(FIFTEEN_LINES)
    assert set(CAUTIONS) == set(told)
    assert set.union(*(page.calls for page in told.values())) == {"tel:911", "tel:5550101"}
    assert set.union(*(page.tags for page in told.values())) == {"W1"}


def test_a_gas_company_without_a_number_is_said_and_the_emergency_number_is_called() -> None:
    gas = read_all(FIFTEEN_LINES)["gas"]
    assert "Call 911." in gas.lines
    assert "The gas company's number is not recorded." in gas.text
    assert "Whether this house has gas is not recorded." in gas.text


def test_without_an_emergency_number_people_are_sent_to_their_local_one() -> None:
    gas = read_all(HOSTILE)["gas"]
    assert "Call your local emergency number. The emergency number is not recorded." in gas.text


def test_without_a_main_the_first_action_is_the_plumber_and_the_page_says_why() -> None:
    bare = FIFTEEN_LINES.split("water:")[0]
    action = read_all(bare)["water"].actions[0]
    assert "555-0101" in action
    assert "The main shutoff of this house is not recorded." in action


def test_a_house_known_to_have_no_gas_has_no_gas_page_and_keeps_carbon_monoxide() -> None:
    told = read_all(ELECTRIC)
    assert "gas" not in told
    assert "smell gas" not in everything(told)
    assert "Nothing that burns fuel is recorded here." in told["carbon-monoxide"].text


def test_a_house_known_to_have_no_heater_has_no_heater_pages() -> None:
    told = read_all(FIFTEEN_LINES + "heaters: none\n")
    assert not {"heater-leaks", "relief-drips", "no-hot-water", "too-hot"} & set(told)


def test_pans_and_sensors_known_to_be_absent_have_no_page() -> None:
    assert "alarm" not in read_all(ELECTRIC)


def test_a_house_on_a_well_is_not_sent_to_a_water_company() -> None:
    assert "water company" not in everything(read_all(ELECTRIC))


def test_a_septic_house_is_not_sent_to_a_sewer_company() -> None:
    assert "sewer company" not in everything(read_all(ELECTRIC))
    assert "septic tank" in read_all(ELECTRIC)["backup"].text


def test_what_burns_fuel_is_listed_on_the_carbon_monoxide_page() -> None:
    text = read_all(FULL)["carbon-monoxide"].text
    assert "What burns fuel here: H1 (Water heater) and gas stove." in text


def test_the_valves_for_an_alarm_stop_what_it_watches() -> None:
    lines = read_all(FULL)["alarm"].lines
    assert "work sink: close W11 (left below)" in lines
    assert "water heater: see The water heater leaks, then close W8 (above it)" in lines


def test_a_metric_house_is_told_in_metric() -> None:
    told = everything(read_all(METRIC)).replace("\u00a0", " ")
    assert not re.search(r"°F|\d ft\b|\d in\b|\bpsi\b|\bgal\b", told)
    assert "49 °C" in told  # (120 - 32) / 1.8 = 48.9
    assert "13 °C" in told  # (55 - 32) / 1.8 = 12.8


def test_what_the_record_says_is_printed_as_it_stands() -> None:
    assert f"Close W1 ({NASTY})." in read_all(HOSTILE)["water"].text


# --- the way they are written ----------------------------------------------------------------


def test_each_page_opens_with_its_caution_in_the_right_signal_word() -> None:
    told = read_all(FULL)
    assert {name: told[name].caution for name in CAUTIONS} == CAUTIONS
    assert all(page.lines[0].lower() == page.caution for page in told.values())


def test_each_caution_says_what_not_to_do(told: dict[str, Read]) -> None:
    for name, page in told.items():
        caution = page.text.split(page.actions[0].split("\n")[0][:20])[0] if page.actions else ""
        if name in CAUTIONS:
            assert re.search(r"Do not|Never|never|Keep out|no torch|Keep your", caution), name


def test_each_numbered_action_starts_with_a_verb(told: dict[str, Read]) -> None:
    for name, page in told.items():
        for action in page.actions:
            start = re.sub(f"^{CONDITION}", "", " ".join(action.split()))
            assert words(start)[0].lower() in VERBS.split(), (name, action)


def test_no_sentence_is_longer_than_fifteen_words() -> None:
    for name, page in read_all(FULL).items():
        for sentence in sentences(page.text):
            assert len(words(sentence)) <= 15, (name, sentence)


@pytest.mark.parametrize("name", CAUTIONS)
def test_each_page_reads_at_the_sixth_grade_or_below(name: str) -> None:
    # NIH and AMA advise sixth grade or below for health material (MedlinePlus guide, as quoted).
    assert grade(read_all(FULL)[name].text) <= 6


def test_the_grade_of_known_words_is_as_worked_by_hand() -> None:
    # 10 words, 2 sentences, 11 syllables: 0.39 x 5 + 11.8 x 1.1 - 15.59 = -0.66.
    assert grade("Close the valve by the door. Call a good plumber.") == pytest.approx(-0.66)
    said = "water carbon monoxide licensed turned valves hose leaks closes emptied"
    assert [syllables(word) for word in said.split()] == [2, 2, 3, 2, 1, 1, 1, 1, 2, 2]


def test_no_page_uses_a_banned_word(told: dict[str, Read]) -> None:
    found = re.findall(rf"\b(?:{BANNED})\b", everything(told), re.IGNORECASE)
    assert not found


def test_nothing_is_shouted(told: dict[str, Read]) -> None:
    # PILOT is what stands on the dial; tags are tags.
    assert not re.search(r"\b[A-Z]{2,} [A-Z]{2,}\b", everything(told))


def test_each_emergency_page_leads_only_to_pages_that_the_house_has() -> None:
    for text in HOUSES.values():
        told = read_all(text)
        leads = {go.removeprefix("if_") for page in told.values() for go in page.go}
        draining = {page.id for page in freeze_page(house(text))}
        assert leads <= set(told) | draining


# --- what an occupant is never told ----------------------------------------------------------

NOT_THEIRS = (
    r"relight|light (?:the|a) (?:pilot|flame|burner)",
    r"cleanouts?\b",
    r"relief valve",
    r"gas (?:pipe|valve)",
    r"drain opener",
    r"torch|blowtorch",
    r"septic|its lid",
)
REFUSED = re.compile(
    r"never|do not|use no |leave (?:the|any|its|it)|that is theirs|say that|whether|keeps the tank|"
    r"show the plumber|\bnone is recorded|out to the plumber|comes out",
    re.IGNORECASE,
)


@pytest.mark.parametrize("what", NOT_THEIRS)
def test_what_is_not_theirs_is_only_ever_named_to_be_left_alone(
    what: str, told: dict[str, Read]
) -> None:
    for name, page in told.items():
        for line in page.lines:
            for sentence in re.split(r"(?<=[.!?])\s+", line.replace(NASTY, "it")):
                if re.search(what, sentence, re.IGNORECASE):
                    assert REFUSED.search(sentence), (name, sentence)


def test_no_gas_valve_is_among_what_is_closed_or_opened() -> None:
    for name, page in read_all(FULL).items():
        assert not re.search(r"(?:Close|Open|Turn)\w* G\d", page.text), name


def test_leaving_comes_before_calling_and_both_before_all_else_on_the_gas_page() -> None:
    actions = [" ".join(action.split()) for action in read_all(FULL)["gas"].actions]
    assert actions[:4] == [
        "Get everyone out now.",
        "Walk well away, to a neighbor's house or farther.",
        "Call 911.",
        "Call the gas company: 555-0104.",
    ]


def test_a_breaker_is_only_reached_for_with_dry_hands_on_a_dry_floor() -> None:
    reached = re.compile(r"(Switch off its|Switch its|at H1's) breaker")
    found = set()
    for name, page in read_all(ELECTRIC).items():
        for number, line in enumerate(page.lines):
            if reached.search(line):
                found.add(name)
                assert "dry hands" in " ".join(page.lines[number : number + 3]), (name, line)
    assert found == {"water", "heater-leaks", "relief-drips", "trip", "back-on"}


def test_the_sheet_reaches_for_a_breaker_with_dry_hands_too() -> None:
    steps = [step for band in emergency_sheet(house(ELECTRIC)).bands for step in band.steps]
    off = [step for step in steps if "its breaker" in plain(step.do)]
    assert off
    assert all("dry hands, on a dry floor" in plain(step.note or ()) for step in off)


def test_a_stop_that_was_emptied_against_frost_stays_shut_until_the_frost_is_over() -> None:
    record = (assets.example_house() / "house.yaml").read_text(encoding="utf-8")
    back = read_all(record)["back-on"].lines
    emptied = next(place for place, line in enumerate(back) if "emptied the outdoor taps" in line)
    assert "W10" in back[emptied]
    assert "W22" in back[emptied]
    assert "until after the last frost" in back[emptied]
    assert "close it again" in back[emptied + 2]
    assert any("last, and only after the last frost" in line for line in back if "W4" in line)


def test_trip_frost_draining_and_turning_on_again_lead_to_one_another() -> None:
    record = (assets.example_house() / "house.yaml").read_text(encoding="utf-8")
    pages = {f"if_{name}": page for name, page in read_all(record).items()}
    (draining,) = freeze_page(house(record))
    pages["freeze_order"] = read(draining)
    needed = {
        "if_trip": {"if_frozen", "if_back-on", "freeze_order"},
        "if_frozen": {"if_trip", "if_back-on", "freeze_order"},
        "freeze_order": {"if_trip", "if_frozen", "if_back-on"},
        "if_back-on": {"if_frozen", "freeze_order"},  # whoever is back needs no page on leaving
    }
    for name, others in needed.items():
        assert others <= pages[name].go, name


def test_without_a_page_on_draining_nothing_leads_to_it() -> None:
    assert not freeze_page(house(FIFTEEN_LINES))
    for page in read_all(FIFTEEN_LINES).values():
        assert "freeze_order" not in page.go


def test_where_the_way_to_the_inside_main_is_wet_the_one_outdoors_is_named() -> None:
    record = (assets.example_house() / "house.yaml").read_text(encoding="utf-8")
    lines = read_all(record)["water-and-power"].lines
    wet = next(line for line in lines if line.startswith("If that way is wet"))
    assert "Close W2" in wet
    bands = {band.title: band for band in emergency_sheet(house(record)).bands}
    power = bands["Water near outlets, lamps or the breaker panel"].steps
    assert plain(power[-1].condition or ()) == "If the whole way to W5 is dry:"
    assert plain(power[-1].do) == "Close W5; if that way is wet, W2 outdoors."
    # in a house whose second main is indoors nothing is offered outdoors
    assert not any("way is wet" in line for line in read_all(ELECTRIC)["water-and-power"].lines)


def test_a_main_that_is_recorded_closed_is_not_said_to_be_unrecorded() -> None:
    text = FULL.replace("id: W2, ", "id: W2, stands: closed, ")
    assert text != FULL
    said = str(emergency_sheet(house(text)).bands[0])
    assert "not recorded" not in said.partition("Main shutoff")[0]


def test_a_toilet_that_fills_on_is_stopped_at_its_own_valve() -> None:
    record = (assets.example_house() / "house.yaml").read_text(encoding="utf-8")
    runs_over = next(x for x in read_all(record)["backup"].lines if "If a toilet runs over" in x)
    for stop in ("W23", "W36", "W39"):
        assert stop in runs_over


# --- on paper --------------------------------------------------------------------------------


def print_red(home: House, out: Path) -> paper.pdf.Printed:
    pages = (*emergency_pages(home), *situation_pages(home), *freeze_page(home))
    book = Book("Handbook", home.record.house.name, (), (Part("red", "Now", pages),))
    return paper.book_pdf(book, Photos(Path()), out / "red.pdf")


@pytest.mark.parametrize("text", [FIFTEEN_LINES, FULL, ELECTRIC], ids=["fifteen", "full", "el"])
def test_each_emergency_page_is_one_sheet(text: str, tmp_path: Path) -> None:
    assert print_red(house(text), tmp_path).warnings == ()


@pytest.mark.parametrize("text", HOUSES.values(), ids=HOUSES)
def test_the_emergency_sheet_fits_one_side_at_twelve_points_or_more(
    text: str, tmp_path: Path
) -> None:
    # `sheet_pdf` tries sizes down to 12 pt and raises where that does not fit.
    printed = paper.sheet_pdf(emergency_sheet(house(text)), Photos(Path()), tmp_path / "s.pdf")
    assert printed.sheets == 1


def test_the_sheet_says_the_main_its_place_and_whom_to_call() -> None:
    sheet = emergency_sheet(house(FULL))
    first = sheet.bands[0].steps[2]  # behind the words on electricity and on a toilet
    assert first.do[1].id == "W2"  # type: ignore[union-attr]
    assert "behind the blue door" in str(first.do[2])
    assert "555-0101" in str(sheet.bands[0].steps)


def test_the_sheet_of_a_house_without_gas_has_no_gas_band() -> None:
    titles = [band.title for band in emergency_sheet(house(ELECTRIC)).bands]
    assert "I smell gas" not in titles
    assert "The carbon monoxide alarm sounds" in titles


# --- pipes that end side by side -------------------------------------------------------------


ENDS = """
format: 1
house: {name: X}
water: {valves: [{id: W1, main: yes, kind: ball}]}
heaters:
  - id: H1
    name: Heater
    kind: storage
    cold: {from: W1}
    relief: {discharge: {to: floor drain, drain: fd, by: 8 ft of 3/4 in copper L, above: 4 in}}
safeguards:
  pans:
    - id: P1
      under: H1
      drain: {to: floor drain, drain: fd, by: 3 ft of 1 in PVC, above: 2 in}
fixtures: [{id: fd, name: Floor drain, kind: floor drain}]
"""


def ends_told(text: str) -> tuple[str, tuple[tuple[str, ...], ...]]:
    blocks = pipe_ends(house(text))
    apart = " ".join(plain(block.line) for block in blocks if isinstance(block, Para))
    tables = [block for block in blocks if isinstance(block, Table)]
    return apart, tuple(tuple(map(plain, row)) for made in tables for row in made.rows)


def test_pipes_that_end_together_are_told_apart_by_what_can_be_seen() -> None:
    apart, rows = ends_told(ENDS)
    assert apart == "The relief pipe is the only one of copper and ends the highest."
    relief, pan = rows
    assert relief[:3] == ("Relief pipe of H1", "copper, 3/4 in", "ends 4 in above it")
    assert "can scald" in relief[3]
    assert pan[:3] == ("Drain of pan P1", "plastic, 1 in", "ends 2 in above it")
    assert "The water heater leaks" in pan[3]


def test_what_does_not_set_the_relief_pipe_apart_is_not_said_to() -> None:
    apart, _ = ends_told(ENDS.replace("of 1 in PVC, above: 2 in", "of 1 in copper L, above: 4 in"))
    assert apart == ""
    apart, rows = ends_told(ENDS.replace(", by: 3 ft of 1 in PVC, above: 2 in", ""))
    assert apart == ""
    assert rows[1][1:3] == ("not recorded", "not recorded")


def test_a_relief_pipe_that_ends_alone_needs_no_table() -> None:
    assert pipe_ends(house(ENDS.replace("drain: fd, by: 3 ft", "by: 3 ft"))) == ()


# --- a heater that must be left --------------------------------------------------------------


def test_wherever_a_heater_is_gone_to_for_a_leak_it_says_first_when_to_leave() -> None:
    # "If it roars or steams, get out and call" is common practice, no source.
    home = house(FULL)
    sheet = next(b for b in emergency_sheet(home).bands if b.title == "The water heater leaks")
    assert plain(sheet.steps[0].condition or ()) == "If you smell gas, or it roars or steams:"
    assert "Get everyone out" in plain(sheet.steps[0].do)
    phone = read(thing_page(home, home.items["H1"])).text
    assert phone.index("roars or steams") < phone.index("Close W8")
    told = read_all(FULL)
    for name in ("heater-leaks", "no-hot-water", "relief-drips"):
        assert "roars or steams: Get everyone out. Call 9" in told[name].text, name


def test_where_spray_is_in_the_way_the_main_is_named_instead_of_the_heaters_shutoff() -> None:
    home = house(FULL)
    sheet = next(b for b in emergency_sheet(home).bands if b.title == "The water heater leaks")
    when = {plain(step.do)[:8]: plain(step.condition or ()) for step in sheet.steps}
    assert when["Close W8"] == "If elsewhere, and no spray:"
    assert when["Close W2"] == "If elsewhere spray is in the way, or it still runs:"
    told = " ".join(read(thing_page(home, home.items["H1"])).text.split())
    assert "If spray is in the way: Close W2, not W8." in told


def test_the_printed_sheet_of_the_example_house_has_its_heater_and_its_alarms(
    tmp_path: Path,
) -> None:
    """These bands are the first to be left out where a sheet has too much on it."""
    home = load(assets.example_house()).house
    paper.sheet_pdf(emergency_sheet(home), Photos(Path()), tmp_path / "s.pdf")
    said = "".join(page.extract_text() for page in PdfReader(tmp_path / "s.pdf").pages)
    assert "The water heater leaks" in said
    assert "A leak alarm sounds" in said
    assert "roars or steams" in said


def test_after_a_frost_the_pipes_are_looked_at_before_the_main_is_opened() -> None:
    # Common practice, no source: a split pipe shows only once it is under pressure again.
    told = read_all(FULL)
    back = told["back-on"].text
    order = ["Look for splits", "stay at the valve", "Open W2", "A pipe may be frozen"]
    assert sorted(order, key=back.index) == order
    trip = told["trip"].text
    assert trip.rindex("Turn the water back on") < trip.rindex("A pipe may be frozen")


def test_a_heater_marked_in_letters_is_not_set_to_degrees() -> None:
    record = (assets.example_house() / "house.yaml").read_text(encoding="utf-8")
    hot = read_all(record)["too-hot"].text
    turn = next(line for line in hot.splitlines() if line.startswith("Turn down"))
    assert "120" not in turn
    assert "If it stands at its normal setting or lower" in hot


def test_without_hot_water_no_flame_is_missed_and_no_breaker_thrown_that_a_leak_put_off() -> None:
    record = (assets.example_house() / "house.yaml").read_text(encoding="utf-8")
    cold = read_all(record)["no-hot-water"].text
    assert "its flame is out" not in cold
    assert "If it shows a fault, leave it." in cold
    assert "Leave it off if the heater leaked, or while the water is off." in cold
    pilot = record.replace("ignition: electronic", "ignition: pilot")
    assert "If its flame is out or it shows a fault" in read_all(pilot)["no-hot-water"].text


def test_at_a_relief_pipe_every_page_gives_the_same_answer() -> None:
    home = load(assets.example_house()).house
    sheet = next(b for b in emergency_sheet(home).bands if b.title == "The water heater leaks")
    assert keep_away() in plain(sheet.steps[1].do)
    assert keep_away() in read(thing_page(home, home.items["WH1"])).text
    assert keep_away() in read(thing_page(home, home.items["P1"])).text
    guides = read_all((assets.example_house() / "house.yaml").read_text(encoding="utf-8"))
    assert keep_away() in guides["heater-leaks"].text
    tag = next(card for card in tag_sheet(home).cards if card.id == "S1")
    (relief,) = (said for said in tag.besides if said.startswith("Relief pipe (copper) alone: "))
    assert relief.partition(": ")[2].startswith("close nothing, breaker off. Spray")
    assert keep_away().endswith("close nothing")
    (row,) = (each for each in whom(home) if each.id == "relief-valve")
    assert row.you == f"{keep_away()}. If it runs or drips on: Switch off its breaker."


def test_where_the_main_stands_beside_the_heater_the_one_outdoors_is_named_too() -> None:
    """In the example both stand in the utility room: a spray may bar the way to either."""
    home = load(assets.example_house()).house
    page = {page.id: read(page) for page in emergency_pages(home)}["if_heater-leaks"]
    assert "If spray is in the way, close W5, or W2 outdoors" in page.text
    (band,) = (it for it in emergency_sheet(home).bands if "heater leaks" in it.title)
    assert plain(band.steps[-1].do) == "Close W5, or W2 outdoors."


def test_the_plumber_is_called_for_a_heater_that_leaks_whatever_else_is_so() -> None:
    for text in (FULL, ELECTRIC, METRIC):
        (band,) = (it for it in emergency_sheet(house(text)).bands if "heater leaks" in it.title)
        (shut,) = (
            it
            for it in band.steps
            if plain(it.condition or ()).startswith(("If elsewhere, and no", "Otherwise"))
        )
        assert "call the plumber" in plain(shut.note or ())


def test_where_the_way_to_the_main_is_wet_the_outdoor_main_has_its_place_on_the_page() -> None:
    home = load(assets.example_house()).house
    page = {page.id: read(page) for page in emergency_pages(home)}["if_water-and-power"]
    (line,) = (line for line in page.lines if "If that way is wet" in line)
    assert "in the meter box" in line, page.lines


def test_an_alarm_at_which_all_is_dry_closes_nothing() -> None:
    lines = read_all(FULL)["alarm"].lines
    dry = next(n for n, line in enumerate(lines) if "If all is dry" in line)
    close = next(n for n, line in enumerate(lines) if "If there is water" in line)
    assert "Close nothing" in lines[dry]
    assert dry < close
    assert any("If there was water: Call a licensed plumber" in line for line in lines)


def test_a_valve_that_the_records_words_name_has_its_place_and_tool_beside_them() -> None:
    (draining,) = freeze_page(load(assets.example_house()).house)
    lines = read(draining).lines
    lawn = next(n for n, line in enumerate(lines) if "close W3" in line)
    assert "W3: outside: under green plastic lid" in " ".join(lines[lawn : lawn + 3])
    assert "take along: curb key" in " ".join(lines[lawn : lawn + 3])


def test_who_does_not_see_what_leaks_finds_the_main_first_on_each_indoor_levels_page() -> None:
    home = load(assets.example_house()).house
    pages = [page for page in emergency_pages(home) if page.id.startswith("if_water-")]
    rooms = [page for page in pages if page.id != "if_water-and-power"]
    tables = {page.id: next(it for it in page.blocks if isinstance(it, Table)) for page in rooms}
    assert len(tables) > 3
    for name, table in tables.items():
        seen = plain(table.rows[0][0]) == "Not seen"
        assert seen == (name != "if_water-outside"), name
        assert not seen or plain(table.rows[0][1]) == "W5"


def test_a_drained_house_is_still_full_up_to_its_main() -> None:
    """By the heights the service comes up to W5 from under the slab: no tap empties it."""
    (draining,) = freeze_page(load(assets.example_house()).house)
    assert "the pipe from the street up to W5" in read(draining).text


def test_the_sheet_and_the_water_page_say_which_door_it_is_from_the_stairs() -> None:
    home = load(assets.example_house()).house
    way = "From the stairs: right along the lower hall, around the corner to the right, left into"
    notes = [plain(step.note or ()) for step in emergency_sheet(home).bands[0].steps]
    assert sum(note.startswith(way) for note in notes) == 1
    (water,) = (page for page in emergency_pages(home) if page.id == "if_water")
    assert way in read(water).text


def test_after_every_valve_that_leaves_the_heater_dry_it_is_made_safe_on_that_page() -> None:
    home = load(assets.example_house()).house
    told = {page.id: read(page).text for page in emergency_pages(home)}
    assert "Once W5 is shut, make the heater safe" in told["if_water-main"]
    assert "Once W5 or W13 is shut, make the heater safe" in told["if_water-lower"]
    assert "First see The water heater leaks" in told["if_water-lower"]
    assert "Once W5, W2 or W8 is shut, make the heater safe" in told["if_wall-lower"]
