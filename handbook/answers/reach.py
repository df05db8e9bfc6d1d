"""Reach: what a cable from each cleanout gets to, which way, how far, and through what pipe.

Stretches that a cable may or may not get into are `doubtful`, with the reason; the ones that no
cleanout surely reaches are listed by `unreached`. Where the record lacks a length, an answer is a
range, open above, and `missing` names the hole.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from handbook.answers.draining.cable_walk import Cable, Direction, Doubtful, Opening, Reached, walk
from handbook.answers.draining.cable_walk import quarter_bends as bends_of
from handbook.answers.not_asked import NoSuchThingError, no_thing
from handbook.house.drains import DrainTree, Leg
from handbook.house.house import House
from handbook.measures import Length, Units, say_length
from handbook.record.grammar.drains import Cleanout

PIPE_WALL_IN = 2
"""An opening that lies this little below the pipe's bottom is at the pipe, as it was taped."""


NO_RISER = Cable(0, 0)


@dataclass(frozen=True)
class Reach:
    """What one cleanout reaches, nearest first, each way for itself.

    `riser` is the pipe from the opening down to the stretch; it counts in every cable length.
    `missing` are the cleanout's own holes; those of the lines it reaches are `line_holes`.
    """

    cleanout: str
    reached: tuple[Reached, ...]
    doubtful: tuple[Doubtful, ...] = ()
    riser: Cable = NO_RISER
    assumed: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()


@dataclass(frozen=True)
class Unreached:
    """A stretch that no cable from a cleanout surely reaches from end to end.

    `part` is what is left out, in inches from its upper end: all of it where `whole`, None where
    some of it is reached and the record does not say how much.
    """

    stretch: str
    whole: bool
    part: tuple[float, float] | None = None


def reach(house: House, cleanout: str) -> Reach:
    """Return what a cable reaches from this cleanout. Raises NoSuchThingError."""
    tree = house.drains
    if cleanout not in tree.cleanouts:
        if cleanout not in house.items:
            raise no_thing(house, cleanout, tree.cleanouts)
        why = f"`{cleanout}` ({house.items[cleanout].name}) is no cleanout"
        raise NoSuchThingError(cleanout, None, why, "cleanouts stand under `drains: cleanouts`")
    return reach_of(tree, tree.cleanouts[cleanout])


def reaches(house: House) -> tuple[Reach, ...]:
    """Return what each cleanout reaches, in the record's order."""
    return tuple(reach_of(house.drains, each) for each in house.drains.cleanouts.values())


def reach_of(tree: DrainTree, cleanout: Cleanout) -> Reach:
    """Return what a cable reaches from this cleanout of the tree."""
    leg = tree.legs.get(cleanout.on or "")
    if leg is None:
        said = f"Which stretch {cleanout.id} opens into is not recorded (`on`)."
        return Reach(cleanout.id, (), missing=(said,))
    ways, assumed = _facing(cleanout)
    at, missing = _stands(cleanout, leg)
    riser, more = _riser(tree, cleanout, leg, at)
    opening = Opening(leg, at, riser, cleanout.size)
    steps = [step for way in ways for step in walk(tree, opening, way)]
    reached = tuple(step for step in steps if isinstance(step, Reached))
    doubtful = tuple(step for step in steps if isinstance(step, Doubtful))
    if cleanout.size is None:
        missing += (f"The size of {cleanout.id} is not recorded.",)
    return Reach(cleanout.id, reached, doubtful, riser, (*assumed, *more), missing)


def unreached(house: House) -> tuple[Unreached, ...]:
    """Return the stretches that no cleanout surely reaches whole, in the record's order."""
    found = [step for each in reaches(house) for step in each.reached]
    legs = [leg for leg in house.drains.legs.values() if not leg.own]
    gaps = [_gap(leg, [step for step in found if step.stretch == leg.id]) for leg in legs]
    return tuple(gap for gap in gaps if gap)


def part_words(gap: Unreached, units: Units) -> str:
    """Return which part of a stretch is left out: `its upper 16 ft`; empty for all of it."""
    if gap.whole:
        return ""
    if gap.part is None:
        return "some of it; how much is not recorded"
    start, end = (say_length(Length(inches), units) for inches in gap.part)
    return f"from {start} to {end} down" if gap.part[0] else f"its upper {end}"


def _gap(leg: Leg, found: list[Reached]) -> Unreached | None:
    """Return the part between what is reached from above and what is reached from below."""
    if not found:
        return Unreached(leg.id, whole=True)
    if any(step.whole for step in found):
        return None
    length = leg.length.inches if leg.length else None
    starts = [step.at for step in found if step.direction == "downstream"] or [length]
    ends = [step.at for step in found if step.direction == "upstream"] or [0.0]
    if None in starts or None in ends:
        return Unreached(leg.id, whole=False)
    start = min(s for s in starts if s is not None)
    end = max(e for e in ends if e is not None)
    return Unreached(leg.id, whole=False, part=(end, start)) if end < start else None


def _facing(cleanout: Cleanout) -> tuple[tuple[Direction, ...], tuple[str, ...]]:
    if cleanout.facing == "both ways" or (cleanout.facing is None and cleanout.kind == "two-way"):
        return ("downstream", "upstream"), ()
    if cleanout.facing == "upstream":
        return ("upstream",), ()
    if cleanout.facing == "downstream":
        return ("downstream",), ()
    said = f"Which way {cleanout.id} faces is not recorded; it is taken to open in the direction "
    return ("downstream",), (said + "of flow, as IRC P3005.2.8 asks.",)


def _stands(cleanout: Cleanout, leg: Leg) -> tuple[Cable, tuple[str, ...]]:
    """How far down its stretch it stands, and what is missing or wrong about that."""
    length = leg.length.inches if leg.length else None
    if cleanout.along is not None:
        at = cleanout.along.inches
        if length is not None and at > length:
            said = (
                f"{cleanout.id} stands farther down {leg.id} than {leg.id} is long; one is wrong."
            )
            return Cable(length, length), (said,)
        return Cable(at, at), ()
    if cleanout.kind == "end of line":
        return Cable(0, 0), ()  # by what it is
    said = f"How far down {leg.id} the cleanout {cleanout.id} stands is not recorded (`along`)."
    return Cable(0, length), (said,)


def _riser(
    tree: DrainTree, cleanout: Cleanout, leg: Leg, at: Cable
) -> tuple[Cable, tuple[str, ...]]:
    """The pipe between the opening and the stretch, by their elevations; none assumed unsaid."""
    opening = tree.openings[cleanout.id]
    invert = leg.invert_at(at.exact) if at.exact is not None else None
    if opening is None or invert is None:
        said = f"How high {cleanout.id} opens above {leg.id} is not recorded; "
        return NO_RISER, (said + "its cable lengths are counted from the pipe.",)
    riser = opening.inches - invert.inches
    if riser < -PIPE_WALL_IN:
        said = f"{cleanout.id} is recorded lower than {leg.id}, which it opens into; one is wrong, "
        return NO_RISER, (said + "and its cable lengths are counted from the pipe.",)
    return Cable(max(riser, 0), max(riser, 0)), ()


def line_holes(tree: DrainTree, stretches: Iterable[str]) -> tuple[str, ...]:
    """Say which of these stretches lack a length, a size, or a count of their bends."""
    legs = [tree.legs[name] for name in dict.fromkeys(stretches)]
    holes = []
    for what, lacking in (
        ("length", [leg.id for leg in legs if leg.length is None]),
        ("size", [leg.id for leg in legs if leg.size is None]),
    ):
        if lacking:
            holes.append(f"The {what} of {', '.join(lacking)} is not recorded.")
    bends = [leg.id for leg in legs if bends_of(leg) is None]
    if bends:
        holes.append(f"How many quarter bends there are in {', '.join(bends)} is not recorded.")
    return tuple(holes)
