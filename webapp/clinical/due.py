"""What is due for a wire next, and when; after removal or death nothing, ever.

Source: fixtures/sources.md#clinical-23, #domain-4e.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

from webapp.clinical.exact import number
from webapp.clinical.in_place import latest, left_ms, placed_ms
from webapp.clinical.left_at import PARTS
from webapp.clinical.look_asked import After, asked_by
from webapp.clinical.over import heads, is_over
from webapp.clinical.policy import Policy
from webapp.clinical.retest import HOUR_MS
from webapp.clinical.rows import Row, one_answer, rows_of

Kind = Literal["look_check", "threshold", "need_review", "infection", "dwell"]
# domain 4e, Betts 2003: 20 % infected beyond 48 h, 4 % before.
INFECTION_H = Fraction(48)
_HOURS = {"h": Fraction(1), "d": Fraction(24)}
_MINUTES_PER_HOUR = 60
# limits of ours: what is longer than a year is no interval between checks.
_LONGEST_H = Fraction(8760)
_NOT_DONE = ("dependent", "not_my_role", "asked_doctor")


@dataclass(frozen=True, slots=True)
class Due:
    """`since_ms`: what it is counted from; `hours`: how long after, as a decimal.

    `after`: what asks for a look apart from the shift; "" where nothing does.
    """

    kind: Kind
    due_ms: int
    since_ms: int
    hours: Fraction
    after: After = ""


def next_due(fold: dict[str, Any], wire: str, policy: Policy) -> list[Due]:
    """Return the next of each kind, whether it is past or still to come."""
    if is_over(fold, wire):
        return []
    limits = policy.limits(is_adult=True)
    found = [
        _look_check(fold, wire, limits),
        _threshold(fold, wire, limits),
        *_by_age(fold, wire, policy),
    ]
    return [one for one in found if one is not None]


def _due(
    kind: Kind, since: int | None, hours: Fraction | None, after: After = ""
) -> Due | None:
    if since is None or hours is None:
        return None
    return Due(kind, since + int(hours * HOUR_MS), since, hours, after)


def _interval(
    fold: dict[str, Any], wire: str, usual: Fraction | None
) -> Fraction | None:
    """Return hours between checks: as planned, else by policy; at home none else."""
    told = one_answer(fold, "finish.check_interval")
    if isinstance(told, dict) and told.get("unit") in _HOURS:
        exact = number(told.get("n")) if not {"low", "cmp"} & set(told) else None
        hours = None if exact is None else exact * _HOURS[told["unit"]]
        if hours is not None and 0 < hours <= _LONGEST_H:
            return hours
    at_home = "home" in heads(fold, "finish.destination")
    at_home = at_home or bool(heads(fold, f"wires/{wire}/removal.ending"))
    return None if at_home else usual


def _checks(fold: dict[str, Any], wire: str) -> list[Row]:
    return rows_of(fold, f"wires/{wire}/checks.check")


def _look_check(fold: dict[str, Any], wire: str, limits: dict[str, str]) -> Due | None:
    checked = latest(row.time_ms for row in _checks(fold, wire))
    asked = asked_by(fold, wire)
    open_ = [one for one in asked if checked is None or checked < one[0]]
    if open_:
        # The first that nobody looked after: a later one hides no delay.
        since_ms, after = open_[0]
        minutes = number(limits.get("arrival_check_min"))
        hours = None if minutes is None else minutes / _MINUTES_PER_HOUR
        return _due("look_check", since_ms, hours, after)
    since = left_ms(fold, wire) if checked is None else checked
    usual = number(limits.get("look_check_h"))
    return _due("look_check", since, _interval(fold, wire, usual))


def _threshold(fold: dict[str, Any], wire: str, limits: dict[str, str]) -> Due | None:
    """Return when the threshold is due: after the last test, or a reason for none."""
    names = ("threshold_test", "output_reading")
    under = [f"wires/{wire}/{part}.{name}" for part in PARTS for name in names]
    closed = [row for row in _checks(fold, wire) if _closes_threshold(row)]
    since = latest(row.time_ms for row in (*rows_of(fold, *under), *closed))
    if since is None:
        since = left_ms(fold, wire)
    usual = number(limits.get("threshold_check_h"))
    return _due("threshold", since, _interval(fold, wire, usual))


def _closes_threshold(row: Row) -> bool:
    if row.value.get("threshold_due") == "tested":
        return True
    done, why = row.value.get("done"), row.value.get("due_reason")
    is_not_done = done in _NOT_DONE or isinstance(done, dict)
    return why == "threshold_daily" and is_not_done


def _by_age(fold: dict[str, Any], wire: str, policy: Policy) -> list[Due | None]:
    """Return what the age of the wire makes due: need, infection, change."""
    placed = placed_ms(fold, wire)
    if placed is None:
        return []
    checks = _checks(fold, wire)
    asked = [number(text) for text in policy.rows["need_review_h"].values]
    needs = [_due("need_review", placed, hours) for hours in asked]
    need = [
        one for one in needs if one and not _is_answered(one, checks, "still_needed")
    ]
    site = _due("infection", placed, INFECTION_H)
    is_looked_at = site is None or _is_answered(site, checks, "site_score")
    days = number(policy.rows["dwell_max_days"].value)
    hours = None if days is None else days * _HOURS["d"]
    return [*need[:1], None if is_looked_at else site, _due("dwell", placed, hours)]


def _is_answered(due: Due, checks: list[Row], name: str) -> bool:
    """Tell whether a check at that time or later answered it; an absence does not."""
    told = [row.value.get(name) for row in checks if row.time_ms >= due.due_ms]
    return any(v is not None and not _is_absent(v) for v in told)


def _is_absent(value: Any) -> bool:
    return isinstance(value, dict) and "absent" in value
