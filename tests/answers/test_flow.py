"""Flow on small houses: by hand, and what must hold whatever the house."""

from operator import itemgetter
from pathlib import Path
from random import Random

import pytest
from flow_houses import ONE_TAP, house, random_record
from hypothesis import example as drawn
from hypothesis import given, settings
from hypothesis import strategies as st

import handbook
from handbook.answers.flow import flow
from handbook.answers.flowing.demand import fixture_units, supply_ways
from handbook.answers.flowing.outflow import outflow
from handbook.answers.not_asked import NoSuchThingError
from handbook.house.hydraulics import Device, Stretch
from handbook.house.losses import Friction

EXAMPLE = Path(handbook.__file__).parents[1] / "example_house"


@pytest.fixture(scope="module")
def example():
    return handbook.load(EXAMPLE).house


def varied(*changes):
    """Return the example house with pieces of its record changed."""
    return house((EXAMPLE / "house.yaml").read_text(encoding="utf-8"), *changes)


# --- by hand


def test_height_costs_0_433_psi_a_foot():
    at = flow(house(ONE_TAP)).fixtures
    assert at["tub"].static_psi == pytest.approx(60)  # level with the gauge
    assert at["wc"].static_psi == pytest.approx(60 - 10 * 0.433)


def test_a_run_costs_its_length_and_its_fittings_at_its_peak_demand():
    run = flow(house(ONE_TAP)).runs["W1"]
    # tub 1.0 (cold) + wc 2.2 = 3.2, a part of the full bath group, which counts 2.7 cold;
    # demand between 2 (5.0 gpm) and 3 (6.5 gpm): 5 + 0.7 x 1.5 = 6.05 gpm
    assert run.wsfu == pytest.approx(2.7)
    assert run.demand_gpm == pytest.approx(6.05)
    # 0.4085 x 6.05 / 0.671^2 = 5.489 ft/s
    assert run.velocity_ft_s == pytest.approx(5.489, abs=0.001)
    # 40 ft and two ells of 4.5 ft: 49 x 4.52 x 6.05^1.85 / (150^1.85 x 0.671^4.87) = 4.07 psi
    assert run.loss_psi == pytest.approx(4.07, abs=0.01)


def test_at_peak_each_run_carries_its_demand_or_what_the_fixture_itself_draws():
    found = flow(house(ONE_TAP)).fixtures["tub"].peak
    # the outlet: 4 gpm at 20 psi; it draws 6.03 gpm, so the shared runs carry their 6.05 gpm
    assert found.flow_gpm == pytest.approx(4 * (found.pressure_psi / 20) ** 0.5, rel=1e-5)
    assert 6.0 < found.flow_gpm < 6.05
    shared, own = (Friction(59, 0.671, 150), Friction(1.5, 0.995, 140)), Friction(20, 0.475, 150)
    lost = sum(pipe.loss(6.05)[0] for pipe in shared) + own.loss(found.flow_gpm)[0]
    meter = 0.6 + (6.05 - 5) * 0.4 / 3  # its table: 0.6 psi at 5 gpm, 1.0 at 8
    assert found.pressure_psi == pytest.approx(60 - lost - meter, abs=0.001)


def test_an_outlet_that_draws_more_than_the_demand_has_at_peak_what_it_has_alone():
    strong = ("kind: bathtub\n", "kind: bathtub\n    delivers: 9 gpm at 8 psi\n")
    found = flow(house(ONE_TAP, strong)).fixtures["tub"]
    assert found.alone.flow_gpm > 9
    assert found.peak.pressure_psi == pytest.approx(found.alone.pressure_psi, abs=1e-4)
    assert found.peak.flow_gpm == pytest.approx(found.alone.flow_gpm, abs=1e-4)


def no_more_at_peak_than_alone(asked):
    for each in flow(asked).fixtures.values():
        if each.peak.pressure_psi is None or each.alone.pressure_psi is None:
            continue
        assert each.peak.pressure_psi <= each.alone.pressure_psi + 1e-4, each.id
        assert (each.peak.flow_gpm or 0) <= (each.alone.flow_gpm or 0) + 1e-4, each.id


SIZES = st.sampled_from(["3/8 in", "1/2 in", "3/4 in", "1 in"])
FEET = st.integers(1, 400)


@settings(max_examples=60, deadline=None)
@drawn(trunk="3/4 in", far=10, near=7, gpm=4, psi=20)  # the first run then reads as the second
@given(trunk=SIZES, far=FEET, near=FEET, gpm=st.integers(1, 15), psi=st.integers(5, 60))
def test_nothing_has_more_at_peak_than_alone(trunk, far, near, gpm, psi):
    pex = "material: PEX, fittings: {ell_90"
    no_more_at_peak_than_alone(
        house(
            ONE_TAP,
            (f"40 ft, size: 3/4 in, {pex}: 2", f"{far} ft, size: {trunk}, {pex}: 2"),
            (f"10 ft, size: 3/4 in, {pex}: 0", f"{near} ft, size: {trunk}, {pex}: 0"),
            ("kind: bathtub\n", f"kind: bathtub\n    delivers: {gpm} gpm at {psi} psi\n"),
        )
    )


@pytest.mark.parametrize("seed", range(60))
def test_no_tap_of_a_random_house_has_more_at_peak_than_alone(seed):
    no_more_at_peak_than_alone(house(random_record(Random(seed))))


def test_nothing_in_the_example_house_has_more_at_peak_than_alone(example):
    no_more_at_peak_than_alone(example)
    no_more_at_peak_than_alone(varied(("      loss: 6 psi at 15 gpm # from its data sheet\n", "")))


def test_the_speed_in_a_fixture_s_own_pipe_is_that_of_its_whole_flow():
    tub = flow(house(ONE_TAP)).fixtures["tub"]
    # 0.4085 x gpm / 0.475^2, in 1/2 in PEX
    assert tub.speed_ft_s == pytest.approx(0.4085 * tub.alone.flow_gpm / 0.475**2, rel=1e-3)
    assert (tub.limit.ft_s, tub.too_fast) == (12, tub.speed_ft_s > 12)


def test_alone_the_outlet_and_the_pipe_agree_on_one_flow():
    found = flow(house(ONE_TAP)).fixtures["tub"].alone
    # the outlet: 4 gpm at 20 psi, so 4 sqrt(p / 20)
    assert found.flow_gpm == pytest.approx(4 * (found.pressure_psi / 20) ** 0.5, rel=1e-5)
    # the pipe: 49 + 10 ft of 3/4 in and 20 ft of 1/2 in PEX, 1 ft of copper half as long again
    pipes = Friction(59, 0.671, 150), Friction(20, 0.475, 150), Friction(1.5, 0.995, 140)
    lost = sum(pipe.loss(found.flow_gpm)[0] for pipe in pipes)
    meter = 0.6 + (found.flow_gpm - 5) * 0.4 / 3  # its table: 0.6 psi at 5 gpm, 1.0 at 8
    assert found.pressure_psi == pytest.approx(60 - lost - meter, abs=0.001)


def test_a_second_fixture_takes_pressure_from_the_first():
    alone, beside = (flow(house(ONE_TAP), running).fixtures["tub"] for running in ((), ("wc",)))
    assert beside.alone == alone.alone
    assert beside.asked.pressure_psi < alone.asked.pressure_psi
    assert beside.asked.flow_gpm < alone.asked.flow_gpm


# --- what is not recorded


@pytest.mark.parametrize(
    ("change", "need"),
    [
        (("length: 10 ft, size: 3/4 in, ", "size: 3/4 in, "), "the length of the pipe to T1"),
        (("length: 10 ft, size: 3/4 in, ", "length: 10 ft, "), "the size of the pipe to T1"),
        (("length: 10 ft, size: 3/4 in, material: PEX", "length: 10 ft, size: 3/4 in"), "what the"),
    ],
)
def test_a_run_that_is_not_recorded_is_asked_for_and_never_made_up(change, need):
    answer = flow(house(ONE_TAP, change))
    assert answer.fixtures["tub"].alone.pressure_psi is None
    assert any(each.startswith(need) for each in answer.missing)


def test_what_a_missing_run_does_not_feed_keeps_its_figures():
    text = (
        "{length: 20 ft, size: 1/2 in, material: PEX, fittings: {ell_90: 0}}, stop: none}\n  - id"
    )
    answer = flow(house(ONE_TAP, (text, text.replace("length: 20 ft, ", ""))))
    assert answer.fixtures["wc"].alone.pressure_psi is None
    assert answer.fixtures["wc"].needs == ("the length of the pipe to Toilet (cold)",)
    whole = flow(house(ONE_TAP)).fixtures["tub"].alone
    assert answer.fixtures["tub"].alone.pressure_psi == pytest.approx(whole.pressure_psi)


def test_without_the_static_pressure_demands_are_known_and_pressures_are_not():
    answer = flow(house(ONE_TAP, ("  static_pressure: {value: 60 psi, near: WM}\n", "")))
    assert answer.runs["W1"].demand_gpm == pytest.approx(6.05)
    assert answer.fixtures["tub"].alone.pressure_psi is None
    assert "the static pressure (`water: static_pressure`)" in answer.missing


def test_an_unrecorded_softener_gives_a_range_and_says_so():
    answer = flow(varied(("      loss: 6 psi at 15 gpm # from its data sheet\n", "")))
    shower = answer.fixtures["primary-shower"].alone
    assert shower.is_range
    assert shower.pressure_psi < shower.kind_pressure_psi
    assert "what SOF takes off the pressure (`loss`)" in answer.missing
    assert any("SOF" in said and "15 psi at 10 gpm" in said for said in answer.assumed)


def test_a_metric_size_has_the_bore_of_its_inch_name_and_an_odd_one_is_asked_for():
    metric = flow(house(ONE_TAP, ("length: 40 ft, size: 3/4 in", "length: 40 ft, size: 20 mm")))
    assert metric.runs["W1"].bore_in == 0.671
    odd = flow(house(ONE_TAP, ("length: 40 ft, size: 3/4 in", "length: 40 ft, size: 17 mm")))
    assert odd.runs["W1"].needs == (
        "the true bore of the pipe to W1 (`bore`): 17 mm PEX is not in the tables",
    )


# --- devices


REDUCED = (
    "  tees: [{id: T1, from: W1",
    "  equipment: [{id: PRV, kind: pressure-reducing valve, set_to: 45 psi, from: W1, "
    "by: 0 ft of 3/4 in PEX, place: {room: bath, height: 0 ft}}]\n  tees: [{id: T1, from: PRV",
)


def test_a_reducing_valve_caps_the_pressure_behind_it():
    answer = flow(house(ONE_TAP, REDUCED))
    assert answer.fixtures["tub"].static_psi == pytest.approx(45)


def test_a_reducing_valve_set_above_the_street_changes_nothing():
    high = (REDUCED[0], REDUCED[1].replace("45 psi", "75 psi"))
    assert flow(house(ONE_TAP, high)).fixtures["tub"].static_psi == pytest.approx(60)


def test_a_recorded_fall_lowers_the_pressure_with_the_flow():
    falls = (
        REDUCED[0],
        REDUCED[1].replace("set_to: 45 psi", "set_to: 45 psi, loss: 8 psi at 8 gpm"),
    )
    steady, falling = (
        flow(house(ONE_TAP, each)).fixtures["tub"].alone for each in (REDUCED, falls)
    )
    assert falling.pressure_psi < steady.pressure_psi
    # behind the valve: 45 psi - 1 psi for each gpm; the same pipe from there on
    pipes = Friction(10, 0.671, 150), Friction(20, 0.475, 150)
    lost = sum(pipe.loss(falling.flow_gpm)[0] for pipe in pipes)
    assert falling.pressure_psi == pytest.approx(45 - falling.flow_gpm - lost, abs=0.001)


def test_a_gauge_behind_the_reducing_valve_starts_the_water_there():
    behind = ("value: 60 psi, near: WM", "value: 50 psi, near: T1")
    answer = flow(house(ONE_TAP, REDUCED, behind))
    assert answer.fixtures["tub"].static_psi == pytest.approx(50)


def test_a_gauge_at_the_reducing_valve_itself_is_taken_behind_it_and_said_so():
    at = ("value: 60 psi, near: WM", "value: 50 psi, near: PRV")
    answer = flow(house(ONE_TAP, REDUCED, at))
    assert answer.fixtures["tub"].static_psi == pytest.approx(50)
    assert any("behind PRV, not ahead" in each for each in answer.assumed)
    assert not any("not ahead" in each for each in flow(house(ONE_TAP, REDUCED)).assumed)


def test_a_closed_valve_leaves_its_fixtures_dry():
    answer = flow(house(ONE_TAP, ("kind: ball\n", "kind: ball\n      stands: closed\n")))
    assert answer.fixtures["tub"].alone.pressure_psi is None
    assert "none reaches it" in answer.fixtures["tub"].needs[0]


def test_the_check_valve_keeps_the_return_from_feeding_a_tap(example):
    way = supply_ways(example)["primary-shower.hot"]
    assert "pipe to RC1" not in way.shares
    text = (EXAMPLE / "house.yaml").read_text(encoding="utf-8")
    start = text.index("    check:\n      id: CK1")
    checkless = house(
        text[:start] + "    check: none\n" + text[text.index("    to: WH1\n", start) :]
    )
    assert 0 < supply_ways(checkless)["primary-shower.hot"].shares["pipe to RC1"] < 1
    assert (
        flow(checkless).fixtures["primary-shower"].alone.pressure_psi
        > flow(example).fixtures["primary-shower"].alone.pressure_psi
    )


def test_a_narrow_insert_fitting_costs_more():
    narrow = ("fittings: {ell_90: 2}", "fittings: {ell_90: 2, bore: 0.53 in}")
    wide, tight = flow(house(ONE_TAP)).runs["W1"], flow(house(ONE_TAP, narrow)).runs["W1"]
    # 9 ft of fittings become 9 x (0.671 / 0.53)^4.87 = 28.4 ft
    assert tight.equivalent_ft == pytest.approx(28.4, abs=0.05)
    assert tight.loss_psi == pytest.approx(wide.loss_psi * (40 + 28.4) / 49, rel=0.001)


def test_a_fixture_s_own_figure_goes_before_the_table_s():
    own = ("kind: bathtub\n", "kind: bathtub\n    delivers: 2 gpm at 45 psi\n")
    found = flow(house(ONE_TAP, own)).fixtures["tub"].alone
    assert found.flow_gpm == pytest.approx(2 * (found.pressure_psi / 45) ** 0.5, rel=1e-5)


def test_what_has_its_pressure_and_flows_little_is_held_back_by_its_rating():
    # 2.5 gpm at 80 psi: at 45 psi it gives 2.5 x (45 / 80)^0.5 = 1.875 gpm, three quarters
    rated = ("kind: bathtub\n", "kind: bathtub\n    delivers: 2.5 gpm at 80 psi\n")
    tub = flow(house(ONE_TAP, rated)).fixtures["tub"]
    assert (tub.rating.gpm, tub.rating.psi) == (2.5, 80)
    assert tub.peak.pressure_psi > tub.need_psi == 20
    assert tub.held_back == pytest.approx((tub.peak.pressure_psi / 80) ** 0.5, rel=1e-5)


def test_without_a_rating_nothing_is_held_back_by_one():
    tub = flow(house(ONE_TAP)).fixtures["tub"]
    assert (tub.rating, tub.held_back) == (None, None)


def test_what_is_short_of_pressure_is_not_held_back_by_its_rating():
    rated = ("kind: bathtub\n", "kind: bathtub\n    delivers: 2.5 gpm at 80 psi\n")
    weak = flow(house(ONE_TAP, rated, ("value: 60 psi", "value: 18 psi"))).fixtures["tub"]
    assert weak.peak.pressure_psi < weak.need_psi
    assert weak.held_back is None


# --- demand


def test_a_stretch_to_one_fixture_carries_that_fixture_s_flow():
    assert flow(house(ONE_TAP)).runs["wc.cold"].demand_gpm == 3.0


def test_groups_count_as_groups_and_no_part_of_one_for_more_than_the_whole(example):
    ways = supply_ways(example)

    def units(*supplies):
        return fixture_units(example, dict.fromkeys(supplies, 1.0))

    hall = [supply for supply in ways if supply.startswith("hall-")]
    assert units(*hall) == pytest.approx(3.6)  # a full bath, cold and hot
    cold = [supply for supply in hall if supply.endswith(".cold")]
    assert units(*cold) == pytest.approx(2.7)  # its cold
    assert units("hall-wc.cold", "hall-tub.cold") == pytest.approx(2.7)  # not 2.2 + 1.0
    powder = [supply for supply in ways if supply.startswith("powder-")]
    assert units(*powder) == pytest.approx(2.6)  # a half bath
    # the two of one room and one of another: 2.6 + 0.7
    assert units(*powder, "hall-lav.cold", "hall-lav.hot") == pytest.approx(3.3)


def test_a_loop_shares_its_fixture_units():
    pipe = "size: 3/4 in, material: PEX, fittings: {ell_90: 0}}"
    loop = (
        "from: W1, by: {length: 10 ft, " + pipe + "}]",
        "feeds: [{from: W1, by: {length: 10 ft, " + pipe + "}, "
        "{from: WM, by: {length: 59 ft, " + pipe + "}]}]",
    )
    runs = flow(house(ONE_TAP, loop)).runs
    # both ways from the meter are 59 ft of the same pipe: each carries half of 2.7 or less of it
    assert runs["T1 from W1"].wsfu == pytest.approx(runs["T1 from WM"].wsfu, abs=0.01)
    assert runs["WM"].wsfu == pytest.approx(2.7)


# --- what is left


def test_upsizing_gives_back_what_the_larger_pipe_in_the_record_leaves_more():
    run, long = "length: 40 ft, size: 3/4 in", "length: 140 ft, size: 3/4 in"
    answer, rebuilt = (flow(house(ONE_TAP, (run, new))) for new in (long, long.replace("3/4", "1")))
    larger = answer.margins.upsizing
    assert (larger.run, larger.from_size, larger.to_size) == ("W1", "3/4 in", "1 in")
    before, after = (each.fixtures[answer.margins.worst].peak for each in (answer, rebuilt))
    assert larger.gives_back_psi == pytest.approx(after.pressure_psi - before.pressure_psi)


def test_each_pipe_on_the_way_is_tried_in_its_next_size_and_told_by_what_it_gives_back(example):
    found = flow(example).margins
    tried = {each.run: each for each in found.upsizings}
    # both 1/2 in stretches before the shower, the manifold's feed, the heater's: not equipment
    assert {"T20", "primary-shower.hot", "MH1", "WH1.cold"} <= tried.keys()
    assert tried.keys() <= {s.element.id for s in found.steps if isinstance(s.element, Stretch)}
    assert len(tried) == len(found.upsizings)
    given = [each.gives_back_psi for each in found.upsizings]
    assert given == sorted(given, reverse=True)
    assert found.upsizing == tried[found.costliest.id]


def test_a_size_more_leaves_what_the_house_rebuilt_with_it_has():
    own = "length: 20 ft, size: 1/2 in"
    wc = ONE_TAP.index(own)
    text = ONE_TAP[:wc] + own.replace("20", "25") + ONE_TAP[wc + len(own) :]
    runs = {
        "W1": "length: 40 ft, size: 3/4 in",
        "T1": "length: 10 ft, size: 3/4 in",
        "wc.cold": "length: 25 ft, size: 1/2 in",
    }
    found = flow(house(text)).margins
    assert {"W1", "T1", "wc.cold"} == {each.run for each in found.upsizings}
    for each in found.upsizings:
        old = runs[each.run]
        rebuilt = flow(house(text, (old, old.replace(each.from_size, each.to_size))))
        there = rebuilt.fixtures["wc"].peak.pressure_psi
        assert each.pressure_psi == pytest.approx(there, abs=1e-6), each.run
        assert each.gives_back_psi == pytest.approx(there - found.pressure_psi, abs=1e-6), each.run
        assert f"length: {each.length_ft:g} ft" in old


def test_a_pipe_whose_next_size_shows_on_no_gauge_is_not_told(example):
    found = flow(example).margins
    # ahead of the reducing valve, which holds its setting whatever the pipe before it costs
    assert "W5" in {s.element.id for s in found.steps}
    assert "W5" not in {each.run for each in found.upsizings}
    assert all(each.gives_back_psi > 0.05 for each in found.upsizings)


def test_the_pipe_and_the_equipment_that_cost_most_are_told_apart(example):
    margins = flow(example).margins
    pipes = {s.element.id: s.loss for s in margins.steps if isinstance(s.element, Stretch)}
    devices = {s.element.id: s.loss for s in margins.steps if isinstance(s.element, Device)}
    assert (margins.costliest.id, margins.costliest.psi) == max(pipes.items(), key=itemgetter(1))
    assert (margins.equipment.id, margins.equipment.psi) == max(devices.items(), key=itemgetter(1))
    # its data sheet in the record: 6 psi at 15 gpm, and so by the square at the peak of 17.6
    assert margins.equipment.id == "SOF"
    assert margins.equipment.psi == pytest.approx(6 * (17.6 / 15) ** 2, abs=0.05)


def test_the_worst_fixture_is_the_one_with_least_above_its_need(example):
    answer = flow(example)
    left = {
        each.id: each.peak.pressure_psi - each.need_psi
        for each in answer.fixtures.values()
        if each.need_psi is not None
    }
    assert min(left, key=left.__getitem__) == answer.margins.worst
    assert answer.margins.left_psi == pytest.approx(min(left.values()))


def test_a_bathroom_more_is_worth_its_fixture_units(example):
    spare, whole = flow(example).margins.spare, flow(example)
    assert spare.added_wsfu == 3.6
    # 20.8 units now; 24.4 then: between 20 (19.6 gpm) and 25 (21.5): 19.6 + 4.4 / 5 x 1.9 = 21.27
    assert whole.wsfu == pytest.approx(20.8)
    assert spare.demand_gpm == pytest.approx(21.27, abs=0.01)
    assert spare.pressure_psi < whole.margins.pressure_psi


def test_an_id_that_is_no_fixture_is_refused_with_the_nearest(example):
    with pytest.raises(NoSuchThingError) as error:
        flow(example, ["hall-tup"])
    assert error.value.near == "hall-tub"


def test_us_and_metric_records_of_one_house_flow_alike():
    us = flow(house(ONE_TAP))
    metric = ONE_TAP
    for old, new in (
        ("60 psi", "413.6854 kPa"),
        ("length: 40 ft", "length: 12.192 m"),
        ("length: 10 ft", "length: 3.048 m"),
        ("length: 20 ft", "length: 6.096 m"),
        ("rim: 10 ft", "rim: 3.048 m"),
        ("1 ft of 1 in", "0.3048 m of 25 mm"),
        ("size: 3/4 in", "size: 20 mm"),
        ("size: 1/2 in", "size: 15 mm"),
        ("{name: One tap}", "{name: One tap, units: metric}"),
    ):
        assert old in metric
        metric = metric.replace(old, new)
    for name, each in flow(house(metric)).fixtures.items():
        assert each.alone.pressure_psi == pytest.approx(
            us.fixtures[name].alone.pressure_psi, abs=1e-3
        )
        assert each.peak.pressure_psi == pytest.approx(
            us.fixtures[name].peak.pressure_psi, abs=1e-3
        )


# --- out of an opening


def test_what_runs_out_is_limited_by_the_pipe_and_by_the_hole():
    one = house(ONE_TAP)
    small, large = outflow(one, "tub", 0.1), outflow(one, "tub", 2.0)
    # a tenth of an inch: 29.84 x 0.1^2 x sqrt(60) = 2.31 gpm, hardly held back by the pipe
    assert small.gpm == pytest.approx(2.31, abs=0.06)
    assert small.gpm < large.gpm
    # wide open next to nothing is left at the hole: the pipe takes it all
    assert large.pressure_psi < 0.1
    pipes = Friction(59, 0.671, 150), Friction(20, 0.475, 150), Friction(1.5, 0.995, 140)
    lost = sum(pipe.loss(large.gpm)[0] for pipe in pipes)
    assert lost == pytest.approx(60, abs=4)  # the meter has the rest


def test_a_hole_lets_less_out_than_an_open_end_of_its_size():
    one = house(ONE_TAP)
    assert outflow(one, "tub", 0.25, hole=True).gpm < outflow(one, "tub", 0.25).gpm


def test_what_is_not_recorded_lets_more_run_out_not_less(example):
    loose = varied(("      loss: 6 psi at 15 gpm # from its data sheet\n", ""))
    assert outflow(loose, "hall-tub", 0.475).gpm > outflow(example, "hall-tub", 0.475).gpm
    assert outflow(loose, "hall-tub", 0.475).missing


def test_nothing_runs_out_behind_a_closed_valve():
    shut = house(ONE_TAP, ("kind: ball\n", "kind: ball\n      stands: closed\n"))
    found = outflow(shut, "tub", 0.5)
    assert found.gpm is None
    assert "none reaches it" in found.missing[0]
