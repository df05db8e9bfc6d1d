"""Outputs appear whole or not at all, and never over what someone else put there. Faults are put
in at each step that can fail.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from handbook.output import publish
from handbook.output.errors import OutputError
from handbook.output.publish import MARKER


def writes(**files: str) -> Callable[[Path], None]:
    """A build that writes `a.txt` for `a=...`, and a folder's file for `pages_x=...`."""

    def build(folder: Path) -> None:
        for name, text in files.items():
            path = folder / (name.replace("_", "/") + ".txt")
            path.parent.mkdir(exist_ok=True)
            path.write_text(text)

    return build


def held(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): path.read_text()
        for path in folder.rglob("*")
        if path.is_file() and path.name != MARKER
    }


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "made" / "out"


@pytest.fixture
def published(out: Path) -> Path:
    publish.publish(out, writes(a="old", pages_x="old"))
    return out


def only_out_is_left(out: Path) -> bool:
    return [path.name for path in out.parent.iterdir()] == [out.name]


def test_a_first_set_is_written_with_the_list_of_its_files(out: Path) -> None:
    publish.publish(out, writes(a="1", pages_x="2"))
    assert held(out) == {"a.txt": "1", "pages/x.txt": "2"}
    assert (out / MARKER).read_text() == "a.txt\npages/x.txt\n"
    assert out.stat().st_mode & 0o777 == 0o755
    assert only_out_is_left(out)


def test_a_later_set_takes_the_place_of_the_earlier_whole(published: Path) -> None:
    publish.publish(published, writes(b="new"))
    assert held(published) == {"b.txt": "new"}
    assert only_out_is_left(published)


def test_kept_outputs_are_carried_over(published: Path) -> None:
    publish.publish(published, writes(a="new"), keep=True)
    assert held(published) == {"a.txt": "new", "pages/x.txt": "old"}
    publish.publish(published, writes(pages_y="new"), keep=True)
    assert held(published) == {"a.txt": "new", "pages/y.txt": "new"}


def test_an_empty_folder_may_be_filled(out: Path) -> None:
    out.mkdir(parents=True)
    publish.publish(out, writes(a="1"))
    assert held(out) == {"a.txt": "1"}


@pytest.mark.parametrize("error", [OutputError("no"), ValueError("bug"), KeyboardInterrupt()])
def test_a_build_that_fails_leaves_what_was_there(published: Path, error: BaseException) -> None:
    def build(folder: Path) -> None:
        writes(a="half")(folder)
        raise error

    with pytest.raises(type(error)):
        publish.publish(published, build)
    assert held(published) == {"a.txt": "old", "pages/x.txt": "old"}
    assert only_out_is_left(published)


def test_a_first_build_that_fails_leaves_nothing(out: Path) -> None:
    def build(folder: Path) -> None:
        raise OutputError("no")

    with pytest.raises(OutputError):
        publish.publish(out, build)
    assert list(out.parent.iterdir()) == []


@pytest.mark.parametrize("failing", [1, 2])
def test_a_rename_that_fails_leaves_what_was_there(
    published: Path, failing: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The first rename moves the old set away, the second brings the new one in; a third, which
    puts the old one back, works."""
    calls = 0
    real = Path.rename

    def rename(self: Path, target: Path) -> Path:
        nonlocal calls
        calls += 1
        if calls == failing:
            raise PermissionError(13, "Permission denied")
        return real(self, target)

    monkeypatch.setattr(Path, "rename", rename)
    with pytest.raises(OutputError, match="Permission denied"):
        publish.publish(published, writes(a="new"))
    monkeypatch.undo()
    assert held(published) == {"a.txt": "old", "pages/x.txt": "old"}
    assert only_out_is_left(published)


def test_a_full_disk_leaves_what_was_there(
    published: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, os.strerror(28))

    monkeypatch.setattr(Path, "write_text", full)
    with pytest.raises(OutputError, match="No space left"):
        publish.publish(published, lambda folder: None)
    monkeypatch.undo()
    assert held(published) == {"a.txt": "old", "pages/x.txt": "old"}
    assert only_out_is_left(published)


def test_a_folder_of_someone_elses_is_never_replaced(out: Path) -> None:
    out.mkdir(parents=True)
    (out / "tax.txt").write_text("mine")
    with pytest.raises(OutputError, match="was not written by this tool"):
        publish.publish(out, writes(a="1"))
    assert held(out) == {"tax.txt": "mine"}


def test_a_strangers_file_among_ours_is_never_lost(published: Path) -> None:
    (published / "pages" / "mine.txt").write_text("mine")
    with pytest.raises(OutputError, match=r"pages/mine\.txt"):
        publish.publish(published, writes(a="new"))
    assert held(published)["pages/mine.txt"] == "mine"


def test_a_file_or_a_link_in_the_place_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to("real")
    for name in ("file", "link"):
        with pytest.raises(OutputError):
            publish.publish(tmp_path / name, writes(a="1"))
    assert (tmp_path / "file").read_text() == "mine"
    assert list((tmp_path / "real").iterdir()) == []


def test_a_place_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(OutputError, match="cannot write"):
        publish.publish(tmp_path / "file" / "out", writes(a="1"))


def test_a_file_where_a_folder_is_wanted_is_said_to_be_in_the_way(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    with pytest.raises(OutputError, match="a file is in the way"):
        publish.publish(tmp_path / "file" / "out", writes(a="1"))


KILLED = """
import os, signal, sys
from pathlib import Path
from handbook.output import publish
def build(folder):
    (folder / "half.txt").write_text("half")
    os.kill(os.getpid(), signal.SIGKILL)
publish.publish(Path(sys.argv[1]), build)
"""


def killed_while_writing(out: Path) -> None:
    done = subprocess.run([sys.executable, "-c", KILLED, str(out)], check=False)
    assert done.returncode == -signal.SIGKILL


def test_what_a_killed_run_left_is_cleared_away_by_the_next(out: Path, published: Path) -> None:
    killed_while_writing(out)
    assert not only_out_is_left(out)
    publish.publish(out, writes(a="new"))
    assert held(out) == {"a.txt": "new"}
    assert only_out_is_left(out)


def test_a_run_leaves_alone_what_another_one_is_writing(out: Path) -> None:
    def while_writing(folder: Path) -> None:
        writes(a="outer")(folder)
        publish.publish(out, writes(b="inner"))
        assert held(folder) == {"a.txt": "outer"}

    publish.publish(out, while_writing)
    assert held(out) == {"a.txt": "outer"}
    assert only_out_is_left(out)


def test_a_folder_that_only_looks_like_a_leftover_is_somebodys_own(out: Path) -> None:
    own = out.parent / f".{out.name}-new-project1"
    own.mkdir(parents=True)
    (own / "plans.txt").write_text("mine")
    publish.publish(out, writes(a="new"))
    assert held(own) == {"plans.txt": "mine"}


def test_what_a_killed_run_had_moved_out_of_the_way_is_put_back(out: Path, published: Path) -> None:
    """Killed between the two renames, as a plug that is pulled would."""
    moved = out.parent / f".{out.name}-old-12345678"
    moved.mkdir()
    (moved / MARKER).touch()
    published.rename(moved / out.name)
    publish.publish(out, writes(b="new"), keep=True)
    assert held(out) == {"a.txt": "old", "pages/x.txt": "old", "b.txt": "new"}
    assert only_out_is_left(out)
