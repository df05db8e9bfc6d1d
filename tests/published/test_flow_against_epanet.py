"""Our pressures and flows against EPANET's, on the example house and on random ones.

Source: EPANET 2.2 (US EPA) through wntr. Pressures have to agree within 0.1 psi, flows within
1 %. Both use Hazen-Williams, in two printings of it whose constants differ by up to half a per
cent (4.52, 1.85 and 4.87 of NFPA 13 here; 10.667, 1.852 and 4.871 of EPANET there).
"""

import random
from dataclasses import replace
from pathlib import Path

import epanet_twin
import pytest

import handbook
from handbook.answers.flow import flow
from handbook.answers.flowing.flow_case import CAUTIOUS, KIND, pipework
from handbook.answers.flowing.pipe_network import Link, Outlet, Reducer, solve
from handbook.answers.flowing.solutions import outlets_of
from handbook.house.house import build
from handbook.house.losses import NO_LOSS, Friction, Printed, Square
from handbook.record.grammar.record import Record
from handbook.record.reading import read_text
from handbook.record.sense import check_ids, check_sense
from handbook.tables import table

EXAMPLE = Path(handbook.__file__).parents[1] / "example_house"
METER = Printed(tuple(map(tuple, table("meter_loss").values["gpm_psi"]["3/4 in"])))
FIXTURES = [0.8 / 8**0.5, 1.75 / 8**0.5, 2.5 / 20**0.5, 3.0 / 20**0.5, 2.0 / 20**0.5]
"""k of a lavatory, a sink, a shower, a water closet and half a tub, by IRC Table P2903.1."""
TOGETHER = [
    ("hall-tub", "laundry-box"),
    ("primary-shower", "kitchen-sink", "powder-wc"),
    ("HB1", "HB2", "hall-wc", "dishwasher"),
]


def agree(sources, links, reducers, outlets, folder) -> None:
    ours = solve(sources, links, reducers, outlets)
    heads, flows = epanet_twin.solved_by_epanet(sources, links, reducers, outlets, folder)
    for node, head in heads.items():
        assert ours.heads[node] == pytest.approx(head, abs=0.1), node
    for outlet, gpm in flows.items():
        assert ours.flows[outlet] == pytest.approx(gpm, rel=0.01), outlet


# --- the example house


@pytest.fixture(scope="module")
def house():
    return handbook.load(EXAMPLE).house


def cases(house_ids):
    return [*((fixture,) for fixture in house_ids), *TOGETHER]


@pytest.mark.parametrize("case", [CAUTIOUS, KIND])
@pytest.mark.parametrize("running", [("hall-tub",), ("powder-wc",), *TOGETHER], ids="+".join)
def test_the_example_house_runs_as_in_epanet(house, running, case, tmp_path):
    pipes = pipework(house.hydraulics, case)
    outlets = list(outlets_of(house, running))
    agree(dict(pipes.sources), pipes.links, pipes.reducers, outlets, tmp_path)


# --- before any pipe is changed

_PIPE = "size: 3/4 in, material: PEX, fittings: {ell_90: 0}"
ONE_PIPE = f"""
format: 1
house: {{name: One pipe}}
levels: [{{id: main, name: Main, elevation: 0 ft, rooms: [{{id: bath, name: Bath}}]}}]
water:
  static_pressure: {{value: 100 psi, near: WM}}
  meter:
    id: WM
    size: 3/4 in
    from: street
    by: 9 ft of 1 in copper K
    place: {{room: bath, height: 0 ft}}
  valves:
    - id: W1
      main: yes
      kind: ball
      from: WM
      by: {{length: 40 ft, {_PIPE}}}
      place: {{room: bath, height: 0 ft}}
  equipment:
    - id: PRV
      kind: pressure-reducing valve
      name: Reducing valve
      from: W1
      by: {{length: 2 ft, {_PIPE}}}
      set_to: 50 psi
      place: {{room: bath, height: 0 ft}}
  softeners:
    - id: SOF
      name: Softener
      from: PRV
      by: {{length: 3 ft, {_PIPE}}}
      loss: 8 psi at 5 gpm
      bypass: {{lever: {{id: W7, kind: ball}}}}
      place: {{room: bath, height: 0 ft}}
fixtures:
  - id: tub
    name: Tub
    kind: bathtub
    rim: 10 ft
    place: {{room: bath}}
    cold: {{from: SOF, by: {{length: 60 ft, {_PIPE}}}, stop: none}}
"""


@pytest.fixture(scope="module")
def one_pipe():
    record = read_text(ONE_PIPE, "house.yaml", Record, (check_ids, check_sense))
    return build(record, Path())


@pytest.mark.parametrize("what", ["PRV", "SOF"])
def test_a_valve_set_higher_and_a_softener_bypassed_run_as_in_epanet(one_pipe, what, tmp_path):
    """With one fixture that draws above its demand, peak is one state, as EPANET solves it."""
    pipes = pipework(one_pipe.hydraulics, CAUTIOUS)
    links = [replace(k, law=NO_LOSS) if k.id == what else k for k in pipes.links]
    reducers = [replace(r, head=80.0) if r.id == what else r for r in pipes.reducers]
    outlets = list(outlets_of(one_pipe, ["tub"]))
    heads, flows = epanet_twin.solved_by_epanet(
        dict(pipes.sources), links, reducers, outlets, tmp_path
    )
    told = next(a for a in flow(one_pipe).margins.adjustments if a.thing == what)
    (tub,) = outlets
    assert told.pressure_psi == pytest.approx(heads[tub.node] - tub.height, abs=0.1)
    assert told.flow_gpm == pytest.approx(sum(flows.values()), rel=0.01)


# --- random houses: loops, check valves, meters, reducing valves, many outlets


def random_house(seed: int):
    """Draw a house: a service with meter and reducing valve, a tree of pipe, chords across it."""
    rng = random.Random(seed)
    links = [
        Link(
            "service",
            "street",
            "a",
            Friction(rng.uniform(20, 100), rng.choice([0.995, 1.049]), 140),
        ),
        Link("meter", "a", "b", METER),
    ]
    reducers, trunk = [], "b"
    if rng.random() < 0.7:
        reducers.append(Reducer("prv", "b", "c", rng.uniform(40, 75)))
        trunk = "c"
    nodes = [trunk]
    for number in range(rng.randint(6, 30)):
        start = rng.choice(nodes[-6:])
        law = Friction(rng.uniform(1, 30), rng.choice([0.475, 0.545, 0.671, 0.785, 0.863]), 150)
        one_way = rng.random() < 0.1
        links.append(Link(f"pipe {number}", start, f"j{number}", law, one_way))
        nodes.append(f"j{number}")
    for number in range(rng.randint(1, 4)):
        a, b = rng.sample(nodes[1:], 2)
        law = rng.choice([Square(rng.uniform(2, 12), 10), Friction(rng.uniform(5, 40), 0.671, 150)])
        links.append(Link(f"chord {number}", a, b, law, rng.random() < 0.3))
    outlets = [
        Outlet(f"tap {node}", node, rng.choice(FIXTURES), rng.uniform(-4, 8))
        for node in rng.sample(nodes[1:], rng.randint(1, min(6, len(nodes) - 1)))
    ]
    return {"street": rng.uniform(45, 95)}, links, reducers, outlets


@pytest.mark.parametrize("seed", range(120))
def test_a_random_house_with_loops_runs_as_in_epanet(seed, tmp_path):
    agree(*random_house(seed), tmp_path)
