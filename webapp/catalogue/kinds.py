"""The twelve kinds: what typed text means, and whether a value can stand.

`parse` turns typed text into the JSON value of the field's kind; `check` judges
such a value. Both have twins in static/js/form/kinds.js, held equal by
fixtures/vectors/kinds.json.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from webapp.catalogue.choices_made import (
    check_many,
    check_one,
    check_yes_no,
    read_pick,
    read_picks,
    read_yes_no,
)
from webapp.catalogue.dates import check_date, read_date
from webapp.catalogue.limits import check_quantity
from webapp.catalogue.model import Field
from webapp.catalogue.moments import check_moment, read_moment
from webapp.catalogue.quantities import read_quantity
from webapp.catalogue.signs import with_signs
from webapp.catalogue.things import (
    check_drawing,
    check_person,
    check_photo,
    is_id,
    read_person,
)
from webapp.catalogue.typed import is_said, plain, trim
from webapp.catalogue.verdicts import OK, Problem, Verdict, found, illegal, worst

__all__ = ["Problem", "Verdict", "check", "parse"]


def parse(
    field: Field,
    raw: str,
    unit: str | None = None,
    *,
    today: str | None = None,
    zone: str | None = None,
) -> Any:
    """Return the JSON value that typed text gives for a field. Never raises.

    `unit`: what was said beside a number; `today`: the local day, for years of two
    figures and times without a day; `zone`: whose wall clock a typed time means.
    Blank text gives None: nothing was said, nothing is kept. Text that cannot be
    read is kept as typed, and `check` calls it impossible. Absences, photos,
    drawings and rows are never typed: their text comes back as it is, illegal.
    """
    text = plain(raw)
    if not is_said(text):
        return None
    match field.kind:
        case "qty":
            return read_quantity(field, text, unit)
        case "date":
            return read_date(text, today)
        case "moment":
            return read_moment(text, today, zone)
        case "one":
            return read_pick(field, text)
        case "many":
            return read_picks(field, text) or None
        case "yn":
            return read_yes_no(text)
        case "person":
            return read_person(text)
    return trim(text)


def check(
    field: Field, value: Any, *, today: str | None = None, adult: bool = True
) -> Verdict:
    """Judge a JSON value of a field. Never raises.

    `today`: the local day ("2031-11-24"); without it no date is called too late
    or too early. `adult`: False silences soft ranges meant for adults only. An
    unknown shape is illegal, whatever it holds.
    """
    is_absence = isinstance(value, dict) and "absent" in value
    if is_absence:
        verdict = check_absence(field, value)
    else:
        verdict = _check_kind(field, value, today, adult)
    # A row was looked at child by child.
    if verdict.state == "illegal" or (field.kind == "group" and not is_absence):
        return verdict
    return with_signs(field, value, verdict)


def _check_kind(field: Field, value: Any, today: str | None, adult: bool) -> Verdict:
    match field.kind:
        case "text" | "prose":
            return check_text(field, value)
        case "yn":
            return check_yes_no(field, value)
        case "one":
            return check_one(field, value)
        case "many":
            return check_many(field, value)
        case "qty":
            return check_quantity(field, value, adult=adult)
        case "moment":
            return check_moment(field, value)
        case "date":
            return check_date(field, value, today)
        case "person":
            return check_person(field, value)
        case "photo":
            return check_photo(field, value)
        case "drawing":
            return check_drawing(field, value)
        case "group":
            return check_row(field, value, today, adult)


def check_absence(field: Field, value: dict[str, Any]) -> Verdict:
    """Judge not known, not stated by a report, not done because, not asked."""
    kind, rest = value["absent"], {k: v for k, v in value.items() if k != "absent"}
    if kind in ("not_known", "not_asked") and not rest:
        return Verdict("absent")
    if kind == "not_known" and rest.keys() == {"not_stated_by"}:
        stated = is_said(rest["not_stated_by"])
        return Verdict("absent") if stated else illegal(field)
    if kind == "not_done" and rest.keys() <= {"because"}:
        because = rest.get("because", "")
        if not isinstance(because, str):
            return illegal(field)
        if is_said(because):
            return Verdict("absent")
        return found("absent", field, "because_missing")
    return illegal(field)


def check_text(field: Field, value: object) -> Verdict:
    """Judge text: said at all, and its length in characters (code points)."""
    if not is_said(value):
        return illegal(field)
    assert isinstance(value, str)  # noqa: S101  narrows the type only
    if field.max_length is not None and len(plain(value)) > field.max_length:
        return found("soft", field, "too_long", limit=field.max_length)
    return OK


def check_row(field: Field, value: object, today: str | None, adult: bool) -> Verdict:
    """Judge a row of a group, child by child; problems name "group.child".

    A row of a row names its parent's entry id in `of`; no other row may.
    """
    if not isinstance(value, dict) or not value.keys() - {"of"}:
        return illegal(field)
    verdicts = [_check_parent(field, value)]
    for name, answer in value.items():
        child = field.child(name)
        if name == "of":
            continue
        if child is None or child.kind == "group":
            return illegal(field)
        verdict = check(child, answer, today=today, adult=adult)
        verdicts.append(_named_within(field, verdict))
    return worst(verdicts)


def _named_within(group: Field, verdict: Verdict) -> Verdict:
    if verdict is OK or not verdict.problems:
        return verdict
    problems = [replace(p, field=f"{group.name}.{p.field}") for p in verdict.problems]
    return Verdict(verdict.state, tuple(problems))


def _check_parent(field: Field, row: dict[str, Any]) -> Verdict:
    if "of" not in row:
        return found("soft", field, "of_missing") if field.row_of else OK
    return OK if field.row_of and is_id(row["of"]) else illegal(field)
