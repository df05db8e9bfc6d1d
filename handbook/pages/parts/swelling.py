"""Room for the heaters' water to swell: the system, the tank, its charge."""

from handbook.answers.expansion import expansion
from handbook.answers.heating.expansion_said import sentences
from handbook.house.house import House
from handbook.pages.content import Block, Bullets, Go, Page, Para, SubHead, Tag
from handbook.pages.words import keyless


def swelling(house: House) -> tuple[Page, ...]:
    """Return the page; none where no heater is recorded."""
    blocks: list[Block] = []
    assumed: dict[str, None] = {}
    for answer in expansion(house):
        said = tuple((keyless(sentence),) for sentence in sentences(house, answer))
        blocks += [Para((Tag(answer.heater, answer.name), ":")), Bullets(said)]
        assumed |= dict.fromkeys(answer.assumed)
    if not blocks:
        return ()
    if assumed:
        blocks += [SubHead("How this was reckoned"), Bullets(tuple((each,) for each in assumed))]
        blocks += [Para((Go("table_sources", "Where the numbers come from"), "."))]
    return (Page("swelling_room", "Room for the water to swell", tuple(blocks)),)
