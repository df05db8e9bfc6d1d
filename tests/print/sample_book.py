"""A made-up house's book, sheet and tags that use every kind of content, for the print tests.

Nothing here is computed from a record; telephone numbers are of the range kept for fiction
(555-0100 to 555-0199) and the host is under `.example` (RFC 2606).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

from handbook.pages.content import (
    Band,
    Book,
    Bullets,
    Call,
    Drawing,
    Facts,
    Go,
    Guide,
    HouseNote,
    Note,
    Page,
    Para,
    Part,
    Photo,
    Sheet,
    Site,
    Step,
    Steps,
    Strong,
    SubHead,
    Table,
    Tag,
    TagCard,
    TagSheet,
    line,
)

GUIDES = Path(__file__).parent / "guides"
NASTY = "*x* <script>alert(1)</script> [a](javascript:1) | # & \\` {{ 7*7 }} __y__"
HOST = "https://pages.example/K7QZ2MRT4VXA6BWD3NFC5PHL/"
ADDRESS = ("14 Alder Lane", "Fernhollow")
ON = date(2026, 4, 10)

PLUMBER = Call("555-0142", "tel:+15550142")
GAS_UTILITY = Call("555-0177", "tel:+15550177")
EMERGENCY = Call("911", "tel:911")

VALVES = (
    ("W1", "Main shutoff, inside", "everything in the house", "utility room"),
    ("W2", "Kitchen branch", "kitchen sink, dishwasher and ice maker", "cabinet under the sink"),
    ("W4", "Hall bath branch", "hall bath alone", "hall linen closet"),
    ("W7", "Hose bibb stop, north", "north hose bibb", "utility room ceiling"),
    ("G2", "Range gas shutoff", "the range", "behind the range drawer"),
    ("C1", "Two-way cleanout", "building drain both ways", "front lawn"),
)


def _red_pages() -> tuple[Page, ...]:
    water = Page(
        "water-out",
        "Water is coming out",
        (
            Note(
                "danger",
                (
                    line("Water near outlets or the panel can kill."),
                    line("Do not stand in it. Go to ", Go("gas", "I smell gas"), " if you do."),
                ),
            ),
            Steps(
                (
                    Step(
                        line("Close ", Tag("W4"), " in the hall linen closet."),
                        note=line("Lever: turn it a quarter turn, across the pipe."),
                        condition=line("If it comes from the hall bath or the ceiling under it:"),
                    ),
                    Step(
                        line("Close ", Tag("W1", "Main shutoff, inside"), " in the utility room."),
                        note=line("52 ft away, one flight down, about 25 seconds."),
                        condition=line("If it does not stop:"),
                    ),
                    Step(line("Open the lowest tap to let the pipes run empty.")),
                    Step(line("Call the plumber: ", PLUMBER, ".")),
                )
            ),
        ),
        summary=line("A pipe, a hose or a fixture runs and will not stop."),
        red=True,
    )
    gas = Page(
        "gas",
        "I smell gas",
        (
            Note("danger", (line("Gas can explode. Touch no switch, light nothing."),)),
            Steps(
                (
                    Step(line("Go outside at once, everyone. Leave the door open behind you.")),
                    Step(
                        line(
                            "Call ",
                            EMERGENCY,
                            " from there, then the gas utility: ",
                            GAS_UTILITY,
                            ".",
                        )
                    ),
                    Step(line(Strong("Do not go back in"), " until they say so.")),
                )
            ),
        ),
        summary=line("The smell of rotten eggs, or a hiss at the meter."),
        red=True,
    )
    backup = Page(
        "backup",
        "A drain backs up",
        (
            Note("warning", (line("Sewage carries disease. Keep out of it."),)),
            Steps(
                (
                    Step(line("Run no water anywhere in the house.")),
                    Step(line("Do not open a cleanout while water stands in a drain.")),
                    Step(line("Call the plumber: ", PLUMBER, ".")),
                ),
            ),
            Table(
                "What overflows first",
                ("Where", "Height", "Shut it off with"),
                (
                    (line("Floor drain, utility room"), line("0 ft 2 in"), line(Tag("W1"))),
                    (line("Shower, lower bath"), line("0 ft 6 in"), line(Tag("W9"))),
                ),
            ),
        ),
        summary=line("Water rises in a tub, a toilet or the floor drain."),
        red=True,
    )
    return water, gas, backup


def _shutoffs() -> tuple[Page, ...]:
    schedule = Page(
        "schedule",
        "Valve schedule",
        (
            Para(line("Every valve, its number and what it stops. Tagged by hand at handover.")),
            Table(
                "Valves",
                ("Tag", "Name", "Stops", "Where", "Turn"),
                tuple(
                    (line(Tag(tag)), line(name), line(stops), line(where), line("quarter turn"))
                    for tag, name, stops, where in VALVES * 8
                ),
                widths=(1, 2, 3, 2, 1.2),
                tagged=True,
            ),
        ),
        summary=line("All valves on one list."),
    )
    one = Page(
        "W1",
        "Main shutoff, inside",
        (
            Facts(
                (
                    ("Where", line("utility room, behind the hinged panel, 4 ft up")),
                    ("Turn", line("ball valve: a quarter turn, lever across the pipe")),
                    ("Pipe", line("1 1/2 in PEX, 38 ft to the meter")),
                    ("Verified", line("not recorded")),
                )
            ),
            SubHead("If it does not hold"),
            Steps((Step(line("Call the water utility: ", PLUMBER, ".")),), start=3),
            Photo(
                "photos/panel.jpg",
                "The panel open; the lever stands along the pipe.",
                line("Behind the panel, looking north, 2026-04-10"),
            ),
            Note("notice", (line("The heater must be off before the house is drained."),)),
            Note("caution", (line("The panel's edge is sharp."),)),
        ),
        summary=line("Stops everything in the house."),
        tag="W1",
    )
    two = Page(
        "W2",
        "Kitchen branch",
        (
            Facts((("Where", line("cabinet under the sink")), ("Name given", line(NASTY)))),
            Bullets((line("kitchen sink"), line("dishwasher"), line("ice maker, 1/4 in"))),
        ),
        summary=line("Stops the kitchen."),
        tag="W2",
    )
    return schedule, one, two


def _know() -> tuple[Page, ...]:
    heater = Page(
        "heater",
        "The water heater",
        (
            Guide(
                "sample",
                {
                    "heat": "140 °F",
                    "heater": line("the ", Strong("water heater")),
                    "name": NASTY,
                    "valve": Tag("W1"),
                    "plumber": line(PLUMBER),
                    "serves": (line("hall bath"), line("kitchen, by ", Tag("W2"))),
                    "steps": Steps((Step(line("Read the dial.")), Step(line("Write it down.")))),
                    "loop_of": 3,
                },
            ),
        ),
        summary=line("What it is, what not to touch."),
    )
    walls = Page(
        "walls",
        "In the walls",
        (
            Para(
                line(
                    "What stands behind the wallboard. See ",
                    Go("schedule", "the schedule"),
                    " for the valves.",
                )
            ),
            Drawing(
                '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 60">'
                '<path d="M10 50H190V10H10Z" fill="none" stroke="#161616"/>'
                '<text x="20" y="35" font-size="10" font-family="Atkinson Hyperlegible">'
                "HALL BATH</text></svg>",
                "Plan of the hall bath's north wall",
            ),
            HouseNote(
                "Insulation *R-19* in the north wall.\n\n- foam at the rim\n\n- ask "
                "[the builder](https://builder.example/)\n\n<script>alert(1)</script>"
            ),
        ),
        summary=line("Pipes, plates, insulation."),
    )
    care = Page(
        "care",
        "Care through the year",
        (
            Para(
                line(
                    "Twice a year close and open every valve once; a valve that never moves "
                    "sticks. " * 6
                )
            ),
            SubHead("Spring"),
            Bullets((line("hose bibbs: open ", Tag("W7")), line("test each sensor"))),
            SubHead("Fall"),
            Para(line("Drain the hose bibbs before the first frost, at 32 °F or below. " * 8)),
        ),
        summary=line("What is due when."),
    )
    return heater, walls, care


def book() -> Book:
    """A book of about a dozen sheets."""
    return Book(
        "House handbook",
        "Lot 12, Alder Lane",
        ADDRESS,
        (
            Part("emergency", "Emergency", _red_pages()),
            Part("shutoffs", "Shutoffs", _shutoffs()),
            Part("know", "Know your house", _know()),
        ),
        facts=(("Lot", line("Lot 4")),),
        calls=(("Plumber", line(PLUMBER)), ("Gas utility", line(GAS_UTILITY))),
        date=ON,
    )


def site() -> Site:
    """The same book with a page a valve."""
    made = book()
    things = tuple(
        Page(
            tag,
            name,
            (Facts((("Stops", line(stops)), ("Where", line(where)))),),
            summary=line("Stops ", stops, "."),
            tag=tag,
        )
        for tag, name, stops, where in VALVES
        if tag not in ("W1", "W2")
    )
    known = tuple(page for page in made.pages if page.tag)
    return Site(made, known + things)


def sheet() -> Sheet:
    """An emergency sheet of five bands."""
    pages = _red_pages()
    words = ("notice", "danger", "warning", "warning", "caution")
    titles = (
        "Water is coming out",
        "I smell gas",
        "A drain backs up",
        "The heater leaks",
        "A sensor sounds",
    )
    bands = []
    for number, (word, title) in enumerate(zip(words, titles, strict=True)):
        steps = next(b for b in pages[number % 3].blocks if isinstance(b, Steps)).steps[:3]
        steps = tuple(replace(step, note=None) for step in steps)
        calls = (("Plumber", line(PLUMBER)), ("Gas utility", line(GAS_UTILITY)))
        bands.append(Band(title, word, steps, calls[: 1 + number % 2]))  # type: ignore[arg-type]
    return Sheet(
        "In an emergency",
        "Lot 12, Alder Lane",
        ADDRESS,
        tuple(bands),
        others=line("Gas smell: never from inside the house."),
        payload=HOST,
        date=ON,
    )


def tags() -> TagSheet:
    """Twelve tags, two of them without hosted pages, so that their codes carry the text."""
    kinds = {"W": "water", "C": "drain", "G": "gas", "S": "sensor", "E": "equipment"}
    things = (
        *VALVES,
        ("S1", "Pan sensor", "watches the heater pan", "heater pan"),
        ("E1", "Water heater", "makes hot water for the house", "utility room"),
        ("W12", "Toilet stop, hall bath", "hall bath toilet", "left of the bowl"),
        ("W110", "Laundry box, hot", "washing machine, hot", "laundry, upper level"),
        ("HALL-WC", "Toilet, hall bath", "itself", "hall bath"),
    )
    cards = [
        TagCard(
            id_,
            name,
            line("Stops ", stops),
            "Turn clockwise until it stops.",
            where,
            f"{HOST}{id_}/",
            kinds.get(id_[0], "equipment"),
        )  # type: ignore[arg-type]
        for id_, name, stops, where in things
    ]
    cards.append(
        TagCard(
            "W9",
            NASTY[:24],
            line("Stops the lower bath: tub, shower and toilet"),
            "Quarter turn, lever across the pipe.",
            "lower hall closet, 5 ft up",
            "W9: turn the lever across the pipe; stops the lower bath (tub, shower, toilet).",
            "water",
        )
    )
    return TagSheet("Tags", "Lot 12, Alder Lane", tuple(cards), ON)


def write_photo(folder: Path) -> None:
    """A drawn picture in `folder/photos`, larger than is printed, with a place in its EXIF."""
    from PIL import Image, ImageDraw

    picture = Image.new("RGB", (2400, 1600), "#d8d2c4")
    draw = ImageDraw.Draw(picture)
    draw.rectangle((900, 0, 980, 1600), fill="#b5734a")
    draw.ellipse((860, 700, 1020, 860), fill="#c9a227")
    draw.rectangle((920, 300, 960, 780), fill="#9b2423")
    exif = Image.Exif()
    exif[0x010F] = "camera"
    exif.get_ifd(0x8825)[1] = "N"
    (folder / "photos").mkdir(parents=True, exist_ok=True)
    picture.save(folder / "photos" / "panel.jpg", exif=exif)
