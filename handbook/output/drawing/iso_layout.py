"""A riser diagram laid out: every point placed, every pipe led, every word put where it is clear.

A try works on one size of sheet. What does not find its place in a try comes earlier, and gets
more room, in the next one.
"""

from __future__ import annotations

from handbook.output.drawing.iso_bodies import bodies
from handbook.output.drawing.iso_drawn import Layout
from handbook.output.drawing.iso_joins import joins_of
from handbook.output.drawing.iso_place import Placing
from handbook.output.drawing.iso_try import Try, board_of
from handbook.output.drawing.iso_zones import targets, zones
from handbook.pages.riser.content import Riser

RETRIES = 2
"""How often the bodies are placed anew with more room for a pipe that found none."""

PULLS = (
    ((0.008, 0.4), (0.022, 0.0)),
    ((0.015, 0.4), (0.008, 1.2)),
    ((0.015, 0.0), (0.004, 0.8)),
)
"""Ways to place the bodies: how strongly each is drawn to its place on the plan, and how many
steps longer than they must the pipes may be. Of two that are tried together the better is taken."""

GROWN, MOST_GROWN = 1.03, 60
"""How much larger the sheet becomes when nothing fits on it, and how often."""


def best_layout(riser: Riser, wide: float, high: float, largest: float | None) -> Layout | None:
    """Return the better of the first layouts found, on a sheet that grows until one is.

    None where it would have to grow to more than `largest` times its size. Raises ValueError
    where even a sheet many times as large would not do: a fault of ours.
    """
    for grown in range(MOST_GROWN):
        size = GROWN**grown
        if largest is not None and size > largest:
            return None
        for pulls in PULLS:
            tried = [
                lay_out(riser, wide * size, high * size, pull, spare + 0.4 * grown)
                for pull, spare in pulls
            ]
            if found := [layout for layout in tried if layout]:
                return min(found, key=lambda layout: layout.worth)
    raise ValueError(f"{riser.title} finds no room")


def lay_out(riser: Riser, wide: float, high: float, pull: float, spare: float) -> Layout | None:
    """Return the diagram on a sheet of this size; None where something found no place on it."""
    made = bodies(riser)
    shared = zones(riser, made, wide, high)
    places = targets(riser, made, shared)
    room: dict[int, float] = {}
    for _ in range(RETRIES):
        joins = joins_of(riser, made, shared, spare, room)
        at = Placing(made, shared, places, joins, pull).run()
        if at is None:
            return None
        one = Try(riser, made, shared, at, board_of(shared))
        layout = one.run()
        if layout or one.stuck is None:
            return layout
        for n in one.stuck:
            room[n] = room.get(n, 0.0) + 1.5
    return None
