"""The entries that others name, by `seen` or by a strike: where each stands."""

from __future__ import annotations

import json
from collections.abc import Iterable

from sqlite_utils import Database

from webapp.record import log
from webapp.record.arrival import Arrived
from webapp.record.log import LoggedEntry
from webapp.record.ruling import Named, names_in


def named_entries(db: Database, new: Iterable[Arrived]) -> dict[str, Named]:
    """Return what is known of the entries that new ones name, by id.

    Looks among the new ones first, then in the log. Does not write.
    """
    readable = [(one.header, one.body) for one in new if one.body and not one.against]
    known = {
        header.id: Named(header.record, body["path"], body["op"])
        for header, body in readable
    }
    named = {name for _, body in readable for name in names_in(body)} - set(known)
    for entry_id, logged in log.entries_by_id(db, named).items():
        where = _named(logged)
        if where is not None:
            known[entry_id] = where
    return known


def _named(logged: LoggedEntry) -> Named | None:
    """Return where a kept entry stands; None when its body is sealed or gone."""
    if logged.body is None or logged.form != "opened":
        return None
    try:
        body = json.loads(logged.body)
    except (ValueError, RecursionError):
        return None
    if not isinstance(body, dict):
        return None
    return Named(logged.header.record, str(body.get("path")), str(body.get("op")))
