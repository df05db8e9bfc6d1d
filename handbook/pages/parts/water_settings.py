"""Before any pipe is changed: the reducing valve set higher, the softener on its bypass."""

from handbook.answers.flowing.adjustment_words import cautions, change_said
from handbook.answers.flowing.adjustments import Adjustment
from handbook.answers.flowing.margins import Margins
from handbook.house.house import House
from handbook.pages.content import Block, Bullets, Line, Tag
from handbook.pages.parts.flow_say import FlowSay
from handbook.pages.parts.phrases import table


def settings(house: House, found: Margins, say: FlowSay) -> tuple[Block, ...]:
    """Return what each gives the worst fixture, and what care it asks; nothing where none does."""
    if not found.adjustments:
        return ()
    caption = "Before any pipe is changed, one thing at a time: what the worst fixture would have"
    head = ("Change", "Gives back", "Then there", "Its flow", "With one bathroom more")
    rows = [_row(house, found, each, say) for each in found.adjustments]
    kept = 5 if found.spare else 4
    said = tuple((each,) for each in cautions(house, found.adjustments))
    return (
        *table(
            caption, head[:kept], [row[:kept] for row in rows], (3.6, 1.3, 1.3, 1.3, 2.2)[:kept]
        ),
        Bullets(said),
    )


def _row(house: House, found: Margins, each: Adjustment, say: FlowSay) -> tuple[Line, ...]:
    return (
        (Tag(each.thing), f" {change_said(house, each)}"),
        (say.psi(each.gives_back_psi),),
        (say.psi(each.pressure_psi),),
        (say.gpm(each.flow_gpm),),
        (_bathroom(found, each, say),),
    )


def _bathroom(found: Margins, each: Adjustment, say: FlowSay) -> str:
    if each.bathroom_psi is None:
        return "-"
    holds = "enough" if each.bathroom_psi >= found.need_psi else "too little"
    return f"{say.psi(each.bathroom_psi)}: {holds}"
