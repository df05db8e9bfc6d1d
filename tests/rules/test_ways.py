"""Rooms from which nobody is led to the main shutoff: one finding for what is cut off together."""

import re

import pytest

from handbook import assets
from handbook.house.house import House, build
from handbook.record.grammar.record import Record
from handbook.record.reading import read_text
from handbook.record.sense import check_ids, check_sense
from handbook.rules import facts
from handbook.rules.rule import CannotTell, Fact, Gap
from handbook.rules.ways import no_way_to_the_main

EXAMPLE = (assets.example_house() / "house.yaml").read_text("utf-8")


def house_of(text: str) -> House:
    return build(
        read_text(text, "house.yaml", Record, (check_ids, check_sense)), assets.example_house()
    )


def without(*starts: str) -> list[Gap]:
    """The rule's findings in the example house without the entries that begin so."""
    text = EXAMPLE
    for start in starts:
        assert text.count(start) == 1
        before, _, after = text.partition(start)
        margin = before.rpartition("\n")[2]
        lines = after.splitlines(keepends=True)
        keeps = next(
            number
            for number, line in enumerate(lines)
            if number and line.strip() and not line.startswith(margin + " ")
        )
        text = before.removesuffix(margin) + "".join(lines[keeps:])
    return found_in(house_of(text))


def found_in(house: House) -> list[Gap]:
    return [outcome for outcome in no_way_to_the_main.look(house) if isinstance(outcome, Gap)]


STAIR_1, STAIR_2 = "- id: stair-1", "- id: stair-2"
UTILITY = "- {between: [utility, lower-hall]"


def test_the_example_house_leads_everybody_to_its_main() -> None:
    assert without() == []


def test_a_level_without_stairs_is_one_finding_that_says_what_stairs_to_record() -> None:
    (found,) = without(STAIR_2)
    assert found.message == ("No way from the Upper level to W5 (Main shutoff, inside) is recorded")
    assert "foot: {room: dining}, head: {room: bedroom-3}" in found.remedy
    assert "id: stair-2" in found.remedy


def test_a_room_without_a_door_is_named_with_the_rooms_beside_it() -> None:
    (found,) = without("- {between: [storage, lower-hall]")
    assert "from the Storage room (Lower level) to W5" in found.message
    # It lies between the hall, the family room to the left and the guest room to the right.
    assert "between storage and lower-hall or family or guest" in found.remedy


def test_the_mains_own_room_without_a_door_is_one_finding_for_all_the_house() -> None:
    (found,) = without(UTILITY)
    assert "from the Main level, the Upper level, the Lower hall (Lower level)" in found.message
    assert "the door between utility and lower-hall or family" in found.remedy


def test_what_is_cut_off_apart_is_found_apart() -> None:
    found = without(STAIR_2, "- {between: [storage, lower-hall]")
    assert [finding.message.partition(" to W5")[0] for finding in found] == [
        "No way from the Storage room (Lower level)",
        "No way from the Upper level",
    ]


PLAN = """format: 1
house: {name: Plan}
water: {inside_main: W1, valves: [{id: W1, main: yes, place: {room: cellar}}]}
levels:
  - {id: low, name: Lower level, rooms: [{id: cellar, name: Cellar}]}
  - {id: main, name: Main level, rooms: [{id: den, name: Den}, {id: bath, name: Bath}]%s}
"""
DOOR = ", doors: [{between: [den, bath]}]"


@pytest.mark.parametrize(
    ("text", "fact"),
    [(PLAN % "", facts.DOORS), (PLAN % DOOR, facts.STAIRS)],
    ids=["no doors of a level", "no stairs at all"],
)
def test_where_doors_or_stairs_are_asked_for_as_such_the_rule_waits(text: str, fact: Fact) -> None:
    waits = {o for o in no_way_to_the_main.look(house_of(text)) if isinstance(o, CannotTell)}
    assert waits == {CannotTell(fact)}


def test_stairs_that_are_confirmed_absent_do_not_silence_it() -> None:
    (found,) = found_in(house_of(PLAN % DOOR + "stairs: none\n"))
    assert "from the Main level to W1" in found.message


THREE_LEVELS = """format: 1
house: {name: Plan}
water: {inside_main: W1, valves: [{id: W1, main: yes, place: {room: cellar}}]}
stairs: %s
levels:
  - id: low
    name: Lower level
    rooms: [{id: cellar, name: Cellar}, {id: shop, name: Shop}, {id: bin, name: Bin}]
    doors: %s
  - {id: main, name: Main level, rooms: [{id: den, name: Den}]}
  - {id: up, name: Upper level, rooms: [{id: bed, name: Bedroom}]}
"""


@pytest.mark.parametrize("stairs", ["none", "[{id: S, foot: {room: den}, head: {room: bed}}]"])
def test_a_door_that_is_missing_on_the_mains_own_level_is_said_before_stairs(stairs: str) -> None:
    found = found_in(house_of(THREE_LEVELS % (stairs, "[{between: [shop, bin]}]")))
    assert len(found) == (3 if stairs == "none" else 2)
    for finding in found:
        assert finding.remedy.startswith("Record the door that leads from cellar to the rest")
        assert "- {between: [cellar, shop]" in finding.remedy


def test_where_there_are_no_stairs_the_doors_outdoors_are_asked_for_first() -> None:
    first, _ = found_in(
        house_of(THREE_LEVELS % ("none", "[{between: [cellar, shop]}, {between: [shop, bin]}]"))
    )
    low, main, stairs = first.remedy.split(" Then: ")
    assert "between: [cellar, outside]" in low
    assert "between: [den, outside]" in main
    assert stairs.startswith("If there are stairs after all, record, in place of `stairs: none`")


def test_two_findings_offer_two_ids_so_that_both_may_be_pasted() -> None:
    """`stair-1` is a room's already, in other letters."""
    text = THREE_LEVELS.replace("cellar", "Stair-1") % (
        "none",
        "[{between: [Stair-1, shop]}, {between: [shop, bin]}]",
    )
    remedies = [finding.remedy for finding in found_in(house_of(text))]
    assert [re.findall(r"id: ([\w-]+)", remedy) for remedy in remedies] == [
        ["stair-2"],
        ["stair-3"],
    ]


@pytest.mark.parametrize(
    ("place", "waits"),
    [("{where: by the stairs}", True), ("{level: low}", True), ("{level: outside}", False)],
)
def test_a_main_is_asked_for_its_room_until_its_place_leads_somewhere(
    place: str, waits: bool
) -> None:
    """A level alone does not say from where on it one walks to the valve."""
    text = THREE_LEVELS.replace("{room: cellar}", place) % ("none", "[{between: [cellar, shop]}]")
    found = [o for o in no_way_to_the_main.look(house_of(text)) if isinstance(o, CannotTell)]
    assert found == [CannotTell(facts.ROOM_OF_MAIN, "W1")] * waits


def test_a_record_without_a_plan_is_left_in_peace() -> None:
    record = "format: 1\nhouse: {name: Bare}\nwater: {valves: [{id: W1, main: yes}]}\n"
    assert found_in(house_of(record)) == []
