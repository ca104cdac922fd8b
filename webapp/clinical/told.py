"""One record as every remark reads it: its fold, whose limits apply, the time now."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from webapp.clinical.ages import AgeClass, age_class, size_of
from webapp.clinical.policy import Policy
from webapp.clinical.rows import rows_of


@dataclass(frozen=True)
class Told:
    """`now_ms`: Unix milliseconds; None where a record is read, not lived.

    What takes a while to come due is then not judged.
    """

    fold: dict[str, Any]
    policy: Policy
    now_ms: int | None = None

    @cached_property
    def age(self) -> AgeClass:
        """Return whether adult limits apply."""
        return age_class(size_of(self.fold), self.policy.limits(is_adult=True))

    @cached_property
    def limits(self) -> Mapping[str, str]:
        """Return the single limits that apply, by key; what is absent is silent."""
        return self.policy.limits(self.age.is_adult)

    @cached_property
    def wires(self) -> tuple[str, ...]:
        """Return the entry ids of the wires that stand, in time."""
        return tuple(row.id for row in rows_of(self.fold, "wires"))
