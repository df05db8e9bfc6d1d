"""The parts of which a map is composed, as plain data on the plan: no page, no scale, no SVG.

All points are (x, y) in inches on the plan, x to the right and y up, from the origin that all
levels and the lot share. What a mark or a line looks like and what the legend says of it stand
in the tables `map_marks` and `map_lines`; a plan only names them.
"""

from dataclasses import dataclass

Point = tuple[float, float]
Outline = tuple[Point, ...]
"""The corners of a shape, in order round it; the last joins the first."""


@dataclass(frozen=True)
class Room:
    """A room's outline and its name."""

    name: str
    outline: Outline


@dataclass(frozen=True)
class Door:
    """An opening: its two jambs, and for a door that swings, its hinge and the tip of its leaf
    as it stands open at a right angle. `shut` is where the tip comes to when it is closed."""

    jambs: tuple[Point, Point]
    hinge: Point | None = None
    tip: Point | None = None
    shut: Point | None = None


@dataclass(frozen=True)
class Flight:
    """What a level shows of a flight of stairs: its treads across, and the line up or down it.

    `word` is UP or DN, as the trade writes it, for somebody who stands at `foot`; none for the
    part behind a turn.
    """

    treads: tuple[tuple[Point, Point], ...]
    outline: Outline
    foot: Point
    end: Point
    word: str


@dataclass(frozen=True)
class Mark:
    """One thing, drawn as the symbol `kind` of the table `map_marks`.

    `tag` is what stands beside it, set bold, and `words` what follows the tag. A mark without
    either has no label. Labels of a higher `rank` are placed first. `ids` are what the mark
    stands for. `ringed` draws a ring round what the map is about. Only things of one `room` may
    share a symbol where they are crowded. `turn` is how far the symbol is turned from pointing
    right, in degrees counterclockwise. `unseen` says that its place was only told or drawn.
    """

    kind: str
    at: Point
    tag: str = ""
    words: str = ""
    rank: int = 0
    ids: tuple[str, ...] = ()
    ringed: bool = False
    room: str = ""
    turn: float = 0.0
    unseen: bool = False


GROUND = ("lot line", "ground edge")
"""The lines of a plan that are no pipe."""


@dataclass(frozen=True)
class Pipe:
    """A line of the table `map_lines`; with `flows`, an arrow shows the way from first to last.

    `ends` are the ids of what stands at its first and at its last point, `on` of what else is part
    of it: no other thing's symbol may seem to be.
    """

    kind: str
    points: Outline
    label: str = ""
    flows: bool = False
    ends: tuple[str, str] = ("", "")
    on: tuple[str, ...] = ()


@dataclass(frozen=True)
class Tie:
    """A taped distance in words, from a corner to a thing."""

    corner: Point
    to: Point
    words: str


@dataclass(frozen=True)
class Plan:
    """All that one map shows.

    `north` is degrees clockwise from the top of the plan; None draws no arrow. `metric`
    says the scale bar in metres. `walls_taken` are the walls, `inside` and `outside` ones, whose
    thickness the record does not have.
    """

    rooms: tuple[Room, ...] = ()
    walls: tuple[Outline, ...] = ()
    doors: tuple[Door, ...] = ()
    flights: tuple[Flight, ...] = ()
    marks: tuple[Mark, ...] = ()
    pipes: tuple[Pipe, ...] = ()
    ties: tuple[Tie, ...] = ()
    ways: tuple[Outline, ...] = ()
    north: float | None = None
    metric: bool = False
    walls_taken: tuple[str, ...] = ()
