"""The swelling of heated water and its tank, against the printed volumes and the IAPWS formulation.

IAPWS-IF97 is computed by the `iapws` package, a general-purpose library of steam properties.
"""

import pytest
from iapws import IAPWS97

from handbook.answers.expansion import density, swelling, taken
from handbook.measures import LITRES_PER_GALLON, Pressure, Temperature
from handbook.tables import table

KG_PER_POUND = 0.45359237  # NIST SP 811, exact

# Engineering ToolBox, specific volume of saturated water: temperature in F, ft3/lb, lb/ft3, lb/gal.
PRINTED = [
    (32, 0.01602, 62.41, 8.344),
    (40, 0.01602, 62.43, 8.345),
    (50, 0.01602, 62.41, 8.343),
    (60, 0.01603, 62.37, 8.338),
    (70, 0.01605, 62.31, 8.329),
    (80, 0.01607, 62.22, 8.318),
    (90, 0.01610, 62.12, 8.304),
    (100, 0.01613, 62.00, 8.288),
    (110, 0.01617, 61.86, 8.270),
    (120, 0.01620, 61.71, 8.250),
    (130, 0.01625, 61.55, 8.228),
    (140, 0.01629, 61.38, 8.205),
    (150, 0.01634, 61.19, 8.180),
    (160, 0.01640, 60.99, 8.154),
    (180, 0.01651, 60.57, 8.097),
    (212, 0.01672, 59.81, 7.996),
]


def pounds_per_gallon(fahrenheit: float) -> float:
    """Saturated water by IAPWS-IF97; its range begins a hair above 32 F."""
    kelvin = (max(fahrenheit, 32.02) - 32) / 1.8 + 273.15
    litre = IAPWS97(T=kelvin, x=0).rho / 1000
    return float(litre * LITRES_PER_GALLON / KG_PER_POUND)


def test_every_row_is_as_printed() -> None:
    assert [tuple(row) for row in table("water_density").values["rows"]] == PRINTED


@pytest.mark.parametrize("row", PRINTED, ids=lambda row: str(row[0]))
def test_the_printed_columns_say_the_same_thing(row: tuple[float, float, float, float]) -> None:
    _, volume, per_foot, per_gallon = row
    assert 1 / volume == pytest.approx(per_foot, abs=0.02)  # 62.4 x 0.000005 / 0.016
    assert per_foot * 231 / 1728 == pytest.approx(per_gallon, abs=0.002)  # 1728 in3 in a cubic foot


@pytest.mark.parametrize("row", PRINTED, ids=lambda row: str(row[0]))
def test_the_densities_are_those_of_the_formulation(row: tuple[float, ...]) -> None:
    # the worst row is 212 F: 7.996 printed, 7.998 by IAPWS-IF97, 0.03 percent
    assert row[3] == pytest.approx(pounds_per_gallon(row[0]), rel=0.0003)


@pytest.mark.parametrize("setting", range(100, 200, 5))
@pytest.mark.parametrize("entry", [40, 45, 55, 65, 75])
def test_the_swelling_is_that_of_the_formulation(entry: int, setting: int) -> None:
    """Within 2 percent of itself, between the printed rows too."""
    share = swelling(Temperature(entry), Temperature(setting))
    expected = pounds_per_gallon(entry) / pounds_per_gallon(setting) - 1
    assert share == pytest.approx(expected, rel=0.02)


def test_the_swelling_from_the_printed_specific_volumes() -> None:
    # 50 F to 140 F: 0.01629 / 0.01602 - 1 = 0.01685; five digits leave 4 percent of it open
    share = swelling(Temperature(50), Temperature(140))
    assert share == pytest.approx(0.01629 / 0.01602 - 1, rel=0.04)


def test_no_colder_entry_swells_more_than_the_one_assumed() -> None:
    assumed = Temperature(table("expansion_tanks").values["entry_temp_f"])
    most = swelling(assumed, Temperature(120))
    others = [swelling(Temperature(f), Temperature(120)) for f in range(32, 80)]
    assert most is not None
    assert all(share is not None and share <= most for share in others)


def test_nothing_is_read_past_the_table() -> None:
    assert density(Temperature(31.9)) is None
    assert density(Temperature(212.1)) is None
    assert density(Temperature(212)) == 7.996


def test_a_tank_by_the_published_equation() -> None:
    """Vt = Vs (v2/v1 - 1) / (1 - P1/P2), absolute pressures (Engineering ToolBox, ASPE style).

    50 gal from 40 F to 120 F, 60 psi to the limit of 80 psi, without the metal's term.
    """
    rise = 8.345 / 8.250 - 1  # lb/gal: 0.011515
    tank = 50 * rise / (1 - (60 + 14.7) / (80 + 14.7))  # 0.5758 / 0.2112 = 2.726 gal
    p1, p2 = Pressure(60), Pressure(80)
    assert 50 * rise / taken(p1, p1, p2) == pytest.approx(tank)
    assert tank == pytest.approx(2.726, abs=0.001)


@pytest.mark.parametrize(
    ("charge", "start", "share"),
    [
        # Boyle's law by hand: (Pc + 14.7) (1 / (P1 + 14.7) - 1 / 94.7) with P2 = 80 psi
        (60, 60, 1 - 74.7 / 94.7),  # 0.211
        (40, 60, 54.7 / 74.7 - 54.7 / 94.7),  # 0.155: the tank is part full from the start
        (70, 60, 1 - 84.7 / 94.7),  # 0.106: it takes nothing until 70 psi
        (80, 60, 0.0),  # and at 80 psi there is nothing left to take
        (90, 60, 0.0),
    ],
)
def test_what_a_wrongly_charged_tank_takes(charge: float, start: float, share: float) -> None:
    assert taken(Pressure(charge), Pressure(start), Pressure(80)) == pytest.approx(share)
