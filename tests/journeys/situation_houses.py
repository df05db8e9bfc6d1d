"""Made-up houses as YAML text, from fifteen lines to one that has everything the guides speak of.

Telephone numbers are of the range kept for fiction (555-0100 to 555-0199).
"""

from functools import cache
from pathlib import Path

from handbook.house.house import House, build
from handbook.record.grammar.record import Record
from handbook.record.reading import read_text
from handbook.record.sense import check_ids, check_sense

FIFTEEN_LINES = """
format: 1
house:
  name: The small house
people:
  - {role: emergency, phone: "911"}
  - {role: licensed plumber, phone: 555-0101}
water:
  valves:
    - id: W1
      name: Main shutoff
      main: yes
      kind: ball
      place: {where: behind the blue door}
"""

FULL = """
format: 1
house: {name: The full house, units: US}
people:
  - {role: emergency, phone: "911"}
  - {role: licensed plumber, phone: 555-0101, after_hours: 555-0102}
  - {role: water utility, phone: 555-0103}
  - {role: gas utility, phone: 555-0104}
  - {role: sewer utility, phone: 555-0105}
  - {role: electric utility, phone: 555-0106}
  - {role: electrician, phone: 555-0107}
  - {role: heating contractor, phone: 555-0108}
  - {role: irrigation contractor, phone: 555-0109}
  - {role: water damage cleanup, phone: 555-0110}
  - {role: neighbor, phone: 555-0111}
levels:
  - id: low
    name: Lower level
    elevation: -9 ft
    rooms: [{id: boiler, name: Heater room}, {id: den, name: Den}]
  - id: top
    name: Upper level
    elevation: 9 ft
    rooms: [{id: bath, name: Bath}]
electrical:
  panel: {id: panel, name: Panel, place: {room: den, where: by the stairs}}
water:
  sources: [{id: street-main, kind: public main}]
  valves:
    - {id: U1, name: Street valve, utility: yes, kind: curb stop, from: street-main,
       place: {level: outside, where: in the grass}}
    - {id: W1, name: Outer main, main: yes, kind: gate, from: U1,
       place: {level: outside, where: in the box}}
    - {id: W2, name: Inner main, main: yes, kind: ball, from: W1,
       place: {room: den, where: behind the blue door, height: 4 ft}}
    - {id: W3, name: Leak valve, kind: automatic shutoff, from: W2,
       place: {room: den, where: left of it}}
  irrigation:
    id: lawn
    name: Lawn
    from: W3
    winter: blown out in fall
    stop: {id: W4, kind: ball, where: by the hose}
  softeners:
    - id: soft
      name: Softener
      from: W3
      place: {room: boiler}
      bypass:
        inlet: {id: W5, kind: ball, where: its left pipe}
        outlet: {id: W6, kind: ball, where: its right pipe}
        across: {id: W7, kind: ball, stands: closed, where: between them}
heaters:
  - id: H1
    name: Water heater
    kind: storage
    fuel: natural gas
    setting: 125 F
    controls: the red knob
    place: {room: boiler, where: in the corner}
    cold: {from: soft, stop: {id: W8, kind: ball, where: above it}}
    gas: {from: G1, shutoff: {id: G2, kind: gas cock, where: left of it}}
    relief: {discharge: {to: floor drain, where: by the wall}}
    pan: P1
fixtures:
  - id: basin
    name: Basin
    kind: lavatory
    place: {room: bath, where: by the door}
    cold: {from: soft, stop: {id: W9, kind: angle stop, where: left below}}
    hot: {from: H1, stop: {id: W10, kind: angle stop, where: right below}}
    drain: {to: D1}
  - id: tub
    name: Tub
    kind: bathtub
    place: {room: bath}
    cold: {from: soft, stop: none}
    drain: {to: D1}
  - id: sink
    name: Work sink
    kind: laundry tub
    place: {room: boiler, where: by the window}
    cold: {from: soft, stop: {id: W11, kind: angle stop, where: left below}}
    hot: none
    drain: {to: D1}
  - id: HB1
    name: Garden tap
    kind: hose bibb
    freeze_proof: no
    place: {level: outside}
    cold: {from: W3, stop: {id: W12, kind: stop and waste, place: {room: den, where: up high}}}
drains:
  discharge: {id: sewer, kind: public sewer}
  stretches: [{id: D1, kind: building drain, to: sewer}]
  cleanouts: [{id: C1, name: Front cleanout, on: D1, place: {level: outside, where: by the step}}]
  equipment: [{id: EJ1, kind: sewage ejector, on: D1}]
gas:
  fuel: natural gas
  meter: {id: G1, kind: meter, place: {level: outside, where: on the east wall}}
  appliances: [{id: stove, name: Gas stove, kind: range, gas: {from: G1}}]
safeguards:
  pans: [{id: P1, name: Heater pan, under: H1, drain: {to: floor drain}}]
  sensors:
    - {id: S1, name: Heater alarm, watches: [H1], place: {room: boiler, where: in the pan}}
    - {id: S2, name: Sink alarm, watches: [sink], place: {room: boiler, where: below the sink}}
"""

ELECTRIC = """
format: 1
house: {name: The electric house}
people:
  - {role: emergency, phone: "911"}
  - {role: licensed plumber, phone: 555-0101}
gas: none
water:
  sources: [{id: well, kind: well}]
  valves:
    - {id: W1, name: Main shutoff, main: yes, kind: ball, place: {where: behind the blue door}}
heaters:
  - {id: H1, name: Water heater, kind: storage, fuel: electric, breaker: number 12}
drains:
  discharge: {id: tank, kind: septic tank}
safeguards: {pans: none, sensors: none}
"""

NASTY = "*x* <script>alert(1)</script> {{ 7*7 }} & __y__ `z`"

HOSTILE = f"""
format: 1
house: {{name: "{NASTY}"}}
people:
  - {{role: licensed plumber, name: "{NASTY}", phone: 555-0101}}
water:
  valves:
    - {{id: W1, name: "{NASTY}", main: yes, kind: ball, place: {{where: "{NASTY}"}}}}
"""

METRIC = FULL.replace("units: US", "units: metric")


@cache
def house(text: str) -> House:
    """Read a house as the command line does, with every check of the record; each once."""
    record = read_text(text.lstrip(), "house.yaml", Record, (check_ids, check_sense))
    return build(record, Path())
