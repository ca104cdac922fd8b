"""Who opened what, when, from which tablet: added to, never changed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sqlite_utils import Database

from webapp.record.log import utc_now

What = Literal[
    "person:add",
    "person:change_password",
    "person:deactivate",
    "person:reactivate",
    "session:begin",
    "session:refuse",
    "session:end",
    "signature:refuse",
    "tablet:add",
    "tablet:renew",
    "tablet:enrol",
    "tablet:revoke",
    "grant:give",
    "grant:refuse",
    "record:pull",
    "record:open",
    "record:sign",
    "record:add",
    "record:withdraw",
    "record:open_withdrawn",
    "record:erase",
    "photo:open",
    "note:open",
    "codes:open",
    "codes:hand_out",
    "database:restore",
]
Thing = Literal["record", "note", "codes", "photo"]


@dataclass(frozen=True, slots=True)
class Access:
    """One line of the access log. `what`: thing:verb; ids, or None."""

    at: str
    person: str | None
    tablet: str | None
    what: str
    record: str | None
    detail: str


def note(
    db: Database,
    what: What,
    *,
    person: str | None = None,
    tablet: str | None = None,
    record: str | None = None,
    detail: str = "",
    at: str | None = None,
) -> None:
    """Add one line. Joins the transaction that is open, if one is."""
    db.conn.execute(
        "INSERT INTO access_log (at, person, tablet, what, record, detail)"
        " VALUES (?, ?, ?, ?, ?, ?)",
        (at or utc_now(), person, tablet, what, record, detail),
    )


def record_access(
    db: Database, person: str, thing: Thing, record: str, detail: str = ""
) -> None:
    """Note that a person opened a record, its note, its codes or a photo of it."""
    whats: dict[Thing, What] = {
        "record": "record:open",
        "note": "note:open",
        "codes": "codes:open",
        "photo": "photo:open",
    }
    note(db, whats[thing], person=person, record=record, detail=detail)


def of_record(db: Database, record: str) -> list[Access]:
    """Return who opened a record, latest first."""
    return _read(db, " WHERE record = ? ORDER BY id DESC", (record,))


def latest(db: Database, limit: int = 200) -> list[Access]:
    """Return the last lines, latest first."""
    return _read(db, " ORDER BY id DESC LIMIT ?", (limit,))


def _read(db: Database, rest: str, values: tuple[object, ...]) -> list[Access]:
    names = ", ".join(Access.__slots__)
    rows = db.conn.execute(f"SELECT {names} FROM access_log{rest}", values)  # noqa: S608
    return [Access(*row) for row in rows]
