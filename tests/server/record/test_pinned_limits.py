"""A record is computed by the limits it began with, whatever is chosen later."""

from __future__ import annotations

import io
import sqlite3
from dataclasses import replace

import pytest
from pdfminer.high_level import extract_text

from tests.support.cast import Cast
from tests.support.sent_cases import sends_case
from webapp.app import create_app
from webapp.clinical.policy import Policy, load
from webapp.clinical.policy_kept import read_back, written
from webapp.db import writing
from webapp.record import pinned_limits
from webapp.record.log import utc_now

STRICTER = {"threshold_margin_target": "3.5", "margin_if_dependent": "4"}
CASE = "demo/1-clean-emergency"


def restarted(site, db, policy):
    """Return everybody at the same site, started again with other limits."""
    return Cast(create_app(replace(site, policy=policy)), db)


def target(db, record: str) -> str:
    found = pinned_limits.limits_of(db, record, load({"drift_factor": "3"}))
    return found.rows["threshold_margin_target"].value


def note_of(cast: Cast, record: str) -> str:
    cast.signer.signs_in()
    pdf = cast.signer.opens(f"/records/{record}/note.pdf").data
    return extract_text(io.BytesIO(pdf))


def test_a_newer_policy_applies_to_new_records_only(site, db, tablet) -> None:
    began = tablet.opens()
    tablet.sets(began, "patient.name", "ALDERMERE")
    tablet.syncs()
    later = restarted(site, db, STRICTER).tablet()
    new = later.opens()
    later.sets(new, "patient.name", "BRENNHAVN")
    later.syncs()
    assert (target(db, began), target(db, new)) == ("2.5", "3.5")


def test_an_entry_that_comes_later_changes_no_limit(site, db, tablet) -> None:
    record = tablet.opens()
    tablet.sets(record, "patient.name", "ALDERMERE")
    tablet.syncs()
    late = restarted(site, db, STRICTER).tablet()
    late.opens(record)
    late.sets(record, "patient.name", "ALDERMERE-EXAMPLE")
    late.syncs()
    assert target(db, record) == "2.5"


def test_the_note_shows_and_uses_the_limits_the_record_began_with(
    site, db, tablet
) -> None:
    record = sends_case(tablet, CASE)
    later = restarted(site, db, STRICTER)
    new_version = load(STRICTER).version
    assert new_version not in note_of(later, record)
    other = sends_case(later.tablet(), "demo/3-complication")
    assert new_version in note_of(later, other)


def test_records_of_an_older_server_are_read_by_the_limits_of_its_next_start(
    site, db, tablet
) -> None:
    record = tablet.opens()
    tablet.sets(record, "patient.name", "ALDERMERE")
    tablet.syncs()
    db.conn.execute("DROP TRIGGER record_limits_never_goes")
    db.conn.execute("DELETE FROM record_limits")
    restarted(site, db, STRICTER)
    assert target(db, record) == "3.5"


def test_a_policy_in_use_is_kept_once_and_each_change_is_told(site, db, app) -> None:
    for policy in ({}, STRICTER, STRICTER, {}):
        restarted(site, db, policy)
    used = [v for (v,) in db.conn.execute(
        "SELECT version FROM limits_use JOIN limits ON sha256 = limits ORDER BY number"
    )]  # fmt: skip
    shipped, stricter = load().version, load(STRICTER).version
    assert used == [shipped, stricter, shipped]
    assert db.conn.execute("SELECT count(*) FROM limits").fetchone()[0] == 2


@pytest.mark.parametrize("table", ["limits", "limits_use", "record_limits"])
def test_no_limits_in_use_are_changed_or_go(db, tablet, table) -> None:
    record = tablet.opens()
    tablet.sets(record, "patient.name", "ALDERMERE")
    tablet.syncs()
    column = {"limits": "version", "limits_use": "since", "record_limits": "limits"}
    for statement in (
        f"UPDATE {table} SET {column[table]} = ''",
        f"DELETE FROM {table}",
    ):
        with pytest.raises(sqlite3.IntegrityError, match="never"):
            db.conn.execute(statement)


def test_before_any_policy_was_in_use_nothing_is_pinned(db) -> None:
    with writing(db):
        pinned_limits.pin(db, ["x"], utc_now())
    current = load(STRICTER)
    assert pinned_limits.limits_of(db, "x", current) is current


def test_limits_come_back_as_they_were_written() -> None:
    for policy in (load(), load(STRICTER)):
        back = read_back(written(policy))
        assert (back.version, dict(back.rows)) == (policy.version, dict(policy.rows))
        assert back.limits(is_adult=False) == policy.limits(is_adult=False)


def test_a_limit_that_nobody_had_then_is_the_shipped_one() -> None:
    whole = load(STRICTER)
    rows = {key: row for key, row in whole.rows.items() if key != "drift_factor"}
    back = read_back(written(Policy("0", rows)))
    assert back.rows["drift_factor"].value == "2"
    assert back.rows["threshold_margin_target"].value == "3.5"
