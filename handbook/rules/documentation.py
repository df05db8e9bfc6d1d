"""The page that documents every rule, made from the declarations and the examples beside them.

Each example is the part of a record that breaks the rule named above it; the tests run them.
"""

from collections.abc import Iterable, Iterator
from importlib.resources import files
from itertools import groupby

from handbook.rules.rule import Rule

HEADING = """\
# Rules

What `handbook check` asks of a house and of its record. Local codes, the inspector and licensed
practice decide; a code section is named with the edition that was read.

- **unsafe**: can hurt somebody
- **fault**: is not as it must be
- **gap**: is not recorded; whichever rule a missing fact belongs to, its finding is a gap
- **advice**: good practice that no present model code asks for
"""
MARKER = "--- # "


def examples() -> dict[str, str]:
    """Return for each rule, by its name, the YAML that breaks it."""
    text = files(__package__).joinpath("examples.yaml").read_text(encoding="utf-8")
    parts = (part.partition("\n") for part in text.split(MARKER)[1:])
    return {name.strip(): yaml.strip("\n") for name, _, yaml in parts}


def document_of(rules: Iterable[Rule]) -> str:
    """Return the Markdown page for these rules, a section a system."""
    shown = examples()
    parts = [HEADING]
    for system, own in groupby(rules, key=lambda rule: rule.system):
        parts.append(f"## {system}\n")
        parts += ["\n".join(_section(rule, shown[rule.name])) for rule in own]
    return "\n".join(parts)


def _section(rule: Rule, example: str) -> Iterator[str]:
    yield f"### {rule.code} {rule.name}\n"
    yield f"{rule.statement}\n"
    yield f"- Severity: {rule.severity}"
    yield f"- Why: {rule.why}"
    yield f"- What to do: {rule.remedy}"
    yield f"- Looked at: {', '.join(rule.stages)}"
    yield f"- Source: {rule.cited}\n"
    yield f"Breaks it:\n\n```yaml\n{example}\n```\n"
