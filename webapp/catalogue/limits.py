"""Judge a quantity: hard and soft range, unit, step."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

from webapp.catalogue.decimals import decimal, is_multiple, limit
from webapp.catalogue.model import Field, Range
from webapp.catalogue.quantities import figures, is_quantity, read_quantity
from webapp.catalogue.units import converted, shown_unit
from webapp.catalogue.verdicts import OK, State, Verdict, found, illegal, worst

# Both are exact, and compare with each other exactly.
Number = Decimal | Fraction


def check_quantity(field: Field, value: object, *, adult: bool = True) -> Verdict:
    """Judge a JSON value of kind qty.

    Ranges are in the field's first unit; a value in another unit is compared after
    exact conversion and is never changed. A number that fits only another unit of
    the field, or a unit without a fixed conversion, is asked about ("unit_asked").
    """
    if not is_quantity(value):
        return illegal(field)
    assert isinstance(value, dict)  # noqa: S101  narrows the type only
    unit = value["unit"]
    if unit and unit not in field.units:
        return found("impossible", field, "unit_unknown", unit=unit, typed=value["as"])
    if len(value) == 2:
        return found("impossible", field, "unreadable", typed=value["as"])
    if not _is_read_as_typed(field, value):
        return found("impossible", field, "contradicts_typed", typed=value["as"])
    if field.soft_ages == "adult" and not adult:
        field = replace(field, soft=None)
    return _within(field, value, unit or field.unit, said=bool(unit))


def _is_read_as_typed(field: Field, value: dict[str, Any]) -> bool:
    """Tell whether the typed text, where readable, gives the figures kept."""
    if len(value) == 3 and value["as"] == value.get("n"):
        return True
    read = read_quantity(field, value["as"], value["unit"])
    if len(read) == 2:
        return True
    keys = ("n", "low", "high", "cmp", "special")
    return all(read.get(key) == value.get(key) for key in keys)


def _within(field: Field, value: dict[str, Any], unit: str, *, said: bool) -> Verdict:
    if not figures(value):
        return OK
    here = _fit(field, value, unit)
    if said and here == "inside":
        soft, step = _soft(field, value, unit), _step(field, value, unit)
        return OK if soft is step is OK else worst((soft, step))
    others = [_fit(field, value, u) for u in field.units if u != unit]
    may_be_other = "inside" in others or "unknown" in others
    if here in ("below", "above"):
        beyond = _beyond("impossible", field, f"{here}_hard", field.hard, value)
        return worst((beyond, _asked(field, value))) if may_be_other else beyond
    in_doubt = here == "unknown" or (not said and may_be_other)
    return worst(
        (
            _asked(field, value) if in_doubt else OK,
            _soft(field, value, unit),
            _step(field, value, unit),
        )
    )


def _asked(field: Field, value: dict[str, Any]) -> Verdict:
    return found("soft", field, "unit_asked", typed=value["as"])


def _fit(field: Field, value: dict[str, Any], unit: str) -> str:
    """Return where the figures lie when read in `unit`, against the hard range."""
    if field.hard is None:
        return "inside"
    known = _in_unit_of(field, value, unit)
    if known is None:
        return "unknown"
    if min(known) < limit(field.hard.low):
        return "below"
    return "above" if max(known) > limit(field.hard.high) else "inside"


def _in_unit_of(field: Field, value: dict[str, Any], unit: str) -> list[Number] | None:
    """Return the figures in the field's first unit; None: no fixed way there."""
    if unit == field.unit:
        return [decimal(n) for n in figures(value)]
    numbers = [converted(n, unit, field.unit) for n in figures(value)]
    known = [n for n in numbers if n is not None]
    return None if len(known) < len(numbers) else list(known)


def _soft(field: Field, value: dict[str, Any], unit: str) -> Verdict:
    """Remark on a value outside the soft range; "> 4" is outside only for certain."""
    if field.soft is None:
        return OK
    known = _in_unit_of(field, value, unit)
    if known is None:
        return OK
    low, high = limit(field.soft.low), limit(field.soft.high)
    if _is_below(min(known), low, value.get("cmp")):
        return _beyond("soft", field, "below_soft", field.soft, value)
    if _is_above(max(known), high, value.get("cmp")):
        return _beyond("soft", field, "above_soft", field.soft, value)
    return OK


def _is_below(number: Number, low: Decimal, cmp: str | None) -> bool:
    if cmp in (">", ">="):
        return False
    return number <= low if cmp == "<" else number < low


def _is_above(number: Number, high: Decimal, cmp: str | None) -> bool:
    if cmp in ("<", "<="):
        return False
    return number >= high if cmp == ">" else number > high


def _beyond(
    state: State, field: Field, code: str, limits: Range | None, value: dict[str, Any]
) -> Verdict:
    assert limits is not None  # noqa: S101  narrows the type only
    end = limits.low if code.startswith("below") else limits.high
    unit = shown_unit(field.unit)
    return found(state, field, code, limit=end, unit=unit, typed=value["as"])


def _step(field: Field, value: dict[str, Any], unit: str) -> Verdict:
    """Note a value finer than the field's step; it stays as good as any other.

    The step is what the keys count in; no limit follows from it.
    """
    if not field.step or unit != field.unit:
        return OK
    if all(is_multiple(n, field.step) for n in figures(value)):
        return OK
    told = {"step": field.step, "unit": shown_unit(unit), "typed": value["as"]}
    return found("ok", field, "off_step", **told)
