"""Trade notation reads to the right number, and is said again so that it reads back the same.

Conversions are checked against scipy.constants (an independent, general-purpose library) and the
printed factors of NIST SP 811 (2008), appendix B.8.
"""

import contextlib
from fractions import Fraction

import pytest
import scipy.constants as si
from hypothesis import given, settings
from hypothesis import strategies as st

from handbook import measures
from handbook.measures import NotationError

RELAXED = settings(deadline=None)  # a busy machine is not a fault

PARSERS = {
    measures.parse_length: "3 ft",
    measures.parse_pressure: "68 psi",
    measures.parse_temperature: "120 F",
    measures.parse_flow: "2.5 gpm",
    measures.parse_heat_rate: "60 kW",
    measures.parse_volume: "50 gal",
    measures.parse_slope: "2 %",
    measures.parse_pipe_size: "3/4 in",
    measures.parse_run: "22 ft of 3/4 in PEX",
}


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("12 ft 6 in", 150),  # 12 x 12 + 6
        ("12 ft", 144),
        ("12ft", 144),
        ("6 1/2 in", 6.5),
        ("3/4 in", 0.75),
        ("1-1/4 in", 1.25),
        ("12'-6\"", 150),
        ("12' 6 1/2\"", 150.5),
        ("12\N{RIGHT SINGLE QUOTATION MARK}-6\N{RIGHT DOUBLE QUOTATION MARK}", 150),
        ("6\N{VULGAR FRACTION ONE HALF} in", 6.5),
        ("2.5 ft", 30),
        ("1,200 ft", 14400),
        ("-9 ft", -108),
        ("-9 ft 2 in", -110),  # the sign is for the whole: -(9 x 12 + 2)
        ("\N{MINUS SIGN}9 ft", -108),
        ("0", 0),
        ("254 mm", 10),
        ("25.4 cm", 10),
        ("2.54 m", 100),
    ],
)
def test_a_length_reads_as_inches(text, inches):
    assert measures.parse_length(text).inches == pytest.approx(inches, abs=1e-9)


def test_lengths_convert_as_in_scipy():
    assert measures.parse_length("12 ft 6 in").metres == pytest.approx(12.5 * si.foot)
    assert measures.parse_length("1 m").inches == pytest.approx(1 / si.inch)


def test_pressures_convert_as_in_scipy():
    # NIST SP 811 prints 6.894 757 E+03 Pa, seven figures, so agreement ends there
    assert measures.parse_pressure("350 kPa").psi == pytest.approx(350e3 / si.psi, rel=1e-7)
    assert measures.parse_pressure("4.7 bar").psi == pytest.approx(4.7 * si.bar / si.psi, rel=1e-7)


def test_an_inch_of_water_is_as_printed_in_nist_sp_811():
    # 2.490 82 E+02 Pa at 39.2 F; 7 in wc x 249.082 / 6894.757 = 0.25288 psi
    assert measures.parse_pressure("7 in wc").psi == pytest.approx(7 * 249.082 / si.psi, rel=1e-6)


def test_temperatures_convert_as_in_scipy():
    expected = si.convert_temperature(49, "Celsius", "Fahrenheit")
    assert measures.parse_temperature("49 C").fahrenheit == pytest.approx(expected)
    assert measures.parse_temperature("120 F").celsius == pytest.approx(
        si.convert_temperature(120, "Fahrenheit", "Celsius")
    )


@pytest.mark.parametrize("text", ["120 F", "120F", "120 \N{DEGREE SIGN}F", "120\N{DEGREE SIGN}F"])
def test_the_degree_sign_may_be_left_out(text):
    assert measures.parse_temperature(text).fahrenheit == 120


def test_flows_and_volumes_convert_as_in_scipy():
    assert measures.parse_flow("9 L/min").gpm == pytest.approx(9e-3 / si.gallon)
    assert measures.parse_volume("190 L").gallons == pytest.approx(190e-3 / si.gallon)


def test_heat_rates_convert_as_in_scipy():
    # a kilowatt hour is 3.6 MJ; 60 kW x 3600 s / 1055.056 J = 204 728 Btu/h
    assert measures.parse_heat_rate("60 kW").btu_h == pytest.approx(60e3 * 3600 / si.Btu_IT)
    assert measures.parse_heat_rate("199,000 Btu/h").btu_h == 199_000


def test_a_quarter_inch_per_foot_is_about_two_per_cent():
    # 0.25 / 12 = 0.0208; 2 % of 12 in is 0.24 in
    assert measures.parse_slope("1/4 in per ft").inches_per_foot == 0.25
    assert measures.parse_slope("2 %").inches_per_foot == pytest.approx(0.24)


def test_pipe_sizes_keep_their_trade_name_and_sort_by_bore():
    sizes = [measures.parse_pipe_size(t) for t in ("2 in", "20 mm", "1 1/4 in", "0.75 in", '1/2"')]
    assert [str(size) for size in sorted(sizes)] == [
        "1/2 in",
        "3/4 in",
        "20 mm",
        "1-1/4 in",
        "2 in",
    ]


def test_the_same_size_written_two_ways_is_one_size():
    assert measures.parse_pipe_size("1-1/4 in") == measures.parse_pipe_size("1 1/4 in")


@pytest.mark.parametrize(
    ("text", "feet", "size", "material"),
    [
        ("22 ft of 3/4 in PEX", 22, "3/4 in", "PEX"),
        ("8 ft 6 in of 1-1/4 in black steel", 8.5, "1-1/4 in", "black steel"),
        ("30 ft of 1 in CSST EHD 31", 30, "1 in", "CSST EHD 31"),
        ('4 ft of 3" copper  L', 4, "3 in", "copper L"),
    ],
)
def test_a_run_says_length_size_and_material(text, feet, size, material):
    run = measures.parse_run(text)
    assert (run.length.feet, str(run.size), run.material) == (feet, size, material)


@pytest.mark.parametrize("parse", PARSERS)
def test_a_bare_number_is_refused_with_an_example_that_reads(parse):
    with pytest.raises(NotationError) as refused:
        parse("68")
    example = refused.value.hint.split("`")[1]
    parse(example)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "ft",
        "twelve ft",
        "12 ft 13 in",
        "9 ft -2 in",
        "12 psi",
        "1/0 in",
        "3,8 m",
        "1 ft 2 ft",
        "12 ft 6",
        "--3 ft",
    ],
)
def test_what_is_not_a_length_is_refused(text):
    with pytest.raises(NotationError):
        measures.parse_length(text)


@pytest.mark.parametrize("digits", ["9" * 80, "\N{ARABIC-INDIC DIGIT THREE}"])
def test_digits_beyond_reason_are_refused(digits):
    with pytest.raises(NotationError):
        measures.parse_length(f"{digits} ft")


@pytest.mark.parametrize("text", ["-3 psi", "-3 gpm", "-3 gal", "-3 Btu/h"])
def test_less_than_nothing_is_refused(text):
    for parse in (
        measures.parse_pressure,
        measures.parse_flow,
        measures.parse_volume,
        measures.parse_heat_rate,
    ):
        with pytest.raises(NotationError):
            parse(text)


@pytest.mark.parametrize("text", ["-22 ft of 3/4 in PEX", "22 ft of 0 in PEX", "22 ft of PEX"])
def test_a_run_that_cannot_be_is_refused(text):
    with pytest.raises(NotationError):
        measures.parse_run(text)


@pytest.mark.parametrize(
    ("inches", "us", "metric"),
    [
        (150, "12 ft 6 in", "3.81 m"),  # 150 x 25.4 = 3810 mm
        (144, "12 ft", "3.658 m"),
        (6.5, "6 1/2 in", "165 mm"),
        (11.99, "1 ft", "305 mm"),  # nearest sixteenth of 11.99 is 12
        (-110, "-9 ft 2 in", "-2.794 m"),
        (0, "0 in", "0 mm"),
        (-0.001, "0 in", "0 mm"),
    ],
)
def test_a_length_is_said_as_the_trade_says_it(inches, us, metric):
    assert measures.say_length(measures.Length(inches), "US") == us
    assert measures.say_length(measures.Length(inches), "metric") == metric


def test_a_taped_length_is_said_no_finer_than_it_was_taped():
    taped = measures.Length(150.3)  # 150.3 x 25.4 = 3817.6 mm
    assert measures.say_length(taped, "US", to=Fraction(1, 2)) == "12 ft 6 1/2 in"
    assert measures.say_length(taped, "metric", to=Fraction(1, 2)) == "3.82 m"


def test_everything_else_is_said_with_its_unit():
    assert measures.say_pressure(measures.Pressure(68), "US") == "68 psi"
    assert measures.say_pressure(measures.Pressure(68), "metric") == "469 kPa"  # 68 x 6.894757
    assert measures.say_gas_pressure(measures.parse_pressure("7 in wc"), "US") == "7 in wc"
    assert measures.say_gas_pressure(measures.Pressure(2), "US") == "2 psi"
    assert measures.say_temperature(measures.Temperature(120), "metric") == "49 \N{DEGREE SIGN}C"
    assert measures.say_flow(measures.Flow(2.5), "US") == "2.5 gpm"
    assert measures.say_heat_rate(measures.HeatRate(199_000), "US") == "199,000 Btu/h"
    assert measures.say_heat_rate(measures.HeatRate(199_000), "metric") == "58.3 kW"
    assert measures.say_volume(measures.Volume(50), "metric") == "189 L"
    assert measures.say_slope(measures.Slope(0.25), "US") == "1/4 in per ft"
    assert measures.say_slope(measures.Slope(0.25), "metric") == "2.1 %"


UNITS = st.sampled_from(["US", "metric"])
AMOUNTS = st.floats(0, 200_000)


@given(inches=st.floats(-100_000, 100_000), units=UNITS)
@RELAXED
def test_a_said_length_reads_back_within_half_its_step(inches, units):
    said = measures.say_length(measures.Length(inches), units)
    step = 1 / 16 if units == "US" else 1 / 25.4
    assert abs(measures.parse_length(said).inches - inches) <= step / 2 + 1e-6


@given(amount=AMOUNTS, units=UNITS)
@RELAXED
def test_said_amounts_read_back_within_half_their_step(amount, units):
    pressure = measures.parse_pressure(measures.say_pressure(measures.Pressure(amount), units))
    assert abs(pressure.psi - amount) <= 0.5 + 1e-6
    heat = measures.parse_heat_rate(measures.say_heat_rate(measures.HeatRate(amount), units))
    assert abs(heat.btu_h - amount) <= 171  # half of 0.1 kW is 170.6 Btu/h
    volume = measures.parse_volume(measures.say_volume(measures.Volume(amount), units))
    assert abs(volume.gallons - amount) <= 0.5 + 1e-6
    flow = measures.parse_flow(measures.say_flow(measures.Flow(amount), units))
    assert abs(flow.gpm - amount) <= 0.05 + 1e-6


@given(sixteenths=st.integers(1, 60 * 16))
@RELAXED
def test_a_pipe_size_reads_back_as_itself(sixteenths):
    size = measures.parse_pipe_size(f"{sixteenths}/16 in")
    assert measures.parse_pipe_size(str(size)) == size


@given(text=st.text(max_size=70) | st.from_regex(r"-?[0-9 ./,'\"-]{1,9} ?(ft|in|m|mm|psi|F|%)?.?"))
@RELAXED
def test_any_text_is_read_or_refused(text):
    for parse in PARSERS:
        with contextlib.suppress(NotationError):
            assert parse(text) is not None
