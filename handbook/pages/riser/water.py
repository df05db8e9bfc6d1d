"""The water of a house as a riser diagram: every thing with water in it, once."""

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass, field

from handbook.house.house import House
from handbook.house.items import Item
from handbook.house.network import Pipe, Valve
from handbook.house.water import LEVER
from handbook.pages.riser.content import Charted, Riser, RiserMark, RiserPoint, RiserRun
from handbook.pages.riser.graph import Joined, Link, ends
from handbook.pages.riser.levels import settle
from handbook.pages.riser.places import at_of, bands, height_of, level_of
from handbook.pages.riser.words import explained, fixture_words, size, symbol_of, words_of
from handbook.record.grammar.common import Fed, Run, each, given
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.water import Bypass, Irrigation, Manifold, Softener, Source, Tee, Water
from handbook.record.ids import STREET, entries

_POINTS = Tee | Manifold | Fixture | Heater | Softener | Irrigation | Source
TITLE = "Riser diagram of the water"


def water_riser(house: House) -> Charted | None:
    """Return the diagram of a house's water; None where nothing of it is recorded."""
    if house.record.water is None and not house.record.heaters:
        return None
    return _Draft(house).draw()


@dataclass
class _Draft:
    house: House
    links: list[Link] = field(default_factory=list)
    _words: dict[str, tuple[str, ...]] = field(default_factory=dict)

    def draw(self) -> Charted | None:
        house = self.house
        fixtures = [i for i in house.items.values() if isinstance(i.entry, Fixture)]
        supplied = [i for i in fixtures if house.water.own.get(i.id)]
        self._words = fixture_words(house, supplied)
        self.links = [*self._pipes(), *self._valves(), *self._tanks()]
        joined = Joined(self.links, self._points())
        pipes = joined.pipes()
        points = tuple(self._point(node, n) for node, n in ends(pipes).items())
        if not points:
            return None
        unjoined = tuple(i.id for i in fixtures if self._wants(i, supplied))
        drawn = settle(points, pipes)
        short = explained(house, [t for p in points if p.symbol == "fixture" for t in p.things])
        riser = Riser(TITLE, bands(house, drawn.levels), drawn.points, drawn.pipes, short)
        no_place = tuple(t for p in points if p.at is None for t in p.things)
        return Charted(riser, unjoined, drawn.missing, no_place)

    @staticmethod
    def _wants(item: Item, supplied: list[Item]) -> bool:
        return item not in supplied and item.kind not in ("floor drain", "range")

    # --- links -----------------------------------------------------------------------------

    def _pipes(self) -> Iterator[Link]:
        hot, back, runs = self._hot(), self._back(), self._runs()
        tanked = {h.id for h in each(self.house.record.heaters) if given(h.expansion_tank)}
        for pipe in self.house.water.network.pipes:
            line = self._line(pipe, hot, back)
            items = tuple(self._items(pipe, runs))
            is_run = (pipe.id, "") in runs or (pipe.a, pipe.b) in runs
            apart = (pipe.b in tanked and not pipe.id) or self._port(pipe)
            plain = not (items or is_run or apart or line == "assumed")
            yield Link(pipe.a, pipe.b, line, items, plain)

    def _items(
        self, pipe: Pipe, runs: dict[tuple[str, str], Run | None]
    ) -> Iterator[RiserMark | RiserRun]:
        run = runs.get((pipe.id, "")) or runs.get((pipe.a, pipe.b))
        if run is not None and (words := size(run.size)):
            yield RiserRun(words, (pipe.id,))
        item = self.house.items.get(pipe.id)
        if item is not None and pipe.b == pipe.id and not isinstance(item.entry, _POINTS):
            yield self._mark(item)

    def _port(self, pipe: Pipe) -> bool:
        """Whether it is a softener's port while some valve stands round the softener."""
        for softener in each((self.house.record.water or Water()).softeners):
            ends_ = {softener.id, f"{softener.id}.in", f"{softener.id}.out"}
            if {pipe.a, pipe.b} <= ends_ and given(softener.bypass) is not None:
                return True
        return False

    def _valves(self) -> Iterator[Link]:
        hot, back = self._hot(), self._back()
        levers = {lever.id for lever in self._levers()}
        for valve in self.house.water.network.valves:
            line = self._line(valve, hot, back)
            if valve.id.removesuffix(LEVER) in levers:
                continue
            yield Link(valve.a, valve.b, line, (self._mark(self.house.items[valve.id]),))
        for softener in each((self.house.record.water or Water()).softeners):
            bypass = given(softener.bypass) or Bypass()
            if bypass.lever:
                name, lever = softener.id, bypass.lever.id
                yield Link(f"{name}.in", lever, "cold", plain=True)
                yield Link(lever, name, "cold")
                yield Link(name, lever, "cold")
                yield Link(lever, f"{name}.out", "cold")

    def _levers(self) -> Iterator[Item]:
        for softener in each((self.house.record.water or Water()).softeners):
            bypass = given(softener.bypass) or Bypass()
            if bypass.lever:
                yield self.house.items[bypass.lever.id]

    def _tanks(self) -> Iterator[Link]:
        for heater in each(self.house.record.heaters):
            if tank := given(heater.expansion_tank):
                (node,) = self.house.water.bodies[tank.id]
                yield Link(node, tank.id, "cold")

    def _mark(self, item: Item) -> RiserMark:
        words = words_of(self.house, item)
        symbol = symbol_of(item)
        if symbol.endswith(":closed"):
            words = (f"{item.id} NC", *words[1:])
        return RiserMark(symbol, words, level_of(self.house, item.place), (item.id,))

    # --- which line ------------------------------------------------------------------------

    def _line(self, link: Pipe | Valve, hot: set[str], back: set[str]) -> str:
        if link.id in self.house.water.assumed:
            return "assumed"
        if link.a in back or link.b in back:
            return "return"
        return "hot" if link.a in hot else "cold"

    def _back(self) -> set[str]:
        """Return the nodes of the hot water return."""
        pump = given((self.house.record.water or Water()).recirculation)
        if pump is None:
            return set()
        nodes = {f"{pump.id}.in", pump.id}
        if stop := given(pump.shutoff):
            nodes.add(stop.id)
        if check := given(pump.check):
            nodes.add(check.id)
        return nodes

    def _hot(self) -> set[str]:
        """Return the nodes that a heater's water comes to, the way the record points."""
        ahead: dict[str, list[str]] = {}
        back = self._back()
        network = self.house.water.network
        links: list[Pipe | Valve] = [*network.pipes, *network.valves]
        for link in links:
            if link.a not in back or link.b in back:
                ahead.setdefault(link.a, []).append(link.b)
        waiting = deque(heater.id for heater in each(self.house.record.heaters))
        hot = set(waiting)
        while waiting:
            for node in ahead.get(waiting.popleft(), ()):
                if node not in hot:
                    hot.add(node)
                    waiting.append(node)
        return hot

    def _runs(self) -> dict[tuple[str, str], Run | None]:
        """Return all runs, by the id of the pipe or by its two ends; None for one of which only
        its ends are recorded."""
        runs: dict[tuple[str, str], Run | None] = {}
        record = self.house.record
        softened = each((record.water or Water()).softeners)
        outlet = {softener.id: f"{softener.id}.out" for softener in softened}
        for entry in entries(record.water or Water()):
            if isinstance(entry, Fed):
                runs[f"{entry.id}.in", ""] = entry.by
            if isinstance(entry, Tee):
                for feed in each(entry.feeds):
                    runs[outlet.get(feed.from_, feed.from_), f"{entry.id}.in"] = feed.by
        pump = given((record.water or Water()).recirculation)
        if pump and (check := given(pump.check)):
            runs[check.id, ""] = check.by
        for heater in each(record.heaters):
            if heater.cold:
                runs[f"{heater.id}.cold", ""] = heater.cold.by
        for fixture in each(record.fixtures):
            for side, connection in (("cold", fixture.cold), ("hot", fixture.hot)):
                if pipe := given(connection):
                    runs[f"{fixture.id}.{side}", ""] = pipe.by
        return runs

    # --- points ----------------------------------------------------------------------------

    def _points(self) -> set[str]:
        found = {i.id for i in self.house.items.values() if isinstance(i.entry, _POINTS)}
        found |= {lever.id for lever in self._levers()} | {STREET}
        tanks = (given(h.expansion_tank) for h in each(self.house.record.heaters))
        return found | {tank.id for tank in tanks if tank}

    def _point(self, node: str, pipes: int) -> RiserPoint:
        item = self.house.items.get(node)
        if item is None or node not in self._points():
            return self._bare(node, pipes)
        words = self._words.get(item.id) or words_of(self.house, item)
        symbol = symbol_of(item).removesuffix(":closed")
        place = item.place
        return RiserPoint(
            node,
            symbol,
            words,
            level_of(self.house, place),
            at_of(self.house, place),
            height_of(place),
            (node,),
        )

    def _bare(self, node: str, pipes: int) -> RiserPoint:
        """Return a point without a name: the street's end, a pipe's end, or a plain junction."""
        if node == STREET:
            return RiserPoint(node, "source", ("street",), "outside", None, None, (node,))
        near = self.house.items.get(node.rpartition(".")[0] or node)
        place = near.place if near else None
        return RiserPoint(
            node,
            "dead end" if pipes == 1 else "junction",
            (),
            level_of(self.house, place),
            at_of(self.house, place),
            height_of(place),
        )
