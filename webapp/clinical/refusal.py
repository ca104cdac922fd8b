"""A refusal beside entries of the procedure: one of both cannot stand.

Source: fixtures/sources.md#clinical-21, #domain-7.
"""

from __future__ import annotations

from typing import Any

from webapp.clinical.evidence import entries_of, in_order
from webapp.clinical.found import Found
from webapp.clinical.over import heads
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import rows_of
from webapp.clinical.told import Told

BASIS = "consent.basis"
_KNOWN = "consent.known_refusal"
_PARTS = ("approach.", "advance.", "capture.", "checks.", "removal.")


def refusal_remarks(told: Told) -> list[Found]:
    """Return a refusal with anything begun, and a known one beside an emergency."""
    bases = heads(told.fold, BASIS)
    found: list[Found] = []
    begun = _begun(told.fold)
    if "refused" in bases and begun:
        ids = {*entries_of(told.fold, (BASIS,)), begun[0]}
        evidence = tuple(one for one in told.fold["order"] if one in ids)
        found.append(Found(Remark("refusal_stands", "look_now"), BASIS, "", evidence))
    if "emergency_exception" in bases and "yes" in heads(told.fold, _KNOWN):
        evidence = entries_of(told.fold, (BASIS, _KNOWN))
        found.append(Found(Remark("refusal_known", "look_now"), _KNOWN, "", evidence))
    return found


def _begun(fold: dict[str, Any]) -> tuple[str, ...]:
    """Return the entries of the procedure, in order; "not started" is none of it."""
    outcomes = heads(fold, "finish.outcome")
    started = any(one != "not_started" for one in outcomes)
    parts = (*_PARTS, "finish.") if started else _PARTS
    paths = [path for path in fold["values"] if _is_in(path, parts)]
    answered = [path for path in paths if heads(fold, path)]
    rows = [
        row
        for path in fold["rows"]
        if _is_in(path, parts)
        for row in rows_of(fold, path)
    ]
    ids = {*entries_of(fold, answered), *in_order(rows)}
    return tuple(one for one in fold["order"] if one in ids)


def _is_in(path: str, parts: tuple[str, ...]) -> bool:
    """Tell whether a path, of a wire or of the case, is of one of these parts."""
    return path.rpartition("/")[2].startswith(parts)
