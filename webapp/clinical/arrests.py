"""Whether an arrest is open: opened, and no pulse back since."""

from __future__ import annotations

from typing import Any

from webapp.clinical.rows import moment_ms, rows_of


def in_arrest(fold: dict[str, Any]) -> bool:
    """Tell whether an arrest of the record still has no pulse back."""
    back = {str(row.value.get("of")) for row in rows_of(fold, "indication.pulse_back")}
    return any(
        row.id not in back and moment_ms(row.value.get("pulse_back")) is None
        for row in rows_of(fold, "indication.arrest")
    )
