"""A line placed without full barrier, and chlorhexidine on the skin of the youngest.

Source: fixtures/sources.md#clinical-21, #domain-7.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from webapp.clinical.amounts import amount
from webapp.clinical.birth import whole_months
from webapp.clinical.evidence import entries_of
from webapp.clinical.exact import number
from webapp.clinical.found import Found
from webapp.clinical.over import has_died, heads, is_over
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import moment_ms, one_answer, rows_of
from webapp.clinical.shown import elapsed, seconds_of
from webapp.clinical.told import Told

ITEMS = tuple(
    f"approach.barrier_{name}"
    for name in (
        *("hands", "cap", "mask", "gown", "gloves", "full_body_drape", "skin_dried"),
    )
)
_PREP = "approach.skin_prep"
_AGE = "patient.estimated_age"
_HOUR_MS = 3600000
_DUE = ("emergency_line_replace_h",)
# clinical 21: preterm, born before 37 weeks, or younger than 2 months; two months of
# the calendar have at most 62 days. Gestation as the catalogue's hard range.
_TERM_WEEKS = Fraction(37)
_YOUNG_MONTHS = Fraction(2)
_YOUNG_DAYS = Fraction(62)
_HARD_WEEKS = (Fraction(20), Fraction(44))


def barrier_remarks(told: Told) -> list[Found]:
    """Return the line to be replaced, then chlorhexidine where it asks for care."""
    return [*_replace(told), *_chlorhexidine(told)]


def _replace(told: Told) -> list[Found]:
    missing = [path for path in ITEMS if "no" in heads(told.fold, path)]
    hours = number(told.limits.get(_DUE[0]))
    if not missing or not _is_emergency(told.fold) or hours is None:
        return []
    evidence = entries_of(told.fold, missing)
    late_ms = None if told.now_ms is None else told.now_ms - _placed_ms(told, evidence)
    values = {"hours": told.limits[_DUE[0]]}
    code = "barrier_not_full"
    if late_ms is not None and late_ms > hours * _HOUR_MS:
        code = "barrier_overdue"
        values["elapsed"] = elapsed(seconds_of(late_ms))
    out = bool(told.wires) and all(is_over(told.fold, wire) for wire in told.wires)
    remark = Remark(code, "look_again", values, _DUE, "replace_line")
    stands = not (out or has_died(told.fold))
    return [Found(remark, missing[0], "", evidence, stands)]


def _is_emergency(fold: dict[str, Any]) -> bool:
    return (
        "emergency" in heads(fold, "indication.urgency")
        or "emergency_exception" in heads(fold, "consent.basis")
        or bool(rows_of(fold, "indication.arrest"))
    )


def _placed_ms(told: Told, evidence: tuple[str, ...]) -> int:
    """Return when the vein was punctured, else when the first "no" was entered."""
    punctured = [moment_ms(one) for one in heads(told.fold, "approach.first_puncture")]
    known = [ms for ms in punctured if ms is not None]
    entered = [int(told.fold["entries"][one]["time_ms"]) for one in evidence]
    return min(known or entered)


def _chlorhexidine(told: Told) -> list[Found]:
    preps = [one for one in heads(told.fold, _PREP) if isinstance(one, str)]
    if not any(one.startswith("chlorhexidine") for one in preps):
        return []
    code, why = _young(told.fold)
    if not code:
        return []
    evidence = entries_of(told.fold, (_PREP, why))
    return [Found(Remark(code, "look_again"), _PREP, "", evidence)]


def _young(fold: dict[str, Any]) -> tuple[str, str]:
    """Return the code of why care is asked, and the field that says so."""
    if _is_preterm(one_answer(fold, "patient.gestation")):
        return "chlorhexidine_preterm", "patient.gestation"
    months = whole_months(fold)
    if months is not None:
        young = months < _YOUNG_MONTHS
        return ("chlorhexidine_young", "patient.birth_date") if young else ("", "")
    days = amount(one_answer(fold, _AGE), "d")
    hours = amount(one_answer(fold, _AGE), "h")
    if hours.low is not None or (days.low is not None and days.low < _YOUNG_DAYS):
        return "chlorhexidine_young", _AGE
    if one_answer(fold, "patient.age_class") == "newborn":
        return "chlorhexidine_young", "patient.age_class"
    return "", ""


def _is_preterm(value: Any) -> bool:
    """Tell whether a gestation may be below term; of a range its lower end counts."""
    weeks = amount(value, "wk")
    first = weeks.high if weeks.low is None else weeks.low
    if first is None or not _HARD_WEEKS[0] <= first <= _HARD_WEEKS[1]:
        return False
    return first < _TERM_WEEKS or (weeks.low is None and first == _TERM_WEEKS)
