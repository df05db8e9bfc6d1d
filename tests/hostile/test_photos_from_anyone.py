"""Photos come from anyone's telephone: made small, bare of what they give away, or refused."""

from __future__ import annotations

import io
import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image

from handbook.output.errors import OutputError
from handbook.output.photos import LONGEST_SIDE, Photos


def png_header(width: int, height: int) -> bytes:
    """A PNG that claims these pixels and holds none of them."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", b"") + chunk(b"IEND", b"")


def test_a_photo_that_would_fill_the_memory_is_refused(tmp_path: Path) -> None:
    (tmp_path / "bomb.png").write_bytes(png_header(60_000, 60_000))
    with pytest.raises(OutputError, match=r"bomb\.png"):
        Photos(tmp_path).get("bomb.png")


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"not a picture",
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        b"%PDF-1.7",
        b"\xff\xd8\xff\xe0cut short",
    ],
)
def test_what_is_no_photo_is_refused_by_name(tmp_path: Path, data: bytes) -> None:
    (tmp_path / "x.jpg").write_bytes(data)
    with pytest.raises(OutputError, match=r"x\.jpg"):
        Photos(tmp_path).get("x.jpg")


def test_place_and_camera_are_left_out_and_the_turn_is_kept(tmp_path: Path) -> None:
    picture = Image.new("RGB", (40, 20), "red")
    exif = Image.Exif()
    exif[0x0112] = 6  # turned: 40 x 20 is to be shown as 20 x 40
    exif[0x010F] = "camera"
    exif.get_ifd(0x8825)[1] = "N"
    picture.save(tmp_path / "a.jpg", exif=exif, comment=b"at home")
    small = Photos(tmp_path).get("a.jpg")
    shown = Image.open(io.BytesIO(small.data))
    assert (small.width, small.height) == shown.size == (20, 40)
    assert not shown.getexif()
    assert b"at home" not in small.data
    assert b"camera" not in small.data


def test_a_large_photo_is_made_small_a_small_one_is_not_made_large(tmp_path: Path) -> None:
    Image.new("RGB", (2400, 1200)).save(tmp_path / "large.png")
    Image.new("RGB", (30, 20)).save(tmp_path / "small.png")
    photos = Photos(tmp_path)
    assert (photos.get("large.png").width, photos.get("large.png").height) == (LONGEST_SIDE, 600)
    assert (photos.get("small.png").width, photos.get("small.png").height) == (30, 20)


def test_transparency_becomes_white(tmp_path: Path) -> None:
    Image.new("RGBA", (8, 8), (0, 0, 0, 0)).save(tmp_path / "a.png")
    shown = Image.open(io.BytesIO(Photos(tmp_path).get("a.png").data))
    assert shown.getpixel((4, 4)) == (255, 255, 255)


def test_equal_photos_have_one_name_and_it_is_not_the_records(tmp_path: Path) -> None:
    for name in ("alarm code 1234.png", "b.png"):
        Image.new("RGB", (8, 8), "red").save(tmp_path / name)
    photos = Photos(tmp_path)
    names = {photos.get(name).name for name in ("alarm code 1234.png", "b.png")}
    assert len(names) == 1
    assert "alarm" not in names.pop()
