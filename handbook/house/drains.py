"""The drains of a house as a tree: every fixture's own trap and arm, and every stretch, downhill.

A *leg* is what can be blocked on its own: a stretch of drain, or a fixture's own trap and trap
arm, which goes by the fixture's id; so does the hose of one that runs into another fixture's trap.
Legs lead down to the discharge; each joins the next at its upper end. Backwater valves and
ejectors stand in their legs and let nothing come back up.

Elevations are inches from the main floor: a rim is its level's elevation and the fixture's own
rim height. What is not recorded stays None; a leg whose `to` is None leads nobody knows where.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import cached_property

from handbook.house.places import Places
from handbook.measures import Length, PipeSize
from handbook.record.fields import Absent
from handbook.record.grammar.common import DrainRun, Ending, Place, each, given
from handbook.record.grammar.drains import Cleanout, DrainEquipment, Drains, Stretch
from handbook.record.grammar.fixtures import DrainConnection, Fixture
from handbook.record.grammar.places import OUTSIDE
from handbook.record.grammar.record import Record
from handbook.record.grammar.safeguards import Pan, Safeguards
from handbook.record.grammar.water import Water
from handbook.tables import table

ARM = "trap and arm"
HOSE = "drain hose"
FLOOR_DRAIN = "floor drain"
BACKWATER = "backwater valve"
EJECTOR = "sewage ejector"
INTO_DRAINS = ("floor drain", "laundry tub", "standpipe", "pan")


@dataclass(frozen=True)
class Leg:
    """One piece of drain. `kind` is a stretch's, ARM or HOSE for a fixture's own, None if not
    recorded."""

    id: str
    to: str | None
    kind: str | None
    run: DrainRun | None = None
    top: Length | None = None
    """Elevation of its inside bottom at the upper end."""
    bottom: Length | None = None
    """The same at its lower end: where the next one begins, or by its own fall."""

    @property
    def own(self) -> bool:
        """Whether it is a fixture's own: its trap and arm, or its hose."""
        return self.kind in (ARM, HOSE)

    @property
    def length(self) -> Length | None:
        """Its developed length."""
        return self.run.length if self.run else None

    @property
    def size(self) -> PipeSize | None:
        """Its nominal size."""
        return self.run.size if self.run else None

    def invert_at(self, along: float) -> Length | None:
        """Return its inside bottom `along` inches from its upper end, where that is known."""
        if self.top is None or not along:
            return self.top
        if self.bottom is None or not self.length or not self.length.inches:
            return None
        fall = self.top.inches - self.bottom.inches
        return Length(self.top.inches - fall * along / self.length.inches)


@dataclass(frozen=True)
class Rim:
    """Where a fixture overflows: its level, that level's elevation, and its height above it.

    `shows` is where what backs up is first seen: the height of its drain's opening, above the same
    floor (`tables/drain_openings`).
    """

    level: str | None
    floor: Length | None
    above: Length | None
    shows: Length | None = None

    @property
    def opening(self) -> "Rim":
        """The same for its drain's opening."""
        return Rim(self.level, self.floor, self.shows, self.shows)

    @property
    def elevation(self) -> Length | None:
        """The flood rim from the main floor; None where a part of it is not recorded."""
        if self.floor is None or self.above is None:
            return None
        return Length(self.floor.inches + self.above.inches)


@dataclass(frozen=True)
class DrainTree:
    """The legs by id, fixtures' own first, and what stands in them and runs into them."""

    legs: dict[str, Leg]
    discharge: str | None
    rims: dict[str, Rim]
    """By fixture; only fixtures that have a drain, or whose drain is not recorded."""
    closed: frozenset[str]
    """The fixtures of these at which nothing comes up before it does elsewhere: they drain into
    another one's trap, or are pumped out through a hose."""
    cleanouts: dict[str, Cleanout]
    openings: dict[str, Length | None]
    """By cleanout and by backwater valve: the elevation of its opening, or of its lid."""
    equipment: dict[str, tuple[DrainEquipment, ...]]
    """By leg: the backwater valves and ejectors in it."""
    runs_in: dict[str, str | None]
    """What runs into the drains by itself (rinse water, condensate), and into which leg;
    None where that is not recorded."""

    def stands_on(self, opening: str) -> str | None:
        """Return the leg that a cleanout or a valve stands on; None where that is not recorded."""
        if opening in self.cleanouts:
            return self.cleanouts[opening].on
        found = (leg for leg, all_ in self.equipment.items() if opening in {it.id for it in all_})
        return next(found, None)

    @cached_property
    def above(self) -> dict[str, tuple[str, ...]]:
        """By leg: the legs that run into its upper end."""
        found: dict[str, tuple[str, ...]] = dict.fromkeys(self.legs, ())
        for leg in self.legs.values():
            if leg.to in found:
                found[leg.to] = (*found[leg.to], leg.id)
        return found

    @cached_property
    def _ways(self) -> dict[str, tuple[str, ...]]:
        return {leg: tuple(self._down(leg)) for leg in self.legs}

    def _down(self, leg: str | None) -> Iterator[str]:
        met: set[str] = set()
        while leg in self.legs and leg not in met:
            met.add(leg)
            yield leg
            leg = self.legs[leg].to

    def downhill(self, leg: str) -> tuple[str, ...]:
        """Return the legs from this one on down, itself first; the discharge is no leg."""
        return self._ways.get(leg, ())

    def through(self, leg: str) -> tuple[str, ...]:
        """Return the fixtures whose waste passes this leg, in walking order."""
        return tuple(fixture for fixture in self.rims if leg in self.downhill(fixture))

    def ends_known(self, leg: str) -> bool:
        """Whether the way from this leg is recorded down to the discharge or a building sewer."""
        last = self.legs[self.downhill(leg)[-1]]
        return last.to is not None or last.kind == "building sewer"


def drain_tree(record: Record, places: Places) -> DrainTree:
    """Build the drain tree of a record whose ids have been checked."""
    drains = record.drains or Drains()
    stretches = {stretch.id: stretch for stretch in each(drains.stretches)}
    drained = [f for f in each(record.fixtures) if _has_drain(f)]
    arms = {fixture.id: _arm(fixture, {other.id for other in drained}) for fixture in drained}
    grade = record.site.grade if record.site else None
    cleanouts = {cleanout.id: cleanout for cleanout in each(drains.cleanouts)}
    equipment: dict[str, tuple[DrainEquipment, ...]] = {}
    for it in each(drains.equipment):
        if it.on:
            equipment[it.on] = (*equipment.get(it.on, ()), it)
    return DrainTree(
        arms | {stretch.id: _leg(stretch, stretches) for stretch in stretches.values()},
        drains.discharge.id if drains.discharge else None,
        {fixture.id: _rim(fixture, places) for fixture in drained},
        frozenset(f.id for f in drained if arms[f.id].kind == HOSE or _pumped(f)),
        cleanouts,
        {
            name: _opening(place, places, grade)
            for name, place in (
                *((cleanout.id, cleanout.place) for cleanout in cleanouts.values()),
                *((it.id, it.place) for it in each(drains.equipment) if it.kind == BACKWATER),
            )
        },
        equipment,
        dict(_runs_in(record)),
    )


def _has_drain(fixture: Fixture) -> bool:
    """Whether it has a drain, or ought to have one that nobody recorded."""
    if fixture.drain is not None:
        return not isinstance(fixture.drain, Absent)
    if fixture.kind == "other":
        return bool(given(fixture.cold) or given(fixture.hot))
    return "drain" in table("fixture_connections").values[fixture.kind]


def _pumped(fixture: Fixture) -> bool:
    return fixture.kind in table("drain_diagnosis").values["closed"]["kinds"]


def _arm(fixture: Fixture, drained: Collection[str]) -> Leg:
    drain = given(fixture.drain) or DrainConnection()
    return Leg(fixture.id, drain.to, HOSE if drain.to in drained else ARM, drain.by)


def _leg(stretch: Stretch, stretches: dict[str, Stretch]) -> Leg:
    below = stretches.get(stretch.to or "")
    bottom = (below.invert if below else None) or _by_its_fall(stretch)
    return Leg(stretch.id, stretch.to, stretch.kind, stretch.by, stretch.invert, bottom)


def _by_its_fall(stretch: Stretch) -> Length | None:
    """The lower end by slope and length; a stack falls by its length."""
    length = stretch.by.length if stretch.by else None
    if stretch.invert is None or length is None:
        return None
    if stretch.kind == "stack":
        return Length(stretch.invert.inches - length.inches)
    if stretch.slope is None:
        return None
    return Length(stretch.invert.inches - stretch.slope.inches_per_foot * length.feet)


def _rim(fixture: Fixture, places: Places) -> Rim:
    level = places.level_id(fixture.place)
    floor = places.levels[level].elevation if level in places.levels else None
    above = fixture.rim
    if above is None and fixture.kind == FLOOR_DRAIN:
        above = Length(0)  # by what it is: its rim is the floor
    below = table("drain_openings").values["below_rim"].get(fixture.kind, 0)
    shows = None if above is None else Length(max(0.0, above.inches - below))
    return Rim(level, floor, above, shows)


def _opening(place: Place | None, places: Places, grade: Length | None) -> Length | None:
    level = places.level_id(place)
    if place is None or level is None:
        return None
    floor = grade if level == OUTSIDE else places.levels[level].elevation
    if floor is None:
        return None
    if place.height is not None:
        return Length(floor.inches + place.height.inches)
    return Length(floor.inches - place.depth.inches) if place.depth is not None else None


def _runs_in(record: Record) -> Iterator[tuple[str, str | None]]:
    """Yield what runs into the drains by itself, and the leg that takes it."""
    guards = record.safeguards or Safeguards()
    pans = {pan.id: pan for pan in each(guards.pans)}
    for softener in each((record.water or Water()).softeners):
        if not isinstance(softener.drain, Absent):
            yield softener.id, softener.drain
    for condensate in each(guards.condensate):
        ending = condensate.primary
        if isinstance(ending, Absent):
            continue
        if ending is None or ending.drain or ending.to in (None, *INTO_DRAINS):
            yield condensate.id, _lands(ending, pans, set())


def _lands(ending: Ending | Absent | None, pans: dict[str, Pan], met: set[str]) -> str | None:
    """Return the fixture or stretch that an ending runs into, through pans; None if unknown."""
    end = given(ending)
    if end is None or end.drain in met:
        return None
    if end.drain in pans:
        return _lands(pans[end.drain].drain, pans, {*met, end.drain})
    return end.drain
