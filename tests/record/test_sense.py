"""Ids and sense: each wrong file beside what is said about it. `^` marks the place meant."""

import re

import pytest

from handbook.record.grammar.record import Record
from handbook.record.problems import Problem, RecordError
from handbook.record.reading import read_text
from handbook.record.sense import check_ids, check_sense

HEAD = "format: 1\nhouse: {name: Test}\n"


def problems(text: str) -> tuple[Problem, ...]:
    try:
        read_text(HEAD + text, "house.yaml", Record, (check_ids, check_sense))
    except RecordError as error:
        return error.problems
    return ()


def sole(text: str) -> tuple[str, str, str]:
    """Return message, hint and the words under the carets of the only problem."""
    (found,) = problems(text)
    at = found.mark.column - 1
    return found.message, found.hint, found.line_text[at : at + found.width]


def test_a_sound_record_has_no_problems() -> None:
    """
    water: {valves: [{id: W1, from: street}, {id: W2, from: W1}]}
    """
    assert problems("water: {valves: [{id: W1, from: street}, {id: W2, from: W1}]}\n") == ()


def test_an_unknown_id_is_reported_with_the_nearest_that_fits() -> None:
    text = "water: {valves: [{id: KITCHEN, from: street}, {id: W2, from: KITCEN}]}\n"
    message, hint, under = sole(text)
    assert message == "nothing in this record has the id `KITCEN`"
    assert hint == "did you mean `KITCHEN`?"
    assert under == "KITCEN"


def test_an_id_of_the_wrong_kind_says_what_it_is_and_what_is_wanted() -> None:
    text = (
        "fixtures:\n- {id: sink, kind: lavatory}\n- {id: tub, kind: bathtub, cold: {from: sink}}\n"
    )
    message, hint, under = sole(text)
    assert message == "`sink` is a fixture"
    assert "a valve" in hint
    assert under == "sink"


def test_a_tag_given_twice_names_the_place_of_the_first_and_one_that_is_free() -> None:
    text = "water:\n  valves:\n  - {id: W1, from: street}\n  - {id: %s, from: street}\n"
    message, hint, _ = sole(text % "W1")
    assert message == "the id `W1` is given twice"
    assert "line 5" in hint
    assert hint.endswith("choose another, like `W2`")


def test_tags_that_differ_in_capitals_alone_are_told_as_that() -> None:
    text = "water:\n  valves:\n  - {id: W1, from: street}\n  - {id: w1, from: street}\n"
    message, hint, under = sole(text)
    assert message == "the ids `W1` and `w1` differ in capitals alone"
    assert under == "w1"
    assert "`W1` stands at line 5" in hint
    assert hint.endswith("choose another, like `w2`")


def test_a_room_and_a_thing_may_not_share_an_id_for_a_question_takes_either() -> None:
    text = (
        "levels: [{id: main, name: Main, rooms: [{id: bath, name: Bath}]}]\n"
        "fixtures: [{id: bath, kind: bathtub}]\n"
    )
    message, hint, under = sole(text)
    assert message == "the id `bath` is given twice"
    assert "line 3, as the id of a room; here it is that of a fixture" in hint
    assert under == "bath"


@pytest.mark.parametrize("word", ["house", "none", "unknown", "street", "outside", "House"])
def test_a_word_that_means_something_in_a_question_is_nobodys_id(word: str) -> None:
    message, _, under = sole(f"fixtures: [{{id: {word}, kind: bathtub}}]\n")
    assert f"the id `{word}` is taken" in message
    assert under == word


@pytest.mark.parametrize(
    ("text", "ring"),
    [
        ("water: {tees: [{id: T1, from: T2}, {id: T2, from: T1}]}\n", "T1 -> T2 -> T1"),
        ("gas: {tees: [{id: GT1, from: GT2}, {id: GT2, from: GT1}]}\n", "GT1 -> GT2 -> GT1"),
        ("drains: {stretches: [{id: D1, to: D2}, {id: D2, to: D1}]}\n", "D1 -> D2 -> D1"),
        ("water: {tees: [{id: T1, from: T1}]}\n", "T1 -> T1"),
        ("drains: {vents: [{id: V1, to: V2}, {id: V2, to: V1}]}\n", "V1 -> V2 -> V1"),
    ],
)
def test_a_line_that_runs_in_a_circle_is_reported_once_with_the_circle(
    text: str, ring: str
) -> None:
    message, hint, _ = sole(text)
    assert "leads in a circle" in message
    assert hint == f"the circle is {ring}"


def test_a_vent_that_joins_another_does_not_end_by_itself_as_well() -> None:
    vents = "[{id: V1, ends: through the roof}, {id: V2, to: V1, ends: through the roof}]"
    message, _, _ = sole(f"drains: {{vents: {vents}}}\n")
    assert message == "V2 joins V1 (`to`), so it does not end here"


def test_what_hangs_on_a_circle_is_not_reported_as_well() -> None:
    tees = "[{id: T1, from: T2}, {id: T2, from: T1}, {id: T3, from: T2}]"
    assert len(problems(f"water: {{tees: {tees}}}\n")) == 1


def test_a_loop_that_a_source_feeds_is_no_circle() -> None:
    tees = "[{id: T1, feeds: [{from: street}, {from: T2}]}, {id: T2, from: T1}]"
    assert problems(f"water: {{tees: {tees}}}\n") == ()


def test_a_recirculated_heater_is_no_circle() -> None:
    text = (
        "heaters: [{id: WH1, cold: {from: street}}]\n"
        "water: {tees: [{id: T1, from: WH1}], recirculation: {id: RP1, from: T1, to: WH1}}\n"
    )
    assert problems(text) == ()


def test_a_room_on_another_level_contradicts_its_place() -> None:
    text = (
        "levels:\n- {id: up, name: Up, rooms: [{id: bath, name: Bath}]}\n- {id: low, name: Low}\n"
        "water: {valves: [{id: W1, place: {level: low, room: bath}}]}\n"
    )
    message, _, under = sole(text)
    assert "is on the level `up`" in message
    assert under == "bath"


def test_an_outline_needs_three_corners() -> None:
    text = (
        "levels: [{id: up, name: Up, rooms: "
        "[{id: bath, name: Bath, outline: [[0 ft, 0 ft], [1 ft, 0 ft]]}]}]\n"
    )
    assert "fewer than three corners" in sole(text)[0]


def test_all_ids_that_lead_nowhere_are_reported_at_once() -> None:
    text = "water: {valves: [{id: W1, from: A1}, {id: W2, from: A2}, {id: W3, from: A3}]}\n"
    assert [re.findall("`(.*?)`", p.message) for p in problems(text)] == [["A1"], ["A2"], ["A3"]]


def test_a_main_that_is_named_must_be_one() -> None:
    message, hint, under = sole("water: {inside_main: W1, valves: [{id: W1, from: street}]}\n")
    assert message == "`W1` is not a main shutoff: its entry does not say `main: yes`"
    assert "line 3" in hint
    assert under == "W1"


LEVELS = """levels:
  - id: main
    name: Main
    rooms: [{id: kitchen, name: Kitchen}, {id: hall, name: Hall}]
    doors: [{between: %s}]
  - {id: up, name: Up, rooms: [{id: landing, name: Landing}]}
"""


def test_a_door_into_its_own_room_is_refused() -> None:
    message, hint, under = sole(LEVELS % "[hall, hall]")
    assert message == "this door leads from `hall` to `hall`"
    assert "outside" in hint
    assert under == "["


def test_a_door_to_a_room_of_another_level_is_refused() -> None:
    message, hint, _ = sole(LEVELS % "[hall, landing]")
    assert message == "this door is on the level `main`, but `landing` is on `up`"
    assert "stairs" in hint


def test_a_door_swings_into_one_of_the_rooms_that_it_joins() -> None:
    text = LEVELS % "[hall, kitchen], swings_into: %s"
    assert problems(text % "kitchen") == ()
    message, hint, under = sole(text % "landing")
    assert message == "this door joins `hall` and `kitchen`, so it cannot swing into `landing`"
    assert "`hall` or `kitchen`" in hint
    assert under == "landing"


def test_stairs_that_begin_and_end_on_one_level_are_refused() -> None:
    text = LEVELS % "[hall, kitchen]"
    stair = "stairs: [{id: ST, foot: {room: hall}, head: {room: %s}}]\n"
    assert problems(text + stair % "landing") == ()
    message, hint, _ = sole(text + stair % "kitchen")
    assert message == "the foot and the head of these stairs are both on the level `main`"
    assert "`head` the upper one's" in hint


GAS_AND_WATER = """
water: {{valves: [{{id: W1, from: street}}]}}
fixtures: [{{id: wc, kind: water closet, cold: {{from: {water}, stop: {{id: S1}}}}}}]
gas:
  meter: {{id: GM, shutoff: {{id: G0}}}}
  appliances: [{{id: FUR, kind: furnace, gas: {{from: {gas}, shutoff: {{id: G2}}}}}}]
"""


@pytest.mark.parametrize(
    ("water", "gas", "said"),
    [("G2", "GM", "`G2` is a gas shutoff"), ("W1", "S1", "`S1` is a stop for water")],
)
def test_a_stop_of_the_other_system_feeds_nothing_here(water: str, gas: str, said: str) -> None:
    assert problems(GAS_AND_WATER.format(water="W1", gas="G0")) == ()
    message, hint, _ = sole(GAS_AND_WATER.format(water=water, gas=gas))
    assert message == said
    assert hint.endswith(f"for {'water' if water == 'G2' else 'gas'}")
