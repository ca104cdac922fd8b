"""What the record says of the patient's status then: views, and the order moment."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from webapp.coding.dates import local
from webapp.record.case import Case

STATUS = "patient.status"
ORDER_GIVEN = "patient.inpatient_order_given"
ORDER_AT = "patient.inpatient_order"
# The views whose date of service decides the edition; an inpatient stay is looked
# up by its discharge, which no record of a procedure holds.
BY_SERVICE_DATE = frozenset(("professional", "outpatient"))


def views_of(case: Case) -> tuple[str, ...]:
    """Return the views a record is judged in: professional, then the facility's.

    A stay that may still become one or the other is shown as both.
    """
    status, order = case.answer(STATUS).value, case.answer(ORDER_GIVEN).value
    if status == "inpatient" or order == "given" or _order(case) is not None:
        return ("professional", "inpatient")
    if status == "outpatient" and order == "none_yet":
        return ("professional", "outpatient")
    return ("professional", "inpatient", "outpatient")


def order_at(case: Case, zone: str) -> datetime | None:
    """Return the hospital time of the inpatient order, None without an hour."""
    return local(_order(case), zone)


def _order(case: Case) -> Any:
    answer = case.answer(ORDER_AT)
    return answer.value if answer.state == "answered" else None
