"""Folders that hold an output while it is made, and what a killed run left of them.

Such a folder is locked for as long as its run lives; a lock ends with its run, however that ended.
So what can be locked is nobody's any more, and a run beside this one keeps what it is making.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from glob import escape
from pathlib import Path

MARKER = ".handbook-files"
"""The list of what was written, one relative path a line; it says too whose a folder is."""

OLD, NEW = "old", "new"


@contextmanager
def beside(out: Path, what: str) -> Iterator[Path]:
    """Yield a new folder beside `out`, locked, with an empty list of files.

    It is gone afterwards; but what was moved there out of the way stays until `out` is there again.
    """
    folder = Path(tempfile.mkdtemp(prefix=f".{out.name}-{what}-", dir=out.parent))
    handle = _lock(folder)
    try:
        (folder / MARKER).touch()
        yield folder
    finally:
        if what == NEW or out.exists():
            shutil.rmtree(folder, ignore_errors=True)
        if handle is not None:
            os.close(handle)


def clear_away(out: Path) -> None:
    """Remove what killed runs left beside `out`; what one had moved out of the way is put back."""
    for what in (OLD, NEW):
        for folder in out.parent.glob(f".{escape(out.name)}-{what}-*"):
            if (folder / MARKER).is_file() and not folder.is_symlink():
                with suppress(OSError):
                    _clear(folder, out)


def _clear(folder: Path, out: Path) -> None:
    handle = _lock(folder)
    if handle is None:
        return
    try:
        was_out = folder.name.startswith(f".{out.name}-{OLD}-") and (folder / out.name).is_dir()
        if was_out and not out.exists():
            (folder / out.name).rename(out)
        shutil.rmtree(folder)
    finally:
        os.close(handle)


def _lock(folder: Path) -> int | None:
    """Lock a folder until what is returned is closed; None on a system without such locks.

    Raises BlockingIOError, an OSError, where another run has it.
    """
    try:
        import fcntl
    except ImportError:
        return None
    handle = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        os.close(handle)
        raise
    return handle
