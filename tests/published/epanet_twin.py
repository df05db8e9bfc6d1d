"""The same pipes as an EPANET model, built with wntr: an independent solution to compare with.

EPANET 2.2 (US EPA) through wntr (US EPA and Sandia National Laboratories). Everything is turned
into metres and cubic metres a second here, by NIST SP 811: a psi is 0.703070 m of water.
"""

from collections.abc import Sequence
from math import pi
from pathlib import Path

import wntr

from handbook.answers.flowing.pipe_network import Link, Outlet, Reducer, reached
from handbook.house.losses import Friction, Printed, Square

M_PER_PSI = 6894.757 / 9806.65
M3S_PER_GPM = 3.785411784e-3 / 60
METRES_PER_FOOT = 0.3048
METRES_PER_INCH = 0.0254
GRAVITY = 9.80665


def solved_by_epanet(
    sources: dict[str, float],
    links: Sequence[Link],
    reducers: Sequence[Reducer],
    outlets: Sequence[Outlet],
    folder: Path,
) -> tuple[dict[str, float], dict[str, float]]:
    """Return heads in psi by node, and the flow of each outlet in gpm."""
    wet = reached(sources, links, reducers)
    names = {node: f"n{number}" for number, node in enumerate(sorted(wet))}
    model = wntr.network.WaterNetworkModel()
    model.options.hydraulic.headloss = "H-W"
    model.options.hydraulic.inpfile_units = "LPS"
    model.options.hydraulic.accuracy = 1e-6
    model.options.hydraulic.trials = 500
    model.options.hydraulic.emitter_exponent = 0.5
    model.options.time.duration = 0
    heights = {outlet.node: outlet.height for outlet in outlets}
    for node, name in names.items():
        if node in sources:
            model.add_reservoir(name, base_head=sources[node] * M_PER_PSI)
        else:
            model.add_junction(name, elevation=heights.get(node, 0.0) * M_PER_PSI)
    for outlet in outlets:
        junction = model.get_node(names[outlet.node])
        junction.emitter_coefficient = outlet.k * M3S_PER_GPM / M_PER_PSI**0.5
    for number, link in enumerate(link for link in links if {link.a, link.b} <= wet):
        _add(model, f"p{number}", names[link.a], names[link.b], link)
    for number, valve in enumerate(valve for valve in reducers if valve.a in wet):
        setting = (valve.head - heights.get(valve.b, 0.0)) * M_PER_PSI
        model.add_valve(
            f"r{number}", names[valve.a], names[valve.b], 0.1, "PRV", initial_setting=setting
        )
    results = wntr.sim.EpanetSimulator(model).run_sim(file_prefix=str(folder / "twin"))
    heads = results.node["head"].iloc[0]
    demand = results.node["demand"].iloc[0]
    flows = {outlet.id: demand[names[outlet.node]] / M3S_PER_GPM for outlet in outlets}
    return {node: heads[name] / M_PER_PSI for node, name in names.items()}, flows


def _add(model, name: str, start: str, end: str, link: Link) -> None:
    law = link.law
    if isinstance(law, Friction):
        model.add_pipe(
            name,
            start,
            end,
            length=law.feet * METRES_PER_FOOT,
            diameter=law.bore * METRES_PER_INCH,
            roughness=law.c,
            check_valve=link.one_way,
        )
    elif isinstance(law, Square):
        # h = K 8 Q^2 / (pi^2 g D^4): a local loss in a pipe too short and wide to cost anything
        diameter, psi_per_gpm2 = 0.05, law.psi / law.gpm**2
        h_per_q2 = psi_per_gpm2 * M_PER_PSI / M3S_PER_GPM**2
        k = h_per_q2 * pi**2 * GRAVITY * diameter**4 / 8
        model.add_pipe(
            name, start, end, 0.01, diameter, 150, minor_loss=k, check_valve=link.one_way
        )
    elif isinstance(law, Printed):
        points = [(0.0, 0.0), *law.points]
        curve = [(gpm * M3S_PER_GPM, psi * M_PER_PSI) for gpm, psi in points]
        model.add_curve(f"c{name}", "HEADLOSS", curve)
        model.add_valve(name, start, end, 0.05, "GPV", initial_setting=f"c{name}")
