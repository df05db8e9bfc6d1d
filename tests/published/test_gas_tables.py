"""Every cell of the printed gas tables, the code's equation, and the printed worked example.

The figures are written here again from the printed tables, cell by cell, and not read from the
tables that the package reads. Sources:

- NATURAL_HALF_INCH: IFGC Table 402.4(2) / IRC Table G2413.4(1), as a boiler manual reproduces it
  from ANSI Z223.1 (2012); the rows of 70, 90, 125 and 175 ft from memory
- NATURAL_3_INCH, NATURAL_2_PSI: IFGC (2018) Tables 402.4(3) and 402.4(5)
- PROPANE_STEEL: IFGC (2018) Table 402.4(28) to 60 ft; the rows beyond from memory (NFPA 54)
- PROPANE_CSST: IRC (2018) Table G2413.4(16); NATURAL_CSST: IFGC Table 402.4(15), from memory

What stands from memory is held to a second, independent form: the low-pressure equation of IFGC
Appendix A.4, written here on its own (its form from memory too), gives every cell.
"""

from itertools import pairwise
from math import floor, log10
from typing import Any

import pytest

from handbook.answers.gas_sizing.gas_tables import (
    LOW,
    LOW_3_INCH,
    PROPANE,
    TWO_PSI,
    Ruling,
    System,
    equation_cfh,
    ruling,
)
from handbook.record.grammar.common import GasRun

Rows = dict[int, tuple[int, ...]]

SIZES = ("1/2 in", "3/4 in", "1 in", "1-1/4 in", "1-1/2 in", "2 in")
BORES = (0.622, 0.824, 1.049, 1.380, 1.610, 2.067)  # IFGC (2018) Tables 402.4(3) to (7), actual ID
EHDS = (13, 15, 18, 19, 23, 25, 30, 31, 37, 39, 46, 48, 60, 62)
CR_NATURAL, CR_PROPANE = 0.6094, 1.2462  # IRC (2018) Table G2413.4

NATURAL_HALF_INCH = {
    10: (172, 360, 678, 1390, 2090, 4020),
    20: (118, 247, 466, 957, 1430, 2760),
    30: (95, 199, 374, 768, 1150, 2220),
    40: (81, 170, 320, 657, 985, 1900),
    50: (72, 151, 284, 583, 873, 1680),
    60: (65, 137, 257, 528, 791, 1520),
    70: (60, 126, 237, 486, 728, 1400),
    80: (56, 117, 220, 452, 677, 1300),
    90: (52, 110, 207, 424, 635, 1220),
    100: (50, 104, 195, 400, 600, 1160),
    125: (44, 92, 173, 355, 532, 1020),
    150: (40, 83, 157, 322, 482, 928),
    175: (37, 77, 144, 296, 443, 854),
    200: (34, 71, 134, 275, 412, 794),
}

NATURAL_3_INCH = {
    10: (454, 949, 1790, 3670, 5500, 10600),
    20: (312, 652, 1230, 2520, 3780, 7280),
    30: (250, 524, 986, 2030, 3030, 5840),
    40: (214, 448, 844, 1730, 2600, 5000),
    50: (190, 397, 748, 1540, 2300, 4430),
    60: (172, 360, 678, 1390, 2090, 4020),
    70: (158, 331, 624, 1280, 1920, 3700),
    80: (147, 308, 580, 1190, 1790, 3440),
}

NATURAL_2_PSI = {
    10: (1510, 3040, 5560, 11400, 17100, 32900),
    20: (1070, 2150, 3930, 8070, 12100, 23300),
    30: (869, 1760, 3210, 6590, 9880, 19000),
    40: (753, 1520, 2780, 5710, 8550, 16500),
    50: (673, 1360, 2490, 5110, 7650, 14700),
    60: (615, 1240, 2270, 4660, 6980, 13500),
    70: (569, 1150, 2100, 4320, 6470, 12500),
    80: (532, 1080, 1970, 4040, 6050, 11700),
    90: (502, 1010, 1850, 3810, 5700, 11000),
}

PROPANE_STEEL = {
    10: (291, 608, 1150, 2350, 3520, 6790),
    20: (200, 418, 787, 1620, 2420, 4660),
    30: (160, 336, 632, 1300, 1940, 3750),
    40: (137, 287, 541, 1110, 1660, 3210),
    50: (122, 255, 480, 985, 1480, 2840),
    60: (110, 231, 434, 892, 1340, 2570),
    70: (101, 212, 400, 821, 1230, 2370),
    80: (94, 197, 372, 763, 1140, 2200),
    90: (89, 185, 349, 716, 1070, 2070),
    100: (84, 175, 330, 677, 1010, 1950),
    125: (74, 155, 292, 600, 899, 1730),
    150: (67, 140, 265, 543, 814, 1570),
}

PROPANE_CSST = {
    5: (72, 99, 181, 211, 355, 426, 744, 863, 1420, 1638, 2830, 3270, 5780, 6550),
    10: (50, 69, 129, 150, 254, 303, 521, 605, 971, 1179, 1990, 2320, 4110, 4640),
    15: (39, 55, 104, 121, 208, 248, 422, 490, 775, 972, 1620, 1900, 3370, 3790),
    20: (34, 49, 91, 106, 183, 216, 365, 425, 661, 847, 1400, 1650, 2930, 3290),
    25: (30, 42, 82, 94, 164, 192, 325, 379, 583, 762, 1250, 1480, 2630, 2940),
    30: (28, 39, 74, 87, 151, 177, 297, 344, 528, 698, 1140, 1350, 2400, 2680),
    40: (23, 33, 64, 74, 131, 153, 256, 297, 449, 610, 988, 1170, 2090, 2330),
    50: (20, 30, 58, 66, 118, 137, 227, 265, 397, 548, 884, 1050, 1870, 2080),
    60: (19, 26, 53, 60, 107, 126, 207, 241, 359, 502, 805, 961, 1710, 1900),
}

NATURAL_CSST = {
    5: (46, 63, 115, 134, 225, 270, 471, 546, 895, 1037, 1790, 2070, 3660, 4140),
    10: (32, 44, 82, 95, 161, 192, 330, 383, 639, 746, 1260, 1470, 2600, 2930),
    15: (25, 35, 66, 77, 132, 157, 267, 310, 524, 615, 1030, 1200, 2140, 2400),
    20: (22, 31, 58, 67, 116, 137, 231, 269, 456, 536, 888, 1050, 1850, 2090),
    25: (19, 27, 52, 60, 104, 122, 206, 240, 409, 482, 793, 936, 1660, 1870),
    30: (18, 25, 47, 55, 96, 112, 188, 218, 374, 442, 723, 856, 1520, 1700),
    40: (15, 21, 41, 47, 83, 97, 162, 188, 325, 386, 625, 742, 1320, 1470),
    50: (13, 19, 37, 42, 75, 87, 144, 168, 292, 347, 559, 665, 1180, 1320),
    60: (12, 17, 34, 38, 68, 80, 131, 153, 267, 318, 509, 608, 1080, 1200),
}

STEEL = (
    ("natural gas, 0.5 in wc", LOW, NATURAL_HALF_INCH),
    ("natural gas, 3 in wc", LOW_3_INCH, NATURAL_3_INCH),
    ("natural gas, 2 psi", TWO_PSI, NATURAL_2_PSI),
    ("propane, 0.5 in wc", PROPANE, PROPANE_STEEL),
)
CSST = (("natural gas", LOW, NATURAL_CSST), ("propane", PROPANE, PROPANE_CSST))


def pipe(size: str | None = None, **more: Any) -> GasRun:
    fields = {"length": "10 ft", "size": size, "material": "black steel"} | more
    return GasRun.model_validate({key: value for key, value in fields.items() if value})


def carries(system: System, run: GasRun, feet: float) -> Ruling:
    found = ruling(system, run, feet)
    assert isinstance(found, Ruling), found
    return found


# --- each cell


@pytest.mark.parametrize(("system", "rows"), [s[1:] for s in STEEL], ids=[s[0] for s in STEEL])
def test_every_printed_cell_for_steel_pipe_is_read_as_printed(system: System, rows: Rows) -> None:
    for feet, figures in rows.items():
        for size, figure in zip(SIZES, figures, strict=True):
            found = carries(system, pipe(size), feet)
            # cubic feet at 1,000 Btu, and the propane table's thousands of Btu: both times 1,000
            assert found.table_btuh == figure * 1000
            assert found.row_ft == feet


@pytest.mark.parametrize(("system", "rows"), [s[1:] for s in CSST], ids=[s[0] for s in CSST])
def test_every_printed_cell_for_csst_is_read_as_printed(system: System, rows: Rows) -> None:
    for feet, figures in rows.items():
        for ehd, figure in zip(EHDS, figures, strict=True):
            tube = pipe(material="CSST", ehd=str(ehd))
            if ehd == 37:
                assert "EHD 37" in str(ruling(system, tube, feet))
            else:
                assert carries(system, tube, feet).table_btuh == figure * 1000


def test_the_two_csst_tables_fit_each_other_in_every_column_but_that_of_ehd_37() -> None:
    """Propane's figure is 1.58 times natural gas's throughout, within the rounding.

    No source prints that ratio; it is what thirteen of the fourteen columns agree on, and why the
    fourteenth is not used before somebody has looked it up.
    """
    misfits = set()
    for feet, natural in NATURAL_CSST.items():
        for ehd, one, other in zip(EHDS, natural, PROPANE_CSST[feet], strict=True):
            slack = 0.01 * other + 1.1  # printed to three digits, and small ones to the unit
            if abs(other - 1.58 * one) > slack:
                misfits.add(ehd)
    assert misfits == {37}


@pytest.mark.parametrize(("system", "rows"), [s[1:] for s in STEEL], ids=[s[0] for s in STEEL])
def test_between_two_rows_the_next_longer_one_rules(system: System, rows: Rows) -> None:
    """IFGC 402.4.1 (2018): the row equal to the length or the next longer one."""
    lengths = sorted(rows)
    for short, long in pairwise(lengths):
        for size, figure in zip(SIZES, rows[long], strict=True):
            found = carries(system, pipe(size), short + 0.5)
            assert (found.row_ft, found.table_btuh) == (long, figure * 1000)


@pytest.mark.parametrize(("system", "rows"), [s[1:] for s in STEEL], ids=[s[0] for s in STEEL])
def test_nothing_is_read_beyond_the_last_row(system: System, rows: Rows) -> None:
    last = max(rows)
    assert f"ends at {last} ft" in str(ruling(system, pipe("1 in"), last + 1))


def test_nothing_is_read_beyond_the_last_row_or_between_columns_of_csst() -> None:
    assert "ends at 60 ft" in str(ruling(LOW, pipe(material="CSST", ehd="25"), 61))
    assert "EHD 20" in str(ruling(LOW, pipe(material="CSST", ehd="20"), 30))
    assert "ends at 2 in" in str(ruling(LOW, pipe("3 in"), 30))


def test_metric_names_are_read_in_the_column_that_they_stand_for() -> None:
    for size, metric in zip(SIZES, (15, 20, 25, 32, 40, 50), strict=True):
        inch, name = carries(LOW, pipe(size), 60), carries(LOW, pipe(f"{metric} mm"), 60)
        assert inch == name


# --- the equations


def appendix_a4(bore: float, drop: float, feet: float, cr: float) -> float:
    """Q = 2313 D^2.623 (drop / (Cr L))^0.541, cubic feet an hour; the form from memory."""
    return float(2313 * bore**2.623 * (drop / (cr * feet)) ** 0.541)


def three_digits(figure: float) -> float:
    step = 10.0 ** (floor(log10(figure)) - 2)
    return round(figure / step) * step


@pytest.mark.parametrize(
    ("rows", "drop", "cr", "heat", "misses"),
    [
        (NATURAL_HALF_INCH, 0.5, CR_NATURAL, 1.0, 0),
        (NATURAL_3_INCH, 3.0, CR_NATURAL, 1.0, 2),  # 46 of 48 to the digit, two by one unit
        (PROPANE_STEEL, 0.5, CR_PROPANE, 2.488, 0),  # thousands of Btu at 2,488 Btu a cubic foot
    ],
    ids=["natural 0.5 in", "natural 3 in", "propane 0.5 in"],
)
def test_the_appendix_equation_gives_the_printed_cells_to_three_digits(
    rows: Rows, drop: float, cr: float, heat: float, misses: int
) -> None:
    off = []
    for feet, figures in rows.items():
        for bore, figure in zip(BORES, figures, strict=True):
            exact = appendix_a4(bore, drop, feet, cr) * heat
            printed = three_digits(exact) if figure >= 100 else round(exact)
            if printed != pytest.approx(figure):
                off.append(abs(exact / figure - 1))
    assert len(off) == misses
    assert all(share < 0.0125 for share in off)


def test_the_codes_equation_meets_the_half_inch_table_within_its_known_deviation() -> None:
    """Deviations of the printed from the computed figure: -1.404 % to +0.509 %, worst in 1/2 in."""
    shares = {
        (size, feet): figure / equation_cfh(bore, 0.5, feet, "natural gas") - 1
        for feet, figures in NATURAL_HALF_INCH.items()
        for size, bore, figure in zip(SIZES, BORES, figures, strict=True)
    }
    assert len(shares) == 84
    assert min(shares.values()) == pytest.approx(-0.01404, abs=2e-5)
    assert max(shares.values()) == pytest.approx(0.00509, abs=2e-5)
    assert min(shares, key=lambda cell: shares[cell]) == ("1/2 in", 90)
    # 1/2 in at 90 ft: printed 52, computed 52.74
    assert equation_cfh(0.622, 0.5, 90, "natural gas") == pytest.approx(52.74, abs=0.005)


def test_the_equation_is_used_between_rows_where_the_code_lets_it_and_nowhere_else() -> None:
    """Low pressure in steel only: the 2 psi table is not reproduced by it (up to 12 % lower)."""
    between = carries(LOW, pipe("3/4 in"), 55)
    assert between.table_btuh == 137_000  # the row of 60 ft
    assert between.exact_btuh is not None
    assert 137_000 < between.exact_btuh < 151_000  # between the rows of 60 and 50 ft
    assert carries(TWO_PSI, pipe("3/4 in"), 55).exact_btuh is None
    assert carries(LOW, pipe(material="CSST", ehd="25"), 55).exact_btuh is None


def test_three_inches_over_sixty_feet_carry_what_half_an_inch_over_ten_does() -> None:
    """At low pressure only drop over length counts: 3.0 / 60 = 0.5 / 10 (printed so, all sizes)."""
    for size in SIZES:
        long, short = carries(LOW_3_INCH, pipe(size), 60), carries(LOW, pipe(size), 10)
        assert long.table_btuh == short.table_btuh


# --- the printed worked example


LOADS = {"A": 35_000, "B": 75_000, "C": 35_000, "D": 100_000}
"""IFGC (2018) A.7.1: four outlets, natural gas of 1,000 Btu a cubic foot, longest length 60 ft."""

EXPECTED = {
    # stretch: (what burns behind it, the size that the example chooses)
    "outlet A": ("A", "1/2 in"),
    "outlet B": ("B", "3/4 in"),
    "section 1": ("AB", "3/4 in"),
    "section 2": ("CD", "3/4 in"),
    "section 3": ("ABCD", "1 in"),
    "outlet C": ("C", "1/2 in"),  # C and D follow from the row, the print does not repeat them
    "outlet D": ("D", "3/4 in"),
}


@pytest.mark.parametrize("stretch", EXPECTED)
def test_the_worked_example_comes_out_with_the_printed_sizes(stretch: str) -> None:
    behind, expected = EXPECTED[stretch]
    load = sum(LOADS[outlet] for outlet in behind)
    enough = [size for size in SIZES if carries(LOW, pipe(size), 60).table_btuh >= load]
    assert enough[0] == expected


@pytest.mark.parametrize(
    ("cubic_feet", "bore"),
    [(35, 0.489), (75, 0.654), (110, 0.757), (135, 0.819), (245, 1.027)],
)
def test_the_equation_gives_the_example_its_least_bores(cubic_feet: int, bore: float) -> None:
    """D = Q^0.381 / (19.17 (0.5 / (0.6094 * 60))^0.206), inches, for A, B and the sections."""
    assert equation_cfh(bore, 0.5, 60, "natural gas") == pytest.approx(cubic_feet, rel=0.004)
