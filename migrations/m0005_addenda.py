"""Keep the papers of what is added after signing, as signed notes are kept."""

from sqlite_utils import Database
from sqlite_utils.migrations import Migrations

from webapp import row_sums

migrations = Migrations("wiremark")

TABLE = """
CREATE TABLE added_paper (
  record TEXT NOT NULL,
  number INTEGER NOT NULL,
  entry TEXT NOT NULL UNIQUE,
  pdf BLOB NOT NULL,
  pdf_sha256 TEXT NOT NULL,
  made_at TEXT NOT NULL,
  PRIMARY KEY (record, number)
)
"""
GUARDS = (
    """
    CREATE TRIGGER added_paper_never_changes BEFORE UPDATE ON added_paper
    BEGIN SELECT RAISE(ABORT, 'papers never change'); END
    """,
    """
    CREATE TRIGGER added_paper_never_goes BEFORE DELETE ON added_paper
    BEGIN SELECT RAISE(ABORT, 'papers never go'); END
    """,
    """
    CREATE TRIGGER added_paper_never_replaced BEFORE INSERT ON added_paper
    WHEN EXISTS (SELECT 1 FROM added_paper
                 WHERE record = NEW.record AND number = NEW.number)
    BEGIN SELECT RAISE(ABORT, 'papers are never replaced'); END
    """,
)


@migrations()
def m0005_addenda(db: Database) -> None:
    """Create the table with its guards and its sums."""
    for statement in (TABLE, *GUARDS):
        db.execute(statement)
    row_sums.guard(db, "added_paper")
