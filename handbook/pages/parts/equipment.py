"""What stands in the water line beside the valves: meter, regulator, softener, pump, irrigation."""

from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Line
from handbook.pages.parts.phrases import (
    Rows,
    all_called,
    called,
    day,
    said,
    thing_line,
    told,
    yes_no,
)
from handbook.pages.parts.say import Say
from handbook.record.entry import Entry
from handbook.record.grammar.common import Fed, LossAtFlow, given
from handbook.record.grammar.water import (
    Equipment,
    Irrigation,
    Manifold,
    Meter,
    Recirculation,
    Softener,
)

DOES = {
    "pressure-reducing valve": "Brings the street's pressure down to what the house can bear",
    "backflow preventer": "Keeps water from flowing back into the drinking water",
    "check valve": "Lets water pass one way only",
    "filter": "Filters the water",
    "pump": "Pumps the water",
    "pressure tank": "Keeps water under pressure",
    "mixing valve": "Mixes hot water down to a safe temperature",
    "hammer arrester": "Takes the blow out of valves that close fast",
    "water meter": "Measures the water; it belongs to the utility",
    "manifold": "Divides the water among the pipes that leave it",
    "water softener": "Takes the hardness out of the water",
    "recirculation pump": "Keeps hot water near the taps",
    "irrigation": "Waters the lawn",
    "expansion tank": "Takes up the swelling of water as it is heated",
}


def does(item: Item) -> str:
    """Return what a piece of equipment is for, without a full stop; its kind where that says it."""
    return DOES.get(item.kind, item.kind.capitalize())


def facts(house: House, item: Item) -> Rows:
    """Return what is recorded about one piece of equipment in the water line."""
    say = Say.of(house)
    rows: Rows = ()
    match item.entry:
        case Meter() as meter:
            rows = (("Size", (say.text(meter.size),)), ("Number", (say.text(meter.number),)))
        case Equipment() as it:
            rows = _equipment(say, it)
        case Softener() as softener:
            rows = (
                ("Bypass", _bypass(house, softener)),
                ("Rinse water goes to", (say.text(softener.discharge),)),
                ("Model", (say.text(softener.model),)),
                ("Takes off the pressure", (_loss(say, softener.loss),)),
            )
        case Manifold() as manifold:
            rows = (
                (
                    "Carries",
                    (f"{said(manifold.carries)} water" if manifold.carries else said(None),),
                ),
            )
        case Recirculation() as pump:
            rows = (
                ("Returns to", called(house, pump.to)),
                ("Check valve", thing_line(house, pump.check)),
                ("Shutoff", thing_line(house, pump.shutoff)),
                ("Control", (say.text(pump.control),)),
            )
        case Irrigation() as irrigation:
            place = irrigation.controller
            rows = (
                ("Shutoff", thing_line(house, irrigation.stop)),
                ("Zones", (say.text(irrigation.zones),)),
                ("Controller", (house.places.say(place) or said(None),)),
                ("Before a freeze", (told(say.text(irrigation.winter)),)),
            )
    return (*rows, *_fed(house, item.entry))


def _equipment(say: Say, it: Equipment) -> Rows:
    rows: Rows = (("Size", (say.text(it.size),)), ("Model", (say.text(it.model),)))
    if it.kind == "pressure-reducing valve" or it.set_to is not None:
        rows = (("Set to", (say.pressure(it.set_to),)), *rows)
    if it.adjusts_up_to is not None:
        rows += (("Can be set up to", (say.pressure(it.adjusts_up_to),)),)
    if it.loss is not None:
        what = "Falls below it by" if it.set_to else "Takes off the pressure"
        rows += ((what, (_loss(say, it.loss),)),)
    if it.has_check is not None:
        rows += (("Check valve in it", (said(it.has_check, yes_no),)),)
    if it.kind == "backflow preventer":
        rows += (("Last certified test", (said(it.tested, day),)),)
    return rows


def _loss(say: Say, loss: LossAtFlow | None) -> str:
    return f"{say.pressure(loss.loss)} at {say.flow(loss.flow)}" if loss else say.hole


def _bypass(house: House, softener: Softener) -> Line:
    bypass = given(softener.bypass)
    if bypass is None:
        return (said(softener.bypass),)
    stops = (bypass.inlet, bypass.across, bypass.outlet, bypass.lever)
    return all_called(house, [stop.id for stop in stops if stop])


def _fed(house: House, entry: Entry) -> Rows:
    return (("Fed from", called(house, entry.from_)),) if isinstance(entry, Fed) else ()
