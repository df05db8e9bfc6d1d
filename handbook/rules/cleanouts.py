"""Rules for each cleanout: what it reaches, how it is got at, and whether a cable fits through."""

from collections.abc import Iterator

from handbook.house.house import House
from handbook.measures import Length, PipeSize, say_length
from handbook.record.grammar.common import each
from handbook.record.grammar.drains import Cleanout, Stretch
from handbook.rules import facts
from handbook.rules.drains import size_of, stretches
from handbook.rules.looks import drains, smaller, too_little, too_much
from handbook.rules.rule import (
    PRACTICE,
    Broken,
    CannotTell,
    Clear,
    Gap,
    Outcome,
    look_at,
    rule,
    told,
)
from handbook.tables import table


def _cleanouts(house: House) -> tuple[Cleanout, ...]:
    return each(drains(house).cleanouts)


@rule(
    "CO-01",
    "cleanout-without-reach",
    "gap",
    why="A cable sent the wrong way clears nothing; the plumber has ten minutes to choose.",
    remedy="Record `on` (the stretch it opens into) and `facing` (the way its sweep turns).",
    stages=("rough-in", "top-out"),
    source="IRC P3005.2.8 asks that it opens in the direction of flow; recording it is common "
    "practice",
)
def cleanout_without_reach(house: House) -> Iterator[Outcome]:
    """Each cleanout says which stretch it opens into, and which way it faces."""
    yield from told(drains(house).cleanouts, facts.CLEANOUTS)
    for cleanout in _cleanouts(house):
        name = house.called(cleanout.id)
        if not cleanout.on:
            said = f"{name} does not say which stretch of drain it opens into"
            yield Gap(cleanout.id, said, cleanout.mark_of("on"))
        elif not cleanout.facing and cleanout.kind != "two-way":
            said = f"{name} does not say which way it faces"
            yield Gap(cleanout.id, said, cleanout.mark_of("facing"))
        else:
            yield Clear(cleanout.id)


@rule(
    "CO-02",
    "cleanout-without-access",
    "gap",
    why="A cleanout behind a cabinet or under a rug is not found while the sewage rises.",
    remedy="Record under `access` what has to be moved or opened; `nothing` is an answer too.",
    stages=("trim-out", "handover"),
    source="IRC P3005.2.10, IPC 708.1.10: not concealed, not under a permanent finish",
)
def cleanout_without_access(house: House) -> Iterator[Outcome]:
    """Each cleanout says what has to be moved or opened to get at it."""
    yield from told(drains(house).cleanouts, facts.CLEANOUTS)
    for cleanout in _cleanouts(house):
        if cleanout.access:
            yield Clear(cleanout.id)
        else:
            said = f"{house.called(cleanout.id)} does not say how it is got at"
            yield Gap(cleanout.id, said, cleanout.mark_of("access"))


@rule(
    "CO-03",
    "cleanout-too-small",
    "fault",
    why="The cutter that fits the opening is too small to scour the pipe behind it.",
    remedy="Have a cleanout of the pipe's size set.",
    stages=("rough-in", "top-out"),
    table="cleanout_sizes",
)
def cleanout_too_small(house: House) -> Iterator[Outcome]:
    """Each cleanout is as large as its pipe, up to 4 in."""
    yield from told(drains(house).cleanouts, facts.CLEANOUTS)
    by_id = stretches(house)
    for cleanout in _cleanouts(house):
        stretch = by_id.get(cleanout.on or "")
        pipe = size_of(stretch) if stretch else None
        if cleanout.size is None:
            said = f"{house.called(cleanout.id)} does not say what size it is"
            yield Gap(cleanout.id, said, cleanout.mark_of("size"), look_at("size"))
        elif stretch is None:
            yield CannotTell(facts.CLEANOUT_ON, cleanout.id)
        elif pipe is None:
            yield CannotTell(facts.STRETCH_SIZE, stretch.id)
        elif smaller(cleanout.size, _least_size(cleanout, stretch, pipe)):
            said = f"{house.called(cleanout.id)} is {cleanout.size} on a pipe of {pipe}"
            yield Broken(cleanout.id, said, cleanout.mark_of("size"))
        else:
            yield Clear(cleanout.id)


def _least_size(cleanout: Cleanout, stretch: Stretch, pipe: PipeSize) -> float:
    sizes = table("cleanout_sizes").values
    most: float = sizes["most_asked_in"]
    if cleanout.kind == "stack base" or stretch.kind == "stack":
        lesser = [size for size in sizes["sizes_in"] if smaller(PipeSize(size, ""), pipe.inches)]
        return min(lesser[-1] if lesser else pipe.inches, most)
    return min(pipe.inches, most)


@rule(
    "CO-04",
    "cleanout-too-cramped",
    "fault",
    why="A cable machine has to stand in front of it, and its operator beside that.",
    remedy="Clear what stands in front of it, or have it brought out to where there is room.",
    stages=("rough-in", "trim-out", "lived-in"),
    table="cleanout_clearance",
)
def cleanout_too_cramped(house: House) -> Iterator[Outcome]:
    """Each cleanout has clear space in front of it."""
    limits = table("cleanout_clearance").values
    least, units = Length(limits["least_clear_in"]), house.record.house.units
    yield from told(drains(house).cleanouts, facts.CLEANOUTS)
    by_id = stretches(house)
    for cleanout in _cleanouts(house):
        stretch = by_id.get(cleanout.on or "")
        pipe = size_of(stretch) if stretch else None
        if pipe and pipe.inches > limits["pipe_up_to_in"]:
            continue  # the table ends here
        if cleanout.clear is None:
            said = f"{house.called(cleanout.id)} does not say how much clear space it has"
            yield Gap(cleanout.id, said, cleanout.mark_of("clear"), look_at("clear"))
        elif too_little(cleanout.clear.inches, least.inches):
            said = f"{house.called(cleanout.id)} has {say_length(cleanout.clear, units)} of clear "
            said += f"space in front of it; {say_length(least, units)} is the least"
            yield Broken(cleanout.id, said, cleanout.mark_of("clear"))
        else:
            yield Clear(cleanout.id)


@rule(
    "CO-09",
    "cleanout-past-its-drain",
    "fault",
    why="How far a cable has to go is reckoned from both, so that one wrong figure misleads it.",
    remedy="Measure again, and put right `along`, or the length of the stretch (`by`).",
    stages=("rough-in", "top-out"),
    source=PRACTICE,
)
def cleanout_past_its_drain(house: House) -> Iterator[Outcome]:
    """No cleanout stands farther down its stretch of drain than that is long."""
    yield from told(drains(house).cleanouts, facts.CLEANOUTS)
    by_id, units = stretches(house), house.record.house.units
    for cleanout in _cleanouts(house):
        stretch = by_id.get(cleanout.on or "")
        length = stretch.by.length if stretch and stretch.by else None
        if stretch is None or (cleanout.along is None and cleanout.kind == "end of line"):
            continue  # CO-01 asks for the one; the other stands where its kind says
        if cleanout.along is None:
            yield CannotTell(facts.CLEANOUT_ALONG, cleanout.id)
        elif length is None:
            yield CannotTell(facts.STRETCH_LENGTH, stretch.id)
        elif too_much(cleanout.along.inches, length.inches):
            said = f"{house.called(cleanout.id)} stands {say_length(cleanout.along, units)} down "
            said += f"{house.called(stretch.id)}, which is {say_length(length, units)} long"
            yield Broken(cleanout.id, said, cleanout.mark_of("along"))
        else:
            yield Clear(cleanout.id)


RULES = (
    cleanout_without_reach,
    cleanout_without_access,
    cleanout_too_small,
    cleanout_too_cramped,
    cleanout_past_its_drain,
)
