"""What the words of a run's `way` tell: whether it lies in a floor or ceiling, in a wall, in both.

The word that leads to a floor or a wall decides: `inside the wall` is in it, `to the back wall`
only ends there, and what goes under a wall is in the floor. Where the words leave it open, a pipe
is taken to be in the wall or floor named, because somebody may drill there.
"""

import re
from dataclasses import dataclass
from functools import cache

WORD = re.compile(r"\d[\d /.-]*(?:in|ft|mm|cm|m)\b|[a-z]+|[,;.:]")
FLAT = re.compile(r"\w*floor|ceilings?|slab|joists?|truss(es)?|attic|crawl\w*")
WALL = re.compile(r"wall\w*|risers?|studs?")

REACHING = re.compile("to|towards?|from|at|near|by|before|beside|past|opposite|until")
UNDER = re.compile("under|underneath|beneath")
OVER_OR_UNDER = re.compile("under|underneath|beneath|below|over|above")
HOLDING = re.compile("in|inside|within|into|through|up|down|behind|along|across|out|around|on")
ANEW = re.compile("[,;.:]|then")
RISING = re.compile("up|down|ris(es|ing)|drop(s|ping)|climbs")
CROSSING = re.compile("along|across|over")


@dataclass(frozen=True)
class Held:
    """A wall that holds a pipe: the words before it and after."""

    before: str
    after: str


@dataclass(frozen=True)
class Way:
    """`flat`: it lies in a floor or ceiling, as far as told; `walls`: those that it lies in."""

    flat: bool
    walls: tuple[Held, ...]

    @property
    def upright(self) -> bool:
        """Whether it lies in a wall, as far as told."""
        return bool(self.walls)


@cache
def read(way: str) -> Way:
    """Return what the words of a way tell; neither where they name no floor and no wall."""
    said = _Said(way.lower())
    for found in WORD.finditer(said.text):
        said.take(found[0], found.start(), found.end())
    return Way(said.flat, tuple(said.walls))


class _Said:
    """A way, read word by word: `led` is the word that leads to the next floor or wall, `reached`
    what the pipe has only come to so far."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.flat = False
        self.walls: list[Held] = []
        self.led = self.reached = ""

    def take(self, word: str, start: int, end: int) -> None:
        self._go_on(word, start)
        if ANEW.fullmatch(word):
            self.led = ""
        elif any(kind.fullmatch(word) for kind in (REACHING, OVER_OR_UNDER, HOLDING)):
            self.led = word
            self.flat = self.flat or bool(UNDER.fullmatch(word))
        elif FLAT.fullmatch(word):
            self._floor()
        elif WALL.fullmatch(word):
            self._wall(start, end)

    def _go_on(self, word: str, start: int) -> None:
        """From a wall up or down is in it; from a ceiling across is in that."""
        if self.reached == "wall" and RISING.fullmatch(word):
            self.walls.append(Held(self.text[:start], ""))
        if self.reached == "floor" and CROSSING.fullmatch(word):
            self.flat = True

    def _floor(self) -> None:
        if REACHING.fullmatch(self.led):
            self.reached = "floor"
        else:
            self.flat = True

    def _wall(self, start: int, end: int) -> None:
        if OVER_OR_UNDER.fullmatch(self.led):
            self.flat = True
        elif REACHING.fullmatch(self.led) or (self.led == "along" and self.flat):
            self.reached = "wall"
        else:
            self.walls.append(Held(self.text[:start], self.text[end:]))
