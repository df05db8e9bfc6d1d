"""The parts of a record that rules and answers wait for, and what recording each unlocks.

`BY_WORTH` puts them in the order in which they help somebody in trouble.
"""

from handbook.rules.rule import Fact

STARTING = Fact(
    "your own in place of what the starting record still says: where the main is (`place`), "
    "the day it was turned (`seen`)",
    "the handbook then says nothing that is not so",
)
PEOPLE = Fact(
    "the emergency number and a licensed plumber, each with a phone number (`people`)",
    "every emergency page can then say whom to call",
)
MAIN = Fact(
    "the main shutoff, and that it is one (`main: yes`)",
    "the handbook can then say how to stop all the water",
)
FIXTURES = Fact(
    "the fixtures and what feeds them (`fixtures`)",
    "the handbook can then say which valve stops each of them",
)
VALVES = Fact(
    "the shutoffs in the line (`water: valves`)",
    "the handbook can then shut off one part of the house instead of all of it",
)
INSIDE_MAIN = Fact(
    "which main shutoff is indoors (`water: inside_main`; `none` if there isn't one)",
    "the handbook can then send people to a valve that they can reach without tools",
)
OUTSIDE_MAIN = Fact(
    "which main shutoff is outdoors (`water: outside_main`; `none` if there isn't one)",
    "the handbook can then say what to close when the one indoors fails",
)
UTILITY_VALVE = Fact(
    "the utility's own valve (`water: valves`, with `utility: yes`)",
    "the handbook can then end its steps where the water really comes from",
)
ROOMS = Fact(
    "the levels and their rooms (`levels`)",
    "the handbook can then say where each thing is, and sort the emergencies by room",
)
DOORS = Fact(
    "the doors between the rooms of a level (`levels: doors`)",
    "the handbook can then say how to walk to each valve",
)
STAIRS = Fact(
    "the stairs from level to level (`stairs`; `none` if there are none)",
    "the handbook can then say how to walk to a valve on another level",
)
HEATERS = Fact(
    "the water heater (`heaters`; `none` if there isn't one)",
    "the handbook can then say what to do when it leaks, drips or runs cold",
)
GAS = Fact(
    "the gas line (`gas`; `none` if the house has no gas)",
    "the handbook can then say where each appliance's gas is shut off",
)
GAS_METER = Fact(
    "the gas meter or tank and its shutoff (`gas: meter`)",
    "the handbook can then name the valve that stops all the gas",
)
APPLIANCES = Fact(
    "the appliances that burn gas (`gas: appliances`)",
    "the handbook can then say which gas shutoff serves each of them",
)
OUTLETS = Fact(
    "the gas outlets stubbed for later (`gas: outlets`; `none` if there are none)",
    "the handbook can then show that none of them stands open",
)
SOURCES = Fact(
    "where the water comes from (`water: sources`)",
    "the handbook can then say whether the water utility is to be called",
)
STRETCHES = Fact(
    "the stretches of drain (`drains: stretches`)",
    "the handbook can then say which drains run together",
)
CLEANOUTS = Fact(
    "the cleanouts (`drains: cleanouts`; `none` if there are none)",
    "the handbook can then show the plumber where to put the cable",
)
DISCHARGE = Fact(
    "where the building sewer ends (`drains: discharge`)",
    "the handbook can then say whether the sewer utility is to be called",
)
DRAIN_EQUIPMENT = Fact(
    "backwater valves and ejectors (`drains: equipment`; `none` if there are none)",
    "the handbook can then say what else a backup may be caused by",
)
VENTS = Fact(
    "the vents and which drains they serve (`drains: vents`)",
    "`check` can then say whether a trap is too far from its vent",
)
PRESSURE = Fact(
    "the static pressure (`water: static_pressure`)",
    "`check` can then say whether the house needs a pressure-reducing valve",
)
EQUIPMENT = Fact(
    "the equipment in the line (`water: equipment`; `none` if there is none)",
    "`check` can then tell an open system from a closed one",
)
SOFTENERS = Fact(
    "the water softener (`water: softeners`; `none` if there isn't one)",
    "the handbook can then say how to send the water round it",
)
RECIRCULATION = Fact(
    "whether hot water is recirculated (`water: recirculation`; `none` if it is not)",
    "the handbook can then shut off hot water from both its sides",
)
IRRIGATION = Fact(
    "the lawn watering (`water: irrigation`; `none` if there isn't any)",
    "`check` can then say whether its water can come back into the house",
)
PANS = Fact(
    "the drain pans (`safeguards: pans`; `none` if there are none)",
    "the handbook can then say where a leak at the heater or the washer would go",
)
SENSORS = Fact(
    "the leak sensors (`safeguards: sensors`; `none` if there are none)",
    "the handbook can then say what an alarm is about, and whose battery is due",
)
CONDENSATE = Fact(
    "the condensate drains (`safeguards: condensate`; `none` if there are none)",
    "the handbook can then tell a blocked condensate drain from a leak",
)
PANEL = Fact(
    "the breaker panel (`electrical: panel`)",
    "the handbook can then say what to keep away from when water is near it",
)
PHOTOS = Fact(
    "the photos taken while the walls were open (`walls: photos`; `none` if there are none)",
    "the handbook can then show what is behind a wall",
)
SHIELDS = Fact(
    "the shield plates (`walls: shields`; `none` if there are none)",
    "the handbook can then say where a nail is stopped before it meets a pipe",
)
HIDDEN = Fact(
    "which rooms' walls and floors hide each pipe (`by: {..., through: [...]}`)",
    "the handbook can then say what is behind each wall",
)
PAGES_AT = Fact(
    "where the phone pages will be hosted (`house: pages_at`; `none` if nowhere)",
    "each tag's code can then open that thing's page",
)

BY_WORTH = (
    STARTING,
    PEOPLE,
    MAIN,
    FIXTURES,
    VALVES,
    INSIDE_MAIN,
    OUTSIDE_MAIN,
    UTILITY_VALVE,
    ROOMS,
    HEATERS,
    GAS,
    GAS_METER,
    APPLIANCES,
    STRETCHES,
    CLEANOUTS,
    PANEL,
    DOORS,
    STAIRS,
    SOURCES,
    DISCHARGE,
    PANS,
    SENSORS,
    PRESSURE,
    EQUIPMENT,
    OUTLETS,
    DRAIN_EQUIPMENT,
    VENTS,
    CONDENSATE,
    SOFTENERS,
    RECIRCULATION,
    IRRIGATION,
    PHOTOS,
    HIDDEN,
    SHIELDS,
    PAGES_AT,
)

# What a thing lacks; recording it unlocks the rule that waits for it, and no more.
WORKS = Fact("whether a shutoff works (`condition`)")
KIND_OF_MAIN = Fact("the kind of a main shutoff")
INDOORS = Fact("whether a shutoff is indoors (its `level` or `room`)")
ROOM_OF_MAIN = Fact(
    "the room that a main shutoff stands in (its `room`; outdoors `level: outside`)"
)
WATER_FEED = Fact("what feeds a thing with water (`from`)")
REDUCER_SETTING = Fact("what a pressure-reducing valve is set to (`set_to`)")
WATER_PIPE = Fact("length, size and material of a water pipe, and how high its fixture is")
WATER_BORE = Fact("the true bore (`bore`) of a water pipe whose size and material no table has")
VACUUM_BREAKER = Fact("a hose outlet's vacuum breaker (`vacuum_breaker`, or one in its line)")
CHECK = Fact("the check valve in the recirculation return")
STRETCH_KIND = Fact("the kind of a stretch of drain")
STRETCH_SIZE = Fact("the size of a stretch of drain")
STRETCH_LENGTH = Fact("the length of a stretch of drain")
STRETCH_SLOPE = Fact("the slope of a stretch of drain")
FIXTURE_DRAIN = Fact("where a fixture's waste goes, and through what size")
STRETCH_INVERT = Fact("how high a stretch of drain begins (`invert`)")
STRETCH_END = Fact("what a stretch of drain runs into, down to a stack or the building drain")
FIXTURE_ROOM = Fact("the room that a fixture stands in")
UNLISTED_FIXTURE = Fact("a kind of fixture that the code's table of fixture units lists")
DRAIN_FIGURE = Fact("a size and a fall for which the code prints what a drain may carry")
TRAP_SIZE = Fact("the size of a fixture's trap (`trap`)")
TRAP_FIGURE = Fact("a trap size for which the code prints how far its vent may be")
FIXTURE_DRAIN_RUN = Fact("the length and size of a fixture's own drain")
FIXTURE_DRAIN_SLOPE = Fact("the slope of a fixture's own drain")
VENT_OF_TRAP = Fact("which vent serves a fixture or the drain it runs into (`serves`)")
VENT_SIZE = Fact("the size of a vent")
VENT_LENGTH = Fact("the length of a vent")
VENT_SERVES = Fact("which drains a vent serves (`serves`)")
BUILDING_SEWER = Fact("which stretch of drain is the building sewer")
CLEANOUT_ALONG = Fact("how far along its stretch a cleanout stands (`along`)")
STRETCH_TO = Fact("what a stretch of drain runs into (`to`)")
CLEANOUT_FACING = Fact("which way a cleanout faces (`facing`)")
CLEANOUT_ON = Fact("which stretch a cleanout opens into")
BURNS_GAS = Fact("whether an appliance burns gas")
GAS_SHUTOFF_PLACE = Fact("where on the plan a gas shutoff and its appliance stand (`at`)")
SEDIMENT_TRAP = Fact("whether an appliance has a sediment trap")
GAS_MATERIAL = Fact("what a run of gas pipe is made of")
GAS_RUN = Fact("what a run of gas pipe carries: see `handbook gas` for the fact that is missing")
GAS_RUN_RULED = Fact(
    "what rules a run of gas pipe that looks overloaded: the pressure delivered, the drop it was "
    "sized for, the altitude, or the table of the CSST's maker"
)
GAS_METER_CLASS = Fact(
    "the class of the gas meter (`capacity`), the fuel, and the input of all that burns gas"
)
GAS_CONNECTED = Fact(
    "the connected load that the permit states (`gas: connected`; `none` if it states none), and "
    "the input of all that burns gas"
)
GAS_STUB = Fact("what a gas outlet for later is meant to feed, as an input (`input`)")
HEATER_KIND = Fact("the kind of a heater")
HEATER_PLACE = Fact("which level a heater stands on, and how high each level is (`elevation`)")
HEATER_PAN = Fact("whether a heater stands in a pan")
EXPANSION_TANK = Fact("whether a heater has an expansion tank")
HEATER_CAPACITY = Fact("how much a heater holds (`capacity`)")
HEATER_SETTING = Fact("what a heater is set to (`setting`)")
PRESSURE_AT_HEATER = Fact("what a reducing valve is set to (`set_to`), or the static pressure")
EXPANSION_FIGURE = Fact("a setting and a pressure for which an expansion tank can be reckoned")
EXPANSION_TANK_SIZE = Fact("the size of an expansion tank")
EXPANSION_TANK_CHARGE = Fact("the air charge of an expansion tank (`precharge`)")
RELIEF_HEIGHT = Fact("how high a relief valve's pipe ends (`above`)")
RELIEF_SETTING = Fact(
    "at what pressure and temperature a relief valve opens (`pressure`, `temperature`: its tag)"
)
RELIEF_SIZE = Fact("the size of a relief valve (`size`) and of its pipe (`discharge: by`)")
PHOTO_OF_ROOM = Fact("a photo of the open walls and floor of a room that hides pipe")
ELEVATION = Fact("how high the floor of a level lies (`levels: elevation`)")
SHUTOFF_HEIGHT = Fact("how high above the floor a shutoff is (`height`)")
CEILING = Fact("how high the ceiling of a level is (`levels: ceiling`)")
DAY_OF_RECORD = Fact("the day of the handover, or when the house was recorded (`house: handover`)")
INSPECTIONS = Fact("the inspections and their results (`house: inspections`)")
INSPECTION_RESULT = Fact("the result of an inspection (`result`)")
OUTLINES = Fact("the outlines of the rooms of levels that lie close together (`outline`)")
DOOR_PLACE = Fact("where on the plan a door is (`at`), and the outlines of the rooms it joins")
PAN_UNDER = Fact("what a drain pan is under")
PAN_DEPTH = Fact("the depth of a drain pan")
PAN_DRAIN_SIZE = Fact("the size of a drain pan's drain")
PAN_DRAIN_END = Fact("where outdoors a drain pan's drain ends, and how high")
SENSOR_DOES = Fact("what a leak sensor does when it is wet")
