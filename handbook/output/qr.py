"""QR codes as one SVG path, sized so that a phone can read them from a tag.

Error level Q (25 % of the code may be lost: tags get wet and scratched) and a quiet zone of four
modules, as ISO/IEC 18004 asks. A module is never under 0.5 mm in print, and 0.75 mm is better.
"""

from __future__ import annotations

import re
from functools import lru_cache
from urllib.parse import urlsplit

from markupsafe import Markup, escape

from handbook.output.errors import OutputError

QUIET = 4
FLOOR_MM = 0.5

_ALPHANUMERIC = re.compile(r"[0-9A-Z $%*+\-./:]*")


def encoded(payload: str) -> str:
    """What the code says for `payload`: an address whose path is in capitals already is put in
    capitals whole (scheme and host do not care), which packs a third tighter; all else as is."""
    parts = urlsplit(payload)
    if not (parts.scheme and parts.netloc):
        return payload
    head = f"{parts.scheme}://{parts.netloc}"
    capitals = head.upper() + payload[len(head) :]
    return capitals if _ALPHANUMERIC.fullmatch(capitals) else payload


def side_mm(payload: str, module_mm: float) -> float:
    """The side of the printed code in mm, quiet zone included, for modules of `module_mm`."""
    return _size(_matrix(payload)) * module_mm


def svg(payload: str, printed_mm: float, title: str) -> Markup:
    """The code as inline SVG of `printed_mm` a side, quiet zone included.

    Raises OutputError when its modules would be under 0.5 mm.
    """
    matrix = _matrix(payload)
    module = printed_mm / _size(matrix)
    if module < FLOOR_MM:
        raise OutputError(
            f"{title}: {len(payload)} characters make a code whose modules would be "
            f"{module:.2f} mm on a {printed_mm:g} mm square; {FLOOR_MM} mm is the least that "
            "phones read. Shorten the text or the address of the pages."
        )
    size = _size(matrix)
    return Markup(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size} {size}" '
        'width="{mm}mm" height="{mm}mm"><title>{title}</title>'
        '<path fill="#000" d="{path}"/></svg>'
    ).format(size=size, mm=f"{printed_mm:g}", title=title, path=Markup(_path(matrix)))


def _size(matrix: list[list[bool]]) -> int:
    return len(matrix) + 2 * QUIET


@lru_cache(maxsize=512)
def _matrix(payload: str) -> list[list[bool]]:
    from qrcode.constants import ERROR_CORRECT_Q
    from qrcode.exceptions import DataOverflowError
    from qrcode.main import QRCode

    code = QRCode(error_correction=ERROR_CORRECT_Q, border=0)
    code.add_data(encoded(payload))
    try:
        code.make(fit=True)
    except (DataOverflowError, ValueError) as error:
        raise OutputError(f"{len(payload)} characters do not fit in any QR code") from error
    return [[bool(cell) for cell in row] for row in code.get_matrix()]


def _path(matrix: list[list[bool]]) -> str:
    """Each run of dark modules in a row as one rectangle: small, and without seams along a row."""
    runs = []
    for y, row in enumerate(matrix, start=QUIET):
        x = 0
        while x < len(row):
            if not row[x]:
                x += 1
                continue
            end = x
            while end < len(row) and row[end]:
                end += 1
            runs.append(f"M{x + QUIET} {y}h{end - x}v1h{x - end}z")
            x = end
    return str(escape("".join(runs)))
