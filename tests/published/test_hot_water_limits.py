"""The published limits for hot water and its heat, figure by figure, and what they rest on."""

import pytest

from handbook.answers.heating.scald import scald
from handbook.measures import Temperature
from handbook.tables import table


def test_the_lengths_are_those_of_the_credit() -> None:
    # LEED for Homes, Table 1a (secondary source)
    limits = table("hot_water_lengths").values
    sizes = ["3/8 in", "1/2 in", "5/8 in", "3/4 in", "1 in", "1-1/4 in"]
    assert [limits["from_heater_ft"][size] for size in sizes] == [50, 43, 32, 21, 13, 8]
    assert [limits["from_loop_ft"][size] for size in sizes] == [16, 16, 12, 8, 5, 3]


@pytest.mark.parametrize(("size", "ounces"), [("1/2 in", 1.5), ("3/4 in", 3), ("1 in", 5)])
def test_the_lengths_hold_half_a_gallon(size: str, ounces: float) -> None:
    # WaterSense's half gallon is 64 fl oz: 64 / 1.5 = 42.7, 64 / 3 = 21.3, 64 / 5 = 12.8 ft
    limit = table("hot_water_lengths").values["from_heater_ft"][size]
    assert limit == pytest.approx(64 / ounces, abs=0.5)
    assert table("hot_water_stored").values["stored_gal"] * 128 == 64


def test_the_waits_and_volumes_are_as_published() -> None:
    # ASPE wait classes: up to 10 s acceptable, to 30 s marginal. WaterSense: 0.5 and 0.6 gal.
    waits = {row["class"]: row["up_to_s"] for row in table("hot_water_waits").values}
    assert waits == {"acceptable": 10, "marginal": 30}
    assert table("hot_water_stored").values == {"stored_gal": 0.5, "collected_gal": 0.6}


@pytest.mark.parametrize(
    ("kind", "gpm", "psi"),
    [
        # IRC Table P2903.1, IPC Table 604.3
        ("bathtub", 4.0, 20),
        ("tub and shower", 4.0, 20),
        ("shower", 2.5, 20),
        ("bidet", 2.0, 20),
        ("dishwasher", 2.75, 8),
        ("laundry tub", 4.0, 8),
        ("lavatory", 0.8, 8),
        ("kitchen sink", 1.75, 8),
        ("bar sink", 1.75, 8),
        ("hose bibb", 5.0, 8),
        ("water closet", 3.0, 20),
        ("laundry box", 4.0, 15),  # clothes washer: NSPC 10.14.1
    ],
)
def test_the_outlets_flows_are_as_printed(kind: str, gpm: float, psi: float) -> None:
    assert table("outlet_flows").values[kind] == {"gpm": gpm, "psi": psi}


@pytest.mark.parametrize(
    ("fahrenheit", "seconds"),
    # Moritz and Henriques style table (secondary source), second-degree column
    [(113, 7200), (116.6, 1200), (118.4, 900), (120, 480), (124, 120), (131, 17), (140, 3)],
)
def test_every_row_of_the_scald_table(fahrenheit: float, seconds: int) -> None:
    burn = scald(Temperature(fahrenheit))
    assert (burn.seconds, burn.sooner) == (seconds, False)


@pytest.mark.parametrize(
    ("fahrenheit", "at_most"),
    # A hospital scald sheet: at most 2 min at 125 F, 30 s at 130 F, 10 s at 135 F, 5 s at 140 F
    [(125, 120), (130, 30), (135, 10), (140, 5)],
)
def test_no_time_is_kinder_than_another_published_list(fahrenheit: float, at_most: int) -> None:
    assert scald(Temperature(fahrenheit)).seconds <= at_most


def test_past_the_table_no_figure_is_made_up() -> None:
    burn = scald(Temperature(150))
    assert (burn.seconds, burn.sooner) == (3, True)
