"""Remember each code line that was handed out, so that its number never changes."""

from sqlite_utils import Database
from sqlite_utils.migrations import Migrations

migrations = Migrations("wiremark")

LINES = """
CREATE TABLE code_line (
  record TEXT NOT NULL,
  line INTEGER NOT NULL CHECK (line > 0),
  key TEXT NOT NULL,
  view TEXT NOT NULL,
  rule TEXT NOT NULL,
  rule_edition TEXT NOT NULL,
  code_system TEXT NOT NULL,
  code_edition TEXT NOT NULL,
  code TEXT NOT NULL,
  own_words TEXT NOT NULL,
  PRIMARY KEY (record, line),
  UNIQUE (record, key)
)
"""
# A receiver takes a line back by its number, so a number names one line for ever.
GUARDS = (
    """
    CREATE TRIGGER code_line_never_goes BEFORE DELETE ON code_line
    BEGIN SELECT RAISE(ABORT, 'code lines never go'); END
    """,
    """
    CREATE TRIGGER code_line_keeps_its_number BEFORE UPDATE ON code_line
    WHEN OLD.record <> NEW.record OR OLD.line <> NEW.line OR OLD.key <> NEW.key
    BEGIN SELECT RAISE(ABORT, 'a code line keeps its number'); END
    """,
)


@migrations()
def m0002_code_line(db: Database) -> None:
    """Create the table of handed-out lines."""
    for statement in (LINES, *GUARDS):
        db.execute(statement)
