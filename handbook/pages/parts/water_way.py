"""The way from the meter to the worst fixture at peak: drawn, and step by step as a table."""

from handbook.answers.flowing.margins import Margins
from handbook.answers.flowing.pressure_profile import WayStep, profile, way_table
from handbook.house.house import House
from handbook.measures import KPA_PER_PSI, METRES_PER_FOOT
from handbook.pages.content import Block, Line, Para, Profile, ProfileMark, SubHead, Tag, plain
from handbook.pages.parts.flow_say import FlowSay
from handbook.pages.parts.phrases import HOLE, short, table
from handbook.pages.parts.say import Say
from handbook.pages.words import lower


def way_blocks(house: House, found: Margins, say: FlowSay) -> tuple[Block, ...]:
    """Return the drawing of the way to the worst fixture, and its steps as a table."""
    drawing = _profile(house, found, say)
    if not drawing:
        return ()
    name = lower(house.items[found.worst].name)
    return (SubHead(f"From the meter to the {name}"), *drawing, *_steps(house, found, say))


def _steps(house: House, found: Margins, say: FlowSay) -> tuple[Block, ...]:
    pipe = Say.of(house, HOLE)
    rows = [
        (
            _thing(house, step, found),
            (pipe.run(step.pipe.run) if step.pipe else house.items[step.thing].kind,),
            (say.gpm(step.gpm),),
            (say.speed(step.speed_ft_s),),
            (say.psi(step.loss_psi),),
            (say.height(step.height_ft),),
            (say.psi(step.left_psi),),
        )
        for step in way_table(house, found)
    ]
    head = ("To", "Pipe or equipment", "Flow", "Speed", "Takes", "Height", "Left")
    caption = (
        "The same way at peak, step by step (height: main floor = 0; a pipe with its fittings)"
    )
    return table(caption, head, rows, (1.5, 2.6, 1.3, 1.3, 1.2, 1.5, 1.1))


def _thing(house: House, step: WayStep, found: Margins) -> Line:
    return (house.items[found.worst].name,) if step.thing == found.worst else (Tag(step.thing),)


def _profile(house: House, found: Margins, say: FlowSay) -> tuple[Block, ...]:
    metric = say.units == "metric"
    pressure, length = (KPA_PER_PSI, METRES_PER_FOOT) if metric else (1.0, 1.0)
    points = profile(house, found)
    if len(points) < 2:
        return ()
    name = lower(house.items[found.worst].name)
    marks = tuple(
        ProfileMark(
            plain(short(house, point.thing)),
            point.along_ft * length,
            point.before_psi * pressure,
            point.behind_psi * pressure,
            point.rest_before_psi * pressure,
            point.rest_behind_psi * pressure,
        )
        for point in points
    )
    need, left = say.psi(found.need_psi), say.psi(found.pressure_psi)
    title = (
        f"Pressure from {marks[0].label} to the {name} at peak demand: {left} is left there, "
        f"and it needs {need}."
    )
    drawing = Profile(
        title,
        marks,
        found.need_psi * pressure,
        "kPa" if metric else "psi",
        "at peak demand",
        "nothing running",
        f"needs {need}",
    )
    said = (
        f"Pressure along the pipe, from {marks[0].label} to the {name}; equipment stands upright."
    )
    return (Para((said,)), drawing)
