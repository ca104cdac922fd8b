"""Keep each policy that was ever in use, and which one a record began with."""

from sqlite_utils import Database
from sqlite_utils.migrations import Migrations

from webapp import row_sums

migrations = Migrations("wiremark")

TABLES = (
    """
    CREATE TABLE limits (
      sha256 TEXT PRIMARY KEY,
      version TEXT NOT NULL,
      rows TEXT NOT NULL
    )
    """,
    """
    CREATE TABLE limits_use (
      number INTEGER PRIMARY KEY,
      limits TEXT NOT NULL REFERENCES limits (sha256),
      since TEXT NOT NULL
    )
    """,
    """
    CREATE TABLE record_limits (
      record TEXT PRIMARY KEY,
      limits TEXT NOT NULL REFERENCES limits (sha256),
      pinned_at TEXT NOT NULL
    )
    """,
)
NAMES = ("limits", "limits_use", "record_limits")


@migrations()
def m0006_limits(db: Database) -> None:
    """Create the tables, whose rows never change or go, with their sums."""
    for statement in TABLES:
        db.execute(statement)
    for name in NAMES:
        for when, verb in (("UPDATE", "changes"), ("DELETE", "goes")):
            db.execute(
                f"CREATE TRIGGER {name}_never_{verb} BEFORE {when} ON {name}"
                f" BEGIN SELECT RAISE(ABORT, 'a policy in use never {verb}'); END"
            )
        row_sums.guard(db, name)
