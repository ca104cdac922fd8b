"""Make every row answerable for its bytes, and keep what came too late or too often."""

from sqlite_utils import Database
from sqlite_utils.migrations import Migrations

from webapp import row_sums
from webapp.record import receipts

migrations = Migrations("wiremark")

TABLES = (
    # The chain covers what was written; this covers how it was taken in.
    """
    CREATE TABLE receipt (
      first INTEGER PRIMARY KEY,
      last INTEGER NOT NULL CHECK (last >= first),
      received_at TEXT NOT NULL,
      sha256 TEXT NOT NULL
    )
    """,
    # What a sealed body turned out to say once it could be opened.
    """
    CREATE TABLE later_body (
      position INTEGER PRIMARY KEY REFERENCES entry (position),
      bytes BLOB NOT NULL
    )
    """,
    # What was sent and not kept, for people to see and to settle.
    """
    CREATE TABLE not_kept (
      id INTEGER PRIMARY KEY,
      tablet TEXT NOT NULL REFERENCES tablet (id),
      answer TEXT NOT NULL CHECK (answer IN ('conflict', 'refused')),
      entry TEXT NOT NULL,
      record TEXT NOT NULL,
      log TEXT NOT NULL,
      seq INTEGER NOT NULL,
      because TEXT NOT NULL,
      header TEXT NOT NULL,
      sealed_sha256 TEXT NOT NULL,
      sealed BLOB,
      behind INTEGER NOT NULL,
      at TEXT NOT NULL,
      UNIQUE (tablet, header, sealed_sha256)
    )
    """,
    "CREATE INDEX not_kept_record ON not_kept (record)",
    # Entries that others hold and this log does not: it went back.
    """
    CREATE TABLE lost (
      entry TEXT PRIMARY KEY,
      record TEXT NOT NULL,
      log TEXT NOT NULL,
      seq INTEGER NOT NULL,
      header TEXT NOT NULL,
      tablet TEXT NOT NULL REFERENCES tablet (id),
      at TEXT NOT NULL
    )
    """,
    "CREATE INDEX lost_record ON lost (record)",
    "CREATE INDEX lost_log ON lost (log, seq)",
    # What was set aside may count later; `told_at` is the entry that tells it.
    """
    CREATE TABLE later_ruling (
      id INTEGER PRIMARY KEY,
      position INTEGER NOT NULL REFERENCES entry (position),
      ruling TEXT NOT NULL CHECK (ruling IN ('counted', 'set_aside')),
      because TEXT NOT NULL,
      told_at INTEGER NOT NULL REFERENCES entry (position),
      server_version TEXT NOT NULL,
      ruled_at TEXT NOT NULL
    )
    """,
    "CREATE INDEX later_ruling_position ON later_ruling (position, id)",
    "CREATE INDEX later_ruling_told_at ON later_ruling (told_at)",
    "CREATE INDEX ruling_set_aside ON ruling (position) WHERE ruling = 'set_aside'",
    # How far each log is whole, so that no exchange counts it from its start.
    "ALTER TABLE tablet_log ADD COLUMN held INTEGER NOT NULL DEFAULT 0",
    # A record whose columns wait to be made again has version 0.
    "CREATE INDEX record_stale ON record (id) WHERE fold_version = 0",
    "ALTER TABLE erasure ADD COLUMN form TEXT NOT NULL DEFAULT 'opened'",
    """
    CREATE TABLE row_sum (
      tbl TEXT NOT NULL,
      key TEXT NOT NULL,
      sha256 BLOB NOT NULL,
      PRIMARY KEY (tbl, key)
    ) WITHOUT ROWID
    """,
)
GUARDS = (
    """
    CREATE TRIGGER receipt_never_changes BEFORE UPDATE ON receipt
    BEGIN SELECT RAISE(ABORT, 'receipts never change'); END
    """,
    """
    CREATE TRIGGER receipt_never_goes BEFORE DELETE ON receipt
    BEGIN SELECT RAISE(ABORT, 'receipts never go'); END
    """,
    """
    CREATE TRIGGER later_ruling_never_changes BEFORE UPDATE ON later_ruling
    BEGIN SELECT RAISE(ABORT, 'rulings never change'); END
    """,
    """
    CREATE TRIGGER later_ruling_never_goes BEFORE DELETE ON later_ruling
    BEGIN SELECT RAISE(ABORT, 'rulings never go'); END
    """,
    """
    CREATE TRIGGER later_ruling_only_releases BEFORE INSERT ON later_ruling
    WHEN NEW.ruling = 'set_aside' AND EXISTS (
      SELECT 1 FROM ruling WHERE position = NEW.position AND ruling = 'counted'
      UNION ALL
      SELECT 1 FROM later_ruling
      WHERE position = NEW.position AND ruling = 'counted')
    BEGIN SELECT RAISE(ABORT, 'a counted entry is never set aside'); END
    """,
    """
    CREATE TRIGGER later_body_never_changes BEFORE UPDATE ON later_body
    BEGIN SELECT RAISE(ABORT, 'bodies never change'); END
    """,
    """
    CREATE TRIGGER later_body_never_replaced BEFORE INSERT ON later_body
    WHEN EXISTS (SELECT 1 FROM later_body WHERE position = NEW.position)
    BEGIN SELECT RAISE(ABORT, 'bodies are never replaced'); END
    """,
    """
    CREATE TRIGGER later_body_goes_only_with_reason BEFORE DELETE ON later_body
    WHEN NOT EXISTS (SELECT 1 FROM erasure WHERE position = OLD.position)
    BEGIN SELECT RAISE(ABORT, 'a body is erased only with a reason'); END
    """,
)


@migrations()
def m0003_under_fire(db: Database) -> None:
    """Create the tables, receipt what is in the log, sum every other row."""
    for statement in (*TABLES, *GUARDS):
        db.execute(statement)
    receipts.of_the_past(db)
    for table in row_sums.summed_tables(db):
        row_sums.guard(db, table)
