"""What must not be used while drains are blocked, and what still may.

Everything whose waste passes a leg that can be blocked, and what runs in by itself: rinse water
of a softener, condensate. Where the record does not say which drain takes a thing's waste, it is
kept out of use, and said so. A machine drains with a pump or by its own program, and into a full
pipe as well: it stays out of use wherever its waste meets that of what backs up, though it seems
to run well.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from handbook.house.drains import DrainTree
from handbook.house.house import House
from handbook.house.items import Item
from handbook.record.entry import Entry
from handbook.record.grammar.common import given
from handbook.record.grammar.fixtures import Fixture
from handbook.tables import table


@dataclass(frozen=True)
class Use:
    """Ids in walking order; `assumed` says what is kept out of use for want of a fact."""

    do_not: tuple[str, ...]
    may: tuple[str, ...]
    assumed: tuple[str, ...]


def use(
    house: House,
    legs: Collection[str],
    signs: Collection[str],
    clear: Collection[str],
    astray: bool,
) -> Use:
    """Return what may be used and what not, with any of these legs blocked.

    `signs` are the legs that what backs up opens into, `clear` the fixtures that run well.

    `astray`: the stoppage may lie where the record leads nowhere; then nothing that drains may
    be used but what is known to run clear.
    """
    do_not: list[str] = []
    may: list[str] = []
    unsure: list[str] = []
    kept_off = {machine.id for machine in machines(house)}
    ways = {leg for sign in signs for leg in house.drains.downhill(sign)}
    for item in house.items.values():
        into = _enters(house, item.id)
        if into is None and not _has_water(item.entry):
            continue
        if into is None or (item.id in clear and item.id not in kept_off):
            may.append(item.id)
            continue
        passes = _passes(house.drains, into, ways if item.id in kept_off else legs)
        (do_not if passes is not False or astray else may).append(item.id)
        if passes is None:
            unsure.append(item.id)
    return Use(tuple(do_not), tuple(may), tuple(_unsure(name) for name in unsure))


def machines(house: House) -> Iterator[Item]:
    """Yield what lets its waste into the drains by a pump or by its own program."""
    kinds = table("drain_diagnosis").values["machines"]["kinds"]
    yield from (item for item in house.items.values() if item.kind in kinds)


def _enters(house: House, thing: str) -> str | None:
    """The leg that takes a thing's waste: empty where it is not recorded, None for no drain."""
    tree = house.drains
    if thing in tree.rims:
        return thing
    return (tree.runs_in[thing] or "") if thing in tree.runs_in else None


def _has_water(entry: Entry) -> bool:
    return isinstance(entry, Fixture) and bool(given(entry.cold) or given(entry.hot))


def _passes(tree: DrainTree, into: str, legs: Collection[str]) -> bool | None:
    """Whether waste that enters here passes one of these legs; None where nobody knows."""
    way = tree.downhill(into)
    if not way:
        return None
    if any(leg in way for leg in legs):
        return True
    ends = {tree.downhill(leg)[-1] for leg in legs}
    return False if way[-1] in ends or tree.ends_known(way[0]) else None


def _unsure(name: str) -> str:
    return f"Which drain takes the waste of {name} is not recorded; it is kept out of use."
