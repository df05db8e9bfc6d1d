"""The rules' page is made from the declarations, whole and without anything else."""

from handbook.rules import RULES, document
from handbook.rules.documentation import examples


def test_each_rule_has_an_example_and_each_example_a_rule() -> None:
    assert sorted(examples()) == sorted(rule.name for rule in RULES)


def test_the_page_says_all_that_is_declared() -> None:
    page = document()
    for rule in RULES:
        said = (rule.code, rule.name, rule.statement, rule.why, rule.remedy, rule.cited)
        assert [part for part in said if part not in page] == []
        assert examples()[rule.name] in page


def test_each_system_has_one_chapter() -> None:
    chapters = [line for line in document().splitlines() if line.startswith("## ")]
    assert len(chapters) == len(set(chapters)) == len({rule.system for rule in RULES})
