"""Small houses for flow, as records that a person can follow by hand."""

from pathlib import Path
from random import Random

from handbook.house.house import House, build
from handbook.record.grammar.record import Record
from handbook.record.reading import read_text
from handbook.record.sense import check_ids, check_sense

_PEX = "material: PEX, fittings: {ell_90: 0}}"

ONE_TAP = f"""
format: 1
house: {{name: One tap}}
levels: [{{id: main, name: Main, elevation: 0 ft, rooms: [{{id: bath, name: Bath}}]}}]
water:
  static_pressure: {{value: 60 psi, near: WM}}
  meter:
    id: WM
    size: 3/4 in
    from: street
    by: 1 ft of 1 in copper K
    place: {{room: bath, height: 0 ft}}
  valves:
    - id: W1
      main: yes
      kind: ball
      from: WM
      by: {{length: 40 ft, size: 3/4 in, material: PEX, fittings: {{ell_90: 2}}}}
      place: {{room: bath, height: 0 ft}}
  tees: [{{id: T1, from: W1, by: {{length: 10 ft, size: 3/4 in, {_PEX}}}]
fixtures:
  - id: wc
    name: Toilet
    kind: water closet
    rim: 10 ft
    place: {{room: bath}}
    cold: {{from: T1, by: {{length: 20 ft, size: 1/2 in, {_PEX}, stop: none}}
  - id: tub
    name: Tub
    kind: bathtub
    rim: 0 ft
    place: {{room: bath}}
    cold: {{from: T1, by: {{length: 20 ft, size: 1/2 in, {_PEX}, stop: none}}
"""


_KINDS = ("water closet", "lavatory", "bathtub", "laundry box", "kitchen sink", "hose bibb")
_SIZES = ("1/2 in", "3/4 in", "1 in")


def random_record(rng: Random) -> str:
    """Draw the record of a house of many taps: tees on tees, some of them fed a second time."""

    def pipe() -> str:
        return f"{{length: {rng.randint(1, 30)} ft, size: {rng.choice(_SIZES)}, {_PEX}"

    tees, fixtures = [], []
    for number in range(rng.randint(1, 5)):
        sources = ["W1", *(f"T{other}" for other in range(number))]
        feeds = rng.sample(sources, min(len(sources), rng.choice((1, 1, 2))))
        fed = ", ".join(f"{{from: {source}, by: {pipe()}}}" for source in feeds)
        tees.append(f"    - {{id: T{number}, feeds: [{fed}]}}\n")
    for number in range(rng.randint(1, 6)):
        gives = f", delivers: {rng.randint(1, 15)} gpm at {rng.randint(5, 60)} psi"
        fixtures.append(
            f"  - {{id: tap-{number}, name: Tap, kind: {rng.choice(_KINDS)}, "
            f"rim: {rng.randint(0, 15)} ft, place: {{room: bath}}{rng.choice(('', gives))}, "
            f"cold: {{from: T{rng.randrange(len(tees))}, by: {pipe()}, stop: none}}}}\n"
        )
    head, _, rest = ONE_TAP.partition("  tees:")
    assert rest
    return f"{head}  tees:\n{''.join(tees)}fixtures:\n{''.join(fixtures)}"


def house(text: str, *changes: tuple[str, str]) -> House:
    """Build the house of a record with pieces of its text changed; each must be there once.

    All pieces are looked for in the text as it was given: what one change writes is never what
    another finds.
    """
    spans = []
    for old, new in changes:
        assert text.count(old) == 1, old
        start = text.index(old)
        spans.append((start, start + len(old), new))
    for start, end, new in sorted(spans, reverse=True):
        text = text[:start] + new + text[end:]
    record = read_text(text, "house.yaml", Record, (check_ids, check_sense))
    return build(record, Path())


TREATED = """
  equipment:
    - id: PRV
      kind: pressure-reducing valve
      name: Reducing valve
      from: W1
      by: {length: 2 ft, size: 3/4 in, material: PEX, fittings: {ell_90: 0}}
      set_to: 50 psi
      place: {room: bath, height: 0 ft}
  softeners:
    - id: SOF
      name: Softener
      from: PRV
      by: {length: 3 ft, size: 3/4 in, material: PEX, fittings: {ell_90: 0}}
      loss: 8 psi at 10 gpm
      bypass:
        inlet: {id: W7, kind: ball}
        outlet: {id: W8, kind: ball}
        across: {id: W9, kind: ball, stands: closed}
      place: {room: bath, height: 0 ft}
"""


def treated() -> str:
    """Return the same record with a reducing valve and a softener, 100 psi ahead of them."""
    text = ONE_TAP.replace("value: 60 psi", "value: 100 psi")
    text = text.replace("id: T1, from: W1", "id: T1, from: SOF")
    return text.replace("\nfixtures:", f"{TREATED}fixtures:")
