"""What the drains carry and how they are vented, against the code that the record names.

Gathers the stretches' loads, the trap arms, the vents and what one more bath adds, with what was
taken for granted. Local codes and the inspector decide; the tables are those of the edition that
each source names.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from handbook.answers.draining.drain_units import Code, code_of
from handbook.answers.draining.one_more_bath import OneMoreBath, one_more_bath
from handbook.answers.draining.stretch_loads import StretchLoad, stretch_loads
from handbook.answers.draining.trap_arms import TrapArm, trap_arms
from handbook.answers.draining.vent_sizes import VentSize, vent_sizes
from handbook.answers.draining.waste import Waste
from handbook.house.house import House
from handbook.measures import Volume, say_volume
from handbook.tables import table


@dataclass(frozen=True)
class DrainLoading:
    """All of it, in the order of the record; `assumed` in sentences, `sources` as cited."""

    code: Code
    stretches: tuple[StretchLoad, ...]
    arms: tuple[TrapArm, ...]
    vents: tuple[VentSize, ...]
    one_more_bath: tuple[OneMoreBath, ...]
    assumed: tuple[str, ...]
    sources: tuple[str, ...]


def drain_loading(house: House) -> DrainLoading:
    """Return the loads, trap arms and vents of a house; empty where no drains are recorded."""
    waste = Waste(house, code_of(house))
    loads, arms, vents = stretch_loads(waste), trap_arms(waste), vent_sizes(waste)
    return DrainLoading(
        waste.code,
        loads,
        arms,
        vents,
        one_more_bath(waste),
        tuple(_assumed(waste)) if loads or arms else (),
        tuple(dict.fromkeys(_sources(waste.code, loads))),
    )


def _assumed(waste: Waste) -> Iterator[str]:
    kinds = {fixture.kind for fixture in waste.fixtures.values()}
    if waste.code.edition is None:
        yield "The record names no plumbing code; the tables of the IRC are used."
    if "water closet" in kinds:
        flush = Volume(waste.code.units.values["flush_at_most_gal"])
        said = say_volume(flush, waste.house.record.house.units)
        yield f"Water closets are taken to flush {said} or less."
    if "shower" in kinds and waste.code.name == "IRC":
        yield "A shower is taken to have one head."
    if not waste.code.upc and any(s.kind == "stack" for s in waste.stretches.values()):
        yield "Stacks are taken to have three branch intervals or less."
    yield "Condensate and a softener's rinse water have no fixture units and are not counted."
    yield (
        "A trap arm is taken to end where the first vented stretch begins, as if a branch of its "
        "vent rose there; where vents branch off is not recorded."
    )


def _sources(code: Code, loads: tuple[StretchLoad, ...]) -> Iterator[str]:
    yield code.units.cited
    yield from (load.source for load in loads if load.source)
    yield table("trap_arms_upc" if code.upc else "trap_arms").cited
    if code.name != "IPC":
        yield table(f"trap_sizes_{code.name.lower()}").cited
    yield table("vent_sizes").cited
