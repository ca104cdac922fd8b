"""What a receiver reads again, held against what the sender left.

Source: fixtures/sources.md#clinical-23: a mismatch shows both, Look now.
"""

from __future__ import annotations

from webapp.clinical.asynchronous import settings_rows, told_asynchronous
from webapp.clinical.depth_moved import (
    depth_compared,
    depth_looks,
    depth_read,
    final_depth,
)
from webapp.clinical.dial import Dial, shown_on
from webapp.clinical.exact import number
from webapp.clinical.found import Found, ids_in_order
from webapp.clinical.left_at import dial_in_use, output_of
from webapp.clinical.mode import mode_of
from webapp.clinical.over import is_over
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import Row, point, rows_of
from webapp.clinical.shown import shown
from webapp.clinical.told import Told
from webapp.clinical.way import count_before, when
from webapp.clinical.wire_sensing import sensitivity_dial

_NAMES = ("rate", "output", "sensitivity", "mode")
_KEYS = {
    "output": ("output", "output_v"),
    "sensitivity": ("sensitivity", "asynchronous"),
}


def read_again_remarks(told: Told, wire: str) -> list[Found]:
    """Return each value that a receiver read otherwise than it was left.

    Only like is compared with like: exact numbers of one unit, depths of one reference
    point. The last reader's stands until the value is read back anew.
    """
    rows = rows_of(told.fold, f"wires/{wire}/handover.receiver_reads")
    sent = settings_rows(told.fold, wire)
    found: list[Found] = []
    for row in rows:
        is_last = row is rows[-1] and not is_over(told.fold, wire)
        count = count_before(sent, when(row))
        before, later = sent[:count], sent[count:]
        for name in _NAMES:
            left = _left(before, name)
            remark = _otherwise(told, wire, left, row, name) if left else None
            if left is None or remark is None:
                continue
            stands = is_last and not any(_says(told, wire, o, name) for o in later)
            evidence = ids_in_order([left, row])
            found.append(Found(remark, row.path, wire, evidence, stands))
        found += _depth(told, wire, row, is_last)
    return found


def _value(told: Told, wire: str, row: Row, name: str) -> tuple[str | None, str]:
    """Return what a row says under a name, and its unit; None where nothing exact."""
    if name == "rate":
        return point(row.value.get("rate"), "/min").n, "/min"
    if name == "output":
        found, unit = output_of(row, dial_in_use(told.fold, wire)[0])
        return found.n, unit
    if name == "sensitivity":
        is_async = told_asynchronous(row)
        return ("", "mV") if is_async else (point(row.value.get(name), "mV").n, "mV")
    mode = mode_of(row.value.get("mode"))
    return (mode.code if mode else None), ""


def _says(told: Told, wire: str, row: Row, name: str) -> bool:
    is_top = name == "output" and _is_maximum(row)
    return is_top or _value(told, wire, row, name)[0] is not None


def _left(before: list[Row], name: str) -> Row | None:
    """Return the last row that answers, whatever it says: no older number stands in."""
    keys = _KEYS.get(name, (name,))
    tells = [one for one in before if any(key in one.value for key in keys)]
    return tells[-1] if tells else None


def _is_maximum(row: Row) -> bool:
    """Tell whether the output was said to be the dial's maximum."""
    told = (row.value.get(key) for key in _KEYS["output"])
    value = next((one for one in told if one is not None), None)
    return isinstance(value, dict) and value.get("special") == "maximum"


def _against_maximum(told: Told, wire: str, sent: Row, read: Row) -> Remark | None:
    """Return a number held against "maximum", which is told as that word."""
    left, left_unit = _value(told, wire, sent, "output")
    seen, unit = _value(told, wire, read, "output")
    is_sent = _is_maximum(sent)
    exact = seen if is_sent else left
    if exact is None or left_unit != unit or _is_maximum(sent) == _is_maximum(read):
        return None
    if left is not None and seen is not None and _same(left, seen):
        return None
    shown_as = _shown(exact, "output", _dial(told, wire, "output"))
    if is_sent:
        values = {"read": shown_as, "unit": unit}
        return Remark("handover_left_maximum", "look_now", values)
    values = {"sent": shown_as, "unit": unit}
    return Remark("handover_read_maximum", "look_now", values)


def _otherwise(told: Told, wire: str, sent: Row, read: Row, name: str) -> Remark | None:
    if name == "output" and (_is_maximum(sent) or _is_maximum(read)):
        return _against_maximum(told, wire, sent, read)
    left, left_unit = _value(told, wire, sent, name)
    seen, unit = _value(told, wire, read, name)
    if left is None or seen is None or left_unit != unit or _same(left, seen):
        return None
    if "" in (left, seen):
        code = "handover_asynchronous" if left else "handover_sensing"
    else:
        code = f"handover_{name}"
    dial = _dial(told, wire, name)
    values = {
        key: _shown(text, name, dial)
        for key, text in (("sent", left), ("read", seen))
        if text
    }
    unit_values = {"unit": unit} if name == "output" else {}
    return Remark(code, "look_now", {**values, **unit_values})


def _same(left: str, seen: str) -> bool:
    a, b = number(left), number(seen)
    return left == seen if a is None or b is None else a == b


def _dial(told: Told, wire: str, name: str) -> Dial | None:
    if name == "output":
        return dial_in_use(told.fold, wire)[0]
    return sensitivity_dial(told.fold, wire) if name == "sensitivity" else None


def _shown(text: str, name: str, dial: Dial | None) -> str:
    if name == "rate":
        return shown(text)
    return shown_on(dial, text) if dial is not None else text


def _depth(told: Told, wire: str, row: Row, is_last: bool) -> list[Found]:
    """Return a depth that differs by as much as counts as moved, of one reference."""
    read = depth_read(row.value, (row.id,))
    looks = depth_looks(told.fold, wire)
    final = final_depth(told.fold, wire)
    count = count_before([look for look, _ in looks], when(row))
    before = [depth for _, depth in looks[:count]]
    checked = any(look.path.endswith(".check") for look, _ in looks[:count])
    if final is not None and not checked:
        before = [*before, final]
    if read is None or not before:
        return []
    like = [one for one in before if one.read_at == read.read_at]
    if not like or depth_compared(like[-1], read, told.limits) != "moved":
        return []
    values = {"sent": like[-1].shown, "read": read.shown}
    ids = (*like[-1].ids, *read.ids)
    remark = Remark("handover_depth", "look_now", values)
    return [Found(remark, row.path, wire, ids, is_last and not looks[count:])]
