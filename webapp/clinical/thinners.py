"""Blood thinners and thrombolysis before a vein is chosen.

Source: fixtures/sources.md#clinical-17, #domain-1.
"""

from __future__ import annotations

from typing import Any

from webapp.clinical.evidence import entries_of, in_order, last_ms
from webapp.clinical.exact import number
from webapp.clinical.found import Found
from webapp.clinical.over import heads
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import moment_ms, rows_of
from webapp.clinical.told import Told

PATH = "patient.blood_thinner"
_TAKES = "patient.on_blood_thinner"
_LYSIS = "indication.caution_thrombolysis"
_LYSIS_AT = "indication.thrombolysis_at"
_HOUR_MS = 3600000
# These keep platelets apart: neither INR nor last dose decides the vein.
_NO_ANTICOAGULANT = ("aspirin", "clopidogrel", "prasugrel", "ticagrelor")
# domain 1e: a compressible site is femoral, jugular or brachial.
_COMPRESSIBLE = ("internal_jugular", "femoral", "arm")


def thinner_remarks(told: Told) -> list[Found]:
    """Return what is open about anticoagulation, then about thrombolysis."""
    return [*_anticoagulants(told), *_thrombolysis(told)]


def _anticoagulants(told: Told) -> list[Found]:
    rows = [
        row
        for row in rows_of(told.fold, PATH)
        if row.value.get("drug") not in _NO_ANTICOAGULANT
    ]
    warfarin = [row for row in rows if row.value.get("drug") == "warfarin"]
    others = [row for row in rows if row.value.get("drug") != "warfarin"]
    undated = [row for row in others if not _is_told(row.value.get("last_dose"))]
    found: list[Found] = []
    if warfarin and not _has_inr(told.fold):
        remark = Remark("warfarin_no_inr", "look_again", asks="compressible")
        found.append(Found(remark, PATH, "", in_order(warfarin)))
    if undated:
        remark = Remark("thinner_no_last_dose", "look_again", asks="compressible")
        found.append(Found(remark, PATH, "", in_order(undated)))
    if not rows_of(told.fold, PATH) and "yes" in heads(told.fold, _TAKES):
        remark = Remark("thinner_not_named", "look_again", asks="compressible")
        found.append(Found(remark, _TAKES, "", entries_of(told.fold, (_TAKES,))))
    return found


def _is_told(value: Any) -> bool:
    return isinstance(value, dict) and "absent" not in value


def _has_inr(fold: dict[str, Any]) -> bool:
    rows = rows_of(fold, "patient.laboratory")
    return any(_is_told(row.value.get("inr")) for row in rows)


def _thrombolysis(told: Told) -> list[Found]:
    """Say that thrombolysis was recent, until a vein that can be pressed is chosen."""
    rows = [
        row
        for row in rows_of(told.fold, "indication.drugs_given")
        if row.value.get("drug") == "thrombolytic"
    ]
    answered = "yes" in heads(told.fold, _LYSIS)
    moments = [moment_ms(value) for value in heads(told.fold, _LYSIS_AT)]
    times = [row.time_ms for row in rows] + [ms for ms in moments if ms is not None]
    if not (rows or answered) or _is_compressible(told.fold):
        return []
    evidence = entries_of(told.fold, (_LYSIS, _LYSIS_AT), rows)
    path = _LYSIS if answered else "indication.drugs_given"
    if not times:
        remark = Remark("thrombolysis_when", "look_again", asks="compressible")
        return [Found(remark, path, "", evidence)]
    hours = number(told.limits.get("thrombolysis_recent_h"))
    since_ms = _chosen_ms(told) - max(times)
    if hours is None or since_ms >= hours * _HOUR_MS:
        return []
    # A dose entered late has no time of its own; of one to come no hours can be told.
    is_later = since_ms < 0
    code = "thrombolysis_later" if is_later else "thrombolysis_recent"
    values = {} if is_later else {"hours": str(since_ms // _HOUR_MS)}
    keys = ("thrombolysis_recent_h",)
    remark = Remark(code, "look_again", values, keys, "compressible")
    return [Found(remark, path, "", evidence)]


def _chosen_ms(told: Told) -> int:
    """Return when the vein was punctured, else now, else the record's last entry."""
    punctured = [
        ms
        for value in heads(told.fold, "approach.first_puncture")
        if (ms := moment_ms(value)) is not None
    ]
    if punctured:
        return min(punctured)
    return last_ms(told.fold) if told.now_ms is None else told.now_ms


def _is_compressible(fold: dict[str, Any]) -> bool:
    """Tell whether every vein chosen can be pressed; none chosen yet: no."""
    sites = [
        site
        for path in fold["values"]
        if path.startswith("wires/") and path.endswith("/approach.site")
        for site in heads(fold, path)
    ]
    return bool(sites) and all(
        isinstance(site, str) and site.startswith(_COMPRESSIBLE) for site in sites
    )
