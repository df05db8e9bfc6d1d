"""What a house has, as far as it is recorded: yes, no (looked, there isn't one), or unknown.

Guides and duties are left out only where the answer is no; where it is unknown they stay, and
the page says that it is not recorded.
"""

from typing import Literal

from handbook.answers.heating.at_rest import GAS_FUELS
from handbook.house.house import House
from handbook.record.grammar.common import each, given
from handbook.record.knowing import Absent

Has = Literal["yes", "no", "unknown"]


def has(house: House) -> dict[str, Has]:
    """Return, by feature, whether the house has it."""
    return {
        "gas": gas(house),
        "gas meter": _gas_meter(house),
        "heater": _listed(house.record.heaters),
        "relief valve": _relief(house),
        "public water": _source(house, "public main"),
        "public sewer": _discharge(house, "public sewer"),
        "septic": _discharge(house, "septic tank"),
        "leak alarm": _alarm(house),
        "cleanout": _listed(house.record.drains.cleanouts if house.record.drains else None),
        "ejector": _equipment(house.record.drains, "sewage ejector"),
        "backflow preventer": _equipment(house.record.water, "backflow preventer"),
        "softener": _listed(house.record.water.softeners if house.record.water else None),
        "irrigation": _one(house.record.water.irrigation if house.record.water else None),
        "fire sprinklers": _yes(house.record.water.fire_sprinklers if house.record.water else None),
    }


def gas(house: House) -> Has:
    """Whether fuel gas is piped in the house; a thing recorded as burning it settles the matter."""
    record = house.record
    burners = [heater for heater in each(record.heaters) if heater.fuel in GAS_FUELS]
    piped = [fixture for fixture in each(record.fixtures) if given(fixture.gas)]
    if given(record.gas) or burners or piped:
        return "yes"
    return "no" if isinstance(record.gas, Absent) else "unknown"


def burners(house: House) -> tuple[str, ...]:
    """Return the ids of everything recorded that burns a fuel, in walking order."""
    record = house.record
    lit = {heater.id for heater in each(record.heaters) if heater.fuel in GAS_FUELS}
    lit |= {heater.id for heater in each(record.heaters) if given(heater.gas)}
    lit |= {fixture.id for fixture in each(record.fixtures) if given(fixture.gas)}
    if system := given(record.gas):
        # An appliance stands in the gas section because it burns gas, unless it says `gas: none`.
        lit |= {a.id for a in each(system.appliances) if not isinstance(a.gas, Absent)}
    return tuple(name for name in house.items if name in lit)


def _listed(section: object) -> Has:
    if isinstance(section, Absent) or section == ():
        return "no"
    return "yes" if section else "unknown"


def _one(thing: object) -> Has:
    if isinstance(thing, Absent):
        return "no"
    return "unknown" if thing is None else "yes"


def _yes(fact: bool | Absent | None) -> Has:
    """A thing recorded only by whether it is there."""
    if fact is None:
        return "unknown"
    return "yes" if fact is True else "no"


def _gas_meter(house: House) -> Has:
    """A utility's meter, not a tank of one's own; natural gas comes through no tank."""
    system = given(house.record.gas)
    kind = system.meter.kind if system and system.meter else None
    if kind is None and system and system.meter and system.fuel == "natural gas":
        return "yes"
    if kind is None:
        return gas(house) if gas(house) == "no" else "unknown"
    return "yes" if kind == "meter" else "no"


def _relief(house: House) -> Has:
    heaters = each(house.record.heaters)
    if heaters and all(isinstance(heater.relief, Absent) for heater in heaters):
        return "no"
    if any(given(heater.relief) for heater in heaters):
        return "yes"
    return "no" if _listed(house.record.heaters) == "no" else "unknown"


def _source(house: House, kind: str) -> Has:
    water = house.record.water
    kinds = {source.kind for source in each(water.sources if water else None)}
    if kind in kinds:
        return "yes"
    return "unknown" if not kinds or None in kinds else "no"


def _discharge(house: House, kind: str) -> Has:
    drains = house.record.drains
    ends = drains.discharge.kind if drains and drains.discharge else None
    if ends is None:
        return "unknown"
    return "yes" if ends == kind else "no"


def _alarm(house: House) -> Has:
    guards = house.record.safeguards
    answers = (_listed(guards.sensors), _listed(guards.pans)) if guards else ("unknown",)
    for answer in ("yes", "unknown"):
        if answer in answers:
            return answer
    return "no"


def _equipment(section: object, kind: str) -> Has:
    """Whether a thing of this kind is among the equipment of a section of the record."""
    listed = getattr(section, "equipment", None)
    if any(thing.kind == kind for thing in each(listed)):
        return "yes"
    return "unknown" if listed is None else "no"
