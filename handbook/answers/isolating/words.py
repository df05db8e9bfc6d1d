"""What is lost, as people say it: "hot water in the upper level", "all water in the hall bath".

The supplies that are off are gathered from the largest place that is wholly off down to the
single tap, so that a step that dries a whole level says so in one breath.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from handbook.house.house import House
from handbook.record.entry import Entry
from handbook.record.grammar.fixtures import Fixture
from handbook.tables import table

HOUSE = "in the house"


@dataclass(frozen=True)
class _Tap:
    """A supply with what is needed to speak of it."""

    id: str
    owner: str
    name: str
    side: str
    """`cold` or `hot`; `` for what has one supply only, such as the irrigation."""
    room: str | None
    level: str | None
    is_hole: bool = False
    """Not recorded, though fixtures of its kind have one: it may run on."""


def said_lost(
    house: House,
    off: frozenset[str],
    untold: frozenset[str] = frozenset(),
    *,
    heaters_dry: bool = True,
    closed: Iterable[str] = (),
) -> tuple[str, ...]:
    """Say the supplies in `off`, largest place first; nothing is said of `untold` alone.

    Where a heater still gets water (`heaters_dry` is not so), no valve is said to stop the cold
    water of the house, though it stops all of it that is recorded. Nor is a place said to lose all
    its water, or all its hot, while a fixture in it may have a supply that is not recorded; but
    where the heaters run dry with all that is recorded, the house is.
    A main among the `closed`, or what leaves no water at any main, stops all water of the house,
    however little of it is recorded.
    `untold` are the thing's own supplies: they help to make a place whole ("all water in the hall
    bath") but are not worth a line of their own.
    """
    taps = _taps(house)
    if heaters_dry and _closes_a_main(house, {*closed}) and _all_off(taps, off):
        return (f"all water {HOUSE}",)
    said: list[str] = []
    left = set(off)
    for group, words in _places(taps):
        for side, what in (("", "all water"), ("hot", "all hot water"), ("cold", "all cold water")):
            if words == HOUSE and side != "hot" and not heaters_dry:
                continue
            sided = [tap for tap in group if tap.side and side in ("", tap.side)]
            members = {tap.id for tap in sided if not tap.is_hole}
            holes = [tap for tap in sided if tap.is_hole]
            whole = not holes or (words == HOUSE and not side)
            telling = members & left - untold
            if len(members) > 1 and members <= off and telling and whole:
                said.append(f"{what} {words}".strip())
                left -= members | {tap.id for tap in group if not tap.side}
    for owner in dict.fromkeys(tap.owner for tap in taps):
        mine = [tap for tap in taps if tap.owner == owner and tap.id in left - untold]
        if mine:
            said.append(_one(mine, [tap for tap in taps if tap.owner == owner]))
    return tuple(said)


def _closes_a_main(house: House, closed: set[str]) -> bool:
    """Whether a main is closed, or all of them are dry behind what is: the utility's valve."""
    network, mains = house.water.network, {*house.water.mains}
    if not closed or not mains:
        return False
    return bool(closed & mains) or not mains & network.downstream(network.sources, closed)


def _all_off(taps: tuple[_Tap, ...], off: frozenset[str]) -> bool:
    return all(tap.id in off for tap in taps if not tap.is_hole)


def _one(off: list[_Tap], every: list[_Tap]) -> str:
    """Say what one fixture loses: `hot water to the sink`, or only its name for all it has."""
    name = off[0].name
    if len(off) == len(every):
        return name
    return f"{off[0].side} water to: {name}"


def _taps(house: House) -> tuple[_Tap, ...]:
    taps = []
    for owner, supplies in house.water.own.items():
        item = house.items[owner]
        level = house.places.level_name(item.place)
        room = house.places.room_name(item.place)
        for supply in supplies:
            side = supply.removeprefix(owner).lstrip(".")
            taps.append(_Tap(supply, owner, item.name, side, room, level))
        for side in _holes(item.entry):
            taps.append(_Tap(f"{owner}.{side}", owner, item.name, side, room, level, True))
    return tuple(taps)


def _holes(entry: Entry) -> Iterator[str]:
    """Yield the sides that a fixture of this kind has, and that are not recorded."""
    if isinstance(entry, Fixture):
        usual = table("fixture_connections").values[entry.kind]
        yield from (
            side for side in ("cold", "hot") if side in usual and getattr(entry, side) is None
        )


def _places(taps: tuple[_Tap, ...]) -> Iterable[tuple[list[_Tap], str]]:
    """Yield the house, each level and each room with its taps and how it is said."""
    yield list(taps), HOUSE
    for level in _each(taps, lambda tap: tap.level):
        yield [tap for tap in taps if tap.level == level], _in(level, "level")
    for room in _each(taps, lambda tap: tap.room):
        yield [tap for tap in taps if tap.room == room], _in(room, "room")


def _each(taps: tuple[_Tap, ...], key: Callable[[_Tap], str | None]) -> list[str]:
    return [word for word in dict.fromkeys(key(tap) for tap in taps) if word]


def _in(place: str, what: str) -> str:
    if place == "outside":
        return "outside"
    return f"{'on' if what == 'level' else 'in'} the {place}"
