"""The log itself: places, digests, chain, receipts, later rulings, erasures.

Each walk gives (table, row, key of the words) for what does not fit.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from sqlite_utils import Database

from webapp.record import entry as entries
from webapp.record import receipts
from webapp.record.entry import Header

Found = tuple[str, str, str]
# A body with a changed byte may say anything; whoever reads it falls over one of these.
UNFOLDABLE = (LookupError, TypeError, ValueError, AttributeError)

_LINKS = """
SELECT e.position, e.v, e.id, e.record, e.log, e.seq, e.key,
  e.body_sha256, e.digest, e.chain, b.bytes, x.position
FROM entry e
LEFT JOIN body b ON b.position = e.position
LEFT JOIN erasure x ON x.position = e.position
ORDER BY e.position
"""
_LATER = """
SELECT n.id, n.position, n.ruling, n.because, t.log, t.record, e.record, b.bytes,
  o.bytes, e.v, e.id, e.record, e.log, e.seq, e.key, x.position
FROM later_ruling n
JOIN entry e ON e.position = n.position
JOIN entry t ON t.position = n.told_at
LEFT JOIN body b ON b.position = n.told_at
LEFT JOIN later_body o ON o.position = n.position
LEFT JOIN erasure x ON x.position = n.position
ORDER BY n.id
"""
_ERASED = """
SELECT x.position, r.log, b.bytes, e.id,
  EXISTS (SELECT 1 FROM body WHERE position = x.position)
  OR EXISTS (SELECT 1 FROM later_body WHERE position = x.position)
FROM erasure x
JOIN entry e ON e.position = x.position
LEFT JOIN entry r ON r.id = x.reason_entry
LEFT JOIN body b ON b.position = r.position
ORDER BY x.position
"""


def links(db: Database) -> Iterator[Found]:
    """Walk every entry: its place, its body's digest, its own, and the chain."""
    expected, chained = 0, entries.GENESIS_CHAIN
    for row in db.conn.execute(_LINKS):
        position, header = row[0], Header(*row[1:7])
        body_sha256, digest, chain, body, erased = row[7:]
        expected += 1
        if position != expected:
            yield "entry", f"position {expected}", "verify.place"
            expected = position
        if body is None and erased is None:
            yield "body", f"position {position}", "verify.body_gone"
        elif body is not None and entries.sha256_hex(raw_of(body)) != body_sha256:
            yield "body", f"position {position}", "verify.body"
        if _digest(header, body_sha256) != digest:
            yield "entry", f"position {position}", "verify.digest"
        if _chain(chained, digest) != chain:
            yield "entry", f"position {position}", "verify.chain"
        # One break is told once: what follows is held against what stands here.
        chained = chain
    stray = db.conn.execute(
        "SELECT position FROM body WHERE position NOT IN (SELECT position FROM entry)"
    )
    yield from (("body", f"position {row[0]}", "verify.body_stray") for row in stray)


def receipts_kept(db: Database) -> Iterator[Found]:
    """Hold when each batch came, and whether it counted, against its receipt."""
    for table, position in receipts.broken(db):
        yield table, f"position {position}", "verify.receipt"
    twice = db.conn.execute(
        "SELECT position FROM ruling GROUP BY position HAVING count(*) > 1"
        " UNION SELECT position FROM ruling WHERE position NOT IN"
        " (SELECT position FROM entry)"
    )
    yield from (("ruling", f"position {row[0]}", "verify.ruling") for row in twice)


def later(db: Database) -> Iterator[Found]:
    """Hold each later ruling, and each body opened later, against the entry telling it.

    The newest ruling on an entry that could be opened later names its digest.
    """
    told: set[int] = set()
    for row in db.conn.execute(_LATER):
        row_id, position, ruling, because, log, *records, raw, opened = row[:9]
        header, is_erased = Header(*row[9:15]), row[15] is not None
        value = _value(raw, "rulings")
        told.add(position)
        is_told = (
            log == entries.DESK_LOG
            and records[0] == records[1]
            and value.get("entry") == header.id
            and value.get("ruling") == ruling
            and value.get("because", "") == because
        )
        if not is_told:
            yield "later_ruling", str(row_id), "verify.later_ruling"
        if opened is not None and not is_erased:
            digest = entries.digest(header.encode(), entries.sha256_hex(raw_of(opened)))
            if digest != value.get("digest"):
                yield "later_body", f"position {position}", "verify.body"
    for (position,) in db.conn.execute("SELECT position FROM later_body").fetchall():
        if position not in told:
            yield "later_body", f"position {position}", "verify.body_stray"


def erased(db: Database) -> Iterator[Found]:
    """Hold each erasure against the entry that gives its reason."""
    for position, log, raw, entry_id, is_there in db.conn.execute(_ERASED):
        value = _value(raw, "erasures")
        if log != entries.DESK_LOG or value.get("entry") != entry_id:
            yield "erasure", f"position {position}", "verify.erasure"
        if is_there:
            yield "erasure", f"position {position}", "verify.not_erased"


def raw_of(value: Any) -> bytes:
    """Return a column's bytes, whatever kind of value stands there."""
    return value if isinstance(value, bytes) else str(value).encode()


def _digest(header: Header, body_sha256: str) -> str:
    """Return an entry's digest, "" where there is none of what is there."""
    try:
        return entries.digest(header.encode(), body_sha256)
    except (ValueError, TypeError):
        return ""


def _chain(before: str, digest: str) -> str:
    try:
        return entries.chain(before, digest)
    except (ValueError, TypeError):
        return ""


def _value(raw: bytes | None, path: str) -> dict[str, Any]:
    try:
        body = json.loads(raw or b"{}")
    except (ValueError, RecursionError):
        return {}
    if not isinstance(body, dict) or body.get("path") != path:
        return {}
    value = body.get("value")
    return value if isinstance(value, dict) else {}
