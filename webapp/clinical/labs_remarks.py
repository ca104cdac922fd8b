"""What is found about laboratory values and measures: units, what cannot be, potassium.

Source: fixtures/sources.md#clinical-14. A comparator is compared, never averaged.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from webapp.clinical.evidence import in_order
from webapp.clinical.found import Found
from webapp.clinical.plausible import HARD_OF, verdict, written
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import ends_of, rows_of
from webapp.clinical.told import Told

_LAB = "patient.laboratory"
_IN_LAB = ("potassium", "magnesium", "inr", "platelets", "ph")
_IN_CHECK = ("temperature", "potassium")
_OF_PATIENT = ("weight", "height", "temperature")
_AT_REMOVAL = ("inr", "platelets")
# The catalogue's soft range, mmol/L.
SOFT_POTASSIUM = (Fraction(7, 2), Fraction(11, 2))
# Which unit is asked about, by the unit told; "" where none was.
_ASKED = {
    "mg/dL": "mmol_l",
    "mmol/L": "mg_dl",
    "Cel": "degf",
    "[degF]": "cel",
    "": "unit",
}
_SHOWN = {"Cel": "°C", "[degF]": "°F", "10*9/L": "×10⁹/L"}


@dataclass(frozen=True, slots=True)
class Measure:
    """One value with its place. `is_last`: nobody told the same later."""

    name: str
    value: Any
    path: str
    wire: str
    ids: tuple[str, ...]
    is_last: bool = True


def labs_remarks(told: Told) -> list[Found]:
    """Return what is asked about, what cannot be, and potassium that hurts capture."""
    found: list[Found] = []
    for one in (*_in_rows(told), *_in_fields(told)):
        remark = _remark(one)
        if remark is not None:
            put_right = remark.code.startswith("potassium_is_") and not one.is_last
            found.append(Found(remark, one.path, one.wire, one.ids, not put_right))
    return found


def _in_rows(told: Told) -> list[Measure]:
    """Return the values of laboratory rows and pacing checks, in time."""
    wires = {f"wires/{wire}/checks.check": wire for wire in told.wires}
    rows = rows_of(told.fold, _LAB, *wires)
    names = {_LAB: _IN_LAB, **dict.fromkeys(wires, _IN_CHECK)}
    last = {
        name: row.id for row in rows for name in names[row.path] if name in row.value
    }
    return [
        Measure(
            name,
            row.value[name],
            row.path,
            wires.get(row.path, ""),
            in_order([row]),
            last[name] == row.id,
        )
        for row in rows
        for name in names[row.path]
        if name in row.value
    ]


def _in_fields(told: Told) -> Iterator[Measure]:
    """Yield the answers of single fields, each of several answers by itself."""
    fields = [(f"patient.{name}", name, "") for name in _OF_PATIENT]
    fields += [
        (f"wires/{wire}/removal.{name}", name, wire)
        for wire in told.wires
        for name in _AT_REMOVAL
    ]
    for path, name, wire in fields:
        for head in told.fold["values"].get(path, []):
            ids = tuple(one for one in told.fold["order"] if one in head["entries"])
            yield Measure(name, head["value"], path, wire, ids)


def _remark(one: Measure) -> Remark | None:
    judged = verdict(one.name, one.value)
    if judged == "":
        return _potassium(one.value) if one.name == "potassium" else None
    unit = one.value["unit"]
    values = {"typed": written(one.value)}
    if judged == "asked":
        return Remark(f"{one.name}_{_ASKED[unit]}", "look_again", values)
    bare = unit == "" and "" not in HARD_OF[one.name]
    values["unit"] = "without unit" if bare else _SHOWN.get(unit, unit)
    return Remark(f"impossible_{one.name}", "look_again", values)


def _potassium(value: Any) -> Remark | None:
    """Return potassium outside the soft range for certain; in mmol/L only."""
    low, high = ends_of(value, "mmol/L")
    beyond = isinstance(value, dict) and value.get("cmp") in ("<", ">")
    under, over = SOFT_POTASSIUM
    if low is not None and (low > over or (beyond and low == over)):
        code = "potassium_is_high"
    elif high is not None and (high < under or (beyond and high == under)):
        code = "potassium_is_low"
    else:
        return None
    return Remark(code, "look_again", {"typed": written(value)})
