"""The signs a value is written in: those that cannot be printed, or were lost."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from webapp.catalogue.model import Field
from webapp.catalogue.typed import LOST, has_control, has_half_character, has_odd_sign
from webapp.catalogue.verdicts import Verdict, found, illegal, worst


def with_signs(field: Field, value: Any, verdict: Verdict) -> Verdict:
    """Return a legal value's verdict, with what is remarked of its signs.

    Half of a surrogate pair is in no file and makes it illegal; the others keep it as
    typed. A row's signs are remarked child by child. An absence stays an absence.
    """
    if not _has_odd_sign(value):
        return verdict
    texts = list(_texts(value))
    if any(has_half_character(text) for text in texts):
        return illegal(field)
    if field.kind == "group":
        return verdict
    if any(has_control(text) for text in texts):
        verdict = worst((verdict, found("impossible", field, "control_characters")))
    if any(LOST in text for text in texts):
        lost = found("soft", field, "sign_lost")
        both = worst((verdict, lost))
        state = "absent" if verdict.state == "absent" else both.state
        verdict = Verdict(state, both.problems)
    return verdict


def _has_odd_sign(value: Any) -> bool:
    if isinstance(value, str):
        return has_odd_sign(value)
    if isinstance(value, list):
        return any(map(_has_odd_sign, value))
    return isinstance(value, dict) and any(map(_has_odd_sign, value.values()))


def _texts(value: Any) -> Iterator[str]:
    """Yield every string of a value whose shape is known to be sound."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, list):
        for item in value:
            yield from _texts(item)
    elif isinstance(value, dict):
        for item in value.values():
            yield from _texts(item)
