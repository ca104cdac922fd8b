"""Local anaesthetic: all lidocaine summed, its limit, and what is left of it.

Source: fixtures/sources.md#clinical-16, #domain-7.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from webapp.clinical.ages import size_of
from webapp.clinical.amounts import (
    HUNDREDTH,
    NONE,
    Amount,
    amount,
    cut,
    mass_mg,
    raised,
    weight_kg,
)
from webapp.clinical.evidence import in_order
from webapp.clinical.exact import decimal, number
from webapp.clinical.over import heads
from webapp.clinical.rows import Row, moment_ms, rows_of
from webapp.clinical.shown import truncated
from webapp.clinical.told import Told

PATH = "approach.local_anaesthetic"
DRUGS = "indication.drugs_given"
# Definition (domain 7a): 1 % is 10 mg in each mL.
MG_ML_PER_PERCENT = Fraction(10)
_MINUTE_MS = 60000
_HARD_PERCENT = Fraction(100)  # the catalogue's
# An age above which labels reduce the dose (clinical 16).
_OLD_YEARS = Fraction(70)
_RATES = {"mg/min": Fraction(1), "mg/h": Fraction(1, 60)}


@dataclass(frozen=True, slots=True)
class AnaestheticSum:
    """All lidocaine of a case, as shown: exact decimals, mg and mL.

    `given_mg` is never too little, `limit_mg` and `left_ml` never too much; None where
    there is none. `at_least`: a dose, strength or volume is not stated; `left_ml`: of
    the strength given last, `strength` in %. `fraction`: of the limit, None without.
    `weight_known`: else the cap alone, in a child no limit. `reduce`: codes of why
    less than the limit is to be expected. `others`: agents without a limit worked out.
    """

    given_mg: str
    at_least: bool
    limit_mg: str | None
    left_ml: str | None
    strength: str
    fraction: str | None
    is_over: bool
    weight_known: bool
    limits: tuple[str, ...]
    reduce: tuple[str, ...]
    others: tuple[str, ...]
    ids: tuple[str, ...]


def anaesthetic_sum(told: Told) -> AnaestheticSum:
    """Return what was given and what is left. Plain and adrenaline: the plain limit."""
    fold = told.fold
    local = rows_of(fold, PATH)
    skin = [row for row in local if row.value.get("agent") == "lidocaine"]
    vein = [r for r in rows_of(fold, DRUGS) if r.value.get("drug") == "lidocaine"]
    weight = weight_kg(fold)
    # Of a weight told as a range the lower end: the limit is never too high.
    lightest = weight.high if weight.low is None else weight.low
    doses = [_local_mg(row) for row in skin] + [_vein_mg(row, weight) for row in vein]
    given = sum((dose.low or NONE for dose in doses), NONE)
    at_least = not all(dose.is_exact for dose in doses)
    adrenaline = not vein and all(r.value.get("with_adrenaline") == "yes" for r in skin)
    limit, keys = _limit(told, adrenaline and bool(skin), lightest)
    strength = _strength(skin)
    is_over = limit is not None and given > limit
    left = None
    if limit is not None and strength is not None and not is_over and not at_least:
        left = truncated((limit - given) / (strength * MG_ML_PER_PERCENT))
    return AnaestheticSum(
        given_mg=raised(given),
        at_least=at_least,
        limit_mg=None if limit is None else cut(limit),
        left_ml=left,
        strength="" if strength is None else decimal(strength),
        fraction=None if not limit else raised(given / limit, HUNDREDTH),
        is_over=is_over,
        weight_known=lightest is not None,
        limits=keys,
        reduce=_reduce(fold),
        others=_others(local),
        ids=in_order([*skin, *vein]),
    )


def _local_mg(row: Row) -> Amount:
    volume = amount(row.value.get("volume"), "mL")
    strength = amount(row.value.get("strength"), "%")
    if volume.low is None or strength.low is None or strength.low > _HARD_PERCENT:
        return Amount()
    low = volume.low * strength.low * MG_ML_PER_PERCENT
    return Amount(low, low if volume.is_exact and strength.is_exact else None)


def _vein_mg(row: Row, weight: Amount) -> Amount:
    """Return a dose into the vein; of an infusion, rate by time once it is stopped."""
    value = row.value.get("dose")
    for unit, per_min in _RATES.items():
        rate = amount(value, unit)
        if rate.low is None:
            continue
        stopped = moment_ms(row.value.get("stopped"))
        if stopped is None or stopped < row.time_ms:
            return Amount()
        return rate.times(per_min * Fraction(stopped - row.time_ms, _MINUTE_MS))
    return mass_mg(value, weight)


def _strength(skin: list[Row]) -> Fraction | None:
    """Return the strength given last, in %, where it is one number."""
    told = [amount(row.value.get("strength"), "%") for row in skin]
    known = [one.low for one in told if one.is_exact and one.low]
    return known[-1] if known and known[-1] <= _HARD_PERCENT else None


def _limit(
    told: Told, adrenaline: bool, weight: Fraction | None
) -> tuple[Fraction | None, tuple[str, ...]]:
    kind = "adrenaline" if adrenaline else "plain"
    keys = (f"lidocaine_{kind}_mg_per_kg", f"lidocaine_{kind}_cap_mg")
    per_kg, cap = (number(told.limits.get(key)) for key in keys)
    if cap is None or per_kg is None:
        return None, ()
    if weight is None:
        # The cap is that of an adult: without a weight a child has no limit here.
        return (cap, keys[1:]) if told.age.is_adult else (None, ())
    return min(per_kg * weight, cap), keys


def _reduce(fold: dict[str, Any]) -> tuple[str, ...]:
    told = {
        row.value.get("condition")
        for row in rows_of(fold, "indication.background")
        if row.value.get("certainty") != "ruled_out"
        and isinstance(row.value.get("condition"), str)
    }
    picked = [
        one for one in heads(fold, "indication.compromise") if isinstance(one, list)
    ]
    told |= {one for several in picked for one in several if isinstance(one, str)}
    years = size_of(fold).years
    reasons = {
        "low_output": bool(told & {"acute_heart_failure", "heart_failure"}),
        "liver_disease": "liver_disease" in told,
        "old": years is not None and years > _OLD_YEARS,
        "shock": "shock" in told,
    }
    return tuple(code for code, holds in reasons.items() if holds)


def _others(local: list[Row]) -> tuple[str, ...]:
    """Return the other agents in the order given; "other" for one in words."""
    told = [row.value.get("agent") for row in local]
    codes = [one if isinstance(one, str) else "other" for one in told]
    return tuple(dict.fromkeys(code for code in codes if code != "lidocaine"))
