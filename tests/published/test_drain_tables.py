"""What drains may carry, cell by cell, against the printed tables as they were read.

The figures are written here again from the sources named, and not read from our own files.
"""

import pytest

from handbook.answers.draining.drain_capacity import capacity, least_size, least_trap
from handbook.answers.draining.drain_units import Code
from handbook.measures import Slope
from handbook.tables import table

IRC, IPC, UPC = Code("IRC"), Code("IPC"), Code("UPC")
EIGHTH, QUARTER, HALF = Slope(0.125), Slope(0.25), Slope(0.5)

# IPC Table 710.1(2), as printed in Saudi SBC 701 Table 4.10.1(2) for 40, 50, 65, 75 and 100 mm:
# horizontal branch; stack of three branch intervals or less. IRC Table P3005.4.1 prints the same
# (stated from memory).
BRANCH_AND_STACK = [
    ("1-1/2 in", 3, 4),
    ("2 in", 6, 10),
    ("2-1/2 in", 12, 20),
    ("3 in", 20, 48),
    ("4 in", 160, 240),
]

# IPC Table 710.1(1) (2018): building drains and sewers and their branches at 1/8, 1/4, 1/2 in/ft.
BUILDING_DRAIN = [
    ("1-1/4 in", None, 1, 1),
    ("1-1/2 in", None, 3, 3),
    ("2 in", None, 21, 26),
    ("2-1/2 in", None, 24, 31),
    ("3 in", 36, 42, 50),
    ("4 in", 180, 216, 250),
    ("5 in", 390, 480, 575),
    ("6 in", 700, 840, 1000),
]

# UPC Table 703.2 (King County excerpt): vertical, horizontal, vent, longest vent in ft.
UPC_703_2 = [
    ("1-1/4 in", 1, 1, 1, 45),
    ("1-1/2 in", 2, 1, 8, 60),
    ("2 in", 16, 8, 24, 120),
    ("2-1/2 in", 32, 14, 48, 180),
    ("3 in", 48, 35, 84, 212),
    ("4 in", 256, 216, 256, 300),
]


def units(code: Code, column, size: str, slope: Slope | None = None) -> int | None:
    found = capacity(code, column, size, slope)
    return found.units if found else None


@pytest.mark.parametrize("code", [IRC, IPC], ids=lambda code: code.name)
@pytest.mark.parametrize(("size", "branch", "stack"), BRANCH_AND_STACK)
def test_branches_and_stacks_carry_what_is_printed(
    code: Code, size: str, branch: int, stack: int
) -> None:
    assert units(code, "branch", size) == branch
    assert units(code, "stack", size) == stack


def test_the_columns_of_stacks_that_are_not_read_are_as_printed_too() -> None:
    # one branch interval; more than three: 1-1/2 to 4 in
    rows = table("branch_and_stack_capacity").values.values()
    assert [row["one_interval"] for row in rows] == [2, 6, 9, 20, 90]
    assert [row["tall_stack"] for row in rows] == [8, 24, 42, 72, 500]


@pytest.mark.parametrize("code", [IRC, IPC], ids=lambda code: code.name)
@pytest.mark.parametrize(("size", "eighth", "quarter", "half"), BUILDING_DRAIN)
def test_building_drains_carry_what_is_printed(
    code: Code, size: str, eighth, quarter, half
) -> None:
    slopes = (EIGHTH, QUARTER, HALF)
    assert [units(code, "building drain", size, s) for s in slopes] == [eighth, quarter, half]


@pytest.mark.parametrize(("size", "vertical", "horizontal", "vent", "longest"), UPC_703_2)
def test_the_uniform_codes_drains_and_vents_carry_what_is_printed(
    size: str, vertical: int, horizontal: int, vent: int, longest: int
) -> None:
    assert units(UPC, "stack", size) == vertical
    assert units(UPC, "branch", size, QUARTER) == horizontal
    assert units(UPC, "building drain", size, QUARTER) == horizontal
    row = table("drain_and_vent_capacity_upc").values["units"][size]
    assert (row["vent"], row["vent_most_ft"]) == (vent, longest)


def test_the_uniform_code_limits_water_closets_on_three_inches() -> None:
    # UPC Table 703.2 notes: at most three on a 3 in horizontal drain, four on a vertical one.
    branch, stack = capacity(UPC, "branch", "3 in", QUARTER), capacity(UPC, "stack", "3 in", None)
    assert (branch and branch.closets, stack and stack.closets) == (3, 4)


# --- nothing beyond the tables' ends


@pytest.mark.parametrize(
    ("code", "column", "size", "slope"),
    [
        (IRC, "branch", "1-1/4 in", None),  # the table begins at 1-1/2 in
        (IRC, "stack", "5 in", None),  # read to 4 in
        (IPC, "building drain", "8 in", QUARTER),  # read to 6 in
        (IPC, "building drain", "2 in", EIGHTH),  # a blank cell
        (IPC, "building drain", "4 in", Slope(1 / 16)),  # flatter than the first column
        (UPC, "branch", "4 in", EIGHTH),  # printed for 1/4 in per ft
        (UPC, "stack", "5 in", None),
    ],
)
def test_no_figure_is_read_beyond_a_table(code: Code, column, size: str, slope) -> None:
    assert capacity(code, column, size, slope) is None


def test_a_fall_between_two_columns_is_read_in_the_flatter_one() -> None:
    assert units(IPC, "building drain", "4 in", Slope(0.2)) == 180  # 1/8 in per ft
    assert units(IPC, "building drain", "4 in", Slope(0.75)) == 250  # 1/2 in per ft


@pytest.mark.parametrize(("percent", "carries"), [(1, 180), (2, 216), (4, 250)])
def test_metric_falls_are_the_columns_that_codes_print_them_for(percent: int, carries: int) -> None:
    # IPC Table 710.1(1) prints 1/8, 1/4 and 1/2 in per ft; SBC 701 has 1, 2 and 4 percent.
    assert units(IPC, "building drain", "4 in", Slope(percent * 0.12)) == carries


# --- fixture units


def test_fixture_units_of_the_residential_code() -> None:
    # IRC Table P3004.1, stated from memory; read in secondary sources: water closet 3, tub and
    # shower 2, lavatory 1, kitchen sink 2, washer 2 (2024), and eleven for three and a half baths.
    rows = table("drain_units_irc").values
    assert rows["fixtures"] == {
        "water closet": 3,
        "lavatory": 1,
        "bathtub": 2,
        "tub and shower": 2,
        "shower": 2,
        "bidet": 1,
        "kitchen sink": 2,
        "bar sink": 1,
        "dishwasher": 2,
        "laundry box": 2,
        "laundry tub": 2,
        "floor drain": 0,
    }
    assert rows["groups"] == {"full_bath": 5, "half_bath": 4, "kitchen": 2, "laundry": 3}
    # 1-1/2, 2, 2-1/2, 3 and 3-1/2 baths: 7, 8, 9, 10, 11
    assert [row[2] for row in rows["baths"]] == [7, 8, 9, 10, 11]


def test_fixture_units_of_the_international_plumbing_code() -> None:
    # IPC Table 709.1 (2018), stated from memory.
    rows = table("drain_units_ipc").values
    assert rows["fixtures"]["floor drain"] == 2
    assert rows["groups"] == {"full_bath": 5, "kitchen": 2}
    both = {"water closet": 3, "lavatory": 1, "bathtub": 2, "shower": 2, "bidet": 1}
    both |= {"kitchen sink": 2, "dishwasher": 2, "laundry box": 2, "laundry tub": 2}
    assert both.items() <= rows["fixtures"].items()


def test_fixture_units_of_the_uniform_code() -> None:
    # UPC Table 702.1, private (King County excerpt).
    assert table("drain_units_upc").values["fixtures"] == {
        "water closet": 3,
        "lavatory": 1,
        "bathtub": 2,
        "tub and shower": 2,
        "shower": 2,
        "kitchen sink": 2,
        "bar sink": 1,
        "dishwasher": 2,
        "laundry box": 3,
        "laundry tub": 2,
    }
    assert table("drain_units_upc").values["groups"] == {}


# --- traps, arms, vents


def test_trap_arms_are_as_printed_and_fall_one_diameter() -> None:
    # IPC Table 909.1 (2018), IRC Table P3105.1; arithmetic: 1-1/4 to 2 in x 1/4 in per ft = one
    # diameter (5 x 0.25 = 1.25, 6 x 0.25 = 1.5, 8 x 0.25 = 2).
    most = table("trap_arms").values["most_ft"]
    assert most == {"1-1/4 in": 5, "1-1/2 in": 6, "2 in": 8, "3 in": 12, "4 in": 16}
    assert [most[f"{n} in"] * 0.25 for n in ("1-1/4", "1-1/2", "2")] == [1.25, 1.5, 2]
    # UPC Table 1002.2
    most = table("trap_arms_upc").values["most_ft"]
    assert most == {"1-1/4 in": 2.5, "1-1/2 in": 3.5, "2 in": 5, "3 in": 6, "4 in": 10}


@pytest.mark.parametrize(
    ("kind", "irc", "upc"),
    [
        # IRC Table P3201.7 (stated from memory); UPC Table 702.1 (King County excerpt)
        ("lavatory", 1.25, 1.25),
        ("bathtub", 1.5, 1.5),
        ("shower", 1.5, 2),
        ("laundry box", 2, 2),
        ("kitchen sink", 1.5, 1.5),
        ("laundry tub", 1.5, 1.5),
        ("dishwasher", 1.5, 1.5),
        ("floor drain", 2, None),
        ("bidet", 1.25, None),
        ("bar sink", None, 1.5),
    ],
)
def test_the_least_traps(kind: str, irc: float | None, upc: float | None) -> None:
    assert (least_trap(IRC, kind), least_trap(UPC, kind)) == (irc, upc)


def test_the_least_size_for_a_load_is_the_first_row_that_carries_it() -> None:
    # IPC Table 710.1(2): six units need 2 in, seven 2-1/2 in; UPC Table 703.2: nine need 2-1/2 in.
    assert least_size(IRC, "branch", None, 6) == 2
    assert least_size(IRC, "branch", None, 7) == 2.5
    assert least_size(UPC, "branch", QUARTER, 9) == 2.5
    assert least_size(IRC, "branch", None, 161) is None
