"""The command, as a person or a script uses it: exit codes, output, and nothing half done."""

import json
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from handbook import assets

EXAMPLE = str(assets.example_house())


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "handbook", *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=False)


@pytest.fixture
def begun(tmp_path: Path) -> Path:
    assert run("new", str(tmp_path / "house")).returncode == 0
    return tmp_path / "house"


def test_a_new_record_is_about_fifteen_lines_and_checks_clean(begun: Path) -> None:
    assert len((begun / "house.yaml").read_text("utf-8").splitlines()) <= 16
    done = run("check", str(begun))
    assert done.returncode == 0, done.stdout


def test_check_of_a_new_record_says_what_the_next_facts_would_unlock(begun: Path) -> None:
    report = json.loads(run("check", str(begun), "--format", "json").stdout)
    assert report["findings"] == []
    assert report["unlocks"]


def test_new_never_writes_over_a_record(begun: Path) -> None:
    (begun / "house.yaml").write_text("mine", "utf-8")
    done = run("new", str(begun))
    assert done.returncode == 2
    assert (begun / "house.yaml").read_text("utf-8") == "mine"


def test_a_new_record_cannot_be_begun_inside_a_file(begun: Path) -> None:
    done = run("new", str(begun / "house.yaml"))
    assert done.returncode == 2
    assert "a file is in the way" in done.stderr


def test_the_command_that_comes_next_can_be_copied_even_with_a_space_in_the_name(
    tmp_path: Path,
) -> None:
    folder = tmp_path / "my house"
    assert f"handbook check '{folder}'" in run("new", str(folder)).stdout


def test_new_names_every_file_that_it_writes(tmp_path: Path) -> None:
    said = run("new", str(tmp_path / "lot")).stdout
    written = sorted(file.name for file in (tmp_path / "lot").iterdir())
    assert written == ["house.yaml", "record.schema.json"]
    assert all(name in said for name in written)


@pytest.mark.parametrize(
    "arguments",
    [
        ("new", ""),
        ("new", "a" * 300),
        ("new", "/proc/no-such-place"),
        ("build", EXAMPLE, "--only", "tags", "-o", "a" * 300),
        ("build", EXAMPLE, "--only", "tags", "-o", "/proc/no-such-place"),
    ],
)
def test_a_folder_that_cannot_be_made_is_said_in_words(
    arguments: tuple[str, ...], tmp_path: Path
) -> None:
    command = [sys.executable, "-m", "handbook", *arguments]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert done.stderr.strip()
    assert list(tmp_path.iterdir()) == []


def test_check_speaks_json_as_every_command_does() -> None:
    plain, named = run("check", EXAMPLE, "--json"), run("check", EXAMPLE, "--format", "json")
    assert plain.returncode == 1
    assert json.loads(plain.stdout) == json.loads(named.stdout)


def test_check_finds_the_three_honest_gaps_of_the_example_and_nothing_else() -> None:
    done = run("check", EXAMPLE, "--format", "json")
    assert done.returncode == 1
    assert len(json.loads(done.stdout)["findings"]) == 3


def test_a_finding_names_its_file_and_line() -> None:
    finding = json.loads(run("check", EXAMPLE, "--format", "json").stdout)["findings"][0]
    assert finding["file"].endswith("house.yaml")
    assert finding["line"] > 1


def test_a_record_that_cannot_be_read_ends_with_2_and_every_problem(begun: Path) -> None:
    record = begun / "house.yaml"
    record.write_text(record.read_text("utf-8").replace("kind: ball", "kindd: ball") + "moo: 1\n")
    done = run("check", str(begun))
    assert done.returncode == 2
    assert done.stdout == ""
    assert "2 problems" in done.stderr
    assert f"{record}:" in done.stderr


def test_a_missing_record_ends_with_2_without_a_traceback(tmp_path: Path) -> None:
    done = run("check", str(tmp_path / "nowhere"))
    assert done.returncode == 2
    assert "Traceback" not in done.stderr


def test_isolate_in_json_has_every_step() -> None:
    answer = json.loads(run("isolate", EXAMPLE, "hall-wc", "--json").stdout)
    assert answer["thing"] == "hall-wc"
    assert {"close", "open", "also_off"} <= answer["ladder"][0].keys()
    assert {"assumed", "missing"} <= answer.keys()


def test_isolate_of_an_unknown_thing_ends_with_2_and_a_near_name() -> None:
    done = run("isolate", EXAMPLE, "hal-wc")
    assert done.returncode == 2
    assert "did you mean `hall-wc`" in done.stderr


def test_output_for_a_pipe_has_no_colour() -> None:
    assert "\x1b" not in run("check", EXAMPLE).stdout


def test_a_build_of_the_starting_record_writes_everything(begun: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    done = run("build", str(begun), "-o", str(out))
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    for name in ("handbook.pdf", "emergency-sheet.pdf", "tags.pdf", "pages/index.html"):
        assert (out / name).stat().st_size > 0


def test_a_build_leaves_a_folder_that_it_did_not_write_alone(begun: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "tax.txt").write_text("mine", "utf-8")
    done = run("build", str(begun), "-o", str(out))
    assert done.returncode == 2
    assert [path.name for path in out.iterdir()] == ["tax.txt"]


def test_a_build_of_a_faulty_record_writes_nothing(begun: Path, tmp_path: Path) -> None:
    (begun / "house.yaml").write_text("format: 1\n", "utf-8")
    done = run("build", str(begun), "-o", str(tmp_path / "out"))
    assert done.returncode == 2
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("sign", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
def test_a_build_that_is_told_to_stop_leaves_nothing_behind(
    begun: Path, tmp_path: Path, sign: signal.Signals
) -> None:
    """The exit code is 128 and the signal's number (POSIX.1-2017, XCU 2.8.2: above 128)."""
    made = tmp_path / "made"
    made.mkdir()
    command = [sys.executable, "-m", "handbook", "build", str(begun), "-o", str(made / "out")]
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE) as building:
        while not any(made.iterdir()):
            assert building.poll() is None
            time.sleep(0.01)
        building.send_signal(sign)
        assert building.wait(timeout=60) == 128 + sign
        assert building.stderr is not None
        assert b"Traceback" not in building.stderr.read()
    assert [*made.iterdir()] == []


def test_only_what_is_asked_for_is_written(begun: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert run("build", str(begun), "-o", str(out), "--only", "tags").returncode == 0
    assert {path.name for path in out.iterdir() if path.name[0] != "."} == {"tags.pdf"}


@pytest.mark.parametrize(
    "command", ["new", "check", "isolate", "whom", "care", "build", "schema", "rules"]
)
def test_every_command_has_help(command: str) -> None:
    assert "Usage" in run(command, "--help").stdout


@pytest.mark.parametrize(
    "question", [["check"], ["isolate", "house"], ["stoppage", "wc"], ["ties"], ["gas"], ["whom"]]
)
def test_a_record_that_cannot_be_read_is_told_in_json_where_json_is_asked_for(
    begun: Path, question: list[str]
) -> None:
    (begun / "house.yaml").write_text("format: 1\nhouse: {name: A, nam: B}\n", "utf-8")
    command, *rest = question
    done = run(command, str(begun), *rest, "--json")
    assert done.returncode == 2
    assert done.stderr == ""
    (error,) = json.loads(done.stdout)["errors"]
    assert set(error) == {"file", "line", "column", "message", "hint"}
    # `house: {name: A, ` is 17 characters long
    assert (error["file"], error["line"], error["column"]) == (str(begun / "house.yaml"), 2, 18)


@pytest.mark.parametrize(
    "words", [["isolate", EXAMPLE, "nothing"], ["isolate", EXAMPLE], ["hot", EXAMPLE, "--no"]]
)
def test_a_question_that_cannot_be_asked_is_told_in_json_where_json_is_asked_for(
    words: list[str],
) -> None:
    done = run(*words, "--json")
    assert done.returncode == 2
    (error,) = json.loads(done.stdout)["errors"]
    assert error["message"]
    assert error["file"] is None


@pytest.mark.parametrize(
    ("question", "said"),
    [
        (["ties"], "Nothing is recorded that is buried or hidden: there is nothing to tape."),
        (["gas"], "No gas pipe and no gas outlet is recorded."),
        (["whom"], "the water company. The water company's number is not recorded. Closes"),
    ],
)
def test_a_question_about_what_is_not_recorded_gets_a_sentence(
    begun: Path, question: list[str], said: str
) -> None:
    printed = run(*question, str(begun)).stdout
    assert said in printed
    assert ".." not in printed


def test_gas_that_was_looked_for_and_not_found_is_told_to_be_none(begun: Path) -> None:
    record = begun / "house.yaml"
    record.write_text(record.read_text("utf-8") + "gas: none\n", "utf-8")
    assert run("gas", str(begun)).stdout == "No gas: somebody looked.\n"


def test_whoever_asks_the_way_to_where_he_stands_is_there() -> None:
    assert "You are there." in run("route", EXAMPLE, "hall-bath", "hall-bath").stdout


def test_the_pipe_that_ends_at_a_thing_is_named_once(begun: Path) -> None:
    assert "pipe to pipe to" not in run("spill", str(begun), "pipe to W1").stdout


def test_help_says_where_a_build_without_a_folder_goes() -> None:
    said = " ".join(run("build", "--help").stdout.split())
    assert "HOUSE-handbook, in the folder that you are in" in said
    assert "./example_house-handbook" in said


def test_a_number_of_noughts_is_never_given_as_one_to_call(begun: Path) -> None:
    said = run("whom", str(begun)).stdout
    assert "000-0000" not in said
    assert "The number of a licensed plumber is still the noughts of the starting record." in said
