"""What signs say about the drains: which legs can be blocked, and where waste then comes up.

A leg can be blocked if everything that backs up drains through it and nothing that runs clear
does. Those legs always lie one below the other. A blocked leg backs up everything above it; the
waste is seen first at the lowest drain opening that it can get to, runs over first at the lowest
rim, and no backwater valve or ejector lets it past from below. A cleanout is a sign too: waste
standing in it, or none.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from handbook.house.drains import DrainTree, Rim


@dataclass(frozen=True)
class Overflow:
    """Where waste runs over, or shows, first: `first`, or None where the record cannot tell.

    `candidates` are the fixtures it can be, in walking order; several only where rims are equal
    or not recorded. `held` are the wet fixtures that a valve keeps it from, by valve.
    """

    first: str | None
    candidates: tuple[str, ...]
    held: dict[str, tuple[str, ...]]
    missing: tuple[str, ...] = ()


def possible(tree: DrainTree, backs_up: Collection[str], clear: Collection[str]) -> tuple[str, ...]:
    """Return the legs that explain every sign, from the uppermost down; none where none does.

    Signs are fixtures and cleanouts. One whose drain is not recorded says nothing.
    """
    signs = [sign for sign in backs_up if tree.downhill(enters(tree, sign))]
    if not signs:
        return ()
    return tuple(
        leg
        for leg in tree.downhill(enters(tree, signs[0]))
        if all(_can_hold(tree, leg, sign) for sign in signs)
        and not any(_must_hold(tree, leg, sign) for sign in clear)
    )


def enters(tree: DrainTree, sign: str) -> str:
    """Return the leg that a fixture or a cleanout opens into; empty where it is not recorded."""
    if sign in tree.cleanouts:
        return tree.cleanouts[sign].on or ""
    return sign


def _can_hold(tree: DrainTree, leg: str, sign: str) -> bool:
    """Whether this leg, blocked, can keep the sign's waste from going."""
    if leg not in tree.downhill(enters(tree, sign)):
        return False
    at, length = _along(tree, sign), tree.legs[leg].length
    at_its_end = at is not None and length is not None and at >= length.inches
    return leg != enters(tree, sign) or sign not in tree.cleanouts or not at_its_end


def _must_hold(tree: DrainTree, leg: str, sign: str) -> bool:
    """Whether this leg, blocked anywhere, keeps the sign's waste from going."""
    if leg not in tree.downhill(enters(tree, sign)):
        return False
    # A block in a cleanout's own stretch can be above it, unless it stands at the upper end.
    return leg != enters(tree, sign) or sign not in tree.cleanouts or _along(tree, sign) == 0


def _along(tree: DrainTree, sign: str) -> float | None:
    cleanout = tree.cleanouts.get(sign)
    if cleanout is None or cleanout.along is None:
        return 0 if cleanout and cleanout.kind == "end of line" else None
    return cleanout.along.inches


# --- where it comes up ----------------------------------------------------------------------------


def overflow(tree: DrainTree, legs: Collection[str]) -> Overflow:
    """Return where waste runs over first, at a rim, if any one of these legs is blocked."""
    return _comes_up(tree, legs, tree.rims)


def shows(tree: DrainTree, legs: Collection[str]) -> Overflow:
    """Return where it is seen first, at a drain's opening, if any one of these legs is blocked."""
    return _comes_up(tree, legs, {name: rim.opening for name, rim in tree.rims.items()})


def _comes_up(tree: DrainTree, legs: Collection[str], heights: dict[str, Rim]) -> Overflow:
    wet: dict[str, None] = {}
    held: dict[str, tuple[str, ...]] = {}
    for leg in legs:
        open_to = [f for f in tree.through(leg) if not holders(tree, f, leg)]
        wet |= dict.fromkeys(open_to or tree.through(leg))
        for fixture in tree.through(leg):
            for valve in holders(tree, fixture, leg) if open_to else ():
                others = [f for f in held.get(valve, ()) if f != fixture]
                held[valve] = tuple(f for f in tree.rims if f in (*others, fixture))
    reached = [fixture for fixture in tree.rims if fixture in wet]
    reached = _open(tree, reached)
    held = {valve: kept for valve, kept in held.items() if not set(kept) & set(reached)}
    return _lowest(heights, reached, held)


def lowest_held(tree: DrainTree, fixtures: Collection[str]) -> str | None:
    """Return where of these it shows first, where that is known: if their valve fails."""
    openings = {name: rim.opening for name, rim in tree.rims.items()}
    return _lowest(openings, _open(tree, fixtures), {}).first


def lowest_rim(tree: DrainTree, fixtures: Collection[str]) -> str | None:
    """Return the lowest rim of these, where it is known."""
    return _lowest(tree.rims, _open(tree, fixtures), {}).first


def _open(tree: DrainTree, fixtures: Collection[str]) -> list[str]:
    """Return those at which waste can come up; all of them where it can at none."""
    return [fixture for fixture in fixtures if fixture not in tree.closed] or list(fixtures)


def holders(tree: DrainTree, fixture: str, leg: str) -> tuple[str, ...]:
    """Return what stands between a fixture and a leg and lets nothing come back up."""
    way = tree.downhill(fixture)
    above = way[: way.index(leg)]
    return tuple(it.id for name in above for it in tree.equipment.get(name, ()))


def _lowest(
    heights: dict[str, Rim], reached: list[str], held: dict[str, tuple[str, ...]]
) -> Overflow:
    rims = {fixture: heights[fixture] for fixture in reached}
    left = tuple(
        fixture
        for fixture, rim in rims.items()
        if not any(_surely_below(other, rim) for o, other in rims.items() if o != fixture)
    )
    level = {rims[fixture].elevation for fixture in left}
    sure = len(left) == 1 or (len(level) == 1 and None not in level)
    missing = () if sure else tuple(_lacks(rims, left))
    return Overflow(left[0] if left and sure else None, left, held, missing)


def _surely_below(low: Rim, high: Rim) -> bool:
    """Whether one rim is lower than another; an unknown rim is above its own floor."""
    if low.above is None:
        return False
    if low.floor is not None and high.floor is not None:
        low_at, high_floor = low.floor.inches + low.above.inches, high.floor.inches
    elif low.level is not None and low.level == high.level:
        low_at, high_floor = low.above.inches, 0.0
    else:
        return False
    if high.above is None:
        return low_at <= high_floor
    return low_at < high_floor + high.above.inches


def _lacks(rims: dict[str, Rim], fixtures: tuple[str, ...]) -> Iterator[str]:
    """Say which facts keep the lowest rim from being told."""
    rimless = [f for f in fixtures if rims[f].above is None]
    placeless = [f for f in fixtures if rims[f].level is None]
    levels = {rims[f].level: None for f in fixtures if rims[f].level and rims[f].floor is None}
    if rimless:
        yield f"How high the rim of {', '.join(rimless)} is above its floor is not recorded."
    if placeless:
        yield f"Which level {', '.join(placeless)} stands on is not recorded."
    if levels:
        yield f"The elevation of the level {', '.join(map(str, levels))} is not recorded."
