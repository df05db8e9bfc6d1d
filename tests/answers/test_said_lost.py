"""What a valve is said to stop is no more than the record shows of the house."""

from pathlib import Path

from handbook.answers.isolate import isolate
from handbook.answers.serves import stops
from handbook.house.house import House, build
from handbook.record.grammar.record import Record


def house(heater_from: str, hot: object = "none") -> House:
    """A bath upstairs behind W2, and a heater fed from ahead of it or from behind it.

    Its sinks have no hot water, or one that is not recorded.
    """
    place = {"level": "upper", "room": "bath"}
    run = {"size": "1/2 in"}
    fixtures = [
        {
            "id": name,
            "name": name,
            "kind": "lavatory",
            "place": place,
            "cold": {"from": "W2", "by": run, "stop": "none"},
            **({"hot": hot} if hot else {}),
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


def test_a_room_is_not_said_to_be_dry_while_its_hot_water_is_not_recorded() -> None:
    """W2 stops the cold water; what feeds the sinks with hot is open. The main stops it all."""
    assert stops(house("W1", hot=None), "W2").said == ("all cold water on the upper level",)
    assert stops(house("W1", hot=None), "W1").said == ("all water in the house",)


def test_all_hot_water_is_not_said_to_stop_while_some_of_it_is_not_recorded() -> None:
    """Two sinks have hot water from W3, the tub's is not recorded."""

    def said(tub: object) -> tuple[str, ...]:
        record = {
            "format": "1",
            "house": {"name": "Hot half recorded"},
            "water": {
                "valves": [
                    {"id": "W1", "main": "yes", "kind": "ball", "from": "street"},
                    {"id": "W3", "kind": "ball", "from": "WH"},
                ]
            },
            "heaters": [{"id": "WH", "cold": {"from": "W1"}}],
            "fixtures": [
                *(
                    {"id": name, "name": name, "kind": "lavatory", "hot": {"from": "W3"}}
                    for name in ("sink-1", "sink-2")
                ),
                {"id": "tub", "name": "tub", "kind": "bathtub", "cold": {"from": "W1"}, "hot": tub},
            ],
        }
        return stops(build(Record.model_validate(record), Path()), "W3").said

    assert said("none") == ("all hot water in the house",)
    assert said("unknown") == ("hot water to: sink-1", "hot water to: sink-2")


def test_a_main_stops_all_water_however_little_of_it_is_recorded() -> None:
    """One toilet is recorded, and no more: the valve that is marked as main stops the house."""
    record = {
        "format": "1",
        "house": {"name": "Hardly recorded"},
        "water": {
            "valves": [{"id": "W1", "main": "yes", "from": "street"}, {"id": "W2", "from": "W1"}]
        },
        "fixtures": [
            {"id": "wc", "name": "Hall toilet", "kind": "water closet", "cold": {"from": "W2"}}
        ],
    }
    home = build(Record.model_validate(record), Path())
    assert stops(home, "W1").said == ("all water in the house",)
    assert stops(home, "W2").said == ("Hall toilet",)
    assert isolate(home, "wc").ladder[-1].also_off_said == ("all water in the house",)


def test_the_utilitys_valve_stops_what_the_main_behind_it_stops() -> None:
    """Said alike of both, whichever thing is asked about and however little is recorded."""
    record = {
        "format": "1",
        "house": {"name": "Hardly recorded"},
        "water": {
            "valves": [
                {"id": "U1", "utility": "yes", "from": "street"},
                {"id": "W1", "main": "yes", "from": "U1"},
            ]
        },
        "heaters": [{"id": "WH", "cold": {"from": "W1"}}],
        "fixtures": [
            {"id": "wc", "name": "Hall toilet", "kind": "water closet", "cold": {"from": "W1"}}
        ],
    }
    home = build(Record.model_validate(record), Path())
    for asked in ("wc", "WH", "house"):
        rungs = isolate(home, asked).ladder
        assert [rung.close for rung in rungs] == [("W1",), ("U1",)]
        assert {rung.also_off_said for rung in rungs} == {("all water in the house",)}
    assert stops(home, "U1").said == stops(home, "W1").said
