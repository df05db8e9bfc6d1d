"""The record's photos, made small once for paper and phone alike, with what they gave away
(place, camera, time) left out.
"""

from __future__ import annotations

import hashlib
import io
import warnings
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from handbook.output.errors import OutputError
from handbook.output.folders import inside

if TYPE_CHECKING:
    from PIL import Image

LONGEST_SIDE = 1200
"""Pixels: 200 dots an inch at 6 in, the width of the text on paper."""

_QUALITY = 82
_FORMATS = ("JPEG", "PNG", "WEBP")


@dataclass(frozen=True)
class Small:
    """A photo made small: its file name (from its content), its JPEG bytes, its pixels."""

    name: str
    data: bytes
    width: int
    height: int


@dataclass
class Photos:
    """The photos under one folder; each is read and resized once."""

    root: Path
    _small: dict[str, Small] = field(default_factory=dict)

    def get(self, file: str) -> Small:
        """The photo `file` (relative to the folder) made small; OutputError if it cannot be."""
        if file not in self._small:
            self._small[file] = _shrink(inside(self.root, file), file)
        return self._small[file]

    def named(self, name: str) -> Small:
        """A photo already made small, by its new name."""
        for small in self._small.values():
            if small.name == name:
                return small
        raise OutputError(f"no photo of this name was asked for: {name!r}")


def _shrink(path: Path, file: str) -> Small:
    from PIL import Image, ImageOps

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(path, formats=_FORMATS) as opened:
                opened.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
                picture = ImageOps.exif_transpose(opened)
                picture.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
                flat = _on_white(picture)
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as error:
        raise OutputError(f"photo {file!r} cannot be read: {error}") from error
    except Image.DecompressionBombWarning as error:
        raise OutputError(f"photo {file!r} is too large: {error}") from error
    out = io.BytesIO()
    flat.save(out, "JPEG", quality=_QUALITY)
    data = out.getvalue()
    digest = hashlib.sha256(data).hexdigest()[:16]
    return Small(f"{digest}.jpg", data, flat.width, flat.height)


def _on_white(picture: Image.Image) -> Image.Image:
    """A plain picture without transparency and without what was embedded beside the pixels."""
    from PIL import Image

    flat = Image.new("RGB", picture.size, "white")
    layered = picture.convert("RGBA")
    flat.paste(layered, mask=layered.getchannel("A"))
    return flat
