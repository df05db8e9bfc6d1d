"""Stoppage: these drains back up and those run clear; what is blocked, and what to do meanwhile.

`stoppage(house, backs_up, clear)` takes fixtures and cleanouts by id. It names the legs that can
be blocked (a stretch by its id, a fixture's own trap and arm by the fixture's), where waste comes
up first, what not to use, the cleanouts to try, and whose work it is. Signs that no single
stoppage explains are said to be so. What the signs point to is common trade knowledge
(`tables/drain_diagnosis`); the rest follows from how the drains run.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from handbook.answers.blocked import Overflow, enters, holders, lowest_held, overflow, possible
from handbook.answers.in_use import use
from handbook.answers.isolate import NoSuchThingError
from handbook.answers.reach import line_holes, reach_of
from handbook.answers.tries import Try, TwoWay, tries, two_ways
from handbook.house.drains import DrainTree
from handbook.house.house import House
from handbook.record.grammar.common import each
from handbook.record.grammar.drains import Drains
from handbook.record.grammar.people import Role
from handbook.record.problems import nearest
from handbook.tables import table

Call = Literal["plunger", "licensed plumber"]


@dataclass(frozen=True)
class Stoppage:
    """The whole answer; ids throughout, `said` and the holes in words."""

    backs_up: tuple[str, ...]
    clear: tuple[str, ...]
    stretches: tuple[str, ...]
    """The legs that can be blocked, from the uppermost down; none: no single one explains it."""
    beyond: str | None
    """The discharge, where the stoppage can also lie past the last stretch."""
    overflow: Overflow
    do_not_use: tuple[str, ...]
    may_use: tuple[str, ...]
    cleanouts: tuple[Try, ...]
    two_way: tuple[TwoWay, ...]
    call: Call
    """A plunger, and the plumber if it stays slow; or the plumber at once."""
    also_call: tuple[Role, ...]
    tells_more: tuple[str, ...]
    """Fixtures that, known to run clear or not, would narrow it down; nearest first."""
    apart: dict[str, tuple[str, ...]]
    """Where no single stoppage explains it: what would explain each sign alone."""
    said: tuple[str, ...]
    assumed: tuple[str, ...]
    missing: tuple[str, ...]

    @property
    def overflows_first(self) -> str | None:
        """The fixture at which waste comes up first; None where the record cannot tell."""
        return self.overflow.first


def stoppage(house: House, backs_up: Sequence[str], clear: Collection[str] = ()) -> Stoppage:
    """Return what these signs point to. Raises NoSuchThingError."""
    tree = house.drains
    signs, runs = tuple(dict.fromkeys(backs_up)), tuple(dict.fromkeys(clear))
    for sign in (*signs, *runs):
        _known(house, sign)
    if both := [sign for sign in signs if sign in runs]:
        raise NoSuchThingError(both[0], None, f"`{both[0]}` cannot back up and run clear at once")
    legs = possible(tree, signs, runs)
    placed = [sign for sign in signs if tree.downhill(enters(tree, sign))]
    apart = {} if legs else {sign: possible(tree, [sign], runs) for sign in placed}
    wet = legs or tuple(dict.fromkeys(leg for alone in apart.values() for leg in alone))
    astray = not placed or any(not tree.ends_known(leg) for leg in wet)
    comes_up, used = overflow(tree, wet), use(house, wet, runs, astray)
    to_try = tries(house, legs)
    assumed, missing = _cable_holes(tree, to_try)
    beyond = tree.discharge if legs and tree.legs[legs[-1]].to == tree.discharge else None
    return Stoppage(
        signs,
        runs,
        legs,
        beyond,
        comes_up,
        used.do_not,
        used.may,
        to_try,
        two_ways(tree, legs),
        _call(house, legs),
        ("sewer utility",) if beyond and _public(house) else (),
        tuple(_tells_more(tree, legs, (*signs, *runs))),
        apart,
        (
            *_said(house, legs, apart, comes_up, beyond),
            *_seems_clear(house, signs, runs, legs),
            *_unreached(house, legs, to_try),
        ),
        (*used.assumed, *assumed),
        (*_holes(house, signs, runs), *comes_up.missing, *missing),
    )


def _known(house: House, sign: str) -> None:
    tree = house.drains
    if sign in tree.rims or sign in tree.cleanouts:
        return
    item = house.items.get(sign)
    if item is None:
        near = nearest(sign, [*tree.rims, *tree.cleanouts])
        raise NoSuchThingError(sign, near, f"nothing that drains has the id `{sign}`")
    if sign in tree.legs:
        why = f"`{sign}` is a stretch of drain; name the fixtures that back up"
    else:
        why = f"`{sign}` ({item.name}) has no drain of its own"
    raise NoSuchThingError(sign, None, why)


def _call(house: House, legs: tuple[str, ...]) -> Call:
    """A plunger where one fixture alone is hit and it is of a kind that takes one."""
    tree = house.drains
    hit = {fixture for leg in legs for fixture in tree.through(leg)}
    if len(hit) != 1 or not tree.legs[legs[0]].own:
        return "licensed plumber"
    kind = house.items[next(iter(hit))].kind
    return "plunger" if kind in table("plungers").values["kinds"] else "licensed plumber"


def _public(house: House) -> bool:
    end = (house.record.drains or Drains()).discharge
    return end is not None and end.kind == "public sewer"


def _tells_more(tree: DrainTree, legs: tuple[str, ...], signs: Collection[str]) -> Iterator[str]:
    """Yield for each joint between the legs one fixture that comes in there."""
    for upper, lower in pairwise(legs):
        before = tree.through(upper)
        joining = [f for f in tree.through(lower) if f not in before and f not in signs]
        yield from joining[:1]


def _cable_holes(
    tree: DrainTree, to_try: tuple[Try, ...]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return what the cable lengths take for granted and what they lack, each once."""
    found = [reach_of(tree, tree.cleanouts[name]) for name in dict.fromkeys(t.id for t in to_try)]
    assumed = dict.fromkeys(said for reach in found for said in reach.assumed)
    missing = dict.fromkeys(said for reach in found for said in reach.missing)
    ways = [stretch for it in to_try for stretch in it.way]
    return tuple(assumed), (*missing, *line_holes(tree, ways))


# --- in words -------------------------------------------------------------------------------------


def leg_name(house: House, leg: str) -> str:
    """Return `D2 (Hall bath branch)`, or `the trap and arm of hall-lav (Lavatory, hall bath)`."""
    named = house.called(leg)
    return f"the trap and arm of {named}" if house.drains.legs[leg].own else named


def _said(
    house: House,
    legs: tuple[str, ...],
    apart: dict[str, tuple[str, ...]],
    comes_up: Overflow,
    beyond: str | None,
) -> Iterator[str]:
    tree = house.drains
    if len(apart) > 1 or (apart and not any(apart.values())):
        yield from _no_single(house, apart)
    for leg in legs:
        for it in tree.equipment.get(leg, ()):
            does = "hang shut" if it.kind == "backwater valve" else "have stopped or tripped"
            yield f"{house.called(it.id)} stands in {leg}; it may {does} instead."
    for valve, kept in comes_up.held.items():
        names = ", ".join(house.called(fixture) for fixture in kept)
        first = lowest_held(tree, kept)
        up = f"; if it does not hold, it comes up first at {house.called(first)}" if first else ""
        yield f"{house.called(valve)} keeps what backs up away from {names}{up}."
    if beyond:
        yield f"It can also lie past {legs[-1]}, in {house.called(beyond)}."


def _seems_clear(
    house: House, signs: tuple[str, ...], clear: tuple[str, ...], legs: tuple[str, ...]
) -> Iterator[str]:
    """Say which legs a fixture behind a valve rules out only if water was seen to leave it."""
    tree = house.drains
    behind = [c for c in clear if c in tree.rims and any(map(tree.equipment.get, tree.downhill(c)))]
    more = [leg for leg in possible(tree, signs, set(clear) - set(behind)) if leg not in legs]
    held = [
        c for c in behind if any(holders(tree, c, leg) for leg in more if leg in tree.downhill(c))
    ]
    if more and held:
        names = " and ".join(house.called(fixture) for fixture in held)
        yield (
            f"{names} can stay dry behind a valve while {' or '.join(more)} is blocked; "
            "it counts as clear only if water was seen to leave it."
        )


def _unreached(house: House, legs: tuple[str, ...], to_try: tuple[Try, ...]) -> Iterator[str]:
    """Say which stretches no cleanout surely reaches, and at which fixtures a cable goes in."""
    tree, entries = house.drains, table("cable_entries").values
    reached = {stretch for each in to_try for stretch in each.reaches}
    missed = [leg for leg in legs if leg not in reached and not tree.legs[leg].own]
    if not missed:
        return
    near = [fixture for fixture in tree.rims if missed[0] in tree.downhill(fixture)[:2]]
    ways = [
        f"{house.called(fixture)}, {entries[house.items[fixture].kind]}"
        for fixture in near
        if house.items[fixture].kind in entries
    ]
    at = f"; a plumber's cable goes in at {' or '.join(ways)}" if ways else ""
    yield f"No cleanout surely reaches {', '.join(missed)}{at}."


def _no_single(house: House, apart: dict[str, tuple[str, ...]]) -> Iterator[str]:
    yield "No single stoppage explains these signs as the drains are recorded."
    for sign, alone in apart.items():
        names = ", ".join(leg_name(house, leg) for leg in alone)
        why = (
            f"alone would be explained by {names}" if alone else "is explained by nothing recorded"
        )
        yield f"{house.called(sign)} {why}."
    for vent in _vents(house, tuple(apart)):
        yield f"{house.called(vent)} serves all of them: a blocked vent slows every drain on it."
    yield "Or something does not drain where the record says."


def _vents(house: House, signs: tuple[str, ...]) -> Iterator[str]:
    """Yield the vents that serve the first stretch, or the trap, of every one of these."""
    tree = house.drains
    for vent in each((house.record.drains or Drains()).vents):
        serves = set(vent.serves or ())
        if all(serves & set(tree.downhill(enters(tree, sign))[:2]) for sign in signs):
            yield vent.id


def _holes(house: House, backs_up: tuple[str, ...], clear: tuple[str, ...]) -> Iterator[str]:
    tree = house.drains
    for sign in (*backs_up, *clear):
        way = tree.downhill(enters(tree, sign))
        if not way:
            yield f"Which stretch {sign} opens into is not recorded (`on`)."
        elif not tree.ends_known(way[0]):
            yield f"Where {way[-1]} runs into is not recorded (`to`)."
