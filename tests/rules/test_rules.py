"""Each rule is broken by its own example and kept by the base house; nothing is silently clear."""

from pathlib import Path

import pytest
import rule_houses as houses
from hypothesis import given, settings
from hypothesis import strategies as st

from handbook import rules
from handbook.house.house import House, build
from handbook.record.grammar.record import Record
from handbook.record.sense import check_ids
from handbook.rules import RULES, Rule, check
from handbook.rules.rule import SYSTEMS, Clear

EACH = pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)


@pytest.fixture(scope="session")
def base(folder: Path) -> House:
    return houses.house_of(houses.base(), folder)


# --- the declarations


def test_codes_and_names_are_each_used_once() -> None:
    assert len({rule.code for rule in RULES}) == len(RULES)
    assert len({rule.name for rule in RULES}) == len(RULES)


def test_every_rule_that_a_file_declares_is_in_the_registry() -> None:
    modules = [m for m in vars(rules).values() if hasattr(m, "RULES")]
    declared = [r for m in modules for r in vars(m).values() if isinstance(r, Rule)]
    assert sorted(r.code for r in declared) == sorted(r.code for r in RULES)
    assert len(modules) == len(list(Path(rules.__file__).parent.glob("*.py"))) - 8  # the core


@EACH
def test_a_declaration_is_whole_and_its_numbers_have_a_source(rule: Rule) -> None:
    assert rule.code[:2] in SYSTEMS
    assert rule.code[3:].isdigit()
    assert rule.statement.endswith(".")
    assert rule.why.endswith(".")
    assert rule.remedy.endswith(".")
    assert rule.stages
    assert bool(rule.source) != bool(rule.table)
    assert rule.cited


# --- broken by its example, kept by the base house


@EACH
def test_the_example_breaks_its_rule_and_no_other(rule: Rule, folder: Path) -> None:
    report = check(houses.house_of(houses.broken(rule.name), folder))
    assert {finding.rule.name for finding in report.findings} == {rule.name}


@EACH
def test_the_example_is_found_at_the_severity_declared(rule: Rule, folder: Path) -> None:
    report = check(houses.house_of(houses.broken(rule.name), folder))
    assert {finding.severity for finding in report.findings} == {rule.severity}


@EACH
def test_the_base_house_keeps_the_rule_with_something_to_look_at(rule: Rule, base: House) -> None:
    outcomes = list(rule.look(base))
    assert outcomes
    assert unsettled((rule,), base) == []


def test_the_base_house_has_nothing_left_to_unlock(base: House) -> None:
    assert check(base).unlocks == ()


@EACH
def test_a_finding_names_its_thing_and_its_place_in_the_file(rule: Rule, folder: Path) -> None:
    house = houses.house_of(houses.broken(rule.name), folder)
    for finding in check(house).findings:
        assert finding.mark.file == houses.FILE
        assert finding.mark.line > 1
        assert finding.thing is None or finding.thing in finding.message


# --- three kinds of knowing


def unsettled(rule_list: tuple[Rule, ...], house: House) -> list[object]:
    """Every outcome that is not clear."""
    return [o for rule in rule_list for o in rule.look(house) if not isinstance(o, Clear)]


@EACH
def test_a_fact_that_becomes_unknown_never_makes_a_finding_silently_clear(
    rule: Rule, folder: Path
) -> None:
    """The rule still finds, or waits for the fact, or another one asks for it."""
    example = houses.example(rule.name)
    silent = []
    for way in houses.paths(example):
        house = built(houses.laid_over(houses.base(), houses.with_unknown(example, way)), folder)
        if house and not unsettled((rule,), house) and not unsettled(RULES, house):
            silent.append(way)
    assert silent == []


def built(tree: houses.Tree, folder: Path) -> House | None:
    """Build the house of a tree; None where a record cannot do without what is missing."""
    try:
        record = Record.model_validate(tree)
    except ValueError:
        return None
    return None if any(check_ids(record)) else build(record, folder)


@settings(max_examples=100, deadline=None)
@given(data=st.data())
def test_whatever_is_unknown_no_rule_raises_and_none_is_broken_by_it(
    data: st.DataObject, folder: Path
) -> None:
    tree = houses.base()
    for _ in range(data.draw(st.integers(1, 5))):
        tree = houses.with_unknown(tree, data.draw(st.sampled_from(list(houses.paths(tree)))))
    if house := built(tree, folder):
        assert [f for f in check(house).findings if f.severity != "gap"] == []
