"""One honest sentence a bathroom: what its shower, tub or sink loses when something else runs.

Each other indoor fixture is opened beside it in turn; the one that takes most is named, with what
it takes as people say fractions.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from handbook.answers.flowing.flow_case import CAUTIOUS, KIND, Case, pipework
from handbook.answers.flowing.solutions import outlets_of
from handbook.house.house import House
from handbook.house.items import Item

_LOOKED_AT = {"shower": "shower", "tub and shower": "tub", "bathtub": "tub", "lavatory": "sink"}
"""What is asked about in a bathroom, the first kind that it has, and its plain word."""

_RUNNING = {
    "laundry box": "the washer filling",
    "water closet": "the toilet{} filling",
    "kitchen sink": "the sink{} running",
    "bar sink": "the sink{} running",
    "lavatory": "the sink{} running",
    "bathtub": "the tub{} filling",
    "tub and shower": "the tub{} filling",
    "shower": "the shower{} running",
    "bidet": "the bidet{} running",
    "laundry tub": "the laundry tub running",
    "dishwasher": "the dishwasher filling",
}
_FRACTIONS = (
    (1 / 20, "a twentieth"),
    (1 / 10, "a tenth"),
    (1 / 6, "a sixth"),
    (1 / 5, "a fifth"),
    (1 / 4, "a quarter"),
    (1 / 3, "a third"),
    (1 / 2, "half"),
    (2 / 3, "two thirds"),
    (3 / 4, "three quarters"),
    (9 / 10, "nearly all"),
)
_NOT_NOTICED = 0.03


@dataclass(frozen=True)
class Bathroom:
    """`loses` is the share of its flow that `fixture` loses while `other` runs, 0 to 1.

    `kind_loses` is the smaller share by the kind assumptions. `other` is None where nothing that
    runs takes a noticeable share.
    """

    room: str
    fixture: str
    other: str | None
    flow_gpm: float
    loses: float
    kind_loses: float
    sentence: str


def bathrooms(house: House) -> tuple[Bathroom, ...]:
    """Return each room with a lavatory, tub or shower whose flow can be told."""
    rooms = dict.fromkeys(
        item.place.room
        for item in _indoors(house)
        if item.kind in _LOOKED_AT and item.place and item.place.room
    )
    return tuple(found for room in rooms if room and (found := bathroom(house, room)))


def _indoors(house: House) -> list[Item]:
    return [house.items[o] for o in house.water.own if house.items[o].kind in _RUNNING]


def bathroom(house: House, room: str) -> Bathroom | None:
    """Return one room's; None where it has no such fixture, or its flow cannot be told."""
    if house.hydraulics.gauge is None:
        return None
    inside = [item for item in _indoors(house) if item.place and item.place.room == room]
    looked_at = (i for kind in _LOOKED_AT for i in inside if i.kind == kind)
    target = next(looked_at, None)
    alone = _flow(house, target.id, (), CAUTIOUS) if target else None
    if target is None or not alone:
        return None
    shares = dict(_shares(house, target.id, alone))
    other = max(shares, key=lambda each: shares[each], default=None)
    loses = shares[other] if other else 0.0
    if other is None or loses < _NOT_NOTICED:
        word = _LOOKED_AT[target.kind]
        said = f"Nothing else that runs indoors takes noticeable flow from this {word}."
        return Bathroom(room, target.id, None, alone, loses, loses, said)
    kind = _share(house, target.id, other, KIND)
    return Bathroom(
        room, target.id, other, alone, loses, kind, _said(house, target, other, loses, kind)
    )


def _shares(house: House, target: str, alone: float) -> Iterator[tuple[str, float]]:
    for item in _indoors(house):
        if item.id != target:
            flow = _flow(house, target, (item.id,), CAUTIOUS)
            if flow is not None:
                yield item.id, 1 - flow / alone


def _share(house: House, target: str, other: str, case: Case) -> float:
    alone, beside = (_flow(house, target, others, case) for others in ((), (other,)))
    return 1 - beside / alone if alone and beside is not None else 0.0


def _flow(house: House, target: str, others: Sequence[str], case: Case) -> float | None:
    """Return the flow of a fixture with others wide open; None where water cannot reach it."""
    solved = pipework(house.hydraulics, case).solved(outlets_of(house, (target, *others)))
    supplies = house.water.own[target]
    if any(supply not in solved.flows for supply in supplies):
        return None
    return sum(solved.flows[supply] for supply in supplies)


def _said(house: House, target: Item, other: str, loses: float, kind: float) -> str:
    word, beside = _LOOKED_AT[target.kind], house.items[other]
    most, least = fraction(loses), fraction(kind)
    share = f"about {most}" if most == least else f"between {least} and {most}"
    running = _RUNNING[beside.kind].format(_where(house, target, beside))
    return f"With {running}, this {word} loses {share} of its flow."


def _where(house: House, target: Item, beside: Item) -> str:
    room = beside.place.room if beside.place else None
    if target.place and room == target.place.room:
        return " beside it"
    name = house.places.room_name(beside.place)
    return f" in the {name}" if name else ""


def fraction(share: float) -> str:
    """Return a share as people say it: `a quarter`."""
    return min(_FRACTIONS, key=lambda each: abs(each[0] - share))[1]
