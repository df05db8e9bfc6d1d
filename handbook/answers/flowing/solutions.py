"""The pipes of a house solved with chosen fixtures wide open; each set of fixtures once."""

from collections.abc import Iterable, Iterator

from handbook.answers.flowing.flow_case import CAUTIOUS, KIND, Case, Pipework, opened, pipework
from handbook.answers.flowing.outlets import giving
from handbook.answers.flowing.peak import Draw
from handbook.answers.flowing.pipe_network import Outlet, Solved
from handbook.answers.flowing.readings import Reading
from handbook.house.house import House
from handbook.house.hydraulics import Tap
from handbook.house.losses import head


def outlets_of(house: House, owners: Iterable[str]) -> Iterator[Outlet]:
    """Yield the outlets of these fixtures, wide open; none for one whose flow is not known."""
    taps = house.hydraulics.taps
    for owner in owners:
        supplies, gives = house.water.own[owner], giving(house, owner)
        if gives is not None:
            yield from (opened(taps[supply], gives, len(supplies)) for supply in supplies)


class Solutions:
    """The pipes of one house, and what has been solved of them so far."""

    def __init__(self, house: House) -> None:
        self.house = house
        self.pipes: dict[Case, Pipework] = {
            case: pipework(house.hydraulics, case) for case in (CAUTIOUS, KIND)
        }
        self.rest = self.pipes[CAUTIOUS].solved()
        self._kept: dict[tuple[tuple[str, ...], Case], Solved] = {}

    def opened(self, owners: Iterable[str], case: Case) -> Solved:
        """Return the pipes with these fixtures wide open, and nothing else."""
        key = tuple(sorted(set(owners))), case
        if key not in self._kept:
            self._kept[key] = self.pipes[case].solved(outlets_of(self.house, key[0]))
        return self._kept[key]

    def reading(self, tap: Tap, others: Iterable[str]) -> Reading:
        """Return what one supply of a fixture has, its fixture open beside these others."""
        owners = (tap.owner, *others)
        cautious, kind = (self.opened(owners, case) for case in (CAUTIOUS, KIND))
        return Reading(
            _pressure(cautious, tap),
            cautious.flows.get(tap.id),
            _pressure(kind, tap),
            kind.flows.get(tap.id),
        )

    def static(self, taps: Iterable[Tap]) -> float | None:
        """Return the least pressure at these supplies with nothing running, in psi."""
        found = [_pressure(self.rest, tap) for tap in taps]
        return min((psi for psi in found if psi is not None), default=None)

    def draws(self) -> Iterator[tuple[tuple[str, Case], Draw]]:
        """Yield what each outlet draws when its fixture alone is wide open."""
        for tap in self.house.hydraulics.taps.values():
            gives = giving(self.house, tap.owner)
            if gives is None:
                continue
            k = gives.k / len(self.house.water.own[tap.owner])
            for case in (CAUTIOUS, KIND):
                flows = self.opened((tap.owner,), case).flows
                links = {link.id: abs(flows.get(link.id, 0.0)) for link in self.pipes[case].links}
                links |= {v: abs(flows.get(v, 0.0)) for v in self.house.hydraulics.regulators}
                yield (tap.id, case), Draw(k, flows.get(tap.id, 0.0), links)


def _pressure(solved: Solved, tap: Tap) -> float | None:
    level = solved.heads.get(tap.node)
    return None if level is None else level - head(tap.height)
