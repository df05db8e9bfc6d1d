"""One question about flow: the house, what is to run, and what every part of its answer needs."""

from collections.abc import Sequence

from handbook.answers.flowing.demand import loads, supply_ways
from handbook.answers.flowing.peak import Peak
from handbook.answers.flowing.solutions import Solutions
from handbook.house.house import House
from handbook.house.hydraulics import Tap


class Asked:
    """A question while it is answered. `running` are the fixtures that were asked to run."""

    def __init__(self, house: House, running: Sequence[str]) -> None:
        self.house = house
        self.running = tuple(dict.fromkeys(running))
        self.hydraulics = house.hydraulics
        self.ways = supply_ways(house)
        self.loads = loads(house, self.ways)
        self.solutions = Solutions(house)
        self.peak = Peak(self.hydraulics, self.loads, draws=dict(self.solutions.draws()))

    def taps(self, owner: str) -> list[Tap]:
        """Return the supplies of a fixture."""
        return [self.hydraulics.taps[supply] for supply in self.house.water.own[owner]]
