"""What is lost is said by the largest place that is wholly off, down to the single tap."""

from test_isolate import STREET_TO_MAIN, house, lav

from handbook.answers.isolating.words import said_lost

SINKS = [lav("bath", ("W1", "W1")), lav("ensuite", ("W1", "W1"))]
HOUSE = house({"valves": STREET_TO_MAIN, "irrigation": {"id": "IR1", "from": "W1"}}, SINKS)


def said(*off: str) -> tuple[str, ...]:
    return said_lost(HOUSE, frozenset(off))


def test_nothing_lost_is_nothing_said() -> None:
    assert said() == ()


def test_one_side_of_one_fixture_is_named() -> None:
    assert said("bath-lav.cold") == ("cold water to: Sink in the bath",)


def test_a_whole_room_is_said_as_the_room() -> None:
    assert said("bath-lav.cold", "bath-lav.hot") == ("all water in the hall bath",)


def test_one_side_of_the_whole_house_is_said_once() -> None:
    assert said("bath-lav.hot", "ensuite-lav.hot") == ("all hot water in the house",)


def test_what_has_one_supply_only_is_said_by_its_name() -> None:
    assert said("IR1") == ("Irrigation",)


def test_the_whole_house_covers_the_irrigation() -> None:
    every = {tap for taps in HOUSE.water.own.values() for tap in taps}
    assert said(*every) == ("all water in the house",)


def test_the_leaking_fixtures_own_supplies_complete_a_room_but_earn_no_line() -> None:
    own = frozenset({"bath-lav.cold", "bath-lav.hot"})
    assert said_lost(HOUSE, own, own) == ()
    off = own | {"ensuite-lav.cold", "ensuite-lav.hot"}
    assert said_lost(HOUSE, off, own) == ("all water in the house",)
