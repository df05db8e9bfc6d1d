"""What a page may hold, as typed content without markup, so that one composed page can become
paper, a phone page and a tag, and so that nothing from a record is ever read as markup.

How the parts nest:

- a *span* is a piece of text in a line; a *line* is a tuple of spans: `line("Close ", Tag("W1"))`
- a *block* is a paragraph, numbered steps, a table, ...; a *page* is a title and its blocks
- a *part* is a chapter of pages; a *book* is the parts, and what its cover says
- a *site* is a book and one more page for each tagged thing
- a *sheet* is the emergency sheet; a *tag sheet* is the cards to cut and hang

Text is plain text: what looks like HTML or Markdown in it is printed as it stands, and spaces
between a number and its unit are made unbreakable when it is rendered. Everything here is
frozen. A page id or tag that cannot be a folder name is a fault of ours and raises ValueError.
"""

from handbook.pages.content.blocks import (
    Block,
    Bullets,
    Facts,
    Guide,
    HouseNote,
    Note,
    Para,
    Photo,
    SignalWord,
    Signs,
    Step,
    Steps,
    SubHead,
    Table,
    Value,
    Words,
)
from handbook.pages.content.books import (
    Book,
    Page,
    Part,
    Site,
)
from handbook.pages.content.cards import (
    Band,
    Kind,
    Sheet,
    TagCard,
    TagSheet,
)
from handbook.pages.content.drawings import (
    Drawing,
    Map,
    MapRow,
    Profile,
    ProfileMark,
    Size,
)
from handbook.pages.content.spans import (
    Call,
    Go,
    Line,
    Span,
    Strong,
    Tag,
    line,
    plain,
)

__all__ = [
    "Band",
    "Block",
    "Book",
    "Bullets",
    "Call",
    "Drawing",
    "Facts",
    "Go",
    "Guide",
    "HouseNote",
    "Kind",
    "Line",
    "Map",
    "MapRow",
    "Note",
    "Page",
    "Para",
    "Part",
    "Photo",
    "Profile",
    "ProfileMark",
    "Sheet",
    "SignalWord",
    "Signs",
    "Site",
    "Size",
    "Span",
    "Step",
    "Steps",
    "Strong",
    "SubHead",
    "Table",
    "Tag",
    "TagCard",
    "TagSheet",
    "Value",
    "Words",
    "line",
    "plain",
]
