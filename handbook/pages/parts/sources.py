"""Where the numbers come from: every table of published values, as its own file names it."""

from handbook import tables
from handbook.pages.content import Block, Para
from handbook.pages.parts.phrases import table
from handbook.tables import Table

PRACTICE = "common practice"


def _how(found: Table) -> str:
    if found.source.startswith(PRACTICE):
        return PRACTICE
    return "read" if found.seen else "from memory"


def sources() -> tuple[Block, ...]:
    """Return a row for each table: what it holds, its source, and whether it was read there."""
    known = sorted((tables.table(name) for name in tables.names()), key=lambda it: it.title.lower())
    rows = [((it.title,), (it.source,), (_how(it),)) for it in known]
    before = Para(
        (
            "Every figure that is not this house's own is from one of these tables. The last "
            "column says whether it was read in its source. The ones from memory were written down "
            "without the source at hand: look them up before you rely on them. Codes differ by "
            "edition and by place, and the local code and the inspector decide.",
        )
    )
    head = ("What", "Source", "How known")
    return (before, *table("Tables of published values", head, rows, (4, 7, 1.2)))
