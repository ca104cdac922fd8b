"""What a person said to a remark: entries under `remarks.<code>`, on its evidence."""

from __future__ import annotations

from typing import Any

from webapp.clinical.found import Found
from webapp.clinical.rows import Row, rows_of

# What the catalogue's text of the evidence holds: ids of 36 letters, one space between.
_MOST_IDS = 100


def evidence_text(found: Found) -> str:
    """Return the evidence as an answer names it: ids, the last hundred, by a space."""
    return " ".join(found.evidence[-_MOST_IDS:])


def answer_to(fold: dict[str, Any], found: Found) -> Row | None:
    """Return the latest answer to a remark that rested on just this evidence, or None.

    More evidence makes it another remark, which is said again.
    """
    rows = rows_of(fold, f"remarks.{found.name}")
    told = evidence_text(found)
    given = [row for row in rows if row.value.get("evidence", "") == told]
    return given[-1] if given else None
