"""The pages for the moment something is wrong, one situation a page, most pressing first.

Each page is a guide of ours (`templates/guides`) filled with this house's own valves, places and
numbers, and the tables that are computed for it. A page is left out only where the house is
known to lack what it is about. The rows of `by_room` and the steps of the ladder have room for the
way on foot and for what spills meanwhile.
"""

from dataclasses import dataclass, replace

from handbook.answers.has import has
from handbook.house.house import House
from handbook.house.once import once
from handbook.pages import by_room, situation_tables
from handbook.pages.content import Guide, Page, Value
from handbook.pages.guide_values import guide_values
from handbook.pages.pipe_ends import pipe_ends
from handbook.pages.through_pages import through_pages
from handbook.pages.which_drains import which_drains
from handbook.pages.words import situation


@dataclass(frozen=True)
class _Subject:
    """A page to be made: its id (and guide), title, what it needs, whether it is red, or urgent
    all the same."""

    id: str
    title: str
    summary: str
    needs: str | None = None
    red: bool = False
    urgent: bool = False


SUBJECTS = (
    _Subject("water", "Water is coming out", "From a pipe, a fixture or the ceiling.", red=True),
    _Subject(
        "will-not-stop",
        "The water will not stop",
        "A valve will not turn, or it still runs.",
        red=True,
    ),
    _Subject(
        "water-and-power",
        "Water near outlets or the breaker panel",
        "Water and power together can kill.",
        red=True,
    ),
    _Subject("gas", "I smell gas", "A smell of rotten eggs, or a hiss.", needs="gas", red=True),
    _Subject("backup", "A drain backs up", "One drain, several, or the lowest.", red=True),
    _Subject(
        "heater-leaks",
        "The water heater leaks",
        "Water around the heater or in its pan.",
        needs="heater",
        red=True,
    ),
    _Subject(
        "carbon-monoxide",
        "Carbon monoxide alarm",
        "Get out first, call from outside.",
        red=True,
    ),
    _Subject(
        "alarm", "A leak alarm sounds", "Or a pan holds water.", needs="leak alarm", urgent=True
    ),
    _Subject(
        "relief-drips",
        "The heater's relief pipe drips",
        "The pipe beside or under the heater drips or runs.",
        needs="relief valve",
        urgent=True,
    ),
    _Subject("no-hot-water", "No hot water", "What to look at, and whom to call.", needs="heater"),
    _Subject("too-hot", "The hot water is too hot", "It scalds, or steams.", needs="heater"),
    _Subject("frozen", "A pipe may be frozen", "A tap gives a trickle, or nothing."),
    _Subject("trip", "Shut the water off for a trip", "Before you go away for some days."),
    _Subject("back-on", "Turn the water back on", "After a repair or a trip."),
)

TABLES = {
    "alarm": situation_tables.leak_alarms,
    "frozen": situation_tables.outdoor_taps,
    "relief-drips": pipe_ends,
    "too-hot": situation_tables.burns,
}
"""What follows the guide on its page."""


@once
def emergency_pages(house: House) -> tuple[Page, ...]:
    """The red pages, in the order in which they stand at the front of the book."""
    follows = {situation("backup"): which_drains(house)}
    red = (each for page in _pages(house, red=True) for each in (page, *follows.get(page.id, ())))
    return (*red, *by_room.level_pages(house), *through_pages(house))


@once
def situation_pages(house: House) -> tuple[Page, ...]:
    """The calmer pages, which follow the red ones."""
    return _pages(house, red=False)


def _pages(house: House, red: bool) -> tuple[Page, ...]:
    features, values = has(house), guide_values(house)
    return tuple(
        _page(house, subject, values)
        for subject in SUBJECTS
        if subject.red == red and (subject.needs is None or features[subject.needs] != "no")
    )


def _page(house: House, subject: _Subject, values: dict[str, Value]) -> Page:
    after = TABLES.get(subject.id)
    blocks = (Guide(subject.id, values), *(after(house) if after else ()))
    summary = (subject.summary,)
    page = Page(situation(subject.id), subject.title, blocks, summary)
    return replace(page, red=subject.red, urgent=subject.urgent)
