"""How many drainage fixture units a set of fixtures puts on a drain, by the code of the house.

The unit is a number without dimension that the codes' own tables add up. A group of fixtures that
stand together (a bath, a kitchen, a laundry) counts less than its members where the code says so.
The three codes' tables are kept apart: a load of one is never held against a capacity of another.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Literal

from handbook.house.house import House
from handbook.record.grammar.fixtures import Fixture
from handbook.tables import Table, table

CodeName = Literal["IRC", "IPC", "UPC"]
Group = tuple[str | None, tuple[str, ...]]
"""A group's kind, None for a fixture by itself, and its fixtures by id."""
BATHS = ("full_bath", "half_bath")

_WORDS: tuple[tuple[CodeName, tuple[str, ...]], ...] = (
    ("UPC", ("uniform plumbing", "upc")),
    ("IRC", ("residential", "irc")),
    ("IPC", ("international plumbing", "ipc")),
)
"""A named plumbing code of another family goes before the residential code, and that before the
IPC, which leaves one- and two-family houses to it."""


@dataclass(frozen=True)
class Code:
    """The code whose tables a house is held against. `edition` is the record's; None: assumed."""

    name: CodeName
    edition: str | None = None

    @property
    def units(self) -> Table:
        """Its table of fixture units."""
        return table(f"drain_units_{self.name.lower()}")

    @property
    def upc(self) -> bool:
        """Whether its capacities are those of the UPC rather than of the ICC's two codes."""
        return self.name == "UPC"


def code_of(house: House) -> Code:
    """Return the first plumbing code that the record names; the IRC where it names none."""
    books = house.record.house.codes or ()
    for name, words in _WORDS:
        for book in books:
            if any(word in book.name.lower() for word in words):
                return Code(name, book.edition)
    return Code("IRC")


@dataclass(frozen=True)
class Units:
    """A load: at least so much, and at most; `most` is None where a fixture is in no table."""

    least: int
    most: int | None


def units_of(fixtures: Iterable[Fixture], code: Code) -> Units:
    """Return the load of these fixtures together.

    A fixture whose room is not recorded may or may not belong to a group; then `least` counts it
    into the best one, and `most` by itself.
    """
    rows, listed = code.units.values, tuple(fixtures)
    known = [fixture for fixture in listed if fixture.kind in rows["fixtures"]]
    most = _sum(_together(_pools(known), rows))
    roomless = any(fixture.place is None or fixture.place.room is None for fixture in known)
    least = _sum(_together([known], rows)) if roomless else most
    return Units(min(least, most), most if len(known) == len(listed) else None)


@dataclass(frozen=True)
class Addend:
    """What counts together, by its `groups`, and how much: all baths at once, or one other group,
    or one fixture by itself."""

    groups: tuple[Group, ...]
    units: int


def addends(fixtures: Iterable[Fixture], code: Code) -> tuple[Addend, ...]:
    """Return what the load of these fixtures is the sum of, each room taken as it is recorded."""
    rows = code.units.values
    known = [fixture for fixture in fixtures if fixture.kind in rows["fixtures"]]
    return tuple(_together(_pools(known), rows))


def _sum(parts: Iterable[Addend]) -> int:
    return sum(part.units for part in parts)


def _pools(fixtures: Iterable[Fixture]) -> list[list[Fixture]]:
    """Gather the fixtures of each room; one without a room is in a room of its own."""
    pools: dict[str, list[Fixture]] = {}
    for fixture in fixtures:
        room = fixture.place.room if fixture.place else None
        pools.setdefault(room or f"?{fixture.id}", []).append(fixture)
    return list(pools.values())


def _together(pools: list[list[Fixture]], rows: Any) -> Iterator[Addend]:
    """Yield what several rooms add up from: their baths, other groups, and what is left over."""
    found: list[Group] = []
    single: list[Fixture] = []
    for pool in pools:
        left = list(pool)
        found += _groups(left, rows)
        single += left
    baths = tuple(group for kind in BATHS for group in found if group[0] == kind)
    if baths:
        full, half = (sum(group[0] == kind for group in baths) for kind in BATHS)
        yield Addend(baths, _baths(full, half, rows))
    for group in found:
        if group not in baths:
            yield Addend((group,), rows["groups"][group[0]])
    for fixture in single:
        yield Addend(((None, (fixture.id,)),), rows["fixtures"][fixture.kind])


def _groups(left: list[Fixture], rows: Any) -> Iterator[Group]:
    """Take the groups that the code has out of a room; what is left over stays in `left`."""
    bathing = ("bathtub", "tub and shower", "shower")
    known = rows["groups"]
    while "full_bath" in known and (taken := _take(left, ("water closet", "lavatory"), bathing)):
        taken += _take(left, ("bidet",))
        if rows["tub_and_shower_in_one"]:
            taken += _take(left, bathing[2:])
        yield "full_bath", taken
    for kind, members in (
        ("half_bath", ("water closet", "lavatory")),
        ("kitchen", ("kitchen sink", "dishwasher")),
        ("laundry", ("laundry box", "laundry tub")),
    ):
        while kind in known and (taken := _take(left, members)):
            yield kind, taken


def _take(
    left: list[Fixture], each: tuple[str, ...], one_of: tuple[str, ...] = ()
) -> tuple[str, ...]:
    """Take one of each kind, and one of `one_of`, if all are there; return their ids."""
    there: dict[str, Fixture] = {fixture.kind: fixture for fixture in reversed(left)}
    chosen = next((kind for kind in one_of if kind in there), None)
    if not all(kind in there for kind in each) or (one_of and chosen is None):
        return ()
    taken = [there[kind] for kind in (each if chosen is None else (*each, chosen))]
    for fixture in taken:
        left.remove(fixture)
    return tuple(fixture.id for fixture in taken)


def _baths(full: int, half: int, rows: Any) -> int:
    """Return the units of so many baths; past the table's largest row, of several groups."""
    if not full and not half:
        return 0
    printed = [(f, h, units) for f, h, units in rows["baths"] if f <= full and h <= half]
    if printed:
        f, h, units = max(printed)
        return int(units) + _baths(full - f, half - h, rows)
    groups = rows["groups"]
    return int(full * groups.get("full_bath", 0) + half * groups.get("half_bath", 0))
