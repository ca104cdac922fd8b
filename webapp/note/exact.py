"""The JSON that travels inside the note: coded facts, and texts in full."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from webapp.note.attached import Attached
from webapp.note.model import NoteInput
from webapp.note.text import is_printable
from webapp.say import say

SCHEMA = "wiremark-note-facts/1"
FILE_NAME = "coded-facts.json"


def facts_file(note: NoteInput) -> Attached:
    """Return the coded facts, candidates and no claim, as an attached JSON file.

    `texts` holds, exactly as recorded, every text that the typeface cannot print.
    """
    told = {
        "schema": SCHEMA,
        "candidates_not_a_claim": True,
        "content_digest": note.digests.content,
        "head": asdict(note.head),
        "catalogue_version": note.digests.catalogue,
        "limits_version": note.limits,
        "signed": note.attestation is not None,
        "facts": [asdict(fact) for fact in note.code_facts],
        "texts": list(_unprintable(note.case.fold)),
    }
    data = json.dumps(told, ensure_ascii=False, indent=1, sort_keys=True)
    words = say("note.attached_facts")
    return Attached(FILE_NAME, "application/json", words, data.encode() + b"\n")


def _unprintable(fold: dict[str, Any]) -> Iterator[dict[str, str]]:
    for path, heads in sorted(fold["values"].items()):
        for head in heads:
            for text in _texts(head["value"]):
                yield {"path": path, "entry": head["entries"][0], "text": text}
    for path, rows in sorted(fold["rows"].items()):
        for row in rows:
            for text in _texts(row["value"]):
                yield {"path": path, "entry": row["id"], "text": text}


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        if not is_printable(value):
            yield value
    elif isinstance(value, dict):
        for child in value.values():
            yield from _texts(child)
    elif isinstance(value, list):
        for child in value:
            yield from _texts(child)
