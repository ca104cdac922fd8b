"""Whether a wire's record is over: out, ended, or the patient died.

Source: fixtures/sources.md#clinical-22. After it nothing is ever due.
"""

from __future__ import annotations

from typing import Any

from webapp.clinical.rows import rows_of

# A lead that went home outside is still checked, in days.
_STILL_IN = "home_externalised"
_HAPPENED = ("found_out", "elsewhere", "died", "care_withdrawn")
_NEVER_LEFT_IN = ("given_up_wire_out", "stopped_own_rhythm_back", "not_started")


def heads(fold: dict[str, Any], path: str) -> list[Any]:
    """Return every answer to a field that nobody has settled, absences left out."""
    told = [head["value"] for head in fold["values"].get(path, [])]
    return [v for v in told if not (isinstance(v, dict) and "absent" in v)]


def has_died(fold: dict[str, Any]) -> bool:
    """Tell whether any answer says that the patient died."""
    return "died_during" in heads(fold, "finish.outcome") or "died" in heads(
        fold, "finish.condition"
    )


def is_over(fold: dict[str, Any], wire: str) -> bool:
    """Tell whether nothing is due for a wire any more. Of two answers either counts."""
    under = f"wires/{wire}/removal"
    endings = heads(fold, f"{under}.ending")
    if any(one != _STILL_IN for one in endings):
        return True
    if any(one in _HAPPENED for one in heads(fold, f"{under}.event")):
        return True
    if heads(fold, f"{under}.removed_at") or has_died(fold):
        return True
    if all(one not in _NEVER_LEFT_IN for one in heads(fold, "finish.outcome")):
        return False
    return len(rows_of(fold, "wires")) < 2 or not has_own_story(fold, wire)


def has_own_story(fold: dict[str, Any], wire: str) -> bool:
    """Tell whether a wire came with the patient, or was left in by what it tells.

    Beside other wires the outcome of the procedure does not end such a wire.
    """
    under = f"wires/{wire}"
    if "came_with_it" in heads(fold, f"{under}/approach.wire_came"):
        return True
    if rows_of(fold, f"{under}/checks.check", f"{under}/checks.dial_left_at"):
        return True
    if heads(fold, f"{under}/advance.final_depth"):
        return True
    left = rows_of(fold, f"{under}/capture.dial_left_at")
    return any(row.value.get("when_kind") == "final" for row in left)
