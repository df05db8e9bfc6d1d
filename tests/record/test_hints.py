"""What a record does not know is answered with what was most likely meant, as it is written."""

import pytest
import yaml

from handbook.measures import parse_slope
from handbook.record import other_words, shapes
from handbook.record.entry import Entry
from handbook.record.grammar.record import Record
from handbook.record.problems import Problem, RecordError
from handbook.record.reading import read_text
from handbook.record.sense import check_ids, check_sense

HEAD = "format: 1\nhouse: {name: Test}\n"


def refused(text: str) -> tuple[Problem, ...]:
    with pytest.raises(RecordError) as caught:
        read_text(HEAD + text, "house.yaml", Record)
    return caught.value.problems


def hints(text: str) -> list[str]:
    return [problem.hint for problem in refused(text)]


def kinds(
    model: type[Entry], met: dict[type[Entry], None] | None = None
) -> dict[type[Entry], None]:
    """Every kind of entry that a record may hold."""
    met = met if met is not None else {}
    if model not in met:
        met[model] = None
        for field in model.model_fields.values():
            for inner in shapes.entries(field):
                kinds(inner, met)
    return met


KINDS = list(kinds(Record))


@pytest.mark.parametrize("kind", [k for k in KINDS if k.written], ids=lambda kind: kind.__name__)
def test_an_entry_as_shown_in_a_hint_can_be_read(kind: type[Entry]) -> None:
    shown = yaml.load(f"{{{kind.written}}}", Loader=yaml.BaseLoader)
    assert kind.model_validate(shown)


def test_every_entry_with_an_id_of_its_own_shows_how_it_is_written() -> None:
    """Two have no more than an id, a place and a feed, which their keys say."""
    named = {kind.__name__ for kind in KINDS if "id" in kind.model_fields and not kind.written}
    assert named <= {"Thing", "Fed"}


def test_what_things_are_also_called_leads_to_words_and_keys_of_the_record() -> None:
    fields = [field for kind in KINDS for field in kind.model_fields.values()]
    assert set(other_words.WORDS) <= {word for field in fields for word in shapes.words(field)}
    assert set(other_words.KEYS) <= {key for kind in KINDS for key in shapes.keys(kind)}


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("fixtures: [{id: a, kind: toilet}]", "did you mean `water closet`?"),
        ("fixtures: [{id: a, kind: sink}]", "did you mean `lavatory` or `kitchen sink`"),
        ("fixtures: [{id: a, kind: range, type: x}]", "here it is `kind`, as in `{"),
        ("fixtures: [{id: a, kind: range, water: W1}]", "here it is `cold`, as in `{"),
        ("fixtures: [{id: a, kind: range, cold: {feed: W1}}]", "here it is `from`, as in `{from:"),
        ("gas: {appliances: [{id: a, kind: dryer, btu: 9}]}", "it belongs under `gas`, as `input`"),
        ("water: {regulator: PRV}", "here it is `equipment: [{id: PRV, kind: pressure-reducing"),
        ("drain: {}", "did you mean `drains`?"),
        ("fixtures: [{id: a, kind: range, cold: {stop: no}}]", "if there isn't one, write `none`"),
        (
            "drains: {cleanouts: [{id: C1, on: D1, at: 25 ft}]}",
            "here it is `along: 12 ft 6 in`",
        ),
        (
            "drains: {cleanouts: [{id: C1, on: D1, at: [25 ft, 3 ft]}]}",
            "`at` belongs under `place`",
        ),
        ("fixtures: [{id: hall bath, kind: range}]", "a letter first"),
    ],
)
def test_a_word_of_the_trade_or_of_the_street_is_answered_with_the_records(
    text: str, meant: str
) -> None:
    assert hints(text)[0].startswith(meant)


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        # a hole, as somebody notes it down in a hurry
        ("people: [{role: builder, phone: TBD}]", "what is not known is `unknown`"),
        ("water: TBD", "what is not known is `unknown`"),
        ("gas: n/a", "if there isn't one, write `none`"),
        # an id, or a measure, in the place of the group that it belongs in
        ("fixtures: [{id: a, kind: range, cold: W7}]", "did you mean `cold: {from: W7}`?"),
        ("fixtures: [{id: a, kind: range, drain: D7}]", "did you mean `drain: {to: D7}`?"),
        (
            "levels: [{id: m, name: M, rooms: [{id: den, name: Den}]}]\n"
            "fixtures: [{id: a, kind: range, place: den}]",
            "did you mean `place: {room: den}`?",
        ),
        ("water: {static_pressure: 72 psi}", "did you mean `static_pressure: {value: 72 psi}`?"),
        ("water: {static_pressure: 72}", "did you mean `static_pressure: {value: 72 psi}`?"),
        # a bare number: the unit in which it would be usual
        ("levels: [{id: m, name: M, ceiling: 9}]", "did you mean `9 ft`?"),
        ("heaters: [{id: a, capacity: 50}]", "did you mean `50 gal`?"),
        ("heaters: [{id: a, setting: 120}]", "did you mean `120 F`?"),
        ("drains: {stretches: [{id: a, slope: 1/4}]}", "did you mean `1/4 in per ft`?"),
        ("drains: {cleanouts: [{id: a, size: 4}]}", "did you mean `4 in`?"),
        # what people call it
        ("water: {main: W1}", "here it is `inside_main: W1`"),
        ("water: {valves: [{id: W1, kind: ball valve}]}", "did you mean `ball`?"),
        ("water: {valves: [{id: W1, condition: good}]}", "did you mean `works`?"),
    ],
)
def test_a_note_in_a_hurry_is_answered_with_how_it_is_written(text: str, hint: str) -> None:
    assert hints(text)[0].startswith(hint)


HALL = (
    "levels: [{id: m, name: Main floor, rooms: [{id: hall-bath, name: Bath}, {id: r2, name: Den}]}]"
)


def water(valve: str) -> str:
    return f"{HALL}\nwater: {{valves: [{{id: W1, {valve}}}, {{id: W2, from: W1}}]}}"


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        # words, where a point, a distance, a group or a thing belongs
        (water("place: {at: in the meter box}"), "did you mean `where: in the meter box`?"),
        (water("place: in the meter box"), "did you mean `place: {where: in the meter box}`?"),
        (water("place: Bath"), "did you mean `place: {room: hall-bath}`?"),
        (water("at: in the meter box"), "here it is `place: {where: in the meter box}`"),
        (water("at: 'left, low'"), "here it is `place: {where: 'left, low'}`"),
        (water("at: left, low"), "here it is `place: {where: 'left, low'}`"),
        (water("location: tbd"), "here it is `place`, as in `{"),
        (water("at: outside"), "here it is `place: {level: outside}`"),
        (
            water("place: {room: r2}, location: low"),
            "it belongs under `place`, as `where: low`",
        ),
        (
            water("place: {where: low, at: by the door}"),
            "words go under `where`, which stands here already",
        ),
        (
            "safeguards: {sensors: [{id: S1, at: in the pan}]}",
            "here it is `place: {where: in the pan}`",
        ),
        ("drains: {cleanouts: [{id: a, at: laundry}]}", "here it is `place: {where: laundry}`"),
        # an id in other letters, or a name in its place
        (water("place: {room: Hall bath}"), "did you mean `hall-bath`?"),
        (
            water("place: {room: the attic}"),
            "write an id that the record has: hall-bath, r2, outside",
        ),
        (water("place: {level: main floor}"), "did you mean `m`?"),
        (water("place: {room: out side}"), "did you mean `outside`?"),
    ],
)
def test_words_for_a_place_are_answered_with_how_the_record_says_it(text: str, hint: str) -> None:
    assert hints(text)[0].startswith(hint)


def test_a_sensor_at_a_thing_of_the_record_watches_it() -> None:
    text = "heaters: [{id: WH1}]\nsafeguards: {sensors: [{id: S1, at: WH1}]}"
    assert hints(text)[0].startswith("here it is `watches`")


@pytest.mark.parametrize(
    ("place", "hint"),
    [
        ("level: Outside", "did you mean `outside`?"),
        ("room: Outside", "did you mean `outside`?"),
        ("room: Hall-bath", "did you mean `hall-bath`?"),
        ("room: Den", "did you mean `r2`?"),
        ("level: Roof", "this must be the id of a level"),
    ],
)
def test_an_id_that_is_not_there_is_answered_with_the_one_that_is(place: str, hint: str) -> None:
    with pytest.raises(RecordError) as caught:
        read_text(f"{HEAD}{water(f'place: {{{place}}}')}", "house.yaml", Record, (check_ids,))
    assert [problem.hint for problem in caught.value.problems] == [hint]


def test_a_slope_is_read_as_it_is_said_on_the_site() -> None:
    shown = [parse_slope(text) for text in ('1/4" per foot', '1/4"/ft', "1/4 in/foot")]
    assert shown == [parse_slope("1/4 in per ft")] * 3


def test_what_stands_in_for_a_missing_key_is_not_held_against_the_record() -> None:
    """The stairs lack both their ends: no more than that is told, and no room of an example."""
    text = "levels: [{id: m, name: M}]\nstairs: [{id: ST, steps: 15}]\n"
    with pytest.raises(RecordError) as caught:
        read_text(HEAD + text, "house.yaml", Record, (check_ids, check_sense))
    said = [problem.message for problem in caught.value.problems]
    assert said == ["`foot` is missing here", "`head` is missing here"]


def test_an_apostrophe_in_a_text_that_is_to_be_quoted_is_doubled() -> None:
    text = "people: [{role: builder, name: Lot's office: by day, phone: 555-0142}]\n"
    (found,) = refused(text)
    assert found.hint.endswith("quote the one text: `'Lot''s office: by day'`")
    assert yaml.safe_load("'Lot''s office: by day'") == "Lot's office: by day"


def test_an_id_with_a_space_is_answered_with_one_that_can_be_used() -> None:
    assert hints("fixtures: [{id: hall bath, kind: range}]")[0].endswith("like `hall-bath`")


def test_a_comma_that_ended_a_text_inside_braces_is_said_to_have_done_so() -> None:
    (found,) = refused("electrical: {panel: {id: P, place: {behind: the panel, left of it}}}")
    assert found.message == "`left of it` is not a key here"
    assert found.hint == (
        "the comma ended `behind`; put text that has a comma in quotes: `'the panel, left of it'`"
    )


def test_a_number_with_a_comma_is_shown_without_it() -> None:
    (found, *_) = refused("gas: {connected: 80,000 Btu/h}")[-1:]
    assert found.hint == "write the number without its comma: `connected: 80000 Btu/h`"


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("gas: {connected: 65,000 BTU}", "write the number without its comma: `connected: {}`"),
        (
            "gas: {connected: 65,000}",
            "write the number without its comma and with its unit: `connected: {}`",
        ),
        ("gas:\n  connected: 65,000 BTU", "did you mean `{}`?"),
        ("gas: {connected: 65000 btus}", "did you mean `{}`?"),
        ("gas: {connected: 65000 BTU per hour}", "did you mean `{}`?"),
    ],
)
def test_an_input_in_btu_is_answered_once_with_btu_an_hour(text: str, hint: str) -> None:
    """Badges and people say Btu for Btu/h: common practice, no source."""
    assert hints(text) == [hint.format("65000 Btu/h")]


def test_a_pressure_in_pounds_is_answered_with_psi_and_no_length_is() -> None:
    assert hints("water: {static_pressure: {value: 60 lbs}}") == ["did you mean `60 psi`?"]
    assert hints("gas: {longest: 60 lbs}")[0].startswith("write it like")


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("people:\n  - role: builder\n    name:~Ann\n    phone: 555-0142\n", (5, 10)),
        ("people: [{role: builder, name:~Ann}]\n", (3, 31)),
        ("people:\n  - {role:~builder, name: Ann}\n", (4, 11)),
        ("gas:\n  fuel:~propane\n  meter: {id: GM}\n", (4, 8)),
        ("gas:\n~ fuel: propane\n", (4, 1)),
        ("gas:~{fuel: propane}\n", (3, 5)),
    ],
)
def test_a_no_break_space_at_a_key_is_named_at_its_place(text: str, place: tuple[int, int]) -> None:
    """YAML 1.2.2, section 6.1: white space is the space and the tab alone."""
    (found,) = refused(text.replace("~", "\N{NO-BREAK SPACE}"))
    assert found.message.startswith("a no-break space stands here")
    assert (found.mark.line, found.mark.column) == place


@pytest.mark.parametrize("group", ["gas:\n  fuel:~propane\n", "people:\n  - fuel:~propane\n"])
def test_a_no_break_space_that_makes_one_text_of_a_group_is_named(group: str) -> None:
    (hint,) = hints(group.replace("~", "\N{NO-BREAK SPACE}"))
    assert hint.startswith("the space after `fuel:` is a no-break space")


def test_a_no_break_space_inside_a_text_may_stay() -> None:
    text = f"{HEAD}people: [{{role: builder, name: Ann~Lee, note: at:~9}}]"
    assert read_text(text.replace("~", "\N{NO-BREAK SPACE}"), "house.yaml", Record).people


def test_a_door_to_one_room_alone_is_shown_a_whole_door() -> None:
    level = "levels: [{id: a, name: A, doors: [{between: [hall]}]}]"
    (found,) = refused(level)
    assert found.message == "`between`: 1 stands here; more belong here"
    assert "{between: [hall, kitchen], at: " in found.hint


@pytest.mark.parametrize(
    ("text", "message", "hint"),
    [
        (
            "notes: [{title: left: right, text: b}]",
            "two colons stand in one value",
            "part two keys with a comma, or quote the one text: `'left: right'`",
        ),
        (
            "fixtures:\n  - {id: a, kind: range}\n  -{id: b, kind: range}",
            "there is no space after this dash",
            "leave a space after the dash: `- {id: b, kind: range}`",
        ),
        (
            "fixtures:\n  - id: a:\n    kind: range",
            "a second colon in this line, at its end",
            "take it away",
        ),
        (
            "fixtures:\n  - {id: a}, kind: range}",
            "the value ended before this",
            "if it is all one text, write it in single quotes, a quote inside it twice",
        ),
    ],
)
def test_a_slip_of_the_keyboard_is_named(text: str, message: str, hint: str) -> None:
    (found,) = refused(text)
    assert (found.message, found.hint) == (message, hint)


def test_a_long_path_is_shown_as_the_lines_of_a_record() -> None:
    assert shapes.written(Record, ["levels", "doors"]) == [
        "levels:",
        "  - id: ...",
        "    doors:",
        "      - {between: [hall, kitchen], at: [7 ft, 12 ft], width: 2 ft 8 in, "
        "swings_into: kitchen}",
    ]
    assert shapes.written(Record, ["water", "inside_main"]) == ["water:", "  inside_main: W1"]
    assert shapes.written(Record, ["no such key"]) == []


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        (
            "people: [{role: builder, name: 'the builder's desk'}]\n",
            'put the text in double quotes: `"the builder\'s desk"`',
        ),
        (
            'people:\n  - {role: emergency, phone: "911}\n  - {role: builder, phone: "555-0100"}\n',
            "close it; feet and inches need no quotes: 12 ft 6 in",
        ),
        (
            "people: [{role: builder, phone:555-0100}]\n",
            "leave a space after the colon: `phone: 555-0100`",
        ),
        ("safeguards: {sensors: [{id: S1, watches: WH1}]}\n", "write `watches: [WH1]`"),
        (
            "water: {tees: [{id: T1, from: street, by: 20 of 1/2 in PEX}]}\n",
            "write it like `22 ft of 3/4 in PEX`",
        ),
        (
            "people: [{role: builder, name: Ace #1}]\n",
            "put the whole text in quotes; or, if it is a remark, a space after the `#`",
        ),
    ],
)
def test_a_hint_that_is_followed_word_for_word_mends_it(line: str, hint: str) -> None:
    assert hints(line) == [hint]


def test_a_word_that_belongs_under_another_key_is_led_there() -> None:
    (found,) = refused("heaters: [{id: WH, kind: gas}]\n")
    assert found.hint == (
        "is it its `fuel`? `fuel: natural gas` or `fuel: propane`; "
        "`kind` is one of storage, tankless, heat pump"
    )


@pytest.mark.parametrize("run", ["20 ft 3/4 in PEX", "20 ft 6 in 3/4 in PEX"])
def test_a_run_without_its_of_is_shown_with_it(run: str) -> None:
    (found,) = refused(f"water: {{valves: [{{id: W1, by: {run}}}]}}\n")
    assert found.hint == f"did you mean `{run.replace(' 3/4', ' of 3/4')}`?"
