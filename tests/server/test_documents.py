"""README and DEVELOPERS say only what is so."""

import re
import subprocess
from pathlib import Path

import pytest

from webapp.cli import main

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
# A path within code marks; a name with … in it stands for many.
_PATHS = re.compile(
    r"`((?:webapp|static|tests|fixtures|migrations)/[\w./-]*|\.ci/[\w./-]*)`"
)
_COMMANDS = re.compile(r"`wiremark ([a-z ]+?)`")


def named(pattern, text):
    return sorted(set(pattern.findall(text)))


@pytest.mark.parametrize("path", named(_PATHS, DEVELOPERS + README))
def test_every_file_a_document_names_exists(path):
    assert (ROOT / path).exists()


@pytest.mark.parametrize("command", named(_COMMANDS, DEVELOPERS + README))
def test_every_command_a_document_names_exists(command):
    found = main
    for word in command.split():
        found = found.commands[word]
    assert found.help


def test_the_first_paragraph_of_the_readme_states_the_job():
    first = README.split("\n\n")[1]
    assert "bedside record for temporary transvenous pacing" in first


def test_every_picture_of_the_readme_exists():
    pictures = re.findall(r"!\[[^]]+\]\(([^)]+)\)", README)
    assert pictures
    for picture in pictures:
        assert (ROOT / picture).stat().st_size > 10_000


def test_the_top_level_holds_only_what_the_card_lists():
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.splitlines()
    top = {name.split("/")[0] for name in listed}
    assert {t for t in top if not t.startswith(".")} == {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "webapp",
        "static",
        "migrations",
        "tests",
        "fixtures",
    }
