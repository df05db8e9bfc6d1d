"""What an answer about flow holds: fixtures, runs of pipe, equipment, and what it leans on.

Pressures are in psi, flows in gpm, speeds in feet a second. A figure that cannot be had is None.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from handbook.answers.flowing.margins import Margins
from handbook.answers.flowing.readings import Reading
from handbook.answers.flowing.speed_limits import SpeedLimit
from handbook.record.grammar.common import WaterRun


@dataclass(frozen=True)
class Rating:
    """What the maker of a head, an aerator or a valve says that it gives: gpm at psi."""

    gpm: float
    psi: float


@dataclass(frozen=True)
class FixtureFlow:
    """One fixture. `asked` is `alone` with whatever else was asked to run; psi and gpm.

    `static_psi` is with nothing running at all. `sides` are its cold and its hot, as asked.
    `rating` is the maker's figure where it is recorded.
    `speed_ft_s` is in its own pipe, the faster of the two, while it runs alone and wide open.
    `needs` says what has to be recorded where there are no figures.
    """

    id: str
    name: str
    kind: str
    height_ft: float
    need_psi: float | None
    need_gpm: float | None
    rating: Rating | None
    static_psi: float | None
    alone: Reading
    asked: Reading
    peak: Reading
    sides: Mapping[str, Reading]
    speed_ft_s: float | None
    limit: SpeedLimit | None
    needs: tuple[str, ...] = ()

    @property
    def held_back(self) -> float | None:
        """The share of its rated flow that it has at peak, where the pressure is what it needs.

        None where no rating is recorded, where it is short of pressure, or where nothing is lost.
        """
        rating, psi, gpm = self.rating, self.peak.pressure_psi, self.peak.flow_gpm
        if rating is None or psi is None or gpm is None:
            return None
        enough = self.need_psi is not None and psi >= self.need_psi
        return gpm / rating.gpm if enough and gpm < rating.gpm else None

    @property
    def too_fast(self) -> bool | None:
        """Whether its own pipe runs faster than its limit, wide open; None: cannot be told."""
        return self.limit.exceeded(self.speed_ft_s) if self.limit else None


@dataclass(frozen=True)
class RunFlow:
    """One run of pipe at its peak demand; `asked_gpm` is its flow while what was asked runs.

    `loss_psi` is of the pipe with its fittings and the valve at its end; `kind_loss_psi` is
    smaller where its bore lies between two. A figure that cannot be had is None.
    """

    id: str
    thing: str
    from_: str
    run: WaterRun | None
    hot: bool
    bore_in: float | None
    equivalent_ft: float
    fixtures: int
    wsfu: float
    demand_gpm: float | None
    velocity_ft_s: float | None
    limit: SpeedLimit | None
    loss_psi: float | None
    kind_loss_psi: float | None
    asked_gpm: float | None
    needs: tuple[str, ...] = ()

    @property
    def too_fast(self) -> bool | None:
        """Whether water at peak runs faster than this pipe's limit; None: cannot be told."""
        return self.limit.exceeded(self.velocity_ft_s) if self.limit else None


@dataclass(frozen=True)
class DeviceFlow:
    """Equipment in the line at its peak demand; `beyond` its printed table where that ends."""

    id: str
    kind: str
    demand_gpm: float | None
    loss_psi: float | None
    kind_loss_psi: float | None
    beyond: bool = False


@dataclass(frozen=True)
class Flow:
    """The whole answer. `running` are the fixtures that were asked to run."""

    static_psi: float | None
    running: tuple[str, ...]
    fixtures: Mapping[str, FixtureFlow]
    runs: Mapping[str, RunFlow]
    devices: Mapping[str, DeviceFlow]
    margins: Margins | None
    wsfu: float
    demand_gpm: float | None
    assumed: tuple[str, ...]
    missing: tuple[str, ...]
