"""What this book asks of each thing: the fields that it leans on, and how each is called.

`FACTS` is by the kind of entry; the rest is asked of the house as a whole.
"""

from handbook.record.entry import Entry
from handbook.record.grammar import drains, fixtures, gas, heaters, safeguards, water
from handbook.record.grammar.common import Handle, Run

Words = dict[str, str]

_FED = {"from_": "what feeds it", "by": "the pipe to it"}
_GAS_FED = {"from_": "what feeds it", "by": "the gas pipe to it"}

FACTS: dict[type[Entry], Words] = {
    Run: {"length": "the length of its pipe", "size": "the size of its pipe"},
    Handle: {"kind": "its kind, which says how it turns"},
    water.Meter: {"size": "its size", "number": "its number", **_FED},
    water.Valve: _FED,
    water.Equipment: _FED,
    water.Softener: {
        "bypass": "its bypass",
        "discharge": "where its rinse water goes",
        "drain": "which drain takes its rinse water",
        **_FED,
    },
    water.Manifold: {"carries": "whether it carries cold or hot", **_FED},
    water.Recirculation: {
        "to": "where its return joins",
        "joins_by": "the pipe to there",
        "check": "its check valve",
        "control": "its control",
        **_FED,
    },
    water.Irrigation: {
        "stop": "its shutoff",
        "winter": "how it is made safe before a freeze",
        **_FED,
    },
    heaters.Heater: {
        "kind": "its kind",
        "fuel": "its fuel",
        "setting": "its setting",
        "controls": "its controls",
        "capacity": "how much it holds",
        "model": "its model",
        "installed": "when it was put in",
        "cold": "its cold supply",
        "relief": "its relief valve",
        "expansion_tank": "its expansion tank",
        "pan": "the pan under it",
        "breaker": "its breaker",
    },
    heaters.Relief: {"discharge": "where its relief pipe ends"},
    heaters.ExpansionTank: {"size": "its size", "precharge": "its air charge"},
    fixtures.WaterConnection: {**_FED, "stop": "its stop"},
    fixtures.DrainConnection: {"to": "what it drains into"},
    fixtures.GasConnection: {
        "from_": "what feeds its gas",
        "by": "the gas pipe to it",
        "shutoff": "its gas shutoff",
        "sediment_trap": "whether it has a sediment trap",
        "input": "its input",
    },
    drains.Discharge: {"kind": "whether it is a sewer or a septic tank"},
    drains.Stretch: {
        "kind": "its kind",
        "to": "what it runs into",
        "by": "its pipe",
        "invert": "how high it begins (its invert)",
    },
    drains.Cleanout: {
        "kind": "its kind",
        "on": "which drain it opens into",
        "facing": "which way it faces",
        "size": "its size",
        "cover": "its cover",
        "access": "how to get at it",
        "clear": "the free space in front of it",
    },
    drains.DrainEquipment: {"on": "which drain it stands in", "access": "how to get at it"},
    drains.Vent: {"serves": "what it serves", "size": "its size"},
    gas.GasMeter: {
        "kind": "whether it is a meter or a tank",
        "capacity": "its class",
        "delivers": "the pressure behind it",
        "shutoff": "its shutoff",
    },
    gas.Regulator: {
        "inlet": "the pressure before it",
        "outlet": "the pressure behind it",
        "vent": "where it vents",
        **_GAS_FED,
    },
    gas.GasValve: _GAS_FED,
    gas.GasTee: _GAS_FED,
    gas.GasOutlet: {
        "shutoff": "its shutoff",
        "capped": "whether it is capped",
        "meant_for": "what it is meant for",
        "input": "the input it was sized for",
        **_GAS_FED,
    },
    gas.Appliance: {"gas": "its gas supply", "model": "its model"},
    safeguards.Pan: {"under": "what it is under", "drain": "where it drains to"},
    safeguards.Sensor: {
        "watches": "what it watches",
        "battery": "its battery",
        "does": "what it does when it gets wet",
    },
    safeguards.Battery: {"changed": "when its battery was put in"},
    safeguards.Condensate: {"primary": "where it ends", "secondary": "its second drain"},
}

FLUE = ("furnace", "boiler", "fireplace")
"""Appliances that have a flue; the others burn in the room, outdoors or blow out by a hose."""

WITHOUT_MODEL = ("check valve", "hammer arrester")
"""Equipment that nobody repairs or sets by its model."""

CONNECTIONS: Words = {
    "cold": "its cold supply",
    "hot": "its hot supply",
    "drain": "its drain",
}
"""Of a fixture, as far as its kind has them as a rule."""

HOUSE: Words = {
    "address": "the address",
    "lot": "the lot",
    "plan": "the plan it was built from",
    "builder": "the builder",
    "permit": "the permit",
    "inspections": "the inspections",
    "codes": "the codes it was built under",
    "handover": "the day of the handover",
    "recorded": "who walked the house for this record, and when",
}
SECTIONS: Words = {
    "levels": "the levels and their rooms",
    "water": "the water supply",
    "fixtures": "the fixtures",
    "drains": "the drains",
    "gas": "whether there is gas",
    "heaters": "the water heater",
    "safeguards": "pans and leak sensors",
    "electrical": "the breaker panel",
    "walls": "what is in the walls",
}
WATER: Words = {
    "static_pressure": "the static pressure",
    "meter": "the water meter",
    "inside_main": "which main shutoff is inside",
    "outside_main": "which main shutoff is outside",
    "equipment": "the equipment in the water line",
    "softeners": "whether there is a water softener",
    "recirculation": "whether hot water is recirculated",
    "irrigation": "whether there is lawn watering",
}
DRAINS: Words = {
    "stretches": "the stretches of drain",
    "cleanouts": "the cleanouts",
    "discharge": "where the building sewer ends",
    "vents": "the vents",
    "equipment": "backwater valves and ejectors",
}
GAS: Words = {"bonding": "how the gas pipe is bonded"}
SAFEGUARDS: Words = {
    "pans": "the drain pans",
    "sensors": "the leak sensors",
    "condensate": "the cooling drains (condensate)",
}
WALLS: Words = {
    "photos": "photos taken while the walls were open",
    "shields": "the shield plates",
    "insulation": "the insulation",
}
