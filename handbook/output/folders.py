"""Opens files inside one folder and nowhere else, whatever the name that is asked for."""

from __future__ import annotations

from pathlib import Path, PurePosixPath

from handbook.output.errors import OutputError


def inside(root: Path, name: str) -> Path:
    """The regular file `name` (POSIX, relative) under `root`.

    Raises OutputError for an absolute name, for `..`, for a link that leads out of the folder
    and for anything that is not a regular file.
    """
    relative = PurePosixPath(name)
    if relative.is_absolute() or ".." in relative.parts or "\\" in name or "\0" in name:
        raise OutputError(f"{name!r}: give a name inside the folder, without '..'")
    base = root.resolve()
    path = (base / relative).resolve()
    if not path.is_relative_to(base):
        raise OutputError(f"{name!r} is a link that leads out of its folder")
    if not path.is_file():
        raise OutputError(f"{name!r} is not there, or is not a file")
    return path
