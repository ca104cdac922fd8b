"""Made-up entries to measure with: slices of a whole case, so that every kind comes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from webapp.paths import demo_folder
from webapp.record.entry import decode_body, uuid7
from webapp.record.streams import read_stream
from webapp.record.writer import Draft, SealedEntry, Writer

CASE = "1-clean-emergency.json"
EACH = 20
# A step without a common factor with the number of entries meets all of them.
_STEP = 13


def drafts_of_records(count: int, each: int = EACH) -> Iterator[tuple[str, Draft]]:
    """Yield (record, draft) for `count` records of `each` entries.

    The name, the number and the wire come first, then one in thirteen of the rest,
    begun elsewhere for every record. Each draft has an id of its own.
    """
    stream = read_stream(demo_folder() / CASE)
    first = [d for d in stream.drafts if _is_always_there(d)]
    rest = [d for d in stream.drafts if not _is_always_there(d)]
    for number in range(count):
        record = uuid7()
        picked = [
            rest[(number * each + n * _STEP) % len(rest)]
            for n in range(each - len(first))
        ]
        ids = {draft.id: uuid7() for draft in (*first, *picked)}
        for draft in (*first, *picked):
            yield record, _renamed(draft, ids)


def sealed_entries(writer: Writer, records: int, each: int = EACH) -> list[SealedEntry]:
    """Return the entries of these records as a tablet holds them."""
    return [writer.write(r, draft) for r, draft in drafts_of_records(records, each)]


def as_documents(entries: list[SealedEntry]) -> list[dict[str, Any]]:
    """Return the same entries in clear, as documents of a document database."""
    return [
        {
            "_id": entry.header.id,
            "record": entry.header.record,
            "log": entry.header.log,
            "seq": entry.header.seq,
            **decode_body(entry.body),
        }
        for entry in entries
    ]


def _is_always_there(draft: Draft) -> bool:
    return draft.path in ("patient.family_name", "patient.record_number", "wires")


def _renamed(draft: Draft, ids: dict[str, str]) -> Draft:
    """Return the draft under an id of its own, as are the rows its path names."""
    path = draft.path
    for old, new in ids.items():
        path = path.replace(old, new)
    return Draft(
        ids[draft.id],
        path,
        draft.op,
        draft.value,
        tuple(ids[i] for i in draft.seen if i in ids),
        draft.at,
        draft.author,
        draft.entered_by,
        draft.called_by,
        draft.source,
        draft.how,
    )
