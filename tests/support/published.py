"""Published cases as the tablet would have told them, folded without a server."""

from __future__ import annotations

from tests.support.records import FIXTURES
from webapp.catalogue import CATALOGUE
from webapp.record.case import Case
from webapp.record.entry import uuid7
from webapp.record.fold import Opened, fold
from webapp.record.streams import read_stream
from webapp.record.writer import body_of


def published_case(name: str, first: int | None = None) -> Case:
    """Return the case of `fixtures/published/<name>.json`.

    `first`: as it stood after so many of its entries.
    """
    stream = read_stream(FIXTURES / "published" / f"{name}.json")
    log = uuid7()
    entries = [
        Opened(draft.id, log, seq, body_of(draft))
        for seq, draft in enumerate(stream.drafts[:first], start=1)
    ]
    return Case(fold(entries), CATALOGUE)
