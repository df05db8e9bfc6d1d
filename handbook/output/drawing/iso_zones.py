"""How the sheet of an isometric drawing is shared out: a band for each level, the outdoors beside
the lowest, and where in its band each point would like to be, by its place on the plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from handbook.output.drawing.iso_body import Body
from handbook.output.drawing.iso_grid import COLUMN, ROW, Box, Spot
from handbook.output.drawing.iso_text import Label
from handbook.pages.riser.content import OUTDOORS, Riser, RiserMark

TITLE_ROOM = 20.0
"""Points at the foot of a zone for what its floor line says, where the gutter is not beside it."""

GUTTER = 56.0
"""Points left of the bands for what their floor lines say."""

EDGE = 5.0
LEAST_HIGH, LEAST_WIDE = 56.0, 72.0


@dataclass(frozen=True)
class Zone:
    """A part of the sheet. `side` is -1 or 1 for the outdoors left and right of the house."""

    level: str
    words: str
    box: Box
    side: int = 0
    beside: bool = False
    """Whether another zone stands beside it."""

    @property
    def inner(self) -> Box:
        """Where things may stand."""
        return Box(
            self.box.left + EDGE,
            self.box.top + EDGE,
            self.box.right - EDGE,
            self.box.bottom - (TITLE_ROOM if self.words and self.beside else EDGE),
        )

    @property
    def title(self) -> Label:
        """What its floor line says, on two lines: which level, how high."""
        name, _, height = self.words.partition(", ")
        return Label((name, height) if height else (name,))


@dataclass(frozen=True)
class Zones:
    """All zones, the one of each body, and the whole sheet."""

    zones: tuple[Zone, ...]
    of: tuple[int, ...]
    wide: float
    high: float
    narrow: Mapping[int, Box] = field(default_factory=dict)
    """The part of its zone in which a body stays, where that is not all of it."""

    def box(self, n: int) -> Box:
        """Return the part of the sheet of a body."""
        return self.narrow.get(n, self.zones[self.of[n]].box)

    def inner(self, n: int) -> Box:
        """Return where a body may stand."""
        return replace(self.zones[self.of[n]], box=self.box(n)).inner

    def level(self, level: str) -> tuple[Zone, ...]:
        """Return the zones of a level: two for the outdoors, if both sides hold something."""
        return tuple(zone for zone in self.zones if zone.level == level)


def zones(riser: Riser, bodies: Sequence[Body], wide: float, high: float) -> Zones:
    """Share out a sheet of this size by what the levels hold."""
    sides = _sides(bodies)
    inside = [level for level in riser.levels if level.id != OUTDOORS]
    outside = [level for level in riser.levels if level.id == OUTDOORS]
    needs = [_need(riser, bodies, level.id) for level in inside] or [1.0]
    outdoors = _need(riser, bodies, OUTDOORS) if outside else 0.0
    needs[-1] += outdoors
    heights = _heights(needs, high)
    made: list[Zone] = []
    top = 0.0
    for level, tall in zip(inside, heights, strict=False):
        made.append(Zone(level.id, level.words, Box(0, top, wide, top + tall)))
        top += tall
    lowest = made.pop() if made else Zone(OUTDOORS, "", Box(0, 0, wide, high))
    if outside:
        share: dict[int, float] = {
            s: _need(riser, [b for b, t in zip(bodies, sides, strict=True) if t == s], OUTDOORS)
            for s in (-1, 1)
            if s in sides
        }
        made += _row(lowest, outside[0].words, needs[-1] - outdoors, share)
    else:
        made.append(lowest)
    of = tuple(
        next(n for n, z in enumerate(made) if z.level == b.point.level and z.side == s)
        for b, s in zip(bodies, sides, strict=True)
    )
    high = max(zone.box.bottom for zone in made)
    return Zones(tuple(made), of, wide, high, _over_the_house(riser, bodies, made, of))


def _over_the_house(
    riser: Riser, bodies: Sequence[Body], made: Sequence[Zone], of: Sequence[int]
) -> dict[int, Box]:
    """Return narrower boxes for what stands on the lowest floor and leads to what lies under it:
    over the outdoors beside that, it would seem to stand outside. What is under a floor has no
    words of its own."""
    under = (zone.beside and not zone.side and not zone.words for zone in made)
    house = next((n for n, is_under in enumerate(under) if is_under), None)
    if house is None:
        return {}
    inside, number = made[house].box, {body.point.id: n for n, body in enumerate(bodies)}
    pairs = [(number[pipe.a], number[pipe.b]) for pipe in riser.pipes]
    leads = {a if of[b] == house else b for a, b in pairs if house in (of[a], of[b])}
    boxes = {n: made[of[n]].box for n in leads}
    return {
        n: Box(inside.left, box.top, inside.right, box.bottom)
        for n, box in sorted(boxes.items())
        if box.bottom == inside.top
    }


def _sides(bodies: Sequence[Body]) -> list[int]:
    """Return -1 or 1 for what stands outdoors: before or behind the middle of the house."""
    ups = [b.point.at[1] for b in bodies if b.point.at and b.point.level != OUTDOORS]
    middle = (min(ups) + max(ups)) / 2 if ups else 0.0
    return [
        0
        if b.point.level != OUTDOORS
        else (1 if ups and b.point.at and b.point.at[1] > middle else -1)
        for b in bodies
    ]


def _need(riser: Riser, bodies: Sequence[Body], level: str) -> float:
    """Return about how much of the sheet a level asks for."""
    area = 0.0
    here = {body.point.id for body in bodies if body.point.level == level}
    for body in bodies:
        if body.point.level == level:
            box = body.reach
            label = (body.label.wide * 10) if body.label else 0.0
            area += (box.right - box.left + 24) * (box.bottom - box.top + 24) + label + 500.0
    for pipe in riser.pipes:
        marks = [i for i in pipe.items if isinstance(i, RiserMark) and i.level == level]
        area += 1500.0 * len(marks) + 600.0 * ((pipe.a in here) + (pipe.b in here))
    return area


def _heights(needs: list[float], high: float) -> list[float]:
    """Share the height out: to each what it needs, to none less than the least."""
    flex = max(0.0, high - LEAST_HIGH * len(needs))
    whole = sum(needs) or 1.0
    tall = [LEAST_HIGH + flex * need / whole for need in needs]
    return [round(t / ROW) * ROW for t in tall]


def _row(lowest: Zone, words: str, inner: float, share: dict[int, float]) -> list[Zone]:
    """Return the zones of the lowest band from left to right."""
    box = lowest.box
    parts = [(-1, share.get(-1)), (0, inner), (1, share.get(1))]
    if lowest.level == OUTDOORS:
        parts = [part for part in parts if part[0]]
    present = [(side, need) for side, need in parts if need is not None]
    flex = max(0.0, box.right - box.left - LEAST_WIDE * len(present))
    whole = sum(need for _, need in present) or 1.0
    found, left = [], box.left
    for number, (side, need) in enumerate(present):
        right = left + LEAST_WIDE + flex * need / whole
        right = box.right if number == len(present) - 1 else round(right / COLUMN) * COLUMN
        zone = Box(left, box.top, right, box.bottom)
        found.append(
            Zone(
                OUTDOORS if side else lowest.level,
                words if side else lowest.words,
                zone,
                side,
                len(present) > 1,
            )
        )
        left = right
    return found


# --- where each point would like to be -----------------------------------------------------


def targets(riser: Riser, bodies: Sequence[Body], shared: Zones) -> list[Spot]:
    """Return for each body where in its zone it would like to be."""
    plans = _plans(riser, bodies)
    spots: list[Spot] = [(0.0, 0.0)] * len(bodies)
    for number in range(len(shared.zones)):
        here = [n for n, z in enumerate(shared.of) if z == number]
        across = _spread([plans[n][0] + plans[n][1] for n in here])
        down = _spread([plans[n][0] - plans[n][1] for n in here])
        for n, x, y in zip(here, across, down, strict=True):
            reach, inner = bodies[n].reach, shared.inner(n)
            left, right = inner.left - reach.left, inner.right - reach.right
            top, bottom = inner.top - reach.top, inner.bottom - reach.bottom
            spots[n] = (left + x * max(0, right - left), top + y * max(0, bottom - top))
    return spots


def _spread(values: list[float]) -> list[float]:
    """Return each value's share of the way from the least to the greatest, evened out: the mean
    of its measured share and of its rank."""
    if len(values) < 2:
        return [0.5] * len(values)
    low, high = min(values), max(values)
    order = sorted(range(len(values)), key=lambda n: (values[n], n))
    ranks = {n: rank / (len(values) - 1) for rank, n in enumerate(order)}
    return [
        0.3 * ((v - low) / (high - low) if high > low else ranks[n]) + 0.7 * ranks[n]
        for n, v in enumerate(values)
    ]


def _plans(riser: Riser, bodies: Sequence[Body]) -> list[Spot]:
    """Return each body's place on the plan; one not recorded lies among what it is joined to."""
    number = {body.point.id: n for n, body in enumerate(bodies)}
    plans: list[Spot | None] = [body.point.at for body in bodies]
    near: dict[int, list[int]] = {n: [] for n in range(len(bodies))}
    for pipe in riser.pipes:
        near[number[pipe.a]].append(number[pipe.b])
        near[number[pipe.b]].append(number[pipe.a])
    if all(plan is None for plan in plans):
        return [_counted(n, near) for n in range(len(bodies))]
    while any(plan is None for plan in plans):
        fresh: list[tuple[int, Spot]] = []
        for n, plan in enumerate(plans):
            known = [p for p in (plans[m] for m in near[n]) if p is not None]
            if plan is None and known:
                x, y = (sum(p[i] for p in known) / len(known) for i in (0, 1))
                fresh.append((n, (x + 0.5 + n % 7 / 7, y - 0.5 - n % 5 / 5)))
        if not fresh:
            fresh = [(n, (0.0, 0.0)) for n, plan in enumerate(plans) if plan is None]
        for n, spot in fresh:
            plans[n] = spot
    return [plan or (0.0, 0.0) for plan in plans]


def _counted(n: int, near: dict[int, list[int]]) -> Spot:
    """Return a place by the order of the record alone."""
    return float(n), float(n % 3 - len(near[n]))
