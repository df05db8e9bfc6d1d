"""The way to the inside main, for somebody who comes to the house the first time."""

from dataclasses import replace

from handbook.answers.route import Route, route, said_walk
from handbook.house.house import House
from handbook.pages.content import Block, MapRow, Para, Tag
from handbook.pages.way_maps import way_maps
from handbook.pages.words import lower
from handbook.record.grammar.common import given
from handbook.record.grammar.water import Water


def way_in(house: House) -> tuple[Block, ...]:
    """Return the way in words and on a map a level, from the outdoor main where there is one.

    Nothing where the way is not known, or has no point to begin a map from.
    """
    water = house.record.water or Water()
    main, start = given(water.inside_main), given(water.outside_main)
    if main is None or start is None:
        return ()
    maps = [
        replace(one, title=f"{'From' if number == 0 else 'On'}: {lower(one.title)}")
        for number, one in enumerate(way_maps(house, (start,), (main,)))
    ]
    if not maps:
        return ()
    answer = route(house, start, main)
    words = Para(("From ", Tag(start), " to ", Tag(main), f": {_said(house, answer)}"))
    return (words, MapRow(tuple(maps)))


def _said(house: House, answer: Route) -> str:
    measured = said_walk(answer, house.record.house.units)
    standing = "; ".join(part for part in (answer.standing, answer.place) if part)
    there = f" There: {standing}." if standing else ""
    return f"{measured}. {answer.way}{there}" if measured else f"{answer.way}{there}"
