"""Puts a set of files where the user wants them, whole or not at all.

Everything is built in a folder beside the wanted one and swapped in by renaming, so that a
failure leaves what was there. A folder that holds anything that this tool did not write is never
replaced: the list of what it wrote travels with the files.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

from handbook.output.errors import OutputError
from handbook.output.leftovers import MARKER, NEW, OLD, beside, clear_away


def publish(out: Path, build: Callable[[Path], None], *, keep: bool = False) -> None:
    """Have `build` fill an empty folder, then put that folder in the place of `out`.

    With `keep`, what an earlier run wrote into `out` and this one does not is carried over.
    Raises OutputError if `out` is not ours to replace or the disk refuses; `out` is then as it
    was, and so it is if `build` raises anything.
    """
    out = out.absolute()
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        clear_away(out)
        _must_be_ours(out)
    except (FileExistsError, NotADirectoryError) as error:
        raise OutputError(f"cannot write {out}: a file is in the way of its folder") from error
    except OSError as error:
        raise OutputError(f"cannot write beside {out}: {error.strerror}") from error
    _fill_and_swap(out, build, keep)


def _fill_and_swap(out: Path, build: Callable[[Path], None], keep: bool) -> None:
    try:
        with beside(out, NEW) as fresh:
            build(fresh)
            if keep and out.is_dir():
                _carry_over(out, fresh)
            _list_files(fresh)
            fresh.chmod(0o755)  # mkdtemp makes folders private; a handbook is for reading
            _swap(fresh, out)
    except OSError as error:
        raise OutputError(f"cannot write {out}: {error.strerror or error}") from error


def _must_be_ours(out: Path) -> None:
    if out.is_symlink():
        raise OutputError(f"{out} is a link; name the folder itself")
    if not out.exists():
        return
    if not out.is_dir():
        raise OutputError(f"{out} is a file; name a folder")
    marker = out / MARKER
    present = _files(out)
    if not present:
        return
    if not marker.is_file():
        raise OutputError(
            f"{out} is not empty and was not written by this tool; name another folder"
        )
    written = set(marker.read_text(encoding="utf-8").splitlines())
    if strangers := sorted(present - written - {MARKER}):
        raise OutputError(
            f"{out} holds {strangers[0]!r}, which this tool did not write; move it away first"
        )


def _files(folder: Path) -> set[str]:
    return {
        path.relative_to(folder).as_posix()
        for path in folder.rglob("*")
        if path.is_symlink() or not path.is_dir()
    }


def _carry_over(old: Path, fresh: Path) -> None:
    for path in sorted(old.iterdir()):
        target = fresh / path.name
        if path.name == MARKER or target.exists():
            continue
        if path.is_dir():
            shutil.copytree(path, target, symlinks=True)
        else:
            shutil.copy2(path, target)


def _list_files(fresh: Path) -> None:
    text = "".join(f"{name}\n" for name in sorted(_files(fresh) - {MARKER}))
    (fresh / MARKER).write_text(text, encoding="utf-8", newline="\n")


def _swap(fresh: Path, out: Path) -> None:
    """Two renames; if the second fails the first is undone."""
    if not out.exists():
        fresh.rename(out)
        return
    with beside(out, OLD) as old:
        out.rename(old / out.name)
        try:
            fresh.rename(out)
        except BaseException:
            (old / out.name).rename(out)
            raise
