"""From a house file to a house that can be asked: `load`, and the answers as methods.

The command line, the book and the pages ask the same functions; `Asked` only gathers them.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from handbook.answers.behind import Behind
    from handbook.answers.care import Chore
    from handbook.answers.drain_down import DrainDown
    from handbook.answers.drain_loading import DrainLoading
    from handbook.answers.expansion import Expansion
    from handbook.answers.flowing.flow_results import Flow
    from handbook.answers.gas import GasAnswer
    from handbook.answers.hot_water import HotWater
    from handbook.answers.isolate import Isolation
    from handbook.answers.pan_flow import PanFlow
    from handbook.answers.reach import Reach
    from handbook.answers.route import Route
    from handbook.answers.shut_down import ShutDown
    from handbook.answers.spill import Spill
    from handbook.answers.stoppage import Stoppage
    from handbook.answers.through import Sign, Through
    from handbook.answers.ties import Ties
    from handbook.answers.whom import Situation
    from handbook.house.house import House
    from handbook.rules import Report


@dataclass(frozen=True)
class Asked:
    """A house and what can be asked of it."""

    house: House

    def isolate(self, thing: str) -> Isolation:
        """Which valves stop this thing, step by step. Raises NoSuchThingError."""
        from handbook.answers.isolate import isolate

        return isolate(self.house, thing)

    def route(self, start: str, goal: str) -> Route:
        """How to walk from a room or thing to another, how far. Raises NoSuchPlaceError."""
        from handbook.answers.route import route

        return route(self.house, start, goal)

    def stoppage(self, backs_up: Sequence[str], clear: Sequence[str] = ()) -> Stoppage:
        """What is blocked when these back up and those run clear. Raises NoSuchThingError."""
        from handbook.answers.stoppage import stoppage

        return stoppage(self.house, backs_up, clear)

    def reach(self, cleanout: str) -> Reach:
        """What a cable from this cleanout gets to, and how far. Raises NoSuchThingError."""
        from handbook.answers.reach import reach

        return reach(self.house, cleanout)

    def through(self, room: str, sign: Sign | None = None) -> Through:
        """What may be leaking into a room, and what stops all of it. Raises NoSuchRoomError."""
        from handbook.answers.through import through

        return through(self.house, room, sign)

    def behind(self, room: str) -> Behind:
        """What a room's walls, floor and ceiling hide. Raises NoSuchThingError."""
        from handbook.answers.behind import behind

        return behind(self.house, room)

    def whom(self) -> tuple[Situation, ...]:
        """Whom to call, situation by situation, and what an occupant may do."""
        from handbook.answers.whom import whom

        return whom(self.house)

    def care(self) -> tuple[Chore, ...]:
        """What is due, and how often."""
        from handbook.answers.care import care

        return care(self.house)

    def ties(self, thing: str | None = None) -> Ties:
        """Two taped distances to this thing, or to everything buried or hidden.

        Raises NoSuchThingError.
        """
        from handbook.answers.ties import ties

        return ties(self.house, thing)

    def gas(
        self,
        added: Mapping[str, float] | None = None,
        instead: Mapping[str, float] | None = None,
    ) -> GasAnswer:
        """What each gas pipe carries and what is left.

        `added` are Btu/h beside what burns at an outlet, `instead` in its place. Raises
        NoSuchThingError.
        """
        from handbook.answers.gas import gas

        return gas(self.house, added, instead)

    def flow(self, running: Sequence[str] = ()) -> Flow:
        """What pressure and flow each fixture gets: alone, with `running`, and at peak.

        Raises NoSuchThingError.
        """
        from handbook.answers.flow import flow

        return flow(self.house, running)

    def drain_loading(self) -> DrainLoading:
        """What each stretch of drain carries, and how its traps are vented."""
        from handbook.answers.drain_loading import drain_loading

        return drain_loading(self.house)

    def hot_water(self) -> HotWater:
        """How long each outlet waits for hot water, and what runs to waste."""
        from handbook.answers.hot_water import hot_water

        return hot_water(self.house)

    def expansion(self) -> tuple[Expansion, ...]:
        """Where each heater's water swells to, and the tank that takes it."""
        from handbook.answers.expansion import expansion

        return expansion(self.house)

    def spill(self, thing: str) -> Spill:
        """What a failed supply puts on the floor by each step. Raises NoSuchThingError."""
        from handbook.answers.spill import spill

        return spill(self.house, thing)

    def drain_down(self, thing: str) -> DrainDown:
        """What has to be drained before work on a thing. Raises NoSuchThingError."""
        from handbook.answers.drain_down import drain_down

        return drain_down(self.house, thing)

    def shut_down(self) -> ShutDown:
        """The order for draining the house against a freeze, and for bringing it back."""
        from handbook.answers.shut_down import shut_down

        return shut_down(self.house)

    def pans(self) -> tuple[PanFlow, ...]:
        """What each drain pan carries off, against what could arrive in it."""
        from handbook.answers.pan_flow import pans

        return pans(self.house)

    def check(self) -> Report:
        """What is missing from the record, and what should be put right in the house."""
        from handbook.rules import check

        return check(self.house)


def record_path(house: Path) -> Path:
    """Return the record's file: the path itself, or `house.yaml` in the folder it names."""
    from handbook.record.starting import RECORD_FILE

    return house / RECORD_FILE if house.is_dir() else house


def load(house: str | Path) -> Asked:
    """Read and check a record; `house` is its file or its folder.

    Raises RecordError with every problem found, and OSError where there is no such file.
    """
    from handbook.house.house import build
    from handbook.record.grammar.record import Record
    from handbook.record.reading import read
    from handbook.record.sense import check_ids, check_sense

    path = record_path(Path(house))
    record = read(path, Record, (check_ids, check_sense))
    return Asked(build(record, path.parent.resolve()))
