"""Fixture units and peak demand against the codes' own printings; the UPC's scale stays apart."""

import pytest

from handbook.answers.flowing.demand import demand
from handbook.tables import table

UNITS = table("fixture_units").values


# 2018 IPC Table E103.3(2), private, the rows that were read: cold, hot, total.
IPC_PRIVATE = {
    "bathtub": (1.0, 1.0, 1.4),
    "bidet": (1.5, 1.5, 2.0),
    "dishwasher": (0.0, 1.4, 1.4),
    "kitchen sink": (1.0, 1.0, 1.4),
    "laundry tub": (1.0, 1.0, 1.4),
    "lavatory": (0.5, 0.5, 0.7),
}


@pytest.mark.parametrize(("kind", "row"), IPC_PRIVATE.items())
def test_single_fixtures_have_the_ipc_s_units(kind, row):
    ours = UNITS["fixtures"][kind]
    assert (ours["cold"], ours["hot"], ours["combined"]) == row


def test_the_full_bath_group_is_the_ipc_s_with_a_flush_tank():
    """2018 IPC Table E103.3(2): cold 2.7, hot 1.5, total 3.6."""
    group = UNITS["groups"]["full bath"]
    assert (group["cold"], group["hot"], group["combined"]) == (2.7, 1.5, 3.6)


@pytest.mark.parametrize("wsfu", [60, 70, 80, 90, 100])
def test_demand_from_60_units_on_is_the_state_s_too(wsfu):
    """77 IAC 890 App. A Table N prints 32, 35, 38, 41 and 43.5 gpm for them."""
    assert demand(wsfu) == {60: 32.0, 70: 35.0, 80: 38.0, 90: 41.0, 100: 43.5}[wsfu]


def test_demand_of_the_rows_seen_in_a_printed_copy():
    """A handbook's copy of IPC Table E103.3(3): 1, 2, 4, 8, 15, 30 and 50 units."""
    printed = {1: 3.0, 2: 5.0, 4: 8.0, 8: 12.8, 15: 17.5, 30: 23.3, 50: 29.1}
    assert {wsfu: demand(wsfu) for wsfu in printed} == printed


def test_demand_is_straight_between_rows_and_is_not_read_beyond_either_end():
    assert demand(3.6) == pytest.approx(7.4)  # 6.5 at 3, 8.0 at 4: 6.5 + 0.6 x 1.5
    assert demand(500) == 124.0
    assert demand(500.1) is None
    assert demand(0.7) == 0.0


def test_demand_never_falls_as_units_are_added():
    found = [demand(units / 4) for units in range(4, 2001)]
    assert found == sorted(found)


def test_the_upc_s_scale_is_another_one():
    """UPC 2018 Table A 103.1 gives a tub 4.0 and a toilet 2.5 where the IRC gives 1.4 and 2.2."""
    upc = table("fixture_units_upc").values
    assert (upc["bathtub"], upc["water closet"]) == (4.0, 2.5)
    assert all(
        upc[kind] != row["combined"]
        for kind, row in UNITS["fixtures"].items()
        if kind in ("bathtub", "shower", "laundry box", "water closet", "lavatory")
    )


def test_outlets_have_the_code_s_flow_and_pressure():
    """IRC Table P2903.1 and IPC Table 604.3; the washer from NSPC 10.14.1."""
    printed = {
        "bathtub": (4.0, 20),
        "shower": (2.5, 20),
        "lavatory": (0.8, 8),
        "kitchen sink": (1.75, 8),
        "water closet": (3.0, 20),
        "dishwasher": (2.75, 8),
        "laundry tub": (4.0, 8),
        "hose bibb": (5.0, 8),
        "laundry box": (4.0, 15),
    }
    ours = table("outlet_flows").values
    assert {kind: (ours[kind]["gpm"], ours[kind]["psi"]) for kind in printed} == printed
