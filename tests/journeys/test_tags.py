"""The tags: one a thing, and a code that works with the pages and without any network."""

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from situation_houses import ELECTRIC, FIFTEEN_LINES, FULL, HOSTILE, METRIC, house

from handbook import assets, load
from handbook.answers.isolate import isolate
from handbook.house.house import House
from handbook.output import qr
from handbook.output.paper import CODE_MM
from handbook.pages.content import Steps, Table, TagCard, plain
from handbook.pages.parts.ladders import ladder_table
from handbook.pages.situation_tables import leak_alarms
from handbook.pages.tags import LONGEST, capitals, instruction, tag_sheet
from handbook.pages.things import thing_page, thing_pages

ALPHABET = re.compile(r"[0-9A-Z $%*+\-./:]+")
"""The alphanumeric set of ISO/IEC 18004: 45 signs."""

EXAMPLE = (assets.example_house() / "house.yaml").read_text("utf-8")
HOUSES = {
    "fifteen lines": FIFTEEN_LINES,
    "full": FULL,
    "electric": ELECTRIC,
    "metric": METRIC,
    "hostile": HOSTILE,
    "example": EXAMPLE,
}
HOSTED = "units: US, pages_at: https://house.example/h/k7"


@pytest.fixture(scope="module", params=HOUSES)
def any_house(request: pytest.FixtureRequest) -> House:
    return house(HOUSES[request.param])


def card(subject: House, name: str) -> TagCard:
    (found,) = [card for card in tag_sheet(subject).cards if card.id == name]
    return found


def test_every_tagged_thing_has_one_card_in_the_order_of_the_record(any_house: House) -> None:
    tagged = [item.id for item in any_house.items.values() if item.tagged]
    assert [card.id for card in tag_sheet(any_house).cards] == tagged


def test_every_card_says_what_to_do_and_where_it_hangs(any_house: House) -> None:
    for made in tag_sheet(any_house).cards:
        assert plain(made.stops).strip()
        assert made.turn.endswith(".")
        assert made.place


def test_a_code_leads_to_the_folder_of_the_things_page() -> None:
    subject = house(FULL.replace("units: US", HOSTED))
    folders = {page.id: page.folder for page in thing_pages(subject)}
    for made in tag_sheet(subject).cards:
        assert made.payload == f"https://house.example/h/k7/{folders[made.id]}/"


def test_without_an_address_the_code_is_the_things_own_instruction() -> None:
    assert card(house(FULL), "W2").payload == (
        "W2 INNER MAIN. STOPS: ALL WATER IN THE HOUSE. CLOSE: QUARTER TURN - LEVER ACROSS THE PIPE."
    )


def test_an_instruction_is_short_and_in_the_alphabet_that_a_code_packs_tightest() -> None:
    for text in (FULL, ELECTRIC, HOSTILE, METRIC):
        for made in tag_sheet(house(text)).cards:
            assert len(made.payload) <= LONGEST
            assert ALPHABET.fullmatch(made.payload), made.payload
            assert made.payload.startswith(made.id.upper())


def test_every_code_prints_with_modules_that_a_phone_can_read(any_house: House) -> None:
    for made in tag_sheet(any_house).cards:
        qr.svg(made.payload, CODE_MM, made.id)  # raises below 0.5 mm a module


@pytest.mark.parametrize(
    "room", ["a small room", "the long named room", "the very long named room"]
)
def test_what_a_valve_stops_is_counted_where_there_is_no_room_for_all_of_it(room: str) -> None:
    """Seven fixtures behind one valve, and an eighth that is not: the rest is said as a number."""
    rooms = "".join(
        f"\n  - {{id: f{n}, name: Basin of {room} {n}, kind: lavatory,"
        f" cold: {{from: {'W1' if n == 8 else 'W2'}}}}}"
        for n in range(1, 9)
    )
    text = f"""
format: 1
house: {{name: X}}
water:
  valves: [{{id: W1, main: yes, kind: ball}}, {{id: W2, name: Far valve, kind: ball, from: W1}}]
fixtures:{rooms}
"""
    payload = card(house(text), "W2").payload
    shown = payload.count("BASIN OF")
    # 7 basins, less those that are named; all of them where no name fits
    assert (f"+ {7 - shown} MORE." if shown else ": 7 IN ALL.") in payload
    assert payload.endswith("CLOSE: QUARTER TURN - LEVER ACROSS THE PIPE.")


def test_what_a_sign_does_not_print_is_folded_to_what_it_does() -> None:
    # a-umlaut and e-acute decompose (Unicode NFKD); the sharp s is two letters in capitals
    assert capitals("Küche & Café, Straße 'A'") == "KUCHE AND CAFE STRASSE A"


@settings(max_examples=60, deadline=None)
@given(st.text(min_size=1, max_size=300), st.text(min_size=1, max_size=300))
def test_no_name_or_way_to_turn_makes_a_code_too_long_or_unreadable(name: str, turn: str) -> None:
    subject = house(FIFTEEN_LINES)
    item = subject.items["W1"]
    entry = item.entry.model_copy(update={"kind": None, "turn": turn})
    said = instruction(subject, replace(item, name=name, entry=entry))
    assert len(said) <= LONGEST
    assert ALPHABET.fullmatch(said)
    assert said.startswith("W1")


@pytest.mark.parametrize(
    ("name", "stops", "turn"),
    [
        ("W2", "Stops all water in the house.", "Close it: Turn the lever a quarter turn"),
        ("W7", "it sends the water round the softener", "Open it:"),
        ("U1", "Stops all water in the house.", "The water utility closes it."),
        (
            "G2",
            "Stops gas to: water heater.",
            "Smell gas? Leave at once; do not go near it. Only if told to: ",
        ),
        (
            "C1",
            "Opens into building drain (D1)",
            "Do not open it, above all while a drain is backed up.",
        ),
        ("P1", "Under: H1 (Water heater)", "If there is water in it, no spray or steam: close W8."),
        ("S1", "Watches: H1", "If wet, no spray or steam: close W8."),
        ("soft", "Takes the hardness out", "If it leaks: close W5 and W6, open W7."),
        ("G1", "Feeds ", "Leave it alone."),
    ],
)
def test_a_card_says_what_hangs_on_its_thing_and_the_one_action_at_it(
    name: str, stops: str, turn: str
) -> None:
    made = card(house(FULL), name)
    assert stops in plain(made.stops)
    assert turn in made.turn


def test_into_a_pan_comes_only_what_it_stands_under() -> None:
    """The laundry tub stands in the heater's room: it wets the floor there, never the pan."""
    home = house(EXAMPLE)
    assert "Laundry tub" in plain(card(home, "S2").stops)
    for name in ("P1", "S1"):
        assert "Laundry tub" not in plain(card(home, name).stops)


def test_a_card_changes_with_the_record() -> None:
    assert "clockwise" in card(house(FULL), "W1").turn  # a gate valve
    assert "quarter turn" in card(house(FULL.replace("kind: gate", "kind: ball")), "W1").turn


def test_no_tag_of_a_gas_valve_says_how_to_open_it() -> None:
    for made in tag_sheet(house(EXAMPLE)).cards:
        if made.kind == "gas":
            assert not re.search(r"\bopen it: turn", made.turn, re.IGNORECASE)


@pytest.mark.parametrize(
    ("where", "said"),
    [
        ("behind the bowl, left", "Kitchen, main level. Behind the bowl, left."),
        # 90 characters hold no level with these, and then the room and the first of them
        ("w" * 30 + ", " + "x" * 40, f"Kitchen. W{'w' * 29}, {'x' * 40}."),
        ("w" * 30 + ", " + "x" * 60, f"Kitchen, main level. W{'w' * 29}."),
        ("w" * 90, "Kitchen, main level."),
    ],
)
def test_a_place_too_long_for_its_tag_is_cut_at_a_comma(where: str, said: str) -> None:
    text = f"""
format: 1
house: {{name: X}}
levels: [{{id: main, name: Main level, rooms: [{{id: kitchen, name: Kitchen}}]}}]
water: {{valves: [{{id: W1, name: One, from: street, place: {{room: kitchen, where: "{where}"}}}}]}}
"""
    assert card(house(text), "W1").place == said


def test_a_sensor_that_watches_many_things_sends_people_to_the_main() -> None:
    text = FULL.replace("watches: [sink]", "watches: [sink, basin, tub]")
    # the sink's stop, the basin's two, and what stops the tub: more than two to list on a tag
    made = card(house(text), "S2")
    assert made.turn == "If wet: close W2; if you see what leaks, close only what stops it."
    assert made.besides == (
        "W2: den, lower level.",
        "Plumber: 555-0101, after hours 555-0102.",
    )


def test_an_alarm_says_where_its_valves_are_before_the_main_and_whom_to_call() -> None:
    made = card(house(EXAMPLE), "S5")  # the ice maker, whose valve W29 is behind it
    assert made.turn == "If wet: close W29."
    assert made.besides[0] == "Where: behind the refrigerator, in the white wall box."
    assert [said.split(":")[0] for said in made.besides] == ["Where", "In doubt", "Plumber"]
    assert [said.split(":")[0] for said in made.spare] == ["Once W5 is shut", "Owner"]


def test_tag_page_and_table_of_an_alarm_name_the_same_things() -> None:
    """The island's sensor watches sink and dishwasher; the ice maker stands in the same room."""
    home = house(EXAMPLE)
    table = next(block for block in leak_alarms(home) if isinstance(block, Table))
    rows = {plain(row[0]).split()[0]: plain(row[2]).lower() for row in table.rows}
    blocks = thing_page(home, home.items["S4"]).blocks
    steps = next(block.steps for block in blocks if isinstance(block, Steps))
    page = " ".join(plain(step.condition or ()) for step in steps).lower()
    for name in ("kitchen sink", "dishwasher", "ice maker"):
        assert name in plain(card(home, "S4").stops).lower()
        assert name in page
        assert name in rows["S4"]


EVERYBODY = ("Look ", "Call ", "Leave ")
"""How a step of an alarm begins that is for everybody; all that turns something has its If."""


@pytest.mark.parametrize("name", ["S1", "S2", "S4", "S8", "P1"])
def test_on_an_alarms_page_nothing_is_turned_without_its_if_and_the_main_stands_first(
    name: str,
) -> None:
    home = house(EXAMPLE)
    blocks = thing_page(home, home.items[name]).blocks
    steps = next(block.steps for block in blocks if isinstance(block, Steps))
    for step in steps:
        do = plain(step.do)
        assert do.startswith(EVERYBODY) or plain(step.condition or ()).startswith("If "), do
    close = [plain(step.do) for step in steps if plain(step.do).startswith("Close ")]
    assert close[0].startswith(
        ("Close W5 ", "Close W5, or W2 outdoors, not W13.")
    )  # this house's main


def test_a_source_has_one_step_that_holds_all_its_valves() -> None:
    """Around a softener three are turned: its two sides, and its bypass (the record's W7 to W9)."""
    home = house(EXAMPLE)
    blocks = thing_page(home, home.items["S2"]).blocks
    steps = next(block.steps for block in blocks if isinstance(block, Steps))
    (softener,) = (s for s in steps if "softener" in plain(s.condition or ()))
    assert all(valve in plain(softener.do) for valve in ("W7", "W8", "open W9"))


def test_at_a_heaters_alarm_nothing_is_closed_for_its_relief_pipe() -> None:
    home = load(assets.example_house()).house
    for name in ("S1", "P1"):
        blocks = thing_page(home, home.items[name]).blocks
        steps = next(block.steps for block in blocks if isinstance(block, Steps))
        said = [" ".join(plain(each or ()) for each in (s.condition, s.do, s.note)) for s in steps]
        relief = next(n for n, words in enumerate(said) if "relief pipe drips" in words)
        close = next(n for n, words in enumerate(said) if "Close W13" in words)
        assert "close nothing" in said[relief]
        assert relief < close
        assert "make WH1 (Water heater) safe" in said[close]
        rest = next(words for words in said if "make WH1 (Water heater) safe" in words)
        assert re.search(
            r"Close W.*safe\. Switch off its breaker \(14.*dry hands, on a dry floor", rest
        )
        assert said[close] == rest or said[close].endswith("safe, as above.")


def test_at_the_heater_the_tag_says_where_its_valve_is_and_whom_to_call() -> None:
    for name in ("WH1", "S1", "P1"):
        said = " ".join(card(house(EXAMPLE), name).besides)
        assert "Where: on the cold pipe above the heater" in said  # W13, by the record
        assert "Plumber: 555-0112, after hours 555-0113." in said


def test_a_ladder_in_the_book_gives_the_water_company_at_night_too() -> None:
    home = house(EXAMPLE)
    tables = [b for b in ladder_table(home, isolate(home, "W5"), "X") if isinstance(b, Table)]
    said = " ".join(plain(cell) for table in tables for row in table.rows for cell in row)
    assert "theirs: call 555-0120, after hours 555-0121" in said


def test_a_guest_who_finds_the_water_has_the_owners_number_where_it_is_recorded() -> None:
    cards = tag_sheet(house(EXAMPLE)).cards
    told = [" ".join((*card.besides, *card.spare)) for card in cards if card.id.startswith("S")]
    assert all("Owner: 555-0170." in said for said in told if "Plumber" in said)
    assert any("Owner: 555-0170." in said for said in told)
    assert all("Owner" not in " ".join(card.spare) for card in tag_sheet(house(FULL)).cards)


def test_where_the_pipe_of_a_thing_is_taken_for_granted_its_tag_names_the_main_too() -> None:
    """Whether the expansion tank hangs before or after the heater's shutoff is not recorded."""
    assert card(house(EXAMPLE), "ET1").turn == "If it leaks: close W13; if it runs on, W5."
    assert card(house(EXAMPLE), "RC1").turn == "If it leaks: close W15."


def test_a_heaters_breaker_is_told_by_its_number_and_its_panels_room() -> None:
    home = house(EXAMPLE)
    assert "Then its breaker off (14, lower hall), dry hands." in card(home, "S1").besides
    assert any("heater's breaker off (14, lower hall)" in said for said in card(home, "S3").besides)
    assert card(home, "S8").spare[0] == (
        "Once W5 is shut: heater off at its breaker (14, lower hall)."
    )
