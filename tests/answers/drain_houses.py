r"""Small made-up houses whose drains can be followed with a finger, and random ones.

`RANCH`: one level, every figure recorded, no valve in the line.

    wc -- B1 \
    lav -- B1 +-- M1 --- M2 --- S1 ===> sewer
    tub -- B2 /          |
    sink -- K1 ----------+        C1 on B2 end of line, C2 on M2, C3 two-way at the head of S1

`SPLIT`: two levels; the lower one's floor drain and tub run through a backwater valve.
"""

from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from handbook.house.house import House, build
from handbook.record.grammar.record import Record
from handbook.record.reading import read_text
from handbook.record.sense import check_ids, check_sense

HERE = Path(__file__).parent
RANCH = (HERE / "ranch.yaml").read_text(encoding="utf-8")
SPLIT = (HERE / "split.yaml").read_text(encoding="utf-8")
KINDS = ("lavatory", "bathtub", "shower", "water closet")


def house(text: str) -> House:
    """Read a house with every check of the record."""
    return build(read_text(text.lstrip(), "house.yaml", Record, (check_ids, check_sense)), Path())


def house_of(record: dict[str, Any]) -> House:
    """Build a house from a record's tree."""
    return build(Record.model_validate(record), Path())


@st.composite
def drain_trees(draw: st.DrawFn, most: int = 9) -> dict[str, Any]:
    """A random record: stretches that each run into an earlier one, fixtures on any of them.

    Every length and rim is recorded; some stretches hold a backwater valve.
    """
    count = draw(st.integers(1, most))
    stretches = [
        {
            "id": f"D{n}",
            "kind": "building sewer" if n == 0 else "building drain",
            "to": "END" if n == 0 else f"D{draw(st.integers(0, n - 1))}",
            "by": {"length": f"{draw(st.integers(1, 60))} ft", "size": "4 in"},
        }
        for n in range(count)
    ]
    fixtures = [
        {
            "id": f"f{n}",
            "kind": draw(st.sampled_from(KINDS)),
            "rim": f"{draw(st.integers(1, 40))} in",
            "place": {"level": draw(st.sampled_from(["low", "high"]))},
            "drain": {"to": f"D{draw(st.integers(0, count - 1))}"},
        }
        for n in range(draw(st.integers(1, 7)))
    ]
    valves = [
        {"id": f"BV{n}", "kind": "backwater valve", "on": f"D{n}"}
        for n in range(count)
        if draw(st.booleans()) and draw(st.booleans())
    ]
    return {
        "format": "1",
        "house": {"name": "Random"},
        "levels": [
            {"id": "low", "name": "Low", "elevation": "-3 ft"},
            {"id": "high", "name": "High", "elevation": "0 ft"},
        ],
        "fixtures": fixtures,
        "drains": {
            "discharge": {"id": "END"},
            "stretches": stretches,
            "equipment": valves or "none",
        },
    }
