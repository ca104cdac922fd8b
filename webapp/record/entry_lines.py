"""Every entry of a record as one line each, with what happened to it since."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from webapp.apart import apart
from webapp.catalogue import CATALOGUE
from webapp.record.aside import as_kept, as_typed
from webapp.record.erase import ERASURES
from webapp.record.log import LoggedEntry
from webapp.record.open_record import OpenRecord
from webapp.record.ruling import read_body
from webapp.record.rulings import RULINGS
from webapp.say import say, say_apart


@dataclass(frozen=True, slots=True)
class EntryLine:
    """One entry. `told`: its value in words; `counts`: whether it counts, or why not.

    `names`: id of the entry it is about, or "".
    """

    entry: LoggedEntry
    path: str
    label: str
    is_strike: bool
    told: str
    author: str
    entered_by: str
    utc: str
    how: str
    counts: str
    names: str


def entry_lines(found: OpenRecord, path: str = "") -> list[EntryLine]:
    """Return the entries of a record in position order; of one path, if given."""
    bodies = [(entry, _body(entry)) for entry in found.logged]
    places = {entry.header.id: entry.position for entry in found.logged}
    # What an erasure tells of the entry it names: its field, and why it is gone.
    gone = {
        str(body["value"].get("entry")): body["value"]
        for _, body in bodies
        if body.get("path") == ERASURES and isinstance(body.get("value"), dict)
    }
    return [
        _line(entry, body, places, gone)
        for entry, body in bodies
        if not path or _path(entry, body, gone) == path
    ]


def _line(
    entry: LoggedEntry,
    body: dict[str, Any],
    places: dict[str, int],
    gone: dict[str, dict[str, Any]],
) -> EntryLine:
    path = _path(entry, body, gone)
    field = CATALOGUE.field(path)
    value = body.get("value")
    named = value.get("entry") if isinstance(value, dict) else None
    about = str(named) if path in (RULINGS, ERASURES) and named in places else ""
    at = body.get("at")
    return EntryLine(
        entry,
        path,
        field.label if field else path or say("review.unreadable"),
        body.get("op") == "strike",
        _told(path, value, places) if body else _untold(entry, gone),
        _name(body.get("author")),
        _name(body.get("entered_by")),
        str(at.get("utc", "")) if isinstance(at, dict) else "",
        str(body.get("how", "")),
        _counts(entry),
        about,
    )


def _path(
    entry: LoggedEntry, body: dict[str, Any], gone: dict[str, dict[str, Any]]
) -> str:
    told = body or gone.get(entry.header.id, {})
    return str(told.get("path", ""))


def _told(path: str, value: Any, places: dict[str, int]) -> str:
    if path == RULINGS and isinstance(value, dict):
        key = "review.ruled." + (
            "counted" if value.get("ruling") == "counted" else "set_aside"
        )
        place = places.get(str(value.get("entry")), "–")
        because = value.get("because", "")
        return say_apart(key, position=place, because=because).strip()
    if path == ERASURES and isinstance(value, dict):
        place = places.get(str(value.get("entry")), "–")
        reason = value.get("reason", "")
        return say_apart("review.erased", position=place, reason=reason)
    if isinstance(value, dict) and "strikes" in value:
        place = places.get(str(value["strikes"]), "–")
        told = say("review.strikes", position=place)
        return f"{told} {apart(str(value.get('reason') or ''))}".strip()
    return as_typed(path, value, apart)


def _untold(entry: LoggedEntry, gone: dict[str, dict[str, Any]]) -> str:
    if entry.body is None:
        why = gone.get(entry.header.id, {}).get("reason", "")
        return say_apart("review.was_erased", reason=why)
    if entry.form == "opened":
        return as_kept(entry.body)
    return say("review.body_gone")


def _counts(entry: LoggedEntry) -> str:
    if entry.body is None:
        return say("review.erased_word")
    word = say("review.counted") if entry.ruling == "counted" else entry.because
    if entry.told_at:
        return say("review.counts_since", word=word, position=entry.told_at)
    return word


def _name(person: Any) -> str:
    name = person.get("name") if isinstance(person, dict) else None
    return name if isinstance(name, str) else ""


def _body(entry: LoggedEntry) -> dict[str, Any]:
    if entry.body is None or entry.form != "opened":
        return {}
    return read_body(entry.body) or {}
