"""Photos: their bytes, what was opened of them, and what became of the erased."""

from __future__ import annotations

import json
from collections.abc import Iterator

from sqlite_utils import Database

from webapp.record import entry as entries
from webapp.record.entry import sha256_hex
from webapp.record.keyring import Keyring
from webapp.record.photo_seen import original_bytes
from webapp.record.verify_log import Found, raw_of

_ERASED = """
SELECT x.sealed_sha256, x.record, r.log, r.record, b.bytes,
  EXISTS (SELECT 1 FROM photo WHERE sealed_sha256 = x.sealed_sha256)
FROM photo_erased x
LEFT JOIN entry r ON r.id = x.reason_entry
LEFT JOIN body b ON b.position = r.position
ORDER BY x.sealed_sha256
"""


def photos(db: Database, keyring: Keyring | None) -> Iterator[Found]:
    """Hold each photo's bytes against its name, and what it shows against its bytes.

    `keyring`: None leaves out what only an opened seal can tell.
    """
    rows = db.conn.execute(
        "SELECT p.sealed_sha256, p.bytes, v.plain_sha256 FROM photo p"
        " LEFT JOIN photo_view v ON v.sealed_sha256 = p.sealed_sha256"
        " ORDER BY p.sealed_sha256"
    )
    for name, raw, plain_sha256 in rows:
        if sha256_hex(raw_of(raw)) != name:
            yield "photo", str(name), "verify.photo"
        elif keyring is not None and plain_sha256 is not None:
            original = original_bytes(db, keyring, name)
            # A seal whose key is gone is told with the keys.
            if original is not None and sha256_hex(original) != plain_sha256:
                yield "photo_view", str(name), "verify.photo_view"


def erased(db: Database) -> Iterator[Found]:
    """Hold each erased photo against the entry that gives the reason."""
    for name, record, log, told_in, raw, is_there in db.conn.execute(_ERASED):
        if log != entries.DESK_LOG or told_in != record or not _is_reason(raw):
            yield "photo_erased", str(name), "verify.photo_erased"
        if is_there:
            yield "photo", str(name), "verify.not_erased"


def _is_reason(raw: bytes | None) -> bool:
    try:
        body = json.loads(raw or b"{}")
    except (ValueError, RecursionError):
        return False
    return isinstance(body, dict) and body.get("path") == "erasures"
