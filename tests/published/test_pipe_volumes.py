"""What a foot of pipe holds, against the printed ounces and other prints of that pipe."""

from math import pi

import pytest

from handbook.answers.flowing.pipe_volume import gallons_per_foot, volume
from handbook.measures import Length, parse_pipe_size
from handbook.record.grammar.common import WaterRun

SIZES = ("3/8", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2")

# IPC Table E202.1 (2009), US fluid ounces per foot, as reprinted by US DOE for WaterSense.
PRINTED = {
    "copper M": (1.06, 1.69, 3.43, 5.81, 8.70, 12.18, 21.08),
    "copper L": (0.97, 1.55, 3.22, 5.49, 8.36, 11.83, 20.58),
    "copper K": (0.84, 1.45, 2.90, 5.17, 8.09, 11.45, 20.04),
    "CPVC": (None, 1.25, 2.67, 4.43, 6.61, 9.22, 15.79),
    "PEX": (0.64, 1.18, 2.35, 3.91, 5.81, 8.09, 13.86),
}
CELLS = [
    (material, size, ounces)
    for material, row in PRINTED.items()
    for size, ounces in zip(SIZES, row, strict=True)
    if ounces
]


def run(material: str, size: str, length: str = "1 ft") -> WaterRun:
    return WaterRun.model_validate(f"{length} of {size} in {material}")


@pytest.mark.parametrize(("material", "size", "ounces"), CELLS)
def test_every_printed_ounce(material: str, size: str, ounces: float) -> None:
    held = volume(run(material, size))
    assert held is not None
    assert held.gallons * 128 == pytest.approx(ounces)


@pytest.mark.parametrize(
    ("size", "gallons"),
    [
        # Type L data sheet (ASTM B88), gallons per foot
        ("3/8", 0.00753),
        ("1/2", 0.0121),
        ("3/4", 0.0251),
        ("1", 0.0429),
        ("1-1/4", 0.0655),
        ("1-1/2", 0.0925),
        ("2", 0.161),
    ],
)
def test_copper_agrees_with_a_data_sheet(size: str, gallons: float) -> None:
    assert gallons_per_foot(run("copper L", size)) == pytest.approx(gallons, rel=0.007)


@pytest.mark.parametrize(
    ("size", "per_100_ft"),
    # PEX maker's manual (ASTM F876 SDR 9), gallons per 100 ft
    [("3/8", 0.50), ("1/2", 0.92), ("3/4", 1.82), ("1", 3.04)],
)
def test_pex_agrees_with_a_makers_manual(size: str, per_100_ft: float) -> None:
    # the two prints differ by 1.1 percent at most: 2.35 oz / 128 x 100 = 1.836 against 1.82
    assert gallons_per_foot(run("PEX", size)) == pytest.approx(per_100_ft / 100, rel=0.011)


def test_five_eighths_pex_is_in_no_column_and_goes_by_its_bore() -> None:
    # The same manual: bore 0.574 in, 1.34 gal per 100 ft.
    assert gallons_per_foot(run("PEX", "5/8")) == pytest.approx(0.0134, rel=0.004)


def test_brass_and_steel_go_by_the_bore_of_schedule_40() -> None:
    # IRC Table A.2.2 (2018): 3/4 in is 0.824 in wide; pi/4 x 0.824^2 x 12 / 231 gal per ft.
    gallons = pi / 4 * 0.824**2 * 12 / 231
    for material in ("brass", "galvanized steel"):
        assert gallons_per_foot(run(material, "3/4")) == pytest.approx(gallons)


def test_a_recorded_bore_goes_before_the_tables() -> None:
    # 1 in across, 1 ft long: pi/4 x 12 / 231 = 0.0408 gal
    bored = run("PEX", "3/4").model_copy(update={"bore": Length(1.0)})
    assert gallons_per_foot(bored) == pytest.approx(0.0408, rel=0.001)


@pytest.mark.parametrize(("metric", "inches"), [("15 mm", "1/2"), ("20 mm", "3/4"), ("25 mm", "1")])
def test_a_metric_name_is_the_same_pipe(metric: str, inches: str) -> None:
    # ISO 6708 / ASME B36.10M: DN 15, 20, 25 stand beside NPS 1/2, 3/4, 1 (stated from memory).
    named = run("PEX", inches).model_copy(update={"size": parse_pipe_size(metric)})
    assert gallons_per_foot(named) == gallons_per_foot(run("PEX", inches))


@pytest.mark.parametrize(("material", "size"), [("CPVC", "3/8"), ("PVC", "1/2"), ("PEX", "3")])
def test_pipe_in_no_table_has_no_volume(material: str, size: str) -> None:
    assert volume(run(material, size)) is None
