"""Another heater in the place of one that burns gas: the pipes that it needs, and what it leaves
for the outlets that are kept for later."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.answers.gas import gas
from handbook.answers.gas_sizing.gas_beside import needed_for_both
from handbook.answers.gas_sizing.gas_outlets import Fit, GasOutletSize, Need
from handbook.house.house import House
from handbook.measures import HeatRate
from handbook.pages.content import Block, Bullets, Line, Para, Strong, SubHead, Tag
from handbook.pages.parts.phrases import NOT_RECORDED, joined, table
from handbook.pages.parts.runs import made_of
from handbook.pages.parts.say import Say
from handbook.pages.words import capital, listed, lower
from handbook.record.grammar.gas import GasMeter

NOT_KNOWN = "not known yet"
LARGER = "larger than tabulated"


def in_its_place(house: House, heater: GasOutletSize) -> tuple[Block, ...]:
    """Return what the pipes to a storage heater carry, for who plans a tankless one there."""
    say, carries = Say.of(house), (heater.margin_btuh or 0.0) + heater.load_btuh
    words: Line = (
        "In the place of the ",
        f"{lower(heater.name)} (",
        Tag(heater.id),
        ") the pipes can carry ",
        Strong(rate_words(say, max(0.0, carries))),
        f"; it takes {rate_words(say, heater.load_btuh)} now.",
    )
    if not any(fit.fits for fit in heater.fits):
        words += (" A tankless heater needs more: the smallest sizes of the table that would do.",)
    head = SubHead(f"Another heater in the place of {heater.id}")
    return (head, Para(words), *_tankless(house, heater), *_left_beside(house, heater))


def _left_beside(house: House, heater: GasOutletSize) -> tuple[Block, ...]:
    """Return what each stub could still carry beside another heater, as things are, and what both
    need: whatever burns at the heater is taken from what is left for later."""
    now = {each.id: each for each in gas(house).outlets}
    beside = {fit.what: gas(house, instead={heater.id: fit.btuh}).outlets for fit in heater.fits}
    found: list[Block] = []
    for stub in (each for each in now.values() if each.kind == "outlet"):
        then = {what: each for what, all_ in beside.items() for each in all_ if each.id == stub.id}
        if any(each.margin_btuh != stub.margin_btuh for each in then.values()):
            small = [fit for fit in heater.fits if then[fit.what].too_small]
            found.append(Para(_beside(Say.of(house), stub, then)))
            found += _both(house, heater, stub, small)
    return tuple(found)


def _beside(say: Say, stub: GasOutletSize, then: dict[str, GasOutletSize]) -> Line:
    """Return what a stub carries beside each of some heaters, and whether that is too little."""
    carries: dict[str, list[str]] = {}
    for what, each in then.items():
        rate = None if each.spare_btuh is None else each.spare_btuh + each.load_btuh
        carries.setdefault(rate_words(say, rate) if rate != 0 else "nothing", []).append(what)
    said = [f"{rate} beside a {listed(kinds, 'or')}" for rate, kinds in carries.items()]
    if len(carries) == 1 < len(then):
        said = [f"{rate} beside any of these" for rate in carries]
    words = f") can then carry {'; '.join(said)}."
    small = [what for what, each in then.items() if each.too_small]
    if small and stub.wants_btuh is not None:
        beside = "" if len(small) == len(then) else f" beside a {listed(small, 'or')}"
        words += f" That is too little for its {rate_words(say, stub.wants_btuh)}{beside}."
    return (f"As pipes and meter are, the {lower(stub.name)} (", Tag(stub.id), words)


def _both(
    house: House, heater: GasOutletSize, stub: GasOutletSize, fits: list[Fit]
) -> Iterator[Block]:
    """Say for each heater what it and the stub need together beyond the sizes of the table."""
    lines = []
    for fit in fits:
        needs = needed_for_both(house, heater, fit, stub)
        lines.append((f"{capital(fit.what)}: ", *_still(house, needs), "."))
    if lines:
        yield Para(("With the sizes of the table, for the heater and the stub together:",))
        yield Bullets(tuple(lines))


def _still(house: House, needs: tuple[Need, ...]) -> Line:
    """Return whether pipes and meter are enough, and what those that are not have to be."""
    say, meter = Say.of(house), gas(house).meter
    known = meter is not None and meter.capacity_btuh is not None
    small: list[Line] = [
        ("the pipe to ", Tag(need.id), f" has to be {_needed(say, need)}")
        for need in needs
        if not need.meter
    ]
    said = joined(small) if small else ("the pipes are enough",)
    short = [need for need in needs if need.meter]
    if not short:
        return (*said, ", and so is the meter" if known and not small else "")
    joint = "; " if small else ", but "
    said = (
        *said,
        joint,
        "the meter (",
        Tag(short[0].id),
        f") has to pass {_needed(say, short[0])}",
    )
    now = meter.capacity_btuh if meter else None
    return (*said, f" (its class is {rate_words(say, now)})")


def _tankless(house: House, heater: GasOutletSize) -> tuple[Block, ...]:
    """Return the size that each pipe on the way would need: a row a pipe, a column a heater."""
    say = Say.of(house)
    found = {(fit.what, need.id): need for fit in heater.fits for need in fit.needs}
    small = {name for _, name in found}
    way = [name for name in reversed([n.id for n in house.gas.above(heater.id)]) if name in small]
    rows: list[tuple[Line, ...]] = []
    for name in way:
        needs = [(_needed(say, found.get((fit.what, name))),) for fit in heater.fits]
        rows.append(((Tag(name),), (_now(house, name),), *needs))
    kinds = tuple(f"{capital(fit.what)}, {rate_words(say, fit.btuh)}" for fit in heater.fits)
    caption = f"What would have to be larger for another heater in the place of {heater.id}"
    widths = (1, 2, *(1.9 for _ in kinds))
    return table(caption, ("To", "It is", *kinds), rows, widths, tagged=True)


def _now(house: House, name: str) -> str:
    """Return what is there now: the pipe's size, or the meter's class."""
    node, entry = house.gas.nodes[name], house.items[name].entry
    if isinstance(entry, GasMeter):
        return f"a class of {entry.capacity}" if entry.capacity else NOT_RECORDED
    ehd = node.run.ehd if node.run else None
    return f"EHD {ehd}" if ehd else made_of(node.run)[0]


def _needed(say: Say, need: Need | None) -> str:
    """Return the size, or the meter's class, that would do; `enough` where what is there does."""
    if need is None:
        return "enough"
    if not need.meter:
        return need.size or LARGER
    if need.class_btuh is not None:
        return rate_words(say, need.class_btuh)
    return f"{rate_words(say, need.load_btuh)} or more"


def rate_words(say: Say, rate: float | None) -> str:
    """Return Btu an hour in the house's own units; `not known yet` where they are not."""
    return NOT_KNOWN if rate is None else say.heat(HeatRate(rate))
