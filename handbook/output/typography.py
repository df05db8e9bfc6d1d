"""Small setting rules that every text passes: a number and its unit stay on one line."""

from __future__ import annotations

import re

_NBSP = "\u00a0"

_UNITS = (
    "in|ft|yd|mi|mm|cm|m|km|sq|cu|gal|gallons?|oz|lb|kg|g|L|l|psi|kPa|bar|gpm|cfh|Btu/h|Btu|kW|W|A|"
    "V|°F|°C|F|C|degrees|percent|%|x|s|sec|seconds?|min|minutes?|h|hours?|days?|weeks?|months?|"
    "years?|feet|foot|inch|inches|steps?|WC|w\\.c\\.|am|pm"
)
_NUMBER_UNIT = re.compile(rf"(?<![\w-])([0-9][0-9,.]*(?:/[0-9]+)?|[½¼¾]) ({_UNITS})(?![A-Za-z0-9])")
_MIXED = re.compile(r"(?<=[0-9]) (?=[0-9]+/[0-9])")
_FEET_INCHES = re.compile(r"(?<=[0-9][\s\u00a0]ft) (?=[0-9])")
_PER = re.compile(r"(?<=[0-9][\s\u00a0](?:in|ft)) (?=per (?:ft|foot|100 ft)\b)")
_NUMBERED = re.compile(r"\b(page|Page|level|Level|step|Step|No\.) (?=[0-9])")


def glue(text: str) -> str:
    """`text` with the spaces inside quantities made unbreakable: `1 1/2 in`, `12 ft 6 in`."""
    text = _NUMBERED.sub(rf"\1{_NBSP}", text)
    text = _MIXED.sub(_NBSP, text)
    text = _NUMBER_UNIT.sub(rf"\1{_NBSP}\2", text)
    text = _FEET_INCHES.sub(_NBSP, text)
    return _PER.sub(_NBSP, text)
