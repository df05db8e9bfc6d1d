"""Start-up stays light: which modules are loaded, never how many milliseconds it took."""

import subprocess
import sys

DEAR = {
    "weasyprint",
    "networkx",
    "shapely",
    "numpy",
    "jinja2",
    "rich",
    "markdown",
    "PIL",
    "qrcode",
    "nh3",
}


def loaded(code: str) -> set[str]:
    report = f"{code}\nimport sys; print(*sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", report], capture_output=True, text=True, check=True
    )
    return {name.split(".")[0] for name in done.stdout.splitlines()[-1].split()}


def test_importing_the_command_loads_no_dear_library_nor_pydantic() -> None:
    assert not loaded("import handbook.cli") & (DEAR | {"pydantic", "yaml"})


def test_help_loads_no_dear_library() -> None:
    assert not loaded("from handbook.cli import main\nmain(['--help'], standalone_mode=False)") & (
        DEAR | {"pydantic", "yaml"}
    )


def test_reading_and_isolating_loads_no_printing() -> None:
    code = (
        "import handbook\nfrom pathlib import Path\nfrom tempfile import mkdtemp\n"
        "from handbook.record.starting import begin\n"
        "handbook.load(begin(Path(mkdtemp()))).isolate('house')"
    )
    assert not loaded(code) & DEAR
