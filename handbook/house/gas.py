"""The gas line as a tree with lengths: from the point of delivery to every appliance and stub.

Recorded pointing upstream, read here downstream. A stop recorded inside a thing is part of that
thing. Nothing is filled in: a feed, a length or an input that is not recorded stays None.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from handbook.measures import HeatRate
from handbook.record.grammar.common import GasRun, Stop, each, given
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.gas import Appliance, Gas
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.record import Record

Kind = Literal["meter", "regulator", "tee", "valve", "outlet", "appliance"]
HEADS: tuple[Kind, ...] = ("meter", "regulator")
"""Where a pressure begins; lengths are counted from the one upstream."""


@dataclass(frozen=True)
class GasNode:
    """One thing on the gas line and the pipe that ends at it; `delivers` is a head's pressure."""

    id: str
    kind: Kind
    feeder: str | None = None
    run: GasRun | None = None
    input: HeatRate | None = None
    delivers: str | None = None

    @property
    def length_ft(self) -> float | None:
        """The length of its pipe."""
        return self.run.length.feet if self.run and self.run.length else None


@dataclass(frozen=True)
class GasTree:
    """The nodes by id, in the order of the record.

    `unclear` burn gas, their line not recorded; `listed`: all that burns gas is in the record.
    """

    nodes: dict[str, GasNode] = field(default_factory=dict)
    unclear: tuple[str, ...] = ()
    listed: bool = True

    @cached_property
    def heads(self) -> tuple[GasNode, ...]:
        """The meter or tank, and the regulators behind it."""
        return tuple(node for node in self.nodes.values() if node.kind in HEADS)

    @cached_property
    def ends(self) -> tuple[GasNode, ...]:
        """What burns gas, or may one day."""
        return tuple(n for n in self.nodes.values() if n.kind in ("appliance", "outlet"))

    @cached_property
    def input_btuh(self) -> float:
        """All recorded inputs together, in Btu an hour."""
        return sum(node.input.btu_h for node in self.nodes.values() if node.input)

    @cached_property
    def whole(self) -> bool:
        """Whether every input is known, and where on the line each burns."""
        known = all(n.input for n in self.ends if n.kind == "appliance")
        return known and self.placed

    @cached_property
    def placed(self) -> bool:
        """Whether everything that burns gas hangs on a line that leads back to the meter."""
        led = all(self.above(node.id)[-1].kind == "meter" for node in self.ends)
        return led and self.listed and not self.unclear

    def above(self, thing: str) -> tuple[GasNode, ...]:
        """Return the node itself and all it is fed through, up to the meter, nearest first."""
        way: list[GasNode] = []
        following = self.nodes.get(thing)
        while following and following not in way:
            way.append(following)
            following = self.nodes.get(following.feeder or "")
        return tuple(way)

    def below(self, thing: str) -> tuple[GasNode, ...]:
        """Return the node and everything fed through it."""
        return tuple(
            node
            for node in self.nodes.values()
            if any(upper.id == thing for upper in self.above(node.id))
        )

    def head_of(self, thing: str) -> GasNode | None:
        """Return the meter or regulator at which this run's pressure begins; None if not told."""
        return next((node for node in self.above(thing)[1:] if node.kind in HEADS), None)

    def stretch(self, thing: str) -> tuple[GasNode, ...]:
        """Return the nodes whose pipes lead from the head to this one, this one first."""
        way = self.above(thing)
        first = next((i for i, node in enumerate(way) if i and node.kind in HEADS), len(way))
        return way[:first]

    def zone(self, head: str) -> tuple[GasNode, ...]:
        """Return the nodes at one pressure: fed from this head, down to the next regulators."""
        return tuple(
            node
            for node in self.nodes.values()
            if (upper := self.head_of(node.id)) and upper.id == head
        )


def gas_tree(record: Record) -> GasTree:
    """Build the gas line of a record; empty where none is recorded."""
    gas = given(record.gas)
    if gas is None:
        return GasTree()
    nodes = {node.id: node for node in _nodes(record, gas)}
    stops = dict(_stops(record, gas))
    for name, node in nodes.items():
        if node.feeder in stops:
            nodes[name] = GasNode(
                name, node.kind, stops[node.feeder], node.run, node.input, node.delivers
            )
    listed = None not in (gas.appliances, record.heaters, record.fixtures)
    listed = listed and not any(_may_burn(record))
    return GasTree(nodes, tuple(_unclear(record, gas)), listed)


def _nodes(record: Record, gas: Gas) -> Iterator[GasNode]:
    if gas.meter:
        yield GasNode(gas.meter.id, "meter", delivers=gas.meter.delivers)
    for regulator in each(gas.regulators):
        yield GasNode(
            regulator.id, "regulator", regulator.from_, regulator.by, delivers=regulator.outlet
        )
    for valve in each(gas.valves):
        yield GasNode(valve.id, "valve", valve.from_, valve.by)
    for tee in each(gas.tees):
        yield GasNode(tee.id, "tee", tee.from_, tee.by)
    for outlet in each(gas.outlets):
        yield GasNode(outlet.id, "outlet", outlet.from_, outlet.by)
    for owner in _owners(record, gas):
        if line := given(owner.gas):
            yield GasNode(owner.id, "appliance", line.from_, line.by, line.input)


def _owners(record: Record, gas: Gas) -> tuple[Heater | Fixture | Appliance, ...]:
    return (*each(record.heaters), *each(record.fixtures), *each(gas.appliances))


def _stops(record: Record, gas: Gas) -> Iterator[tuple[str, str]]:
    """Yield (stop, the thing that it is recorded in)."""
    found: list[tuple[str, Stop | None]] = []
    if gas.meter:
        found.append((gas.meter.id, given(gas.meter.shutoff)))
    found += [(outlet.id, given(outlet.shutoff)) for outlet in each(gas.outlets)]
    found += [
        (owner.id, given(line.shutoff))
        for owner in _owners(record, gas)
        if (line := given(owner.gas))
    ]
    yield from ((stop.id, owner) for owner, stop in found if stop)


def _may_burn(record: Record) -> Iterator[str]:
    """Yield what may burn gas or not: neither its line is recorded, nor what it burns."""
    for heater in each(record.heaters):
        if heater.gas is None and heater.fuel is None and heater.kind != "heat pump":
            yield heater.id
    yield from (it.id for it in each(record.fixtures) if it.gas is None and it.kind == "range")


def _unclear(record: Record, gas: Gas) -> Iterator[str]:
    """Yield what burns gas by its kind or fuel, without a word on its line."""
    for heater in each(record.heaters):
        if heater.gas is None and heater.fuel in ("natural gas", "propane"):
            yield heater.id
    for appliance in each(gas.appliances):
        if appliance.gas is None:
            yield appliance.id
