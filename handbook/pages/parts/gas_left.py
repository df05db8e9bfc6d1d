"""What the gas pipes carry, and what is left: in plain words, and as the plumber's table."""

from __future__ import annotations

from handbook.answers.gas import GasAnswer, gas
from handbook.answers.gas_sizing.gas_outlets import GasOutletSize
from handbook.answers.gas_sizing.gas_runs import GasRunSize
from handbook.house.house import House
from handbook.measures import Length
from handbook.pages.content import Block, Bullets, Facts, Line, Note, Para, Strong, SubHead, Tag
from handbook.pages.parts.gas_in_place import NOT_KNOWN, in_its_place, rate_words
from handbook.pages.parts.phrases import NONE, NOT_RECORDED, sentence, short, table
from handbook.pages.parts.runs import made_of
from handbook.pages.parts.say import Say
from handbook.pages.words import keyless, listed, lower
from handbook.record.grammar.common import given
from handbook.record.knowing import ABSENT
from handbook.tables import table as published

PLANNING = (
    "These figures are for planning only: what such appliances usually take; the appliance's own "
    "plate decides. A tankless heater asks for its own flue and air too. A licensed plumber sizes, "
    "connects and tests whatever is added to gas pipe; the local code and the inspector decide."
)


def left_for_later(house: House) -> tuple[Block, ...]:
    """Return what a homeowner who plans ahead wants: what each stub could feed."""
    answer = gas(house)
    stubs = [outlet for outlet in answer.outlets if outlet.kind == "outlet"]
    heaters = [each for each in answer.outlets if each.kind == "appliance" and each.fits]
    if not stubs and not answer.runs:
        return ()
    none: Block = Para(("No outlet for later is recorded.",))
    if (pipes := given(house.record.gas)) and pipes.outlets is ABSENT:
        none = Para((f"Outlets for later: {NONE}.",))
    return (
        *_too_much(house, answer),
        SubHead("What is left for later"),
        *([block for stub in stubs for block in _stub(house, stub)] or [none]),
        *_meter(house, answer),
        *(block for heater in heaters for block in in_its_place(house, heater)),
        Para((PLANNING,)),
    )


def _too_much(house: House, answer: GasAnswer) -> tuple[Block, ...]:
    """Return a warning for pipes whose load is more than they carry."""
    over = [run for run in answer.runs if run.over]
    if not over:
        return ()
    say = Say.of(house)
    lines: tuple[Line, ...] = tuple(
        (
            "The gas pipe to ",
            *short(house, run.id),
            f" has {rate_words(say, run.load_btuh)} on it",
            f" and carries {rate_words(say, run.capacity_btuh)}.",
        )
        for run in over
    )
    ask: Line = ("Have a licensed plumber look at it before anything else is added.",)
    return (Note("warning", (*lines, ask)),)


def _stub(house: House, stub: GasOutletSize) -> tuple[Block, ...]:
    say, name = Say.of(house), lower(stub.name)
    if stub.margin_btuh is None:
        words = (
            f": what it could feed is {NOT_KNOWN}; the plumber's part says which facts it needs."
        )
        return (Para((Tag(stub.id, stub.name), words)),)
    could = rate_words(say, max(0.0, stub.margin_btuh + stub.load_btuh))
    first: Line = (
        "The pipe to the ",
        f"{name} (",
        Tag(stub.id),
        ") can carry ",
        Strong(could),
        ". ",
        *_meant(say, stub),
    )
    return (Para(first), *_feeds(say, stub))


def _feeds(say: Say, outlet: GasOutletSize) -> tuple[Block, ...]:
    """Return for what the pipes are enough there, and for what not."""
    fits = [f"{fit.what} ({rate_words(say, fit.btuh)})" for fit in outlet.fits if fit.fits]
    too_big = [f"{fit.what} ({rate_words(say, fit.btuh)})" for fit in outlet.fits if not fit.fits]
    lines: list[Line] = []
    if fits:
        one = "one of these: " if len(fits) > 1 else ""
        lines.append((f"Enough for {one}{listed(fits, 'or')}.",))
    if too_big:
        lines.append((f"Not enough for: {listed(too_big, 'or')}.",))
    return (Bullets(tuple(lines)),) if lines else ()


def _meant(say: Say, stub: GasOutletSize) -> Line:
    """Return whether a stub is enough for what it is meant for."""
    if stub.wants_btuh is None:
        return ()
    wants = rate_words(say, stub.wants_btuh)
    by = "it was sized for" if stub.wants_by == "record" else "such an appliance usually takes"
    if stub.too_small:
        return (Strong("That is too little"), f" for the {wants} that {by}.")
    return (f"That is enough for the {wants} that {by}.",)


def _meter(house: House, answer: GasAnswer) -> tuple[Block, ...]:
    meter, say = answer.meter, Say.of(house)
    if meter is None or meter.capacity_btuh is None:
        return ()
    takes = f"With everything burning at once the house takes {rate_words(say, meter.load_btuh)}"
    most = f"the meter's class is {rate_words(say, meter.capacity_btuh)}"
    known = "" if meter.whole else " at least"
    ask = ""
    if meter.load_btuh > meter.capacity_btuh:
        ask = " That is more than its class: ask the gas utility, which sets the meter."
    return (Para((f"{takes}{known}; {most}.{ask}",)),)


def could_take(house: House, thing: str) -> Line:
    """Return in a line what an outlet could feed, for its own page."""
    found = [outlet for outlet in gas(house).outlets if outlet.id == thing]
    if not found or found[0].margin_btuh is None:
        return (NOT_KNOWN,)
    could = rate_words(Say.of(house), max(0.0, found[0].margin_btuh + found[0].load_btuh))
    return (f"{could} in all, as the pipes are; to be connected by a licensed plumber",)


def sizing(house: House) -> tuple[Block, ...]:
    """Return the plumber's tables: each stretch, each outlet, what was assumed, what is missing."""
    answer = gas(house)
    if not answer.runs:
        return ()
    say = Say.of(house)
    runs = [_run(house, say, run) for run in answer.runs]
    unit = _amount(say, 0.0)[1]
    amounts = (f"Load, {unit}", "Length used", f"Carries, {unit}", "Read from", f"Left, {unit}")
    outlets = [_outlet(house, say, outlet) for outlet in answer.outlets]
    return (
        *table(
            "Gas sizing by the longest-length method",
            ("To", "Pipe", *amounts),
            runs,
            (1.2, 2.1, 1.3, 0.9, 1.5, 3.0, 1.2),
        ),
        *table(
            "What could still be added",
            ("At", f"Burns now, {unit}", f"Could be added, {unit}", "Limited by"),
            outlets,
            (3, 2, 2, 2),
        ),
        *_notes(say, answer),
    )


def _run(house: House, say: Say, run: GasRunSize) -> tuple[Line, ...]:
    load = _amount(say, run.load_btuh)[0] + ("" if run.whole else " or more")
    length = say.length(None if run.length_ft is None else Length(12 * run.length_ft))
    to, pipe = short(house, run.id), (" ".join(made_of(house.gas.nodes[run.id].run)),)
    if run.capacity_btuh is None:
        return (to, pipe, (load,), (length,), (NOT_KNOWN,), (run.unknown,), ("-",))
    row = say.length(Length(12.0 * (run.row_ft or 0)))
    number = published(run.table).values["number"]
    read = f"{number}, row of {row}"
    if run.by == "equation":
        read = f"IFGC Equation 4-1; {read} carries {_amount(say, run.row_btuh)[0]}"
    margin = None if run.margin_btuh is None else max(0.0, run.margin_btuh)
    left: Line = (Strong("over"),) if run.over else (_amount(say, margin)[0],)
    carries = _amount(say, run.capacity_btuh)[0]
    return (to, pipe, (load,), (length,), (carries,), (read,), left)


def _outlet(house: House, say: Say, outlet: GasOutletSize) -> tuple[Line, ...]:
    limit = short(house, outlet.limited_by) if outlet.limited_by else ("-",)
    now, more = _amount(say, outlet.load_btuh)[0], _amount(say, outlet.spare_btuh)[0]
    return (short(house, outlet.id), (now,), (more,), limit)


def _amount(say: Say, rate: float | None) -> tuple[str, str]:
    """Return a rate's number and its unit, for a column that says the unit at its head."""
    number, _, unit = rate_words(say, rate).partition(" ")
    return (NOT_KNOWN, "") if rate is None else (number, unit)


def _notes(say: Say, answer: GasAnswer) -> tuple[Block, ...]:
    meter = answer.meter
    rows: list[tuple[str, Line]] = []
    if meter:
        badge = rate_words(say, meter.capacity_btuh)
        rows.append(("Meter", (f"class {badge}, load {rate_words(say, meter.load_btuh)}",)))
    rows.append(("Sources", (sentence("; ".join(answer.tables) or NOT_RECORDED),)))
    lines: tuple[Line, ...] = (
        *((sentence(f"taken for granted: {each}"),) for each in answer.assumed),
        *((sentence(f"not known: {keyless(each)}"),) for each in answer.missing),
    )
    return (Facts(tuple(rows)), *((Bullets(lines),) if lines else ()), Para((PLANNING,)))
