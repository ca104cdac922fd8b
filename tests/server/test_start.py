"""What start refuses: the command ends, says why in one line, and serves nothing."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from webapp import serving
from webapp.cli import main

REFUSED = {
    "a floor below 1": (
        '[policy]\nthreshold_margin_floor = "0.9"',
        "threshold_margin_floor = 0.9 is outside what is allowed, 1 to 4",
    ),
    "a target below the floor": (
        '[policy]\nthreshold_margin_target = "1.9"',
        "threshold_margin_target is below threshold_margin_floor",
    ),
    "a dependent multiple below the floor": (
        '[policy]\nthreshold_margin_floor = "2.5"\nmargin_if_dependent = "2"',
        "margin_if_dependent is below threshold_margin_floor",
    ),
    "a minimum below 0.1 mA": (
        '[policy]\noutput_minimum_ma = "0.05"',
        "output_minimum_ma = 0.05 is outside what is allowed, 0.1 to 10",
    ),
    "a minimum above the site's generators": (
        'generator_maximum_ma = "5"\n[policy]\noutput_minimum_ma = "6"',
        "output_minimum_ma = 6 is above the generator's maximum, 5 mA",
    ),
    "the shipped minimum above the site's generators": (
        'generator_maximum_ma = "1.9"',
        "output_minimum_ma = 2 is above the generator's maximum, 1.9 mA",
    ),
    "tiers out of order": (
        '[policy]\nthreshold_good_ma = "2.5"',
        "are not in ascending order",
    ),
    "an empty card for lost capture": (
        '[policy]\ncapture_lost_card = " "',
        "capture_lost_card is empty",
    ),
    "a value out of its range": (
        '[policy]\ncoil_advance_without_change_cm = "21"',
        "coil_advance_without_change_cm = 21 is outside what is allowed, 10 to 20",
    ),
    "a row without source word": (
        '[policy.dwell_max_days]\nvalue = "5"\nsource = "our guide"\nword = ""',
        "dwell_max_days needs a source, and a word of",
    ),
    "a key nobody knows": (
        '[policy]\nthreshold_margin_flor = "2"',
        "no limit is called threshold_margin_flor",
    ),
    "a binary fraction": (
        "[policy]\nthreshold_margin_target = 2.5",
        "threshold_margin_target takes text",
    ),
}


def runs(home: Path, *args: str) -> tuple[int, str]:
    """Return exit code and all that was said."""
    told = CliRunner().invoke(main, list(args), env={"WIREMARK_HOME": str(home)})
    return told.exit_code, told.output


@pytest.fixture
def served(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Gather what would have been served."""
    told: list[str] = []
    monkeypatch.setattr(serving, "serve", lambda app, host, port: told.append(host))
    return told


@pytest.mark.parametrize(("settings", "said"), REFUSED.values(), ids=REFUSED)
def test_the_server_is_not_started(tmp_path, served, settings, said) -> None:
    (tmp_path / "wiremark.toml").write_text(settings, encoding="utf-8")
    code, output = runs(tmp_path, "serve")
    assert code == 1
    assert output.startswith("Error: policy: ")
    assert said in output
    assert served == []


def test_other_commands_say_the_same_in_one_line(tmp_path) -> None:
    settings = '[policy]\nthreshold_margin_floor = "0.9"'
    (tmp_path / "wiremark.toml").write_text(settings, encoding="utf-8")
    code, output = runs(tmp_path, "people", "list")
    assert code == 1
    assert output.count("\n") == 1
    assert "threshold_margin_floor = 0.9 is outside" in output


def test_the_installed_command_ends_with_1_and_says_why(tmp_path) -> None:
    settings = '[policy]\nthreshold_margin_target = "1.9"'
    (tmp_path / "wiremark.toml").write_text(settings, encoding="utf-8")
    command = str(Path(sys.executable).with_name("wiremark"))
    done = subprocess.run(
        [command, "serve"],
        env={"WIREMARK_HOME": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 1
    assert done.stderr.startswith("Error: policy: threshold_margin_target is below")
    assert "Traceback" not in done.stderr


def test_nothing_is_made_of_a_site_that_start_refuses(tmp_path, served) -> None:
    (tmp_path / "wiremark.toml").write_text("[policy]\nx = '1'", encoding="utf-8")
    runs(tmp_path, "serve")
    assert not (tmp_path / "wiremark.db").exists()


def test_each_difference_from_the_shipped_limits_is_told_at_start(
    tmp_path, served
) -> None:
    settings = '[policy]\nthreshold_margin_target = "3"\nr_wave_low_mv = "4"'
    (tmp_path / "wiremark.toml").write_text(settings, encoding="utf-8")
    code, output = runs(tmp_path, "serve")
    assert (code, served) == (0, ["127.0.0.1"])
    assert "Limit threshold_margin_target is 3 here; 2.5 as shipped." in output
    assert "Limit r_wave_low_mv is 4 here; 5 as shipped." in output


def test_a_site_that_changed_nothing_starts_without_a_word_on_limits(
    tmp_path, served
) -> None:
    code, output = runs(tmp_path, "serve")
    assert (code, served) == (0, ["127.0.0.1"])
    assert "Limit" not in output
