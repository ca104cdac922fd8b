"""`wiremark codes`, as an administrator runs it with an official file."""

from __future__ import annotations

from datetime import date

import pytest

from webapp.cli import main
from webapp.coding.tables import load_tables
from webapp.views.code_facts import TABLES_FOLDER

FY2032 = ("--edition", "FY2032", "--from", "2031-10-01", "--to", "2032-09-30")


@pytest.fixture
def run(app, site, monkeypatch):
    monkeypatch.setenv("WIREMARK_HOME", str(site.home))
    runner = app.test_cli_runner()
    return lambda *words: runner.invoke(main, ["codes", *words])


@pytest.fixture
def order_file(tmp_path):
    # Layout: order number 1-5, code 7-13, flag 15, short title 17-76, long title 78-.
    title = "Atrioventricular block, complete"
    file = tmp_path / "icd10cm_order_2032.txt"
    line = f"00001 {'I442':<7} 1 {title:<60} {title}\r\n"
    file.write_text(line, encoding="latin-1", newline="")
    return file


def test_a_loaded_year_is_in_hand_for_its_dates(run, site, order_file):
    done = run("load", str(order_file), "--system", "ICD-10-CM", *FY2032)
    assert done.exit_code == 0, done.output
    assert "ICD-10-CM FY2032: 1 codes." in done.output
    tables = load_tables(site.home / TABLES_FOLDER)
    assert tables.look_up("ICD-10-CM", date(2031, 11, 24)).confirmed
    listed = run("list").output
    assert "FY2032\t2031-10-01 2032-09-30\t1\ticd10cm_order_2032.txt" in listed
    assert "FY2026-Apr" in listed


def test_loading_twice_keeps_one(run, order_file):
    for _ in range(2):
        run("load", str(order_file), "--system", "ICD-10-CM", *FY2032)
    assert run("list").output.count("FY2032") == 1


def test_a_file_of_another_layout_is_refused_by_its_line(run, site, tmp_path):
    file = tmp_path / "other.txt"
    file.write_text("code;title\n", encoding="utf-8")
    done = run("load", str(file), "--system", "ICD-10-CM", *FY2032)
    assert done.exit_code == 1
    assert "other.txt: line 1 is not a line of an order file" in done.output
    assert not (site.home / TABLES_FOLDER).exists() or not list(
        (site.home / TABLES_FOLDER).iterdir()
    )


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (
            ("--edition", "../x", "--from", "2031-10-01", "--to", "2032-09-30"),
            "An edition is letters",
        ),
        (
            ("--edition", "FY2032", "--from", "2032-10-01", "--to", "2032-09-30"),
            "The last day lies before the first.",
        ),
    ],
    ids=["edition", "days"],
)
def test_what_is_wrong_is_said_and_nothing_is_kept(run, site, order_file, words, says):
    done = run("load", str(order_file), "--system", "ICD-10-CM", *words)
    assert done.exit_code == 1
    assert says in done.output
    assert not (site.home / TABLES_FOLDER).exists()
