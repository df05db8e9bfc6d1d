"""What a stoppage answer adds in words: valves, vents, the street, and where no cleanout gets to.

Each function yields whole sentences, or nothing.
"""

from collections.abc import Iterator

from handbook.answers.draining.blocked import Overflow, enters, holders, lowest_held, possible
from handbook.answers.draining.fixture_entries import FixtureEntry
from handbook.answers.draining.tries import Try
from handbook.house.house import House
from handbook.record.grammar.common import each
from handbook.record.grammar.drains import Drains


def leg_name(house: House, leg: str) -> str:
    """Return `D2 (Hall bath branch)`, or `the trap and arm of hall-lav (Lavatory, hall bath)`."""
    named, found = house.called(leg), house.drains.legs[leg]
    return f"the {found.kind} of {named}" if found.own else named


def equipment(house: House, legs: tuple[str, ...]) -> Iterator[str]:
    """Say which backwater valve or ejector may be at fault rather than the pipe."""
    for leg in legs:
        for it in house.drains.equipment.get(leg, ()):
            does = "hang shut" if it.kind == "backwater valve" else "have stopped or tripped"
            yield f"{house.called(it.id)} stands in {leg}; it may {does} instead."


def held_back(house: House, comes_up: Overflow) -> Iterator[str]:
    """Say what a valve keeps the waste from, and where it comes up if the valve fails."""
    for valve, kept in comes_up.held.items():
        names = ", ".join(house.called(fixture) for fixture in kept)
        first = lowest_held(house.drains, kept)
        up = f"; if it does not hold, it comes up first at {house.called(first)}" if first else ""
        yield f"{house.called(valve)} keeps what backs up away from {names}{up}."


def past_the_end(house: House, legs: tuple[str, ...], beyond: str | None) -> Iterator[str]:
    """Say that the stoppage may lie in the street or in the tank."""
    if beyond:
        yield f"It can also lie past {legs[-1]}, in {house.called(beyond)}."


def seems_clear(
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


def unreached(
    house: House,
    legs: tuple[str, ...],
    to_try: tuple[Try, ...],
    at_fixtures: tuple[FixtureEntry, ...],
) -> Iterator[str]:
    """Say which stretches no cleanout surely reaches, and at which fixtures a cable goes in."""
    reached = {stretch for each in to_try for stretch in each.reaches}
    missed = [leg for leg in legs if leg not in reached and not house.drains.legs[leg].own]
    if missed:
        entries = [each for each in at_fixtures if set(missed) & set(each.reaches)]
        ways = [f"{house.called(each.id)}, {each.how}" for each in entries]
        instead = f"; a plumber's cable goes in at {' or '.join(ways)}" if ways else ""
        yield f"No cleanout surely reaches {', '.join(missed)}{instead}."


def no_single(house: House, apart: dict[str, tuple[str, ...]]) -> Iterator[str]:
    """Say that no single stoppage explains the signs, and what else would."""
    if not apart:
        return
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
    yield "Until a plumber has looked, use nothing that drains."


def _vents(house: House, signs: tuple[str, ...]) -> Iterator[str]:
    """Yield the vents that serve the first stretch, or the trap, of every one of these."""
    tree = house.drains
    for vent in each((house.record.drains or Drains()).vents):
        serves = set(vent.serves or ())
        if all(serves & set(tree.downhill(enters(tree, sign))[:2]) for sign in signs):
            yield vent.id
