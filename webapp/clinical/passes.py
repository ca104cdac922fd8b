"""Failed passes of one operator, and when a change is thought of.

Source: fixtures/sources.md#clinical-21.
"""

from __future__ import annotations

from fractions import Fraction

from webapp.clinical.amounts import NONE, amount
from webapp.clinical.evidence import in_order
from webapp.clinical.exact import decimal, number
from webapp.clinical.found import Found
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import Row, rows_of
from webapp.clinical.told import Told

PATH = "approach.attempts"
_KEY = "passes_before_change"
_FAILED = ("not_entered", "artery_entered", "no_wire_passed")
_ONE = Fraction(1)


def passes_remarks(told: Told) -> list[Found]:
    """Return each operator whose failed passes reach `passes_before_change`.

    It stands while nobody else has tried since and no vein is entered.
    """
    bound = number(told.limits.get(_KEY))
    rows = rows_of(told.fold, PATH)
    by_operator: dict[str, list[Row]] = {}
    for row in rows:
        by_operator.setdefault(_operator(row), []).append(row)
    found: list[Found] = []
    for own in by_operator.values():
        failed = sum((_failed(row) for row in own), NONE)
        if bound is None or failed < bound:
            continue
        stands = rows[-1] is own[-1] and rows[-1].value.get("outcome") != "vein_entered"
        values = {"count": decimal(failed)}
        asks = "change_operator_or_site"
        remark = Remark("passes_many", "look_again", values, (_KEY,), asks)
        found.append(Found(remark, PATH, "", in_order(own), stands))
    return found


def _operator(row: Row) -> str:
    """Return who tried: a known person, else a name; "" for nobody named."""
    told = row.value.get("operator")
    if not isinstance(told, dict):
        return ""
    for key in ("person", "name"):
        if isinstance(told.get(key), str) and told[key].strip():
            return f"{key} {told[key].strip()}"
    return ""


def _failed(row: Row) -> Fraction:
    """Return the passes that failed for certain: the last one only where it is said."""
    passes = max(amount(row.value.get("passes"), "").low or _ONE, _ONE)
    return passes if row.value.get("outcome") in _FAILED else passes - _ONE
