"""The command that flips each comparison and number tells what no example notices."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.bench.equivalents import Spot, named
from tests.bench.mutants import other_limits

ROOT = Path(__file__).resolve().parents[2]
# One comparison, and no limit.
MODULE = "read_at"
SPOT = Spot(
    MODULE,
    "return AT_HUB if told is None else _NOT_KNOWN",
    "told is None",
    "told is not None",
)


@pytest.fixture
def nothing(tmp_path: Path) -> Path:
    """Return a folder of examples that holds none, and a list that names nothing."""
    (tmp_path / "examples").mkdir()
    (tmp_path / "equivalent.toml").touch()
    return tmp_path


def changed(folder: Path, *more: str) -> subprocess.CompletedProcess[str]:
    """Run the command with the list of a folder."""
    told = ("--jobs", "1", "--equivalent", str(folder / "equivalent.toml"))
    command = [sys.executable, "-m", "tests.bench.mutate", MODULE, *told, *more]
    return subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, check=False
    )


def name(folder: Path, spot: Spot) -> None:
    """Name a change as one that no input can tell."""
    lines = (f"{key} = '''{getattr(spot, key)}'''" for key in Spot.__slots__)
    told = "\n".join(("[[equivalent]]", *lines, "why = 'because'", ""))
    (folder / "equivalent.toml").write_text(told, encoding="utf-8")


def without(folder: Path) -> tuple[str, ...]:
    return ("--examples", str(folder / "examples"))


def test_a_change_that_no_example_notices_is_told_and_fails(nothing: Path) -> None:
    ran = changed(nothing, *without(nothing))
    assert (ran.returncode, ran.stderr) == (1, "")
    assert f"{SPOT.was}  ->  {SPOT.now}" in ran.stdout
    assert ran.stdout.endswith("1 changes, 0 noticed, survivors 1\n")


def test_the_examples_there_are_notice_it(nothing: Path) -> None:
    ran = changed(nothing)
    assert (ran.returncode, ran.stdout) == (0, "1 changes, 1 noticed, survivors 0\n")


def test_a_survivor_that_is_named_with_its_reason_is_none(nothing: Path) -> None:
    name(nothing, SPOT)
    ran = changed(nothing, *without(nothing))
    told = "1 changes, 0 noticed, survivors 0 (1 equivalent, named)\n"
    assert (ran.returncode, ran.stdout) == (0, told)


def test_what_is_named_and_noticed_after_all_is_stale_and_fails(nothing: Path) -> None:
    name(nothing, SPOT)
    ran = changed(nothing)
    assert ran.returncode == 1
    assert f"stale, named as equivalent and noticed or not made: {SPOT}" in ran.stdout


def test_what_is_named_and_no_longer_made_is_stale_and_fails(nothing: Path) -> None:
    gone = Spot(MODULE, "return told", SPOT.was, SPOT.now)
    name(nothing, gone)
    ran = changed(nothing)
    assert ran.returncode == 1
    assert f"stale, named as equivalent and noticed or not made: {gone}" in ran.stdout


def test_elsewhere_what_survives_is_told_and_does_not_fail(nothing: Path) -> None:
    ran = changed(nothing, *without(nothing), "--elsewhere")
    assert ran.returncode == 0
    assert f"{SPOT.was}  ->  {SPOT.now}" in ran.stdout


def test_a_change_is_not_named_without_a_reason(nothing: Path) -> None:
    name(nothing, SPOT)
    file = nothing / "equivalent.toml"
    file.write_text(file.read_text(encoding="utf-8").replace("because", " "))
    with pytest.raises(ValueError, match="does not tell"):
        named(file, {MODULE})


@pytest.mark.parametrize(
    ("value", "low", "high", "others"),
    [
        ("2.5", "1.5", "5", ["2.6", "2.4"]),
        ("30", "30", "60", ["31"]),
        ("2/3", "1/2", "9/10", ["3/4", "3/5"]),
    ],
)
def test_a_limit_is_changed_by_one_step_where_it_may_be(value, low, high, others):
    assert other_limits(value, low, high) == others
