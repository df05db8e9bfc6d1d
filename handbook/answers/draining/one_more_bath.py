"""What a further full bath would put on the drains, wherever its toilet may run in.

For every stretch large enough for a water closet: the units there with one more toilet, lavatory
and tub or shower that stand in a room of their own, and which drain on the way down, itself
included, would then carry too much. Falls, vents and the room for pipe are another matter.
"""

from dataclasses import dataclass

from handbook.answers.draining.drain_units import units_of
from handbook.answers.draining.stretch_loads import StretchLoad, stretch_loads
from handbook.answers.draining.waste import Waste
from handbook.house.sizes import inches_of, trade_name
from handbook.measures import PipeSize
from handbook.record.grammar.common import Place
from handbook.record.grammar.fixtures import Fixture, FixtureKind
from handbook.tables import table

KINDS: tuple[FixtureKind, ...] = ("water closet", "lavatory", "tub and shower")


@dataclass(frozen=True)
class OneMoreBath:
    """A stretch that the bath may run into: units that it `adds`, then `carries`, and is `allowed`.

    `over` are the drains from here down that would carry too much, `unknown` those of which that
    cannot be told; `past` the backwater valves and ejectors on the way.
    """

    into: str
    size: PipeSize
    adds: int | None
    carries: int | None
    allowed: int | None
    over: tuple[str, ...]
    unknown: tuple[str, ...]
    past: tuple[str, ...]

    @property
    def fits(self) -> bool | None:
        """Whether every drain on the way down carries it; None where that cannot be told."""
        if self.over:
            return False
        return None if self.unknown else True


def one_more_bath(waste: Waste) -> tuple[OneMoreBath, ...]:
    """Return the answer for each stretch that may take a toilet, in the order of the record."""
    tree = waste.house.drains
    loads = {load.id: load for load in stretch_loads(waste)}
    carried = {name: _with_bath(waste, load) for name, load in loads.items()}
    verdicts = {name: _fits(load, carried[name]) for name, load in loads.items()}
    found = []
    for load in loads.values():
        if load.size is None or not _takes_a_toilet(load.size):
            continue
        way = [name for name in tree.downhill(load.id) if name in loads]
        before, after = load.load.most, carried[load.id]
        found.append(
            OneMoreBath(
                load.id,
                load.size,
                None if after is None or before is None else after - before,
                after,
                load.allowed,
                tuple(name for name in way if verdicts[name] is False),
                tuple(name for name in way if verdicts[name] is None),
                tuple(it.id for name in way for it in tree.equipment.get(name, ())),
            )
        )
    return tuple(found)


def _takes_a_toilet(size: PipeSize) -> bool:
    least: float = table("closet_drains").values["least_in"]
    return inches_of(trade_name(size)) >= least


def _with_bath(waste: Waste, load: StretchLoad) -> int | None:
    """Return the units of a stretch with the bath on it; None where its load is not known."""
    if load.load.most is None or load.load.least != load.load.most:
        return None
    return units_of((*waste.through(load.id), *_bath()), waste.code).most


def _bath() -> tuple[Fixture, ...]:
    """A bath of its own; its ids and its room are none that a record can have."""
    place = Place.model_construct(room="?one-more")
    return tuple(Fixture.model_construct(id=f"?{kind}", kind=kind, place=place) for kind in KINDS)


def _fits(load: StretchLoad, carries: int | None) -> bool | None:
    if load.allowed is None or carries is None:
        return None
    closets = load.closets_allowed
    return carries <= load.allowed and (closets is None or load.closets[1] < closets)
