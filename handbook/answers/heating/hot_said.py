"""The wait for hot water in words, the same in the book, on the pages and on the command line."""

from handbook.answers.hot_water import HotWater, Outlet, Way
from handbook.measures import LITRES_PER_GALLON, Units, Volume
from handbook.measures.saying import decimal


def about(seconds: float) -> str:
    """Return `about 9 seconds`; a wait of under a second is one."""
    whole = max(1, round(seconds))
    return f"about {whole} second{'' if whole == 1 else 's'}"


def wait(answer: HotWater, outlet: Outlet) -> str:
    """Return how long an outlet waits, or why that cannot be said."""
    if outlet.kept_off:
        return f"no hot water: {closed(outlet)}"
    if both := by_pump(answer, outlet):
        return f"{both[0]} while the hot water pump runs, {both[1]} when it does not"
    loop, far, near = answer.loop, outlet.from_heater, outlet.from_loop
    if loop and near and not far:
        return f"{about(near.seconds)} while the hot water pump runs"
    way = far or near
    return about(way.seconds) if way else f"not known: {needs(outlet)}"


def by_pump(answer: HotWater, outlet: Outlet) -> tuple[str, str] | None:
    """Return how long an outlet waits with the pump running, and without; None where there is no
    pump, it makes no difference, or one of the two is not known."""
    far, near = outlet.from_heater, outlet.from_loop
    if outlet.kept_off or not (answer.loop and near and far and near.source != far.source):
        return None
    return about(near.seconds), about(far.seconds)


def closed(outlet: Outlet) -> str:
    """Say which valves keep the hot water away: `W14 (Hot shutoff) is recorded as closed`."""
    names = " and ".join(f"{item.id} ({item.name})" for item in outlet.kept_off)
    return f"{names} {'is' if len(outlet.kept_off) == 1 else 'are'} recorded as closed"


def needs(outlet: Outlet) -> str:
    """Return what has to be opened or recorded first."""
    return "; ".join((*((closed(outlet),) if outlet.kept_off else ()), *outlet.missing))


def held(volume: Volume, units: Units) -> str:
    """Return what stands in a pipe, to a hundredth: `0.12 gal`, `0.47 L`."""
    if units == "metric":
        return f"{decimal(volume.gallons * LITRES_PER_GALLON, 2)} L"
    return f"{decimal(volume.gallons, 2)} gal"


def wasted(outlets: tuple[Outlet, ...], units: Units, *, loop: bool) -> str | None:
    """Return what runs to waste in a year at all outlets; None where one is not known.

    `loop`: as if the pump ran whenever a tap is opened; else as if it never did.
    """
    ways = [it.from_loop if loop else it.from_heater for it in outlets]
    volumes = [it.wasted_a_year(way) for it, way in zip(outlets, ways, strict=True)]
    if not volumes or None in volumes:
        return None
    gallons = sum(volume.gallons for volume in volumes if volume)
    amount = gallons * LITRES_PER_GALLON if units == "metric" else gallons
    return f"{decimal(round(amount, -1), 0)} {'L' if units == 'metric' else 'gal'}"


def verdicts(way: Way) -> str:
    """Return what the published limits say of a way: `marginal, over LEED`."""
    said: list[str] = [way.wait]
    said += ["over WaterSense"] if way.stores_too_much else []
    said += ["over LEED"] if way.too_far else []
    return ", ".join(said)
