"""The tabular list of the April 2026 release, as an independent package holds it.

Source: PyPI simple-icd-10-cm 1.5.0.
"""

from __future__ import annotations

import re
import warnings

with warnings.catch_warnings():
    # The package reads its data in a way the standard library is about to drop.
    warnings.simplefilter("ignore", DeprecationWarning)
    import simple_icd_10_cm

_NAMED = re.compile(r"\(([A-Z][0-9][0-9A-Z](?:\.[0-9A-Z]+)?)")


def is_known(code: str) -> bool:
    """Return whether the list holds the code at all."""
    return bool(simple_icd_10_cm.is_valid_item(code))


def is_leaf(code: str) -> bool:
    """Return whether the code may stand on a claim."""
    return is_known(code) and bool(simple_icd_10_cm.is_leaf(code))


def title(code: str) -> str:
    """Return the official title."""
    return str(simple_icd_10_cm.get_description(code))


def excluded_beside(code: str) -> set[str]:
    """Return the codes an Excludes1 note of this code or of its parents names."""
    notes: list[str] = []
    for item in (code, *simple_icd_10_cm.get_ancestors(code)):
        notes += simple_icd_10_cm.get_excludes1(item)
    return set(_NAMED.findall(" ".join(notes)))
