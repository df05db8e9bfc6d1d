"""The drains of a house as a riser diagram: every stretch, trap, cleanout and vent, once."""

from dataclasses import dataclass, field

from handbook.house.drains import ARM
from handbook.house.house import House
from handbook.pages.riser.content import (
    OUTDOORS,
    Charted,
    Riser,
    RiserMark,
    RiserPipe,
    RiserPoint,
    RiserRun,
)
from handbook.pages.riser.levels import Levelled, settle
from handbook.pages.riser.places import (
    NOWHERE,
    at_of,
    bands,
    height_of,
    level_of,
    lowest,
    under_floor,
)
from handbook.pages.riser.words import (
    cleanout_symbol,
    cleanout_words,
    explained,
    fixture_words,
    size,
)
from handbook.record.grammar.common import each, given
from handbook.record.grammar.drains import Cleanout, DrainEquipment, Drains, Stretch, Vent
from handbook.record.grammar.fixtures import DrainConnection, Fixture

TITLE = "Riser diagram of the drains"
MAIN_LINE = ("building drain", "building sewer")
ROOF = "roof"


def drain_riser(house: House) -> Charted | None:
    """Return the diagram of a house's drains; None where no stretch of them is recorded."""
    drains = house.record.drains
    if drains is None or not each(drains.stretches):
        return None
    return _Draft(house, drains).draw()


def unlevelled_main_line(house: House) -> list[str]:
    """Return the parts of the main line of which neither level nor invert is recorded."""
    drains = house.record.drains or Drains()
    return [
        stretch.id
        for stretch in each(drains.stretches)
        if stretch.kind in MAIN_LINE
        and stretch.invert is None
        and level_of(house, house.items[stretch.id].place) == NOWHERE
    ]


@dataclass
class _Draft:
    house: House
    drains: Drains
    points: list[RiserPoint] = field(default_factory=list)
    pipes: list[RiserPipe] = field(default_factory=list)
    unjoined: list[str] = field(default_factory=list)

    def draw(self) -> Charted:
        house = self.house
        self._words = fixture_words(
            house, [i for i in house.items.values() if isinstance(i.entry, Fixture)]
        )
        for stretch in each(self.drains.stretches):
            self._stretch(stretch)
        self._discharge()
        for fixture in each(house.record.fixtures):
            if drain := given(fixture.drain):
                self._fixture(fixture, drain)
        for vent in each(self.drains.vents):
            self._vent(vent)
        drawn: Levelled = settle(self.points, self.pipes)
        fixtures = [t for p in drawn.points if p.symbol == "fixture" for t in p.things]
        levels = bands(house, drawn.levels - {ROOF}, roof=ROOF if ROOF in drawn.levels else None)
        riser = Riser(TITLE, levels, drawn.points, drawn.pipes, explained(house, fixtures))
        no_place = tuple(t for p in drawn.points if p.at is None for t in p.things)
        return Charted(riser, tuple(self.unjoined), drawn.missing, no_place)

    # --- stretches -----------------------------------------------------------------------------

    def _stretch(self, stretch: Stretch) -> None:
        """Add a stretch: its upper end, what stands in it, and its pipe on to the next."""
        item = self.house.items[stretch.id]
        self.points.append(
            RiserPoint(
                stretch.id,
                "junction",
                (),
                self._band(stretch),
                at_of(self.house, item.place),
                None,
            )
        )
        if stretch.to is None:
            self.points.append(self._end(f"{stretch.id}.end", stretch))
        self._along(stretch, stretch.to or f"{stretch.id}.end")

    def _end(self, name: str, stretch: Stretch) -> RiserPoint:
        """Return the end of a stretch of which nobody recorded what it runs into."""
        return RiserPoint(name, "dead end", (), self._band(stretch))

    def _band(self, stretch: Stretch) -> str:
        place = self.house.items[stretch.id].place
        level = level_of(self.house, place)
        if level == OUTDOORS:
            return level
        found = under_floor(self.house, stretch.invert) or level
        if found == NOWHERE and stretch.kind in MAIN_LINE:
            # Waste does not rise: the line that all of it runs into lies lowest.
            return lowest(self.house)
        return found

    def _along(self, stretch: Stretch, end: str) -> None:
        """Add the pipe of a stretch, parted where a cleanout or a valve stands in it."""
        length = stretch.by.length.feet if stretch.by and stretch.by.length else None
        kind = "stack" if stretch.kind == "stack" else ""
        bore = size(stretch.by.size if stretch.by else None)
        words = " ".join(w for w in (kind, stretch.id, bore) if w)
        run, start = RiserRun(words, (stretch.id,)), stretch.id
        items: list[RiserMark | RiserRun] = [run]
        for equipment in self._equipment(stretch):
            items.append(self._mark(equipment))
        for number, cleanout in enumerate(self._cleanouts(stretch)):
            along = cleanout.along.feet if cleanout.along else None
            if along is None or along <= 0 or length is None or length <= 0:
                self._cleanout(cleanout, stretch.id)
                continue
            node = f"{stretch.id}.{number}"
            share = min(1.0, along / length)
            self.points.append(self._between(node, stretch, share))
            self.pipes.append(RiserPipe(start, node, "waste", tuple(items)))
            start, items = node, []
            self._cleanout(cleanout, node)
        self.pipes.append(RiserPipe(start, end, "waste", tuple(items)))

    def _between(self, node: str, stretch: Stretch, share: float) -> RiserPoint:
        """Return the point of a cleanout part of the way down a stretch."""
        (cleanout,) = [
            c for n, c in enumerate(self._cleanouts(stretch)) if node == f"{stretch.id}.{n}"
        ]
        item = self.house.items[cleanout.id]
        band = self._band(stretch)
        level = level_of(self.house, item.place)
        if stretch.kind == "stack" and level != NOWHERE:
            band = level
        return RiserPoint(node, "junction", (), band, at_of(self.house, item.place), share)

    def _equipment(self, stretch: Stretch) -> list[DrainEquipment]:
        return [e for e in each(self.drains.equipment) if e.on == stretch.id]

    def _cleanouts(self, stretch: Stretch) -> list[Cleanout]:
        """Return a stretch's cleanouts from its upper end down."""
        found = [c for c in each(self.drains.cleanouts) if c.on == stretch.id]
        return sorted(found, key=lambda c: c.along.inches if c.along else 0.0)

    def _mark(self, equipment: DrainEquipment) -> RiserMark:
        place = self.house.items[equipment.id].place
        return RiserMark(
            equipment.kind,
            (equipment.id, equipment.kind),
            NOWHERE if level_of(self.house, place) != OUTDOORS else OUTDOORS,
            (equipment.id,),
        )

    def _cleanout(self, cleanout: Cleanout, node: str) -> None:
        symbol, _ = cleanout_symbol(cleanout)
        item = self.house.items[cleanout.id]
        self.points.append(
            RiserPoint(
                cleanout.id,
                symbol,
                cleanout_words(cleanout),
                level_of(self.house, item.place),
                at_of(self.house, item.place),
                height_of(item.place),
                (cleanout.id,),
            )
        )
        self.pipes.append(RiserPipe(cleanout.id, node, "cleanout"))

    def _discharge(self) -> None:
        end = self.drains.discharge
        if end is None:
            return
        item = self.house.items[end.id]
        self.points.append(
            RiserPoint(
                end.id,
                "discharge",
                (end.id, end.kind or "discharge"),
                level_of(self.house, item.place) or OUTDOORS,
                at_of(self.house, item.place),
                None,
                (end.id,),
            )
        )

    # --- fixtures ------------------------------------------------------------------------------

    def _fixture(self, fixture: Fixture, drain: DrainConnection) -> None:
        if self._into(fixture.id) == fixture.id:
            self.unjoined.append(fixture.id)
            return
        item = self.house.items[fixture.id]
        level = level_of(self.house, item.place)
        self.points.append(
            RiserPoint(
                fixture.id,
                "fixture",
                self._words[fixture.id],
                level,
                at_of(self.house, item.place),
                height_of(item.place),
                (fixture.id,),
            )
        )
        trap = RiserMark("trap", (size(drain.trap) or "trap",), level, (f"{fixture.id}.trap",))
        own_trap = self.house.drains.legs[fixture.id].kind == ARM
        items: list[RiserMark | RiserRun] = [trap] if own_trap else []
        if drain.by and (words := size(drain.by.size)):
            items.append(RiserRun(words, (f"{fixture.id}.drain",)))
        to = self._poured_into(fixture.id) or self._into(fixture.id)
        self.pipes.append(RiserPipe(fixture.id, to, "waste", tuple(items)))

    def _poured_into(self, fixture: str) -> str | None:
        """Return the fixture whose trap takes this one's waste; None where it has its own."""
        to = self.house.drains.legs[fixture].to
        return to if to in self.house.drains.rims else None

    def _into(self, fixture: str) -> str:
        """Return the stretch that takes a fixture's waste, past another one's trap."""
        tree = self.house.drains
        way = (tree.legs[name] for name in tree.downhill(fixture))
        return next((leg.to for leg in way if leg.to and leg.to not in tree.rims), fixture)

    # --- vents ---------------------------------------------------------------------------------

    def _vent(self, vent: Vent) -> None:
        """Add a vent: its pipe from each of the lowest drains that it serves, and its end.

        One that joins another is drawn up to that one's end: where on the way they meet is not
        recorded.
        """
        roots = self._lowest(vent)
        if not roots:
            self.unjoined.append(vent.id)
        said = " ".join((vent.id, size(vent.size))) if vent.to else size(vent.size)
        for number, root in enumerate(roots):
            known = not number and (vent.size or vent.to)
            run = (RiserRun(said.strip(), (vent.id,)),) if known else ()
            self.pipes.append(RiserPipe(root, vent.to or vent.id, "vent", run))
        if vent.to:
            return
        item = self.house.items[vent.id]
        symbol = {"through the roof": "vent end", "air admittance valve": "admittance valve"}.get(
            vent.ends or "", "open vent"
        )
        short = {"vent end": "VTR", "admittance valve": "AAV"}.get(symbol, "")
        words = " ".join(w for w in (vent.id, short) if w)
        level = ROOF if symbol == "vent end" else level_of(self.house, item.place)
        self.points.append(
            RiserPoint(
                vent.id,
                symbol,
                (words,),
                level,
                at_of(self.house, item.place),
                None,
                (vent.id,),
            )
        )

    def _lowest(self, vent: Vent) -> list[str]:
        """Return the upper ends of the served stretches that run into no other one served."""
        to = {s.id: s.to for s in each(self.drains.stretches)}
        fixtures = {f.id: given(f.drain) for f in each(self.house.record.fixtures)}
        served: dict[str, None] = {}
        for name in vent.serves or ():
            if name in to:
                served[name] = None
            elif (drain := fixtures.get(name)) and drain.to:
                served[self._into(name)] = None
        return [name for name in served if to.get(name) not in served]
