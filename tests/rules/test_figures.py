"""The published figures: at the figure a thing is clear, just past it the rule finds.

Each case names where its figure stands. The figures are written here again, from the sources, and
not read from the tables that the rules read.
"""

from pathlib import Path

import pytest
import rule_houses as houses

from handbook.rules import RULES
from handbook.rules.rule import Broken, Clear


def found(name: str, over: str, folder: Path) -> set[str | None]:
    """Return the things that break the rule in the base house with this laid over it."""
    rule = next(rule for rule in RULES if rule.name == name)
    house = houses.house_of(houses.laid_over(houses.base(), houses.tree_of(over)), folder)
    outcomes = list(rule.look(house))
    assert all(isinstance(outcome, Broken | Clear) for outcome in outcomes)
    return {outcome.thing for outcome in outcomes if isinstance(outcome, Broken)}


def pressure(value: str) -> str:
    return f"""
water:
  static_pressure: {{value: {value}}}
  equipment: [{{id: PRV, name: Filter, kind: filter, from: W1, place: {{room: utility}}}}]
"""


def pan(depth: str = "2 in", size: str = "1 in", above: str = "12 in") -> str:
    return f"""
safeguards:
  pans:
    - id: P1
      name: Heater pan
      under: WH
      depth: {depth}
      place: {{room: closet}}
      drain: {{to: outdoors, by: 9 ft of {size} PVC, above: {above}}}
"""


def relief(above: str) -> str:
    return f"""
heaters:
  - id: WH
    name: Water heater
    kind: storage
    relief: {{discharge: {{to: floor drain, above: {above}}}}}
"""


def heater(
    relief: str = "150 psi", hot: str = "210 F", size: str = "3/4 in", to: str = "140 F"
) -> str:
    return f"""
heaters:
  - id: WH
    name: Water heater
    kind: storage
    setting: {to}
    relief:
      pressure: {relief}
      temperature: {hot}
      size: 3/4 in
      discharge: {{by: 6 ft of {size} CPVC}}
"""


def meter(badge: str) -> str:
    return f"gas: {{fuel: natural gas, meter: {{id: GM, kind: meter, capacity: {badge}}}}}"


def sewer(size: str = "4 in", slope: str = "1/4 in per ft", length: str = "60 ft") -> str:
    by = f"by: {length} of {size} PVC, slope: {slope}"
    return f"drains: {{stretches: [{{id: D3, kind: building sewer, to: SEWER, {by}}}]}}"


def cleanout(size: str = "4 in", clear: str = "3 ft", along: str = "28 ft") -> str:
    return f"""
drains:
  cleanouts:
    - {{id: C2, name: Cleanout, kind: floor, on: D2, along: {along}, facing: downstream,
       size: {size}, clear: {clear}, access: nothing to move}}
"""


def gas_stop(away: str) -> str:
    return f"""
gas:
  appliances:
    - id: FU
      name: Furnace
      kind: furnace
      place: {{room: utility, at: [9 ft, 2 ft]}}
      gas:
        from: GT
        shutoff: {{id: G4, kind: gas cock, place: {{room: utility, at: [9 ft, {away}]}}}}
"""


CASES = [
    # The metric figures that the codes print in brackets: 457 mm for 18 in, 38 mm for 1-1/2 in,
    # 610 mm for 24 in, 1829 mm for 6 ft, 2 percent for 1/4 in per ft.
    ("cleanout-too-cramped", cleanout(clear="457 mm"), cleanout(clear="430 mm"), "C2"),
    ("pan-too-shallow", pan(depth="38 mm"), pan(depth="36 mm"), "P1"),
    ("pan-drain-ends-at-wrong-height", pan(above="610 mm"), pan(above="650 mm"), "P1"),
    ("gas-shutoff-too-far", gas_stop("2439 mm"), gas_stop("2500 mm"), "FU"),
    ("drain-too-flat", sewer(size="2 in", slope="2 %"), sewer(size="2 in", slope="1.5 %"), "D3"),
    # IRC P2903.3.1, IPC 604.8: a reducing valve over 80 psi.
    ("pressure-too-high", pressure("80 psi"), pressure("81 psi"), None),
    # IRC P2801.6 (2015): a pan 1-1/2 in deep.
    ("pan-too-shallow", pan(depth="1 1/2 in"), pan(depth="1 7/16 in"), "P1"),
    # IRC P2801.6 (2015): a pan drain of 3/4 in; the next size down is 1/2 in.
    ("pan-drain-too-small", pan(size="3/4 in"), pan(size="1/2 in"), "P1"),
    # The same in metric names: 20 mm stands for 3/4 in, 15 mm for 1/2 in.
    ("pan-drain-too-small", pan(size="20 mm"), pan(size="15 mm"), "P1"),
    # IRC P2801.6.2: a pan's drain ends 6 to 24 in above grade.
    ("pan-drain-ends-at-wrong-height", pan(above="6 in"), pan(above="5 in"), "P1"),
    ("pan-drain-ends-at-wrong-height", pan(above="24 in"), pan(above="25 in"), "P1"),
    # IRC P2804.3 and P2804.4: a relief valve opens at 150 psi and 210 F at most.
    ("relief-set-too-high", heater(relief="150 psi"), heater(relief="160 psi"), "WH"),
    ("relief-set-too-high", heater(hot="210 F"), heater(hot="220 F"), "WH"),
    # IRC P2804.6.1: its pipe is no smaller than its outlet.
    ("relief-pipe-too-small", heater(size="3/4 in"), heater(size="1/2 in"), "WH"),
    # Burn times after Moritz and Henriques: at 140 F 3 seconds, which is where the table ends.
    ("heater-set-to-scald", heater(to="140 F"), heater(to="145 F"), "WH"),
    # IFGC A.7.1 (2018): 1,000 Btu in a cubic foot; behind it burn 65 + 40 + 80 thousand an hour.
    ("gas-meter-too-small", meter("185 cfh"), meter("184 cfh"), "GM"),
    # IRC P2804.6.1, IPC 504.6 (2018): a relief pipe ends at most 6 in above floor or receptor.
    ("relief-ends-too-high", relief("6 in"), relief("6 1/4 in"), "WH"),
    # IPC Table 704.1, IRC P3005.3: 1/8 in per ft from 3 in on, 1/4 in per ft to 2-1/2 in.
    ("drain-too-flat", sewer(slope="1/8 in per ft"), sewer(slope="1/16 in per ft"), "D3"),
    (
        "drain-too-flat",
        sewer(size="2-1/2 in", slope="1/4 in per ft"),
        sewer(size="2-1/2 in", slope="1/8 in per ft"),
        "D3",
    ),
    # IPC Table 710.1(1) note a (2018): no water closet on less than 3 in.
    ("closet-on-small-drain", sewer(size="3 in"), sewer(size="2-1/2 in"), "D3"),
    # IRC P3005.2.9, IPC 708.1.9 (2015): 18 in clear in front of a cleanout of 6 in and smaller.
    ("cleanout-too-cramped", cleanout(clear="18 in"), cleanout(clear="17 in"), "C2"),
    # IPC 708.1.5, IRC P3005.2.5 (2015): as large as its pipe, here 4 in.
    ("cleanout-too-small", cleanout(size="4 in"), cleanout(size="3 in"), "C2"),
    # IPC 708.1.3, IRC P3005.2.3 (2015): at most 10 ft upstream of the sewer. D2 is 30 ft long.
    ("no-cleanout-at-sewer", cleanout(along="20 ft"), cleanout(along="19 ft"), "D3"),
    # IPC 708.1.1: at most 100 ft apart. From C2 2 ft to the end of D2, then the sewer: 98 + 2.
    ("cleanouts-too-far-apart", sewer(length="98 ft"), sewer(length="99 ft"), "D2"),
    # IRC G2420.5.1 (2018): the shutoff within 6 ft. The furnace stands at 2 ft: 8 ft is 6 ft away.
    ("gas-shutoff-too-far", gas_stop("8 ft"), gas_stop("8 ft 2 in"), "FU"),
]


@pytest.mark.parametrize(("name", "at", "past", "thing"), CASES)
def test_at_the_figure_clear_and_past_it_found(
    name: str, at: str, past: str, thing: str | None, folder: Path
) -> None:
    assert found(name, at, folder) == set()
    assert found(name, past, folder) == {thing}


@pytest.mark.parametrize(
    ("pipe", "size", "enough"),
    [("6 in", "4 in", True), ("6 in", "3 in", False), ("3 in", "3 in", True)],
)
def test_no_cleanout_need_be_larger_than_4_in(
    pipe: str, size: str, enough: bool, folder: Path
) -> None:
    """IPC 708.1.5, IRC P3005.2.5 (2015): the pipe's size, but no more than 4 in."""
    over = f"""
drains:
  stretches: [{{id: D2, kind: building drain, to: D3, by: 30 ft of {pipe} PVC}}]
  cleanouts: [{{id: C2, kind: two-way, on: D2, size: {size}}}]
"""
    assert (found("cleanout-too-small", over, folder) == set()) is enough


@pytest.mark.parametrize(("size", "enough"), [("2-1/2 in", True), ("2 in", False)])
def test_a_stack_cleanout_may_be_one_size_smaller(size: str, enough: bool, folder: Path) -> None:
    """IPC 708.1.5 exception; the sizes are those of IPC Table 710.1: 2, 2-1/2, 3, 4."""
    over = f"drains: {{cleanouts: [{{id: C1, kind: stack base, on: D1, size: {size}}}]}}"
    assert (found("cleanout-too-small", over, folder) == set()) is enough


@pytest.mark.parametrize("kind", ["range", "dryer", "fireplace", "grill"])
def test_appliances_exempt_from_a_sediment_trap(kind: str, folder: Path) -> None:
    """IRC G2419.4, IFGC 408.4."""
    over = f"""
gas:
  appliances:
    - {{id: FU, name: It, kind: {kind}, gas: {{from: GT, sediment_trap: no, shutoff: {{id: G4}}}}}}
"""
    assert found("appliance-without-sediment-trap", over, folder) == set()


@pytest.mark.parametrize(("kind", "enough"), [("tub and shower", True), ("bidet", False)])
def test_tubs_and_showers_need_no_stop(kind: str, enough: bool, folder: Path) -> None:
    """IRC P2903.9.3."""
    over = f"fixtures: [{{id: lav, kind: {kind}, cold: {{from: T1, stop: none}}, hot: none}}]"
    assert (found("fixture-without-stop", over, folder) == set()) is enough


@pytest.mark.parametrize("kind", ["check valve", "backflow preventer", "pressure-reducing valve"])
def test_what_closes_a_system_for_a_storage_heater(kind: str, folder: Path) -> None:
    """IPC 607.3, IRC P2903.4."""
    over = f"""
water: {{equipment: [{{id: PRV, kind: {kind}, from: W1}}]}}
heaters: [{{id: WH, kind: storage, cold: {{from: T1}}, expansion_tank: none}}]
"""
    assert found("closed-system-without-expansion-tank", over, folder) == {"WH"}


@pytest.mark.parametrize("over", ["kind: tankless", "kind: storage, expansion_tank: {id: ET}"])
def test_a_heater_that_needs_no_expansion_tank(over: str, folder: Path) -> None:
    """IPC 607.3 asks it for storage heaters."""
    heater = f"heaters: [{{id: WH, cold: {{from: T1}}, {over}}}]"
    assert found("closed-system-without-expansion-tank", heater, folder) == set()


def test_an_open_system_needs_no_expansion_tank(folder: Path) -> None:
    """IPC 607.3: only behind a check valve, reducing valve or backflow preventer."""
    over = """
water: {equipment: [{id: PRV, kind: filter, from: W1}]}
heaters: [{id: WH, kind: storage, cold: {from: T1}, expansion_tank: none}]
"""
    assert found("closed-system-without-expansion-tank", over, folder) == set()
