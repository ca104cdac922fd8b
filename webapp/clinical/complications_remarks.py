"""Signs that together ask for ultrasound, and causes that nobody has stated.

Source: fixtures/sources.md#clinical-20, #domain-6. Pain alone is no verdict. No limit
of blood pressure is known here: low is what was said to be low.
"""

from __future__ import annotations

from typing import Any

from webapp.clinical.drift import Measured, drift
from webapp.clinical.evidence import entries_of, in_order
from webapp.clinical.found import Found
from webapp.clinical.over import heads, is_over
from webapp.clinical.readings import threshold_summary
from webapp.clinical.remarks import Remark
from webapp.clinical.retest import changes
from webapp.clinical.rows import Row, rows_of
from webapp.clinical.standing import Tested
from webapp.clinical.told import Told

COMPLICATION = "finish.complication"
_BUNDLES = ("left_bundle", "right_bundle")
_READ = ("seen_by_me", "reported")


def complications_remarks(told: Told) -> list[Found]:
    """Return each wire's combinations, then complications without a stated cause."""
    found = [one for wire in told.wires for one in _together(told, wire)]
    return [*found, *_causes(told)]


def _together(told: Told, wire: str) -> list[Found]:
    """Return what came together with chest pain, hiccup or twitch of this wire."""
    twitch = f"wires/{wire}/capture.twitch"
    checks = rows_of(told.fold, f"wires/{wire}/checks.check")
    felt = [row for row in checks if _is_felt(row)]
    twitches = entries_of(told.fold, (twitch,)) if _twitches(told.fold, twitch) else ()
    if not felt and not twitches:
        return []
    signs = {
        "perforation_pressure": _low_pressure(told, checks),
        "perforation_shape": _changed_shape(told, checks),
        "perforation_threshold": _risen(told, wire),
    }
    path = felt[-1].path if felt else twitch
    return [
        _remark(told, code, path, wire, {*ids, *twitches, *in_order(felt)})
        for code, ids in signs.items()
        if ids
    ]


def _remark(told: Told, code: str, path: str, wire: str, ids: set[str]) -> Found:
    evidence = tuple(one for one in told.fold["order"] if one in ids)
    last_ms = max(told.fold["entries"][one]["time_ms"] for one in evidence)
    settled = _is_ruled_out(told.fold, last_ms) or is_over(told.fold, wire)
    remark = Remark(code, "look_now", asks="ultrasound_perforation")
    return Found(remark, path, wire, evidence, not settled)


def _is_felt(row: Row) -> bool:
    return "yes" in (row.value.get("chest_pain"), row.value.get("hiccup_twitch"))


def _twitches(fold: dict[str, Any], path: str) -> bool:
    told = [one for one in heads(fold, path) if isinstance(one, list)]
    return any(sign != "none" for signs in told for sign in signs)


def _low_pressure(told: Told, checks: list[Row]) -> tuple[str, ...]:
    """Return the rows that say the pressure is low; a figure is no verdict."""
    rows = [*checks, *rows_of(told.fold, "indication.observations")]
    return in_order(row for row in rows if _is_low(row.value.get("systolic")))


def _is_low(value: Any) -> bool:
    return isinstance(value, dict) and value.get("special") == "low"


def _changed_shape(told: Told, checks: list[Row]) -> tuple[str, ...]:
    """Return checks that say so; with one wire, also 12-leads whose bundle changed."""
    rows = [row for row in checks if row.value.get("shape_same") == "no"]
    leads = [
        row
        for row in rows_of(told.fold, "finish.paced_ecg")
        if row.value.get("pattern") in _BUNDLES
    ]
    if len(told.wires) == 1 and len({row.value["pattern"] for row in leads}) > 1:
        rows += leads
    return in_order(rows)


def _risen(told: Told, wire: str) -> tuple[str, ...]:
    """Return first and last test of this position, where the threshold rose so far."""
    moved = changes(told.fold, wire, told.limits)
    since = [one.time_ms for one in moved if one.code == "repositioned"]
    summary = threshold_summary(told.fold, wire, told.policy, now_ms=told.now_ms)
    tests = [
        test
        for test in summary.tests
        if test.told.unit == "mA" and test.told.time_ms > max(since, default=-1)
    ]
    values = [
        Measured(test.told.time_ms, test.result.threshold)
        for test in tests
        if test.result.threshold is not None
    ]
    if not values:
        return ()
    lost = tests[-1].result.none_up_to is not None
    is_risen = drift(values, None, False, None, told.limits).step == "risen"
    if not (lost or is_risen):
        return ()
    measured = [test for test in tests if test.result.threshold is not None]
    return tuple(dict.fromkeys([*_ids(measured[0]), *_ids(tests[-1])]))


def _ids(test: Tested) -> list[str]:
    return [one for one in (test.told.id, *test.told.ids) if one]


def _is_ruled_out(fold: dict[str, Any], since_ms: int) -> bool:
    """Tell whether the latest ultrasound or CT since then found no effusion.

    One that found it settles nothing: it is what was feared.
    """
    answers = [
        row.value["effusion"]
        for row in rows_of(fold, "finish.imaging")
        if row.value.get("kind") in ("ultrasound", "ct")
        and row.value.get("state") in _READ
        and row.value.get("effusion") in ("yes", "no")
        and row.time_ms >= since_ms
    ]
    return bool(answers) and answers[-1] == "no"


def _causes(told: Told) -> list[Found]:
    """Return what nobody stated the cause of, and causes that nobody is named for.

    "Cannot tell" is an answer once a clinician is named for it; until then none is.
    """
    found: list[Found] = []
    for row in rows_of(told.fold, COMPLICATION):
        cause = row.value.get("cause")
        if isinstance(cause, str) and _is_named(row.value.get("cause_by")):
            continue
        stated = isinstance(cause, str) and cause != "cannot_tell"
        code = "cause_unnamed" if stated else "cause_blank"
        remark = Remark(code, "look_again")
        found.append(Found(remark, COMPLICATION, "", (row.id,)))
    return found


def _is_named(value: Any) -> bool:
    if not isinstance(value, dict):
        return False
    return bool(value.get("name")) or isinstance(value.get("person"), str)
