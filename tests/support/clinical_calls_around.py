"""Plain calls of drugs and their sums, for vectors.

`tests/js/clinical_around.mjs` has the same names.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict
from typing import Any

from webapp.clinical.anaesthetic import anaesthetic_sum
from webapp.clinical.drug_totals import drug_totals
from webapp.clinical.exact import decimal
from webapp.clinical.infusions import concentration
from webapp.clinical.told import Told

Input = dict[str, Any]
Calls = dict[str, Callable[[Input], Any]]


def calls_around(
    policy_of: Callable[[Input], Any], told_as_fold: Callable[[Input], Input]
) -> Calls:
    """Return the calls by name."""

    def total(given: Input) -> Any:
        fold = told_as_fold(given)["fold"]
        return asdict(anaesthetic_sum(Told(fold, policy_of(given))))

    return {
        "anaesthetic_sum": total,
        "drug_totals": lambda given: [
            asdict(one) for one in drug_totals(told_as_fold(given)["fold"])
        ],
        "concentration": _concentration,
    }


def _concentration(given: Input) -> str | None:
    found = concentration(given["text"])
    return None if found is None else decimal(found)
