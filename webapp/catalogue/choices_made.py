"""Answers picked from a list: the kinds "yn", "one" and "many"."""

from __future__ import annotations

from typing import Any

from webapp.catalogue.model import Choice, Field
from webapp.catalogue.typed import ascii_lower, is_said, trim
from webapp.catalogue.verdicts import OK, Verdict, found, illegal, worst

YES_NO = ("yes", "no")
Pick = str | dict[str, str]


def read_pick(field: Field, raw: str) -> Pick:
    """Return the choice that typed text names, by code or by label.

    Capitals do not matter. Unknown text becomes the field's "other", or stands as
    typed (which is no answer: illegal) where the list is closed.
    """
    typed = trim(raw)
    folded = ascii_lower(typed)
    for choice in field.choices:
        if folded in (ascii_lower(choice.code), ascii_lower(choice.label)):
            return choice.code
    other = field.choice("other")
    return {"other": typed} if other is not None and other.takes_text else typed


def read_picks(field: Field, raw: str) -> list[Pick]:
    """Return the choices named in a text, set apart by commas or newlines."""
    picks: list[Pick] = []
    for piece in raw.replace("\n", ",").split(","):
        if trim(piece) and (pick := read_pick(field, piece)) not in picks:
            picks.append(pick)
    return picks


def read_yes_no(raw: str) -> str:
    """Return "yes" or "no" where the text says so, else the text as typed."""
    said = {"y": "yes", "n": "no"}
    folded = ascii_lower(trim(raw))
    folded = said.get(folded, folded)
    return folded if folded in YES_NO else trim(raw)


def code_of(pick: Any) -> str | None:
    """Return the choice code of one pick, or None where its shape is no pick's."""
    if isinstance(pick, str):
        return pick
    if isinstance(pick, dict) and len(pick) == 1:
        ((code, text),) = pick.items()
        return code if is_said(text) else None
    return None


def check_one(field: Field, value: object) -> Verdict:
    """Judge a JSON value of kind one."""
    choice = _choice(field, value)
    if choice is None:
        return illegal(field)
    if choice.takes_text and isinstance(value, str):
        return found("ok", field, "text_missing", choice=choice.label)
    return OK


def check_many(field: Field, value: object) -> Verdict:
    """Judge a JSON value of kind many: a list of different picks, never empty."""
    if not isinstance(value, list) or not value:
        return illegal(field)
    codes = [code_of(pick) for pick in value]
    if len(set(codes)) < len(codes):
        return illegal(field)
    nothing = any(c == "none" or (c or "").startswith("none_") for c in codes)
    both = found("soft", field, "none_and_more") if nothing and len(codes) > 1 else OK
    return worst([*(check_one(field, pick) for pick in value), both])


def check_yes_no(field: Field, value: object) -> Verdict:
    """Judge a JSON value of kind yn."""
    return OK if isinstance(value, str) and value in YES_NO else illegal(field)


def _choice(field: Field, pick: object) -> Choice | None:
    code = code_of(pick)
    choice = field.choice(code) if code is not None else None
    if choice is None or (isinstance(pick, dict) and not choice.takes_text):
        return None
    return choice
