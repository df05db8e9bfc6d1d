"""What a valve is said to stop is no more than the record shows of the house."""

from pathlib import Path

from handbook.answers.serves import stops
from handbook.house.house import House, build
from handbook.record.grammar.record import Record


def house(heater_from: str) -> House:
    """A bath upstairs behind W2, and a heater fed from ahead of it or from behind it."""
    place = {"level": "upper", "room": "bath"}
    run = {"size": "1/2 in"}
    fixtures = [
        {
            "id": name,
            "name": name,
            "kind": "lavatory",
            "place": place,
            "cold": {"from": "W2", "by": run, "stop": "none"},
        }
        for name in ("sink-1", "sink-2")
    ]
    record = {
        "format": "1",
        "house": {"name": "Half recorded"},
        "levels": [
            {"id": "lower", "name": "Lower level", "elevation": "0 ft"},
            {
                "id": "upper",
                "name": "Upper level",
                "elevation": "9 ft",
                "rooms": [{"id": "bath", "name": "Bath"}],
            },
        ],
        "water": {
            "valves": [
                {"id": "W1", "main": "yes", "kind": "ball", "from": "street"},
                {"id": "W2", "kind": "ball", "from": "W1"},
            ]
        },
        "heaters": [{"id": "WH1", "cold": {"from": heater_from}}],
        "fixtures": fixtures,
    }
    return build(Record.model_validate(record), Path())


def test_the_house_is_not_said_to_be_dry_while_its_heater_is_fed() -> None:
    assert stops(house("W1"), "W2").said == ("all water on the upper level",)
    assert stops(house("W1"), "W1").said == ("all water in the house",)


def test_a_valve_that_feeds_the_heater_too_stops_the_house() -> None:
    assert stops(house("W2"), "W2").said == ("all water in the house",)
