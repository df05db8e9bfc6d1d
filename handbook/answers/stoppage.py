"""Stoppage: these drains back up and those run clear; what is blocked, and what to do meanwhile.

`stoppage(house, backs_up, clear)` takes fixtures and cleanouts by id. It names the legs that can
be blocked (a stretch by its id, a fixture's own trap and arm by the fixture's), where waste comes
up first, what not to use, the cleanouts to try, the fixtures at which a cable goes in where no
cleanout reaches, and whose work it is. Signs that no single stoppage explains are said to be so.
What the signs point to is common trade knowledge (`tables/drain_diagnosis`); the rest follows
from how the drains run.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from handbook.answers.draining import stoppage_said as said
from handbook.answers.draining.blocked import (
    Overflow,
    enters,
    lowest_held,
    overflow,
    possible,
    shows,
)
from handbook.answers.draining.fixture_entries import FixtureEntry, fixture_entries
from handbook.answers.draining.in_use import use
from handbook.answers.draining.tries import Try, TwoWay, tries, two_ways
from handbook.answers.not_asked import NoSuchThingError, no_thing
from handbook.answers.reach import line_holes, reach_of
from handbook.house.drains import DrainTree
from handbook.house.house import House
from handbook.record.grammar.drains import Drains
from handbook.record.grammar.people import Role
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
    """Where it runs over first, at a rim."""
    shows: Overflow
    """Where it is seen first, at a drain's opening."""
    do_not_use: tuple[str, ...]
    may_use: tuple[str, ...]
    cleanouts: tuple[Try, ...]
    at_fixtures: tuple[FixtureEntry, ...]
    """Where a cable goes in for what no fitting cable from a cleanout gets to."""
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
        """The fixture at which waste runs over first; None where the record cannot tell."""
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
    # Signs that no one stretch explains leave nothing to trust, not even what seems to run clear.
    astray = not placed or not legs or any(not tree.ends_known(leg) for leg in wet)
    comes_up, seen = overflow(tree, wet), shows(tree, wet)
    entered = [enters(tree, sign) for sign in signs]
    used = use(house, wet, entered, runs if legs else (), astray)
    to_try = tries(house, legs)
    at_fixtures = fixture_entries(house, legs, to_try)
    assumed, missing = _cable_holes(tree, to_try, at_fixtures)
    beyond = tree.discharge if legs and tree.legs[legs[-1]].to == tree.discharge else None
    return Stoppage(
        signs,
        runs,
        legs,
        beyond,
        comes_up,
        seen,
        used.do_not,
        used.may,
        to_try,
        at_fixtures,
        two_ways(tree, legs),
        "licensed plumber" if astray else _call(house, legs),
        ("sewer utility",) if beyond and _public(house) and _reaches_lowest(tree, legs) else (),
        tuple(_tells_more(tree, legs, (*signs, *runs))),
        apart,
        (
            *said.no_single(house, apart),
            *said.equipment(house, legs),
            *said.held_back(house, comes_up),
            *said.past_the_end(house, legs, beyond),
            *said.seems_clear(house, signs, runs, legs),
            *said.unreached(house, legs, to_try, at_fixtures),
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
        raise no_thing(house, sign, [*tree.rims, *tree.cleanouts])
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


def _reaches_lowest(tree: DrainTree, legs: tuple[str, ...]) -> bool:
    """Whether the lowest drain on this way out backs up, or all that drain through it do."""
    hit, every = tree.through(legs[0]), tree.through(legs[-1])
    return lowest_held(tree, every) in hit or set(hit) == set(every)


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
    tree: DrainTree, to_try: tuple[Try, ...], at_fixtures: tuple[FixtureEntry, ...]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return what the cable lengths take for granted and what they lack, each once."""
    found = [reach_of(tree, tree.cleanouts[name]) for name in dict.fromkeys(t.id for t in to_try)]
    assumed = dict.fromkeys(words for reach in found for words in reach.assumed)
    missing = dict.fromkeys(words for reach in found for words in reach.missing)
    ways = [stretch for it in (*to_try, *at_fixtures) for stretch in it.way]
    return tuple(assumed), (*missing, *line_holes(tree, ways))


def _holes(house: House, backs_up: tuple[str, ...], clear: tuple[str, ...]) -> Iterator[str]:
    tree = house.drains
    for sign in (*backs_up, *clear):
        way = tree.downhill(enters(tree, sign))
        if not way:
            yield f"Which stretch {sign} opens into is not recorded (`on`)."
        elif not tree.ends_known(way[0]):
            yield f"Where {way[-1]} runs into is not recorded (`to`)."
