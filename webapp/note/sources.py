"""What every page reads from: the case, its day, and the hospital's limits."""

from __future__ import annotations

from dataclasses import dataclass

from webapp.clinical.policy import Policy
from webapp.record.case import Case


@dataclass(frozen=True, slots=True)
class Sources:
    """`day`: ISO day of the first entry, told without a date; "" when empty."""

    case: Case
    day: str
    policy: Policy
