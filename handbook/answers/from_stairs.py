"""From the stairs: which door it is, for somebody who has come down (or up) to a thing's level."""

from handbook.answers.finding.directions import directions
from handbook.answers.route import anchor
from handbook.house.floor_plan import Anchor
from handbook.house.house import House
from handbook.record.grammar.places import OUTSIDE


def from_stairs(house: House, thing: str) -> str:
    """Return the way to a thing's room from the last flight of the way in from outdoors:
    `right along the hall, left into the utility room`.

    Empty where that way has no flight, or where several flights end on the thing's level.
    """
    goal = anchor(house, thing)
    came_in = house.plan.walks.to(Anchor(OUTSIDE), goal)
    flights = [it for it in came_in.passages if it.kind == "stairs"] if came_in else []
    if not came_in or not flights:
        return ""
    foot = came_in.zones[came_in.passages.index(flights[-1]) + 1]
    level = house.plan.zones[foot].level
    ending = [
        it
        for it in house.plan.passages
        if it.kind == "stairs" and level in (house.plan.zones[end].level for end in (it.a, it.b))
    ]
    start = Anchor(flights[-1].other(foot))
    walk = house.plan.walks.to(start, goal)
    if len(ending) > 1 or walk is None or foot not in walk.zones:
        return ""
    return directions(house, walk, start, goal, since=walk.zones.index(foot))
