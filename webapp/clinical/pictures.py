"""Which rows tell of one picture: it is taken once, and may be told of again.

Source: fixtures/sources.md#clinical-23, clinical 19: ordered, seen by me, reported by.
"""

from __future__ import annotations

from typing import Any

from webapp.clinical.rows import Row, moment_ms, rows_of


def taken(fold: dict[str, Any], kinds: tuple[str, ...]) -> list[Row]:
    """Return the first row of each picture of these kinds, in time.

    Awaited is not taken. Two rows are one picture where they name the same order or
    the same archive reference; a report is one of the picture seen before it.
    """
    pictures: list[list[Row]] = []
    for row in rows_of(fold, "finish.imaging"):
        kind, state = row.value.get("kind"), row.value.get("state")
        if kind not in kinds or state == "awaited":
            continue
        alike = [p for p in reversed(pictures) if p[0].value.get("kind") == kind]
        named = [picture for picture in alike if _is_named(picture, row)]
        told = [picture for picture in alike if _is_report_of(picture, row)]
        same = next(iter([*named, *told]), None)
        if same is None:
            pictures.append([row])
        else:
            same.append(row)
    return [picture[0] for picture in pictures]


def _ordered_ms(row: Row) -> int | None:
    return moment_ms(row.value.get("ordered"))


def _reference(row: Row) -> str | None:
    told = row.value.get("reference")
    return told if isinstance(told, str) and told else None


def _is_named(picture: list[Row], row: Row) -> bool:
    """Tell whether the row names the order or the reference of a picture."""
    ordered, reference = _ordered_ms(row), _reference(row)
    return any(
        (ordered is not None and _ordered_ms(one) == ordered)
        or (reference is not None and _reference(one) == reference)
        for one in picture
    )


def _is_report_of(picture: list[Row], row: Row) -> bool:
    """Tell whether the row is the first report of a picture that somebody saw.

    Not where an order or a reference tells them apart, nor where it was ordered later.
    """
    if row.value.get("state") != "reported":
        return False
    if any(one.value.get("state") == "reported" for one in picture):
        return False
    ordered, reference = _ordered_ms(row), _reference(row)
    if ordered is not None and ordered > picture[0].time_ms:
        return False
    orders = [_ordered_ms(one) for one in picture]
    references = [_reference(one) for one in picture]
    return (ordered is None or not any(one is not None for one in orders)) and (
        reference is None or not any(one is not None for one in references)
    )
