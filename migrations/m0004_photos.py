"""Keep photos as entries are kept, what is shown of them, and which were erased."""

from sqlite_utils import Database
from sqlite_utils.migrations import Migrations

from webapp import row_sums

migrations = Migrations("wiremark")

TABLES = {
    # What is shown of a photo whose seal opened; can be made again from its bytes.
    "photo_view": """
    CREATE TABLE photo_view (
      sealed_sha256 TEXT PRIMARY KEY REFERENCES photo (sealed_sha256),
      plain_sha256 TEXT NOT NULL,
      size INTEGER NOT NULL,
      type TEXT NOT NULL,
      width INTEGER NOT NULL,
      height INTEGER NOT NULL,
      because TEXT NOT NULL,
      jpeg BLOB
    )
    """,
    # A photo may be named by an entry that is erased before its bytes arrive.
    "photo_erased": """
    CREATE TABLE photo_erased (
      sealed_sha256 TEXT PRIMARY KEY,
      record TEXT NOT NULL,
      reason_entry TEXT NOT NULL,
      erased_at TEXT NOT NULL
    )
    """,
}
GUARDS = (
    "CREATE INDEX photo_record ON photo (record)",
    """
    CREATE TRIGGER photo_never_changes BEFORE UPDATE ON photo
    BEGIN SELECT RAISE(ABORT, 'photos never change'); END
    """,
    """
    CREATE TRIGGER photo_never_replaced BEFORE INSERT ON photo
    WHEN EXISTS (SELECT 1 FROM photo WHERE sealed_sha256 = NEW.sealed_sha256)
    BEGIN SELECT RAISE(ABORT, 'photos are never replaced'); END
    """,
    """
    CREATE TRIGGER photo_never_comes_back BEFORE INSERT ON photo
    WHEN EXISTS (SELECT 1 FROM photo_erased
                 WHERE sealed_sha256 = NEW.sealed_sha256)
    BEGIN SELECT RAISE(ABORT, 'an erased photo never comes back'); END
    """,
    """
    CREATE TRIGGER photo_goes_only_with_reason BEFORE DELETE ON photo
    WHEN NOT EXISTS (SELECT 1 FROM photo_erased
                     WHERE sealed_sha256 = OLD.sealed_sha256)
    BEGIN SELECT RAISE(ABORT, 'a photo is erased only with a reason'); END
    """,
    """
    CREATE TRIGGER photo_erased_never_changes BEFORE UPDATE ON photo_erased
    BEGIN SELECT RAISE(ABORT, 'erasures never change'); END
    """,
    """
    CREATE TRIGGER photo_erased_never_goes BEFORE DELETE ON photo_erased
    BEGIN SELECT RAISE(ABORT, 'erasures never go'); END
    """,
)


@migrations()
def m0004_photos(db: Database) -> None:
    """Create both tables, guard the photos that are there."""
    for statement in (*TABLES.values(), *GUARDS):
        db.execute(statement)
    for table in TABLES:
        row_sums.guard(db, table)
