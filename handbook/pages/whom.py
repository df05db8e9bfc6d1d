"""Whom to call and when: the numbers, then situation by situation what is whose."""

from handbook.answers.whom import Contact, Duty, Situation, to_call, whom
from handbook.house.house import House
from handbook.pages.calls import label, numbers
from handbook.pages.content import Facts, Line, Note, Page, Strong, Table
from handbook.pages.parts.phrases import joined
from handbook.pages.words import bare, capital


def whom_pages(house: House) -> tuple[Page, ...]:
    """A page of numbers, and a page of who does what."""
    return (_numbers(house), _duties(house))


def _numbers(house: House) -> Page:
    rows = tuple((label(each), _told(each)) for each in to_call(house))
    summary = ("All numbers on one page.",)
    return Page("whom_to_call", "Numbers to call", (Facts(rows),), summary)


def _told(contact: Contact) -> Line:
    """The number, then who answers and when."""
    more = [text for text in (contact.name, contact.hours) if text]
    return (*numbers(contact), *(f". {capital(text)}" for text in more))


def _duties(house: House) -> Page:
    caution = Note(
        "warning",
        (
            ("Do only what is listed under You. Leave the rest to those named.",),
            ("The local code and the license law of your place decide.",),
        ),
    )
    head = ("What happens", "You", "Never", "Whose it is otherwise")
    rows = tuple(_row(situation) for situation in whom(house))
    return Page(
        "who_does_what",
        "Who does what",
        (caution, Table("Situation by situation", head, rows, widths=(1.8, 2.1, 1.9, 4.2))),
        summary=("What you may do, and what belongs to others.",),
    )


def _row(situation: Situation) -> tuple[Line, ...]:
    others = [_duty(duty) for duty in situation.duties]
    if situation.unsure:
        others.append((situation.unsure,))
    return (
        (Strong(situation.name),),
        (situation.you,),
        (situation.never,),
        joined(others, " "),
    )


def _duty(duty: Duty) -> Line:
    """Who it is, with the number; what they do, and in brackets why it is theirs."""
    who: Line = (Strong(label(duty.contact)), ", ", *numbers(duty.contact), ": ")
    does = f"{duty.does} ({bare(duty.why)}.)"
    return (*who, f"{does} {duty.unsure}" if duty.unsure else does)
