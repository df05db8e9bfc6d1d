"""Small houses for flow, as records that a person can follow by hand."""

from pathlib import Path

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


def house(text: str, *changes: tuple[str, str]) -> House:
    """Build the house of a record with pieces of its text changed; each must be there once."""
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    record = read_text(text, "house.yaml", Record, (check_ids, check_sense))
    return build(record, Path())
