"""Published cases as the tablet would have told them, folded without a server."""

from __future__ import annotations

import json
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from tests.support.records import FIXTURES
from webapp.catalogue import CATALOGUE
from webapp.record.case import Case
from webapp.record.entry import uuid7
from webapp.record.fold import Opened, fold
from webapp.record.streams import Stream, read_stream
from webapp.record.writer import body_of

PUBLISHED = FIXTURES / "published"


def published_case(name: str, first: int | None = None) -> Case:
    """Return the case of `fixtures/published/<name>.json`.

    `first`: as it stood after so many of its entries.
    """
    return _case_of(read_stream(PUBLISHED / f"{name}.json"), first)


def entries_until(name: str, path: str) -> int:
    """Return how many entries of a case were told up to the last one of this path."""
    told = _told(name)["entries"]
    return max(n for n, entry in enumerate(told, 1) if entry["path"] == path)


def published_and(
    name: str, more: list[dict[str, Any]], first: int | None = None
) -> Case:
    """Return a published case with more entries after it, written as in its file.

    `first`: after so many of its own.
    """
    told = _told(name)
    told["entries"] = [*told["entries"][:first], *more]
    with TemporaryDirectory() as folder:
        file = Path(folder) / f"{name}.json"
        file.write_text(json.dumps(told), encoding="utf-8")
        return _case_of(read_stream(file))


def _told(name: str) -> dict[str, Any]:
    text = (PUBLISHED / f"{name}.json").read_text(encoding="utf-8")
    told: dict[str, Any] = json.loads(text)
    return told


def _case_of(stream: Stream, first: int | None = None) -> Case:
    log = uuid7()
    entries = [
        Opened(draft.id, log, seq, body_of(draft))
        for seq, draft in enumerate(stream.drafts[:first], start=1)
    ]
    return Case(fold(entries), CATALOGUE)
