"""Cautions before a wire crosses the tricuspid valve.

Source: fixtures/sources.md#clinical-4, #domain-1.
"""

from __future__ import annotations

from dataclasses import replace

from webapp.clinical.cold import cold
from webapp.clinical.crossing import (
    CAUTION,
    Crossing,
    cautioned,
    crossing_of,
    pads_ready,
)
from webapp.clinical.evidence import entries_of
from webapp.clinical.exact import number
from webapp.clinical.found import Found
from webapp.clinical.over import heads
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import moment_ms, one_answer
from webapp.clinical.sites import site_code
from webapp.clinical.told import Told

_FRESH_KEY = "fresh_leads_weeks"
_IMPLANTED = "indication.permanent_leads_implanted"
# Calendar: milliseconds of a day, days of a week.
_DAY_MS = 86_400_000
WEEK_D = 7


def before_valve(told: Told) -> list[Found]:
    """Return what is to be thought of before crossing; silent once it is crossed.

    What was so when it was crossed is still told in the record.
    """
    crossing = crossing_of(told)
    found = []
    if crossing.is_meant:
        found += _mechanical(told, crossing) + _left_bundle(told, crossing)
        found += _repaired(told, crossing)
    found += _fresh_leads(told, crossing) + cold(told, crossing)
    return found + _filter(told)


def _mechanical(told: Told, crossing: Crossing) -> list[Found]:
    remark = Remark("mechanical_tricuspid", "look_now", asks="crossing_avoided")
    return cautioned(told, "mechanical_tricuspid", remark, crossing.is_ahead)


def _repaired(told: Told, crossing: Crossing) -> list[Found]:
    remark = Remark("tricuspid_repair", "look_again")
    return cautioned(told, "tricuspid_repair", remark, crossing.is_ahead)


def _left_bundle(told: Told, crossing: Crossing) -> list[Found]:
    """Ask for pads before crossing where the left bundle is blocked, or not known."""
    path = f"{CAUTION}left_bundle_block"
    values = [head["value"] for head in told.fold["values"].get(path, [])]
    not_known = any(
        isinstance(value, dict) and value.get("absent") == "not_known"
        for value in values
    )
    if not ("yes" in values or not_known):
        return []
    ready, has_none = pads_ready(told, crossing)
    if ready:
        return []
    code = "left_bundle" if "yes" in values else "left_bundle_not_known"
    remark = Remark(code, "look_again", asks="pads_before_crossing")
    if has_none:
        remark = replace(remark, weight="look_now")
    return [Found(remark, path, "", entries_of(told.fold, (path,)), crossing.is_ahead)]


def _fresh_leads(told: Told, crossing: Crossing) -> list[Found]:
    """Say that permanent leads are young on the day of the record's first entry."""
    weeks = number(told.limits.get(_FRESH_KEY))
    path = f"{CAUTION}permanent_leads"
    placed = _implanted_ms(one_answer(told.fold, _IMPLANTED))
    times = [meta["time_ms"] for meta in told.fold["entries"].values()]
    first = min((ms for ms in times if ms > 0), default=0)
    if weeks is None or placed is None or "yes" not in heads(told.fold, path):
        return []
    age_ms = first - placed
    # A day alone has no zone: it may begin before the record's own day does.
    if age_ms < -_DAY_MS or age_ms >= weeks * WEEK_D * _DAY_MS:
        return []
    values = {"days": str(max(0, age_ms // _DAY_MS))}
    remark = Remark("fresh_leads", "look_again", values, (_FRESH_KEY,))
    ids = entries_of(told.fold, (path, _IMPLANTED))
    return [Found(remark, path, "", ids, crossing.is_ahead)]


def _implanted_ms(value: object) -> int | None:
    day = value.get("day") if isinstance(value, dict) else None
    if isinstance(day, str):
        return moment_ms({"utc": f"{day}T00:00:00Z"})
    return moment_ms(value)


def _filter(told: Told) -> list[Found]:
    """Say that a filter lies in the vein a wire comes up by."""
    path = f"{CAUTION}vena_cava_filter"
    if "yes" not in heads(told.fold, path):
        return []
    remark = Remark("filter_femoral", "look_again")
    found = []
    for wire in told.wires:
        if not site_code(told.fold, wire).startswith("femoral"):
            continue
        site = f"wires/{wire}/approach.site"
        stands = crossing_of(told, wire).is_ahead
        ids = entries_of(told.fold, (path, site))
        found.append(Found(remark, site, wire, ids, stands))
    return found
