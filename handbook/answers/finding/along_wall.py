"""How far along a room's wall stands what a pipe in it ends at, for somebody about to drill.

Counted from the left corner of the finished walls as one faces the wall from inside the room. A
supply ends at its stop, from where a hose or a connector goes on to the fixture. Known
only where the end has a point on the plan, on the room's level; a stack stands over one point on
all levels that it passes.
"""

from handbook.answers.finding.hidden_pipes import Piped
from handbook.answers.finding.room_sides import beyond, end_point, foot, sides
from handbook.answers.finding.surroundings import AT_THE_WALL
from handbook.answers.finding.wall_names import AT_IT, ONE_OF, TOWARD, called
from handbook.house.house import House


def along(house: House, pipe: Piped, room: str, wall: str) -> float | None:
    """Return the inches along the room's wall of that name; None where the record has no point
    for it there, or where two walls bear the name."""
    point, named = end_point(house, pipe, room), TOWARD in wall
    if point is None or wall.startswith(ONE_OF):
        return None
    near = []
    for side in sides(house, room):
        away, at = foot(side, point) or (AT_THE_WALL + 1, 0.0)
        if away > (AT_THE_WALL if named else AT_IT):
            continue
        other = beyond(house, room, side, at)
        if not named or (other and called(house, room, other, side) == wall):
            near.append((away, at))
    return min(near)[1] if near else None
