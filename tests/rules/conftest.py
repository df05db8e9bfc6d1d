"""The folder of the base house, with the one photo that its record names."""

from pathlib import Path

import pytest


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("house")
    (folder / "photos").mkdir()
    (folder / "photos" / "hall.jpg").touch()
    return folder
