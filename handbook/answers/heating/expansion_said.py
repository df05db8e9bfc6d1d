"""Where a heater's water swells to, in sentences, the same in the book and on the command line."""

from collections.abc import Iterator

from handbook.answers.expansion import Expansion
from handbook.house.house import House
from handbook.measures import say_pressure, say_temperature, say_volume


def sentences(house: House, answer: Expansion) -> tuple[str, ...]:
    """Return what is known of one heater, a sentence each; holes last."""
    return tuple(_said(house, answer))


def _said(house: House, answer: Expansion) -> Iterator[str]:
    if answer.kind == "tankless":
        yield "It stores no water that could swell, and needs no expansion tank."
        return
    units = house.record.house.units
    yield from _system(house, answer)
    if answer.swells and answer.capacity and answer.setting:
        cold, hot = (say_temperature(t, units) for t in (answer.entry, answer.setting))
        amount, swells = say_volume(answer.capacity, units), say_volume(answer.swells, units)
        yield f"Heated from {cold} to {hot}, its {amount} of water swell by {swells}."
    if answer.tank_needed and answer.pressure:
        tank, most = say_volume(answer.tank_needed, units), say_pressure(answer.most, units)
        at = f"{say_pressure(answer.pressure, units)} ({answer.pressure_from})"
        yield f"From {at} up to the limit of {most}, that takes a tank of {tank}."
    if answer.tank:
        yield from _tank(house, answer, answer.tank)
    yield from (f"Not known: {need}." for need in answer.missing)


def _system(house: House, answer: Expansion) -> Iterator[str]:
    closed = answer.closure
    if closed.system == "closed" and closed.by:
        kind = house.items[closed.by].kind
        yield f"The system is closed: {closed.by} ({kind}) lets the water go back no further."
    elif closed.system == "open" and closed.by:
        yield f"The swelling water finds room in {closed.by}, a pressure tank."
    elif closed.system == "open":
        yield "The system is open: the swelling water can go back toward the street."


def _tank(house: House, answer: Expansion, tank: str) -> Iterator[str]:
    units = house.record.house.units
    if answer.tank_size and answer.big_enough is not None:
        verdict = "large enough" if answer.big_enough else "too small"
        yield f"{tank} holds {say_volume(answer.tank_size, units)}: {verdict}."
    if answer.precharge and answer.charge_right is not None:
        charge = say_pressure(answer.precharge, units)
        verdict = "as it should be" if answer.charge_right else "not what the house stands at"
        yield f"Its air is charged to {charge}, {verdict}."
    if answer.tank_takes:
        yield f"As it is, it takes up {say_volume(answer.tank_takes, units)} below the limit."
