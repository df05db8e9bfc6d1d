"""Whom to call and when: the numbers, then situation by situation what is whose."""

from handbook.answers.whom import Contact, Duty, Situation, contacts, whom
from handbook.house.house import House
from handbook.pages.calls import label, numbers
from handbook.pages.content import Block, Facts, Line, Note, Page, Para, Table
from handbook.pages.words import bare


def whom_pages(house: House) -> tuple[Page, ...]:
    """A page of numbers, and a page of who does what."""
    return (_numbers(house), _duties(house))


def _numbers(house: House) -> Page:
    rows = tuple((label(each), _told(each)) for each in contacts(house).values())
    summary = ("All numbers on one page.",)
    return Page("whom_to_call", "Numbers to call", (Facts(rows),), summary)


def _told(contact: Contact) -> Line:
    """The number, then who answers and when."""
    more = [text for text in (contact.name, contact.hours) if text]
    return (*numbers(contact), *(f". {text}" for text in more))


def _duties(house: House) -> Page:
    caution = Note(
        "warning",
        (
            ("Do only what is listed under You. Leave the rest to those named.",),
            ("The local code and the license law of your place decide.",),
        ),
    )
    tables = [block for situation in whom(house) for block in _situation(situation)]
    return Page(
        "who_does_what",
        "Who does what",
        (caution, *tables),
        summary=("What you may do, and what belongs to others.",),
    )


def _situation(situation: Situation) -> tuple[Block, ...]:
    rows: list[tuple[Line, ...]] = [
        (("You",), (situation.you,)),
        (("Never",), (situation.never,)),
        *(_duty(duty) for duty in situation.duties),
    ]
    table = Table(situation.name, ("Who", "Does what"), tuple(rows), widths=(3, 5))
    return (table, Para((situation.unsure,))) if situation.unsure else (table,)


def _duty(duty: Duty) -> tuple[Line, ...]:
    """Who it is, with the number; what they do, and in brackets why it is theirs."""
    who: Line = (f"{label(duty.contact)}, ", *numbers(duty.contact))
    does = f"{duty.does} ({bare(duty.why)}.)"
    return (who, (f"{does} {duty.unsure}" if duty.unsure else does,))
