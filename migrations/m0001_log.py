"""Create the append-only log, the people and tablets, and what is derived."""

from sqlite_utils import Database
from sqlite_utils.migrations import Migrations

migrations = Migrations("wiremark")

# The log keeps headers and digests for ever; bodies live apart so that one named
# function can erase them and leave the chain whole.
LOG = """
CREATE TABLE entry (
  position INTEGER PRIMARY KEY,
  v INTEGER NOT NULL,
  id TEXT NOT NULL UNIQUE,
  record TEXT NOT NULL,
  log TEXT NOT NULL,
  seq INTEGER NOT NULL CHECK (seq > 0),
  key TEXT NOT NULL,
  body_sha256 TEXT NOT NULL,
  digest TEXT NOT NULL,
  chain TEXT NOT NULL,
  received_at TEXT NOT NULL,
  UNIQUE (log, seq)
);
CREATE INDEX entry_record ON entry (record, position);

CREATE TABLE body (
  position INTEGER PRIMARY KEY REFERENCES entry (position),
  form TEXT NOT NULL CHECK (form IN ('opened', 'sealed')),
  bytes BLOB NOT NULL
);

CREATE TABLE erasure (
  position INTEGER PRIMARY KEY REFERENCES entry (position),
  reason_entry TEXT NOT NULL,
  erased_at TEXT NOT NULL
);

-- Whether a body counts is decided at receipt; a later server may only release.
CREATE TABLE ruling (
  id INTEGER PRIMARY KEY,
  position INTEGER NOT NULL REFERENCES entry (position),
  ruling TEXT NOT NULL CHECK (ruling IN ('counted', 'set_aside')),
  because TEXT NOT NULL DEFAULT '',
  server_version TEXT NOT NULL,
  ruled_at TEXT NOT NULL
);
CREATE INDEX ruling_position ON ruling (position, id);

CREATE TABLE wrap (
  key TEXT PRIMARY KEY,
  record TEXT NOT NULL,
  log TEXT NOT NULL,
  tablet TEXT NOT NULL,
  server_key TEXT NOT NULL,
  epk BLOB NOT NULL,
  nonce BLOB NOT NULL,
  wrapped BLOB NOT NULL
);

CREATE TABLE server_key (
  id TEXT PRIMARY KEY,
  spki BLOB NOT NULL,
  made_at TEXT NOT NULL,
  retired_at TEXT
);
"""

# A BEFORE INSERT trigger sees REPLACE before the old row goes, whatever the
# connection set for recursive triggers.
GUARDS = """
CREATE TRIGGER entry_never_changes BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'entries never change'); END;
CREATE TRIGGER entry_never_goes BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'entries never go'); END;
CREATE TRIGGER entry_never_replaced BEFORE INSERT ON entry
WHEN EXISTS (SELECT 1 FROM entry WHERE id = NEW.id)
  OR EXISTS (SELECT 1 FROM entry WHERE log = NEW.log AND seq = NEW.seq)
  OR EXISTS (SELECT 1 FROM entry WHERE position = NEW.position)
BEGIN SELECT RAISE(ABORT, 'entries are never replaced'); END;

CREATE TRIGGER body_never_changes BEFORE UPDATE ON body
BEGIN SELECT RAISE(ABORT, 'bodies never change'); END;
CREATE TRIGGER body_never_replaced BEFORE INSERT ON body
WHEN EXISTS (SELECT 1 FROM body WHERE position = NEW.position)
BEGIN SELECT RAISE(ABORT, 'bodies are never replaced'); END;
CREATE TRIGGER body_goes_only_with_reason BEFORE DELETE ON body
WHEN NOT EXISTS (SELECT 1 FROM erasure WHERE position = OLD.position)
BEGIN SELECT RAISE(ABORT, 'a body is erased only with a reason'); END;

CREATE TRIGGER ruling_never_changes BEFORE UPDATE ON ruling
BEGIN SELECT RAISE(ABORT, 'rulings never change'); END;
CREATE TRIGGER ruling_never_goes BEFORE DELETE ON ruling
BEGIN SELECT RAISE(ABORT, 'rulings never go'); END;
CREATE TRIGGER ruling_only_releases BEFORE INSERT ON ruling
WHEN NEW.ruling = 'set_aside' AND EXISTS (
  SELECT 1 FROM ruling WHERE position = NEW.position AND ruling = 'counted')
BEGIN SELECT RAISE(ABORT, 'a counted entry is never set aside'); END;
"""

PEOPLE = """
CREATE TABLE person (
  id TEXT PRIMARY KEY,
  login TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  credential TEXT NOT NULL DEFAULT '',
  roles TEXT NOT NULL,
  npi TEXT NOT NULL DEFAULT '',
  billing_group TEXT NOT NULL DEFAULT '',
  password_hash TEXT NOT NULL,
  session_version INTEGER NOT NULL DEFAULT 1,
  added_at TEXT NOT NULL,
  deactivated_at TEXT
);

CREATE TABLE sign_in_failure (
  id INTEGER PRIMARY KEY,
  login TEXT NOT NULL,
  address TEXT NOT NULL,
  at REAL NOT NULL
);
CREATE INDEX sign_in_failure_at ON sign_in_failure (at);

CREATE TABLE tablet (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  code_sha256 TEXT,
  code_expires_at TEXT,
  token_sha256 TEXT UNIQUE,
  added_at TEXT NOT NULL,
  enrolled_at TEXT,
  revoked_at TEXT,
  last_seen_at TEXT
);

CREATE TABLE tablet_log (
  log TEXT PRIMARY KEY,
  tablet TEXT NOT NULL REFERENCES tablet (id),
  first_seen_at TEXT NOT NULL,
  announced_tip INTEGER NOT NULL DEFAULT 0
);

-- What a tablet said it holds for a record, delivered or not.
CREATE TABLE announced (
  tablet TEXT NOT NULL REFERENCES tablet (id),
  record TEXT NOT NULL,
  log TEXT NOT NULL,
  tip INTEGER NOT NULL,
  at TEXT NOT NULL,
  PRIMARY KEY (tablet, record, log)
);

CREATE TABLE person_grant (
  token_sha256 TEXT PRIMARY KEY,
  tablet TEXT NOT NULL REFERENCES tablet (id),
  person TEXT NOT NULL REFERENCES person (id),
  expires_at TEXT NOT NULL
);

-- Heads that outsiders were told, so that a server gone back is found out.
CREATE TABLE witness (
  tablet TEXT NOT NULL REFERENCES tablet (id),
  position INTEGER NOT NULL,
  chain TEXT NOT NULL,
  at TEXT NOT NULL,
  PRIMARY KEY (tablet, position, chain)
);

CREATE TABLE access_log (
  id INTEGER PRIMARY KEY,
  at TEXT NOT NULL,
  person TEXT,
  tablet TEXT,
  what TEXT NOT NULL,
  record TEXT,
  detail TEXT NOT NULL DEFAULT ''
);
"""

DERIVED = """
-- Everything here can be made again from the log.
CREATE TABLE record (
  id TEXT PRIMARY KEY,
  fold_version INTEGER NOT NULL,
  folded_to INTEGER NOT NULL,
  opened_at TEXT NOT NULL,
  last_at TEXT NOT NULL,
  who TEXT NOT NULL DEFAULT '',
  born TEXT NOT NULL DEFAULT '',
  number TEXT NOT NULL DEFAULT '',
  encounter TEXT NOT NULL DEFAULT '',
  operator TEXT NOT NULL DEFAULT '',
  outcome TEXT NOT NULL DEFAULT '',
  open_questions INTEGER NOT NULL DEFAULT 0,
  two_answers INTEGER NOT NULL DEFAULT 0,
  late_entries INTEGER NOT NULL DEFAULT 0,
  set_aside INTEGER NOT NULL DEFAULT 0,
  note_version INTEGER NOT NULL DEFAULT 0,
  state TEXT NOT NULL DEFAULT 'not_signed'
);
"""

PAPER = """
CREATE TABLE note (
  record TEXT NOT NULL,
  version INTEGER NOT NULL,
  attestation TEXT NOT NULL,
  content_digest TEXT NOT NULL,
  pdf BLOB NOT NULL,
  pdf_sha256 TEXT NOT NULL,
  made_at TEXT NOT NULL,
  PRIMARY KEY (record, version)
);
CREATE TRIGGER note_never_changes BEFORE UPDATE ON note
BEGIN SELECT RAISE(ABORT, 'notes never change'); END;
CREATE TRIGGER note_never_goes BEFORE DELETE ON note
BEGIN SELECT RAISE(ABORT, 'notes never go'); END;
CREATE TRIGGER note_never_replaced BEFORE INSERT ON note
WHEN EXISTS (SELECT 1 FROM note
             WHERE record = NEW.record AND version = NEW.version)
BEGIN SELECT RAISE(ABORT, 'notes are never replaced'); END;

CREATE TABLE photo (
  sealed_sha256 TEXT PRIMARY KEY,
  record TEXT NOT NULL,
  key TEXT NOT NULL,
  tablet TEXT NOT NULL,
  bytes BLOB NOT NULL,
  received_at TEXT NOT NULL
);

CREATE TABLE export_log (
  id TEXT PRIMARY KEY,
  at TEXT NOT NULL,
  person TEXT NOT NULL,
  what TEXT NOT NULL,
  records TEXT NOT NULL,
  rows INTEGER NOT NULL,
  sha256 TEXT NOT NULL
);
"""


@migrations()
def m0001_log(db: Database) -> None:
    """Create every table of the first release."""
    for script in (LOG, GUARDS, PEOPLE, DERIVED, PAPER):
        for statement in statements(script):
            db.execute(statement)


def statements(script: str) -> list[str]:
    """Split a script at the semicolons that end a statement or a trigger.

    `executescript` would commit the migration's own transaction first.
    """
    found: list[str] = []
    lines: list[str] = []
    for line in script.splitlines():
        lines.append(line)
        text = "\n".join(lines).strip()
        inside_trigger = "CREATE TRIGGER" in text and not text.endswith("END;")
        if text.endswith(";") and not inside_trigger:
            found.append(text)
            lines = []
    return found
