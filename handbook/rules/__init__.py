"""What a good house and a complete record must show: one file a system.

`check(house)` runs them all. A rule is declared in its system's file (see `rule`); RULES lists
them explicitly, so that importing a file never changes what is checked.
"""

from handbook.house.house import House
from handbook.rules import (
    cleanout_reach,
    cleanout_spacing,
    cleanouts,
    days,
    drain_falls,
    drain_loading,
    drains,
    expansion,
    figures,
    fixtures,
    gas,
    gas_line,
    gas_sizes,
    heater_figures,
    heaters,
    hot_and_cold,
    levels,
    mains,
    pans,
    people,
    plan,
    pressure,
    record,
    rooms,
    safeguards,
    shutoffs,
    standing,
    static_pressure,
    straight,
    walls,
    water,
    ways,
)
from handbook.rules.report import Finding, Report, Unknown, report
from handbook.rules.rule import Rule
from handbook.rules.unlock import Unlock

__all__ = ["RULES", "Finding", "Report", "Rule", "Unknown", "Unlock", "check", "document"]

RULES: tuple[Rule, ...] = (
    *shutoffs.RULES,
    *mains.RULES,
    *standing.RULES,
    *static_pressure.RULES,
    *water.RULES,
    *pressure.RULES,
    *hot_and_cold.RULES,
    *fixtures.RULES,
    *heaters.RULES,
    *heater_figures.RULES,
    *expansion.RULES,
    *drains.RULES,
    *drain_loading.RULES,
    *drain_falls.RULES,
    *cleanouts.RULES,
    *cleanout_spacing.RULES,
    *cleanout_reach.RULES,
    *gas.RULES,
    *gas_line.RULES,
    *gas_sizes.RULES,
    *pans.RULES,
    *safeguards.RULES,
    *walls.RULES,
    *people.RULES,
    *record.RULES,
    *plan.RULES,
    *rooms.RULES,
    *days.RULES,
    *straight.RULES,
    *figures.RULES,
    *levels.RULES,
    *ways.RULES,
)


def check(house: House) -> Report:
    """Hold the house against every rule."""
    return report(house, RULES)


def document() -> str:
    """Return the page that documents every rule, as Markdown."""
    from handbook.rules.documentation import document_of

    return document_of(RULES)
