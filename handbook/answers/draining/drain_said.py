"""What a drain carries, in words, the same in the book and on the command line."""

from handbook.answers.draining.stretch_loads import StretchLoad
from handbook.answers.draining.trap_arms import TrapArm
from handbook.answers.draining.vent_sizes import VentSize


def load(stretch: StretchLoad) -> str:
    """Return the fixture units: `9`, `9 to 13`, or `9 or more`."""
    least, most = stretch.load.least, stretch.load.most
    if most is None:
        return f"{least} or more"
    return str(least) if least == most else f"{least} to {most}"


def left(stretch: StretchLoad) -> str:
    """Return what could still be added, or `over`, or what is needed to say it."""
    if stretch.fits is False:
        return "overloaded"
    if stretch.left is None or stretch.fits is None:
        return "not known: " + "; ".join(stretch.missing)
    return str(stretch.left)


def arm_verdict(arm: TrapArm) -> str:
    """Return what is wrong with a trap and its arm, what lacks, or `good`."""
    wrong = [
        word
        for word, verdict in (
            ("trap too small", arm.trap_too_small),
            ("too long", arm.too_long),
            ("too short", arm.too_short),
            ("too flat", arm.too_flat),
            ("falls too far", arm.falls_too_far),
        )
        if verdict
    ]
    if wrong:
        return ", ".join(wrong)
    return "not recorded: " + ", ".join(arm.lacks) if arm.lacks else "good"


def vent_verdict(vent: VentSize) -> str:
    """Return whether a vent is large enough, or what lacks."""
    if vent.too_small is None:
        return "not known without: " + ", ".join(vent.lacks)
    return "too small" if vent.too_small else "good"
