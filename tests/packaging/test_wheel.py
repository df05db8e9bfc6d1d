"""The built wheel, alone and without a network, checks and builds a new house."""

import subprocess
import sys
import sysconfig
from pathlib import Path

import pytest

import handbook

PROJECT = Path(handbook.__file__).parent.parent

RUN = """
import socket, sys
sys.path[:0] = {paths!r}

def refuse(*_, **__):
    raise AssertionError("the network was asked for")

socket.socket.connect = socket.getaddrinfo = refuse
import handbook
assert handbook.__file__.startswith({wheel!r}), handbook.__file__
from handbook.cli import main
main({arguments!r})
"""


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the wheel from the sources and unpack it into an empty folder."""
    folder = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "-o", str(folder)]
    subprocess.run([*build, str(PROJECT)], check=True, capture_output=True)
    (wheel,) = folder.glob("*.whl")
    pip = [sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--target"]
    subprocess.run([*pip, str(folder / "site"), str(wheel)], check=True, capture_output=True)
    return folder / "site"


def run(wheel: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run the command from the wheel: -S keeps the checkout's editable install out of sight."""
    paths = [str(wheel), sysconfig.get_path("purelib"), sysconfig.get_path("platlib")]
    script = RUN.format(paths=paths, wheel=str(wheel), arguments=list(arguments))
    return subprocess.run(
        [sys.executable, "-I", "-S", "-c", script], capture_output=True, text=True, check=False
    )


def test_a_new_house_is_begun_checked_and_built_from_the_wheel_alone(
    unpacked: Path, tmp_path: Path
) -> None:
    house, out = str(tmp_path / "house"), str(tmp_path / "out")
    for arguments in (("new", house), ("check", house), ("build", house, "-o", out)):
        done = run(unpacked, *arguments)
        assert done.returncode == 0, (arguments, done.stdout, done.stderr)
    made = {path.name for path in (tmp_path / "out").iterdir() if not path.name.startswith(".")}
    assert made == {"handbook.pdf", "emergency-sheet.pdf", "tags.pdf", "pages"}


def test_the_wheel_carries_the_templates_and_the_example_house(unpacked: Path) -> None:
    inside = unpacked / "handbook"
    assert (inside / "_templates" / "new_house.yaml").is_file()
    assert (inside / "_example_house" / "house.yaml").is_file()
