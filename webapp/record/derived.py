"""Values worked out from others, read by conditions under the paths `derived.*`.

`derived.age_years` and `derived.age_days` are whole numbers, at the day of the
record's first entry. `static/js/form/derived.js` gives the same.
"""

from __future__ import annotations

from datetime import date
from typing import Any

from webapp.catalogue.moments import offset_of, read_instant

BIRTH, ESTIMATE = "patient.birth_date", "patient.estimated_age"


def derived(fold: dict[str, Any], path: str) -> Any:
    """Return a derived value as a quantity, or None where it cannot be known.

    Two answers, an absence or an impossible date give None: never a guess.
    """
    born = _only(fold, BIRTH)
    day = _first_day(fold)
    if isinstance(born, dict) and isinstance(born.get("date"), str) and day:
        try:
            return _from_birth(date.fromisoformat(born["date"]), day, path)
        except ValueError:
            return None
    return _from_estimate(_only(fold, ESTIMATE), path)


def _only(fold: dict[str, Any], path: str) -> Any:
    heads = fold["values"].get(path, [])
    return heads[0]["value"] if len(heads) == 1 else None


def _first_day(fold: dict[str, Any]) -> date | None:
    if not fold["order"]:
        return None
    at = fold["entries"][fold["order"][0]]["at"]
    utc = read_instant(at.get("utc"))
    return (utc + offset_of(at)).date() if utc else None


def _from_birth(born: date, day: date, path: str) -> Any:
    if born > day:
        return None
    if path == "derived.age_days":
        return _quantity((day - born).days, "d")
    if path == "derived.age_years":
        before = (day.month, day.day) < (born.month, born.day)
        return _quantity(day.year - born.year - before, "a")
    return None


def _from_estimate(told: Any, path: str) -> Any:
    if (
        not isinstance(told, dict)
        or "cmp" in told
        or not isinstance(told.get("n"), str)
    ):
        return None
    whole = told["n"].split(".")[0]
    if not whole.isascii() or not whole.isdigit() or len(whole) > 6:
        return None
    unit, amount = told.get("unit"), int(whole)
    if path == "derived.age_years" and unit in ("a", "d", "h"):
        return _quantity(amount if unit == "a" else 0, "a")
    if path == "derived.age_days" and unit in ("d", "h"):
        return _quantity(amount if unit == "d" else amount // 24, "d")
    return None


def _quantity(amount: int, unit: str) -> dict[str, str]:
    return {"as": str(amount), "n": str(amount), "unit": unit}
