"""The ladder of valves: against a search that tries everything, and on cases worked by hand."""

from dataclasses import replace
from math import inf

import brute_force
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from handbook.answers.isolating.ladder import Step, cuts, steps
from handbook.house.network import Network, Pipe, Supply, Valve

NODES = tuple(f"n{number}" for number in range(9))
VALVES = tuple("ABCDEFGHI")


@st.composite
def houses(draw: st.DrawFn) -> Network:
    """A random house of up to nine nodes: a tree with up to seven further links, and its quirks."""
    nodes = NODES[: draw(st.integers(2, len(NODES)))]
    joints = [(draw(st.sampled_from(nodes[:i])), nodes[i]) for i in range(1, len(nodes))]
    pair = st.lists(st.sampled_from(nodes), min_size=2, max_size=2, unique=True).map(tuple)
    joints += draw(st.lists(pair, max_size=7))
    pipes: list[Pipe] = []
    valves: list[Valve] = []
    for a, b in joints:
        kind = draw(st.sampled_from(["valve", "valve", "valve", "pipe", "check", "same handle"]))
        free = VALVES[len({valve.id for valve in valves}) :]
        if kind == "same handle" and valves:
            valves.append(replace(draw(st.sampled_from(valves)), a=a, b=b))
        elif kind == "valve" and free:
            valves.append(draw(valve_between(free[0], a, b, nodes)))
        else:
            pipes.append(Pipe(a, b, one_way=kind == "check"))
    places = draw(st.lists(st.sampled_from(nodes), max_size=6))
    return Network(
        sources=draw(st.frozensets(st.sampled_from(nodes), min_size=1, max_size=2)),
        pipes=tuple(pipes),
        valves=tuple(valves),
        supplies=tuple(Supply(f"s{i}", node) for i, node in enumerate(places)),
    )


@st.composite
def valve_between(draw: st.DrawFn, id_: str, a: str, b: str, nodes: tuple[str, ...]) -> Valve:
    """A valve that is mostly sound, now and then closed, stuck, leaking by, or for some alone."""
    rarely = st.sampled_from([True, False, False, False, False, False])
    some = st.frozensets(st.sampled_from(nodes), min_size=1, max_size=4)
    return Valve(
        id_,
        a,
        b,
        closed=draw(rarely),
        stuck=draw(rarely),
        holds=not draw(rarely),
        utility=draw(rarely),
        only_for=draw(some) if draw(rarely) else frozenset(),
        order=draw(st.integers(0, 2)),
    )


@st.composite
def questions(draw: st.DrawFn):
    """A house, what leaks in it, the leak's own supplies, valves not to be trusted, distances."""
    house = draw(houses())
    ids = st.sampled_from(sorted({valve.id for valve in house.valves}) or ["none"])
    own = st.sampled_from([supply.id for supply in house.supplies] or ["none"])
    distances = draw(st.none() | st.fixed_dictionaries({id_: st.integers(0, 3) for id_ in VALVES}))
    return (
        house,
        draw(st.frozensets(st.sampled_from(sorted(house.nodes)), min_size=1, max_size=2)),
        draw(st.frozensets(own, max_size=1)),
        draw(st.frozensets(ids, max_size=1)),
        distances.__getitem__ if distances else None,
    )


many = settings(max_examples=400, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@many
@given(questions())
def test_every_step_is_the_one_that_trying_everything_finds(question):
    found = steps(*question)
    tried = brute_force.ladder(*question)
    assert [frozenset(s.close + s.open) for s in found] == [turned for turned, _ in tried]
    assert [frozenset(s.lost) for s in found] == [lost for _, lost in tried]


@many
@given(questions())
def test_a_step_leaves_no_way_and_needs_every_valve_it_closes(question):
    house, targets, _, failed, _ = question
    for step in steps(*question):
        assert not targets & brute_force.wet_nodes(
            house, targets, failed, frozenset(step.close + step.open)
        )
        for spared in step.close:
            turned = frozenset(step.close + step.open) - {spared}
            assert targets & brute_force.wet_nodes(house, targets, failed, turned)
        failed = failed.union(step.close, step.open)


@many
@given(questions())
def test_a_valve_is_opened_only_where_that_saves_supplies(question):
    house, targets, own, failed, _ = question
    for step in steps(*question):
        for spared in step.open:
            turned = frozenset(step.close + step.open) - {spared}
            wet = brute_force.wet_nodes(house, targets, failed, turned)
            before = brute_force.wet_nodes(house, targets, failed, frozenset())
            lost = [s.id for s in house.supplies if s.node in before - wet and s.id not in own]
            assert len(lost) > len(step.lost)
        failed = failed.union(step.close, step.open)


@many
@given(questions())
def test_the_ladder_ends_only_when_turning_everything_no_longer_helps(question):
    house, targets, _, failed, _ = question
    found = steps(*question)
    for step in found:
        failed = failed.union(step.close, step.open)
    closable = frozenset(
        id_
        for id_, valve in brute_force.turnable(house, targets, failed).items()
        if not valve.closed
    )
    off_already = not targets & brute_force.wet_nodes(house, targets, failed, frozenset())
    assert off_already or targets & brute_force.wet_nodes(house, targets, failed, closable)
    assert off_already <= (not found), "after a step that failed there is water again"


@many
@given(questions())
def test_cuts_agrees_with_following_the_water(question):
    house, targets, _, failed, _ = question
    ids = sorted({valve.id for valve in house.valves})
    close, opened = frozenset(ids[::2]), frozenset(ids[1::2])
    turned = frozenset(
        id_
        for id_, valve in brute_force.turnable(house, targets, failed).items()
        if (id_ in opened if valve.closed else id_ in close)
    )
    wet = brute_force.wet_nodes(house, targets, failed, turned)
    assert cuts(house, targets, close, opened, failed) == (not targets & wet)


# --- worked by hand


def at(*nodes: str) -> frozenset[str]:
    return frozenset(nodes)


def supplies(**where: str) -> tuple[Supply, ...]:
    return tuple(Supply(id_, node) for id_, node in where.items())


TRUNK = Network(  # street -CURB- meter -MAIN- hall -ZONE- bath -STOP- sink
    sources=at("street"),
    valves=(
        Valve("CURB", "street", "meter", utility=True),
        Valve("MAIN", "meter", "hall"),
        Valve("ZONE", "hall", "bath"),
        Valve("STOP", "bath", "sink"),
    ),
    supplies=supplies(kitchen="hall", tub="bath", sink="sink"),
)


def test_the_ladder_climbs_from_the_stop_to_the_street():
    assert steps(TRUNK, at("sink"), own=at("sink")) == (
        Step(("STOP",), (), ()),
        Step(("ZONE",), (), ("tub",)),
        Step(("MAIN",), (), ("kitchen", "tub")),
        Step(("CURB",), (), ("kitchen", "tub")),
    )


def test_what_is_off_already_needs_no_step():
    shut = replace(TRUNK, valves=(*TRUNK.valves[:3], replace(TRUNK.valves[3], closed=True)))
    assert steps(shut, at("sink")) == ()
    assert cuts(shut, at("sink"))


def test_nothing_stops_what_is_joined_to_the_street():
    assert steps(TRUNK, at("street")) == ()
    assert not cuts(TRUNK, at("street"), close=("CURB", "MAIN", "ZONE", "STOP"))


def test_a_valve_that_leaks_cannot_be_its_own_remedy():
    ladder = steps(TRUNK, at("bath", "sink"), own=at("sink"), failed=at("STOP"))
    assert [step.close for step in ladder] == [("ZONE",), ("MAIN",), ("CURB",)]


@pytest.mark.parametrize("fault", [{"stuck": True}, {"holds": False}])
def test_a_valve_stuck_open_or_not_holding_is_passed_over(fault):
    house = replace(
        TRUNK, valves=tuple(replace(v, **fault) if v.id == "STOP" else v for v in TRUNK.valves)
    )
    assert steps(house, at("sink"))[0].close == ("ZONE",)


def test_a_valve_stuck_closed_passes_nothing_and_cannot_be_opened():
    # Two feeds to b; the second is stuck closed, so the first alone decides, and k dries with b.
    house = Network(
        at("street"),
        valves=(
            Valve("FIRST", "street", "b"),
            Valve("SECOND", "street", "k", closed=True, stuck=True),
            Valve("K", "b", "k"),
        ),
        supplies=supplies(k="k"),
    )
    assert steps(house, at("b")) == (Step(("FIRST",), (), ("k",)),)


def test_among_equals_a_valve_of_the_house_comes_before_the_utility_s():
    pair = Network(
        at("street"),
        valves=(Valve("MAIN", "street", "m"), Valve("CURB", "m", "tap", utility=True)),
    )
    assert [step.close for step in steps(pair, at("tap"))] == [("MAIN",), ("CURB",)]


def test_among_equals_the_nearer_valve_comes_first():
    # ZONE and STOP in a row with nothing between them: whichever is fewer steps away.
    house = replace(TRUNK, supplies=supplies(kitchen="hall", sink="sink"))
    feet = {"STOP": 60.0, "ZONE": 20.5, "MAIN": 5.0, "CURB": 90.0}
    ladder = steps(house, at("sink"), own=at("sink"), nearness=feet.__getitem__)
    assert [step.close for step in ladder] == [("ZONE",), ("STOP",), ("MAIN",), ("CURB",)]


def test_a_valve_with_no_known_way_to_it_comes_after_every_other():
    # Two feeds, two valves in a row on each: of each pair the one that can be walked to.
    house = Network(
        at("street"),
        valves=(
            Valve("A1", "street", "a"),
            Valve("A2", "a", "tap"),
            Valve("C1", "street", "c"),
            Valve("C2", "c", "tap"),
        ),
    )
    feet = {"A1": inf, "A2": 1000.0, "C1": 0.1, "C2": 0.2}
    ladder = steps(house, at("tap"), nearness=feet.__getitem__)
    assert [step.close for step in ladder] == [("A2", "C1"), ("A1", "C2")]


def test_valves_under_one_handle_must_agree_in_all_but_their_ports():
    with pytest.raises(ValueError, match="'BOTH'"):
        Network(at("a"), valves=(Valve("BOTH", "a", "b"), Valve("BOTH", "c", "d", closed=True)))


def hot_and_cold() -> Network:
    """Cold and hot each with a stop into one faucet, whose spout mixes them; heater upstream."""
    return Network(
        at("street"),
        pipes=(
            Pipe("cold", "heater"),
            Pipe("faucet-cold", "spout", one_way=True),
            Pipe("faucet-hot", "spout", one_way=True),
        ),
        valves=(
            Valve("MAIN", "street", "cold"),
            Valve("HEATER", "heater", "hot"),
            Valve("S-COLD", "cold", "faucet-cold"),
            Valve("S-HOT", "hot", "faucet-hot"),
        ),
        supplies=supplies(
            sink_cold="faucet-cold", sink_hot="faucet-hot", tub_cold="cold", tub_hot="hot"
        ),
    )


def test_one_step_closes_the_cold_and_the_hot_stop():
    ladder = steps(hot_and_cold(), at("spout"), own=at("sink_cold", "sink_hot"))
    assert ladder == (
        Step(("S-COLD", "S-HOT"), (), ()),
        Step(("MAIN",), (), ("tub_cold", "tub_hot")),
    )


def test_one_handle_on_cold_and_hot_counts_as_one_valve():
    house = hot_and_cold()
    ports = (replace(house.valves[2], id="BOTH"), replace(house.valves[3], id="BOTH"))
    ladder = steps(
        replace(house, valves=(*house.valves[:2], *ports)),
        at("spout"),
        own=at("sink_cold", "sink_hot"),
    )
    assert ladder[0] == Step(("BOTH",), (), ())


def recirculation(*, checked: bool) -> Network:
    """Heater out through H, round past the bath, and back through R into the heater's cold side."""
    return Network(
        at("street"),
        pipes=(
            Pipe("cold", "heater"),
            Pipe("far", "bath"),
            Pipe("return", "cold", one_way=checked),
        ),
        valves=(
            Valve("MAIN", "street", "cold"),
            Valve("H", "heater", "far"),
            Valve("R", "far", "return"),
        ),
        supplies=supplies(kitchen="cold", bath="bath"),
    )


def test_a_recirculation_loop_with_its_check_valve_needs_one_valve():
    assert steps(recirculation(checked=True), at("bath"), own=at("bath")) == (
        Step(("H",), (), ()),
        Step(("MAIN",), (), ("kitchen",)),
    )


def test_a_recirculation_loop_without_a_check_valve_feeds_from_both_ends():
    assert steps(recirculation(checked=False), at("bath"), own=at("bath")) == (
        Step(("H", "R"), (), ()),
        Step(("MAIN",), (), ("kitchen",)),
    )


SOFTENER = Network(  # a three-valve bypass: inlet, outlet, and between them the bypass, closed
    at("street"),
    valves=(
        Valve("MAIN", "street", "before"),
        Valve("INLET", "before", "softener"),
        Valve("OUTLET", "softener", "after"),
        Valve("BYPASS", "before", "after", closed=True),
    ),
    supplies=supplies(garden="before", kitchen="after", bath="after"),
)


def test_a_softener_is_closed_at_both_ends_and_bypassed():
    assert steps(SOFTENER, at("softener")) == (
        # Closing the inlet alone would stop it, and lose two.
        Step(("INLET", "OUTLET"), ("BYPASS",), ()),
        Step(("MAIN",), (), ("garden", "kitchen", "bath")),
    )


def test_a_softener_whose_bypass_is_stuck_takes_the_house_with_it():
    stuck = replace(
        SOFTENER, valves=(*SOFTENER.valves[:3], replace(SOFTENER.valves[3], stuck=True))
    )
    assert steps(stuck, at("softener"))[0] == Step(("INLET",), (), ("kitchen", "bath"))


def test_a_single_lever_bypass_serves_its_own_softener_alone():
    # The lever parts the softener from the line, which runs on; it stops nothing beyond.
    house = Network(
        at("street"),
        valves=(
            Valve("MAIN", "street", "line"),
            Valve("LEVER", "line", "softener", only_for=at("softener")),
            Valve("TAP", "softener", "tap"),
        ),
        supplies=supplies(kitchen="line"),
    )
    assert steps(house, at("softener"))[0] == Step(("LEVER",), (), ())
    assert [step.close for step in steps(house, at("tap"))] == [("TAP",), ("MAIN",)]


def test_two_sources_are_both_stopped():
    house = Network(
        at("street", "well"),
        pipes=(Pipe("city", "house"), Pipe("pump", "house", one_way=True)),
        valves=(
            Valve("CITY", "street", "city"),
            Valve("WELL", "well", "pump"),
            Valve("TAP", "house", "tap"),
        ),
        supplies=supplies(kitchen="house", garden="pump"),
    )
    assert steps(house, at("tap")) == (
        Step(("TAP",), (), ()),
        Step(("CITY", "WELL"), (), ("kitchen", "garden")),
    )


def test_a_supply_on_the_wet_side_of_the_fewest_valves_must_still_be_fed():
    # Two mains A and C to a and c; the kitchen k between them; the leak hangs on a and on c by
    # three valves each. Parting both mains from the leak and from k takes the fewest valves,
    # {A, C, KA, KC}, and puts k on the "wet" side with nothing to feed it. To feed it, one of a
    # and c stays wet and is parted from the leak (3), the other is shut in (2): 3 + 2 = 5.
    hose = [Valve(f"X{i}", "a", "leak") for i in (1, 2, 3)]
    pipe = [Valve(f"Z{i}", "c", "leak") for i in (1, 2, 3)]
    house = Network(
        at("street"),
        valves=(
            Valve("A", "street", "a"),
            Valve("C", "street", "c"),
            Valve("KA", "a", "k"),
            Valve("KC", "c", "k"),
            *hose,
            *pipe,
        ),
        supplies=supplies(kitchen="k"),
    )
    fewest = ("A", "C", "KA", "KC")
    assert cuts(house, at("leak"), close=fewest)
    assert cuts(house, at("k"), close=fewest)
    # {C, KC, X1, X2, X3} is as good; the first id settles it.
    assert steps(house, at("leak"))[0] == Step(("A", "KA", "Z1", "Z2", "Z3"), (), ())
