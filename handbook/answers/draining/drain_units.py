"""How many drainage fixture units a set of fixtures puts on a drain, by the code of the house.

The unit is a number without dimension that the codes' own tables add up. A group of fixtures that
stand together (a bath, a kitchen, a laundry) counts less than its members where the code says so.
The three codes' tables are kept apart: a load of one is never held against a capacity of another.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Literal

from handbook.house.house import House
from handbook.record.grammar.fixtures import Fixture
from handbook.tables import Table, table

CodeName = Literal["IRC", "IPC", "UPC"]

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
    apart = _pools(known)
    most = _together(apart, rows)
    roomless = any(fixture.place is None or fixture.place.room is None for fixture in known)
    least = _together([Counter(f.kind for f in known)], rows) if roomless else most
    return Units(min(least, most), most if len(known) == len(listed) else None)


def _pools(fixtures: Iterable[Fixture]) -> list[Counter[str]]:
    """Count the kinds in each room; a fixture without a room is in one of its own."""
    pools: dict[str, Counter[str]] = {}
    for fixture in fixtures:
        room = fixture.place.room if fixture.place else None
        pools.setdefault(room or f"?{fixture.id}", Counter())[fixture.kind] += 1
    return list(pools.values())


def _together(pools: list[Counter[str]], rows: Any) -> int:
    """Add up several rooms: their groups, then what is left over of each."""
    full = half = total = 0
    for pool in pools:
        here, left = _groups(pool, rows)
        full, half = full + here["full_bath"], half + here["half_bath"]
        total += here["kitchen"] * rows["groups"].get("kitchen", 0)
        total += here["laundry"] * rows["groups"].get("laundry", 0)
        total += sum(rows["fixtures"][kind] * count for kind, count in left.items())
    return total + _baths(full, half, rows)


def _groups(pool: Counter[str], rows: Any) -> tuple[Counter[str], Counter[str]]:
    """Take the groups that the code has out of a room; return them and what is left over."""
    left, found = Counter(pool), Counter[str]()
    bathing = ("bathtub", "tub and shower", "shower")
    while "full_bath" in rows["groups"] and _take(left, ("water closet", "lavatory"), bathing):
        found["full_bath"] += 1
        _take_if_there(left, ("bidet",))
        if rows["tub_and_shower_in_one"]:
            _take_if_there(left, bathing[2:])
    while "half_bath" in rows["groups"] and _take(left, ("water closet", "lavatory")):
        found["half_bath"] += 1
    while "kitchen" in rows["groups"] and _take(left, ("kitchen sink", "dishwasher")):
        found["kitchen"] += 1
    while "laundry" in rows["groups"] and _take(left, ("laundry box", "laundry tub")):
        found["laundry"] += 1
    return found, left


def _take(left: Counter[str], each: tuple[str, ...], one_of: tuple[str, ...] = ()) -> bool:
    """Take one of each kind, and one of `one_of`, if all are there."""
    chosen = next((kind for kind in one_of if left[kind]), None)
    if not all(left[kind] for kind in each) or (one_of and chosen is None):
        return False
    left.subtract(each if chosen is None else (*each, chosen))
    return True


def _take_if_there(left: Counter[str], kinds: tuple[str, ...]) -> None:
    for kind in kinds:
        if left[kind]:
            left[kind] -= 1


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
