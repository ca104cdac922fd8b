"""What is found about the place of a wire: paced shape, twitch, a beat beside the ECG.

Source: fixtures/sources.md#clinical-19, #domain-5. None of it proves a place.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from webapp.clinical.amounts import amount, raised
from webapp.clinical.evidence import entries_of
from webapp.clinical.exact import number
from webapp.clinical.found import Found, at_row
from webapp.clinical.over import heads, is_over
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import HARD, Row, ends_of, rows_of
from webapp.clinical.told import Told

ECG = "finish.paced_ecg"
_READ = ("seen_by_me", "reported")
# domain 5: rule A, frontal axis -30 to -90 degrees, transition at or before V3.
_AXIS = (Fraction(-90), Fraction(-30))
_TRANSITIONS = ("v1", "v2", "v3")
_LOWEST = "output_minimum_ma"


def place_remarks(told: Told) -> list[Found]:
    """Return the paced 12-lead's remarks, then each wire's twitch and beat."""
    found = _right_bundle(told)
    for wire in told.wires:
        found += [*_twitch(told, wire), *_no_beat(told, wire)]
    return found


def meets_rule_a(row: Row) -> bool:
    """Tell whether all three inputs of rule A are known and met."""
    low, high = ends_of(row.value.get("axis"), "deg")
    if low is None or high is None or not _AXIS[0] <= low <= high <= _AXIS[1]:
        return False
    return (
        row.value.get("transition") in _TRANSITIONS and row.value.get("s_in_1") == "no"
    )


def _right_bundle(told: Told) -> list[Found]:
    """Return each right-bundle look; silent once imaged, or taken again since."""
    rows = rows_of(told.fold, ECG)
    shots = [
        row
        for row in rows_of(told.fold, "finish.imaging")
        if row.value.get("state") in _READ
    ]
    out = bool(told.wires) and all(is_over(told.fold, wire) for wire in told.wires)
    found: list[Found] = []
    for row in rows:
        if row.value.get("pattern") != "right_bundle":
            continue
        if meets_rule_a(row):
            remark = Remark("right_bundle_meets", "fits", asks="image_anyway")
        else:
            remark = Remark("right_bundle_image", "look_again", asks="image")
        imaged = any(shot.time_ms >= row.time_ms for shot in shots)
        stands = row is rows[-1] and not imaged and not out
        found.append(Found(remark, ECG, "", (row.id,), stands))
    return found


def _twitch(told: Told, wire: str) -> list[Found]:
    """Ask at which output; at a low one perforation is named.

    Low is at or below the lowest output policy asks for; in a child only what is said
    to be low.
    """
    path, at = f"wires/{wire}/capture.twitch", f"wires/{wire}/capture.twitch_output"
    lists = [one for one in heads(told.fold, path) if isinstance(one, list)]
    if not any(sign != "none" for signs in lists for sign in signs):
        return []
    outputs = heads(told.fold, at)
    evidence = entries_of(told.fold, (path, at))
    if not outputs:
        return [Found(Remark("twitch_output", "look_again"), path, wire, evidence)]
    remarks = [
        _low_output(value, number(told.limits.get(_LOWEST))) for value in outputs
    ]
    return [Found(one, path, wire, evidence) for one in remarks if one is not None]


def _low_output(value: Any, lowest: Fraction | None) -> Remark | None:
    asks = "ultrasound_perforation"
    if isinstance(value, dict) and value.get("special") in ("low", "minimal"):
        return Remark("twitch_low", "look_again", asks=asks)
    high = amount(value, "mA").high
    if high is None or lowest is None or high > min(lowest, HARD["mA"][1]):
        return None
    values = {"output": raised(high)}
    return Remark("twitch_at", "look_again", values, (_LOWEST,), asks)


def _no_beat(told: Told, wire: str) -> list[Found]:
    """Return electrical capture beside which no sign of a beat was seen."""
    path = f"wires/{wire}/capture.electrical_capture"
    sign = f"wires/{wire}/capture.mechanical_capture"
    remark = Remark("capture_no_beat", "look_again")
    found: list[Found] = []
    if "yes" in heads(told.fold, path) and ["none"] in heads(told.fold, sign):
        evidence = entries_of(told.fold, (path, sign))
        found.append(Found(remark, sign, wire, evidence))
    checks = rows_of(told.fold, f"wires/{wire}/checks.check")
    return found + [
        at_row(remark, row, wire, row is checks[-1])
        for row in checks
        if row.value.get("electrical_capture") == "yes"
        and row.value.get("mechanical_capture") == ["none"]
    ]
