"""Erase what one entry says, for good: its reason stays, as an entry of the desk."""

from __future__ import annotations

from sqlite_utils import Database

from webapp.db import writing
from webapp.record import desk_log, later, log, photos
from webapp.record.desk import Writer, body_of
from webapp.record.entry import DESK_LOG
from webapp.record.photo import sealed_in
from webapp.record.records import refresh
from webapp.record.ruling import read_body
from webapp.say import say

ERASURES = "erasures"


class CannotErase(ValueError):
    """The entry is not there, is gone already, or is the desk's own."""


def erase(db: Database, entry_id: str, writer: Writer, reason: str) -> str:
    """Erase an entry's body; return the id of the entry that gives the reason.

    A photo that it names goes with it, here or still on its way. Header, digest and
    place in the chain stay, and a signed note is not changed. What the desk wrote
    (signatures, reasons) is never erased. Raises CannotErase.
    """
    if not reason.strip():
        raise CannotErase(say("erase.reason"))
    # Else the old bytes would stay in the file's free pages.
    db.conn.execute("PRAGMA secure_delete = ON")
    with writing(db):
        found = log.entry_by_id(db, entry_id)
        if found is None:
            raise CannotErase(say("erase.unknown", entry=entry_id))
        if found.header.log == DESK_LOG:
            raise CannotErase(say("erase.desk"))
        if found.body is None:
            raise CannotErase(say("erase.gone"))
        value = {"entry": entry_id, "reason": reason.strip(), **_shell(found.body)}
        body = body_of(writer, ERASURES, "add", value)
        told = desk_log.append(db, found.header.record, body)
        later.erase_body(db, found.position, told)
        photos.erase(db, found.header.record, _photos(found.body), told)
        refresh(db, [found.header.record])
    # The write-ahead log held the body as well.
    db.conn.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return told


def _photos(raw: bytes) -> list[str]:
    body = read_body(raw)
    return list(sealed_in(body["value"])) if body else []


def _shell(raw: bytes) -> dict[str, str]:
    """Return what an entry did to others, without a word of what it said.

    The fold reads it: else an answer that was put right would come back.
    """
    body = read_body(raw)
    if body is None:
        return {}
    value = body["value"] if body["op"] == "strike" else {}
    named = {
        "path": body["path"],
        "op": body["op"],
        "seen": " ".join(body["seen"]),
        "strikes": str(value.get("strikes", "")) if isinstance(value, dict) else "",
    }
    return {name: told for name, told in named.items() if told}
