"""The book: what a house's pages are and in what order, the emergencies first."""

from handbook.answers.whom import contacts
from handbook.house.house import House
from handbook.house.once import once
from handbook.pages.calls import label, numbers
from handbook.pages.content import Block, Book, HouseNote, Line, Page, Part, SubHead
from handbook.pages.cover import address, cover_facts
from handbook.pages.emergency import emergency_pages, situation_pages
from handbook.pages.parts.care import care_part
from handbook.pages.parts.cleanouts import cleanout_part
from handbook.pages.parts.fixtures import fixture_part
from handbook.pages.parts.gas import gas_part
from handbook.pages.parts.holes import holes_part
from handbook.pages.parts.hot_water import hot_water_part
from handbook.pages.parts.know import know_part
from handbook.pages.parts.leaks import leak_part
from handbook.pages.parts.plumber import plumber_part
from handbook.pages.parts.shutoffs import shutoff_part
from handbook.pages.parts.walls import walls_part
from handbook.pages.trade_words import explained
from handbook.pages.way_pages import way_pages, with_pointers
from handbook.pages.whom import whom_pages

TITLE = "House systems handbook"


@once
def book(house: House) -> Book:
    """Return the whole book of a house. A part about which nothing is recorded is left out."""
    ways = way_pages(house)
    emergency = with_pointers(house, emergency_pages(house), ways)
    parts = (
        *_part("emergency_part", "If something is wrong", emergency),
        *_part("ways_part", "Ways to the shutoffs", ways),
        *_part("situation_part", "What to do when", situation_pages(house)),
        *explained(_homeowners(house)),
        *plumber_part(house),
        *holes_part(house),
        *_part("notes_part", "Notes on this house", _notes(house)),
        *_part("whom_part", "Whom to call, and when", whom_pages(house)),
    )
    facts = house.record.house
    recorded = facts.recorded.on if facts.recorded else None
    return Book(
        TITLE,
        facts.name,
        address(house),
        parts,
        cover_facts(house),
        _calls(house),
        recorded or facts.handover,
    )


def _homeowners(house: House) -> tuple[Part, ...]:
    """Return the parts that are written for whoever lives in the house."""
    return (
        *know_part(house),
        *shutoff_part(house),
        *fixture_part(house),
        *cleanout_part(house),
        *gas_part(house),
        *hot_water_part(house),
        *leak_part(house),
        *walls_part(house),
        *care_part(house),
    )


def _part(name: str, title: str, pages: tuple[Page, ...]) -> tuple[Part, ...]:
    return (Part(name, title, pages),) if pages else ()


def _calls(house: House) -> tuple[tuple[str, Line], ...]:
    """Return the numbers that the record has, in the order of the roles."""
    return tuple((label(c), numbers(c)) for c in contacts(house).values() if c.phone)


def _notes(house: House) -> tuple[Page, ...]:
    """Return the notes that name no other part of the book."""
    blocks: list[Block] = []
    for note in house.record.notes or ():
        if note.part == "house":
            blocks += (SubHead(note.title), HouseNote(note.text))
    return (Page("house_notes", "Notes", tuple(blocks)),) if blocks else ()
