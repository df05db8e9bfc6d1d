"""The water network with what flow asks of it: lengths, true bores, fittings, heights, devices.

It stands on the nodes of `water`; nodes between which nothing costs pressure are one here. Where
a figure is not recorded and two assumptions bound it, a link has two laws, one cautious and one
kind. Where it is not even bounded (a length, a size), the link has none and names what it needs:
nothing is made up. Built by `hydraulic_draft`.
"""

from dataclasses import dataclass

from handbook.house.bores import Bores
from handbook.house.losses import Law
from handbook.record.grammar.common import Handle, WaterRun

Laws = tuple[Law, Law]
"""Cautious, then kind; the same law twice where the record is enough."""


@dataclass(frozen=True)
class Stretch:
    """A run of pipe, with its fittings and the valve at its end.

    `id` is the id of the thing that it ends at (`W5`), `hall-lav.cold` for a connection, and
    `T9 from T4` for one of several feeds; `end` is its node in the water network. `bores` are
    narrow and wide, in inches. `needs` says what is missing where `laws` is None.
    """

    id: str
    a: str
    b: str
    end: str
    from_: str
    thing: str
    run: WaterRun | None
    hot: bool
    laws: Laws | None
    bores: Bores | None = None
    valve: Handle | None = None
    fittings_ft: float = 0.0
    valve_ft: float = 0.0
    one_way: bool = False
    needs: tuple[str, ...] = ()


@dataclass(frozen=True)
class Device:
    """Equipment in the line that takes something off the pressure."""

    id: str
    a: str
    b: str
    kind: str
    laws: Laws
    one_way: bool = False


@dataclass(frozen=True)
class Regulator:
    """A pressure-reducing valve; `set_psi` is None where its setting is not recorded.

    `most_psi` is the highest that it can be set to, None where that is not recorded.
    `falls` is how many psi below its setting it holds for each gpm that passes.
    """

    id: str
    a: str
    b: str
    set_psi: float | None
    falls: float
    height: float
    most_psi: float | None = None


@dataclass(frozen=True)
class Tap:
    """One supply of a fixture: `hall-lav.cold`. `height` is its outlet's, in feet.

    `levelled`: its height is not recorded and was taken level with the gauge.
    """

    id: str
    owner: str
    node: str
    height: float
    levelled: bool = False


@dataclass(frozen=True)
class Gauge:
    """The static pressure as measured: at which node, and how high in feet."""

    psi: float
    node: str
    height: float


@dataclass(frozen=True)
class Hydraulics:
    """The network; its nodes are those of `water`, many of them joined into one.

    `nodes` is the node of each thing with water in it and of each end of a pipe, `heights` the
    height of each thing whose height is recorded, in feet above the main floor.
    """

    stretches: dict[str, Stretch]
    devices: dict[str, Device]
    regulators: dict[str, Regulator]
    taps: dict[str, Tap]
    sources: frozenset[str]
    gauge: Gauge | None
    nodes: dict[str, str]
    heights: dict[str, float]
    assumed: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
