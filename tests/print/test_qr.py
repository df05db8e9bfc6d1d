"""QR codes: capacities and sizes as ISO/IEC 18004 gives them."""

from __future__ import annotations

import re

import pytest

from handbook.output import qr
from handbook.output.errors import OutputError

# ISO/IEC 18004, level Q: version, its modules (4 v + 17), capacity in bytes and alphanumeric
# characters. From the standard's data codewords (13, 48, 88, 154; from memory) by its bit counts:
# 4 for the mode, 8 or from version 10 on 16 for a byte count, 9 or 11 for a character count, then
# 8 bits a byte or 11 bits two characters. Version 10: 154 x 8 = 1232; (1232 - 20) / 8 = 151.5;
# (1232 - 15) / 5.5 = 221.3.
LEVEL_Q = [(1, 21, 11, 16), (4, 33, 46, 67), (7, 45, 86, 125), (10, 57, 151, 221)]


@pytest.mark.parametrize(("version", "modules", "in_bytes", "in_capitals"), LEVEL_Q)
def test_a_code_is_as_large_as_level_q_needs(
    version: int, modules: int, in_bytes: int, in_capitals: int
) -> None:
    """Side in modules with a quiet zone of 4 at each edge; one character more takes a larger
    version, four modules wider."""
    assert qr.side_mm("a" * in_bytes, 1) == modules + 8
    assert qr.side_mm("a" * (in_bytes + 1), 1) == modules + 12
    assert qr.side_mm("A" * in_capitals, 1) == modules + 8
    assert qr.side_mm("A" * (in_capitals + 1), 1) == modules + 12


def test_an_address_in_capitals_is_put_in_capitals_whole() -> None:
    """Scheme and host do not care for case (RFC 3986, 3.1 and 3.2.2); a path does."""
    assert qr.encoded("https://pages.example/ABC/W1/") == "HTTPS://PAGES.EXAMPLE/ABC/W1/"
    assert qr.encoded("https://pages.example/abc/W1/") == "https://pages.example/abc/W1/"
    assert qr.encoded("W1: turn it.") == "W1: turn it."


def test_the_quiet_zone_is_four_modules_and_the_title_comes_first() -> None:
    drawn = str(qr.svg("ABC", 29, "Code of W1"))  # version 1: 21 + 8 = 29 modules
    assert 'viewBox="0 0 29 29" width="29mm" height="29mm"><title>Code of W1</title>' in drawn
    starts = [(int(x), int(y)) for x, y in re.findall(r"M(\d+) (\d+)h", drawn)]
    ends = [int(x) + int(run) for x, run in re.findall(r"M(\d+) \d+h(\d+)", drawn)]
    assert min(x for x, _ in starts) == 4
    assert min(y for _, y in starts) == 4
    assert max(ends) == 25  # 29 - 4
    assert max(y for _, y in starts) == 24  # the last row of the 21


def test_a_module_under_half_a_millimetre_is_refused_in_words() -> None:
    qr.svg("ABC", 14.5, "W1")  # 14.5 mm / 29 modules = 0.5 mm
    with pytest.raises(OutputError, match=r"W1: 3 characters .* 0\.48 mm on a 14 mm square"):
        qr.svg("ABC", 14, "W1")  # 14 / 29 = 0.483


def test_a_title_cannot_break_out_of_the_drawing() -> None:
    assert "<script>" not in qr.svg("ABC", 29, "</title><script>")
