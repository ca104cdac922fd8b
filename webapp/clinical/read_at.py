"""From where a depth was measured: a blank answer means the sheath hub.

Source: fixtures/sources.md#clinical-3: depth = cm at the sheath hub.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

AT_HUB = "sheath_hub"
# Somebody said that it is not known: no blank, and not the hub.
_NOT_KNOWN = "not_known"


def read_at(value: Mapping[str, Any]) -> str:
    """Return the reference point of a depth as kept; "sheath_hub" where blank."""
    told = value.get("read_at")
    if isinstance(told, str):
        return told or AT_HUB
    return AT_HUB if told is None else _NOT_KNOWN
