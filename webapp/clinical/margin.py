"""The margin: output read back, divided by the threshold, as an exact fraction.

Source: fixtures/sources.md#clinical-8; the floor: domain 4b (LITFL, CICM 2013 Q29).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from webapp.clinical.dial import Dial, shown_on
from webapp.clinical.exact import decimal, number
from webapp.clinical.output import minimum, multiple, policy_asks
from webapp.clinical.pulse_widths import WhyUnlike
from webapp.clinical.remarks import Remark
from webapp.clinical.shown import times

Verdict = Literal["unknown", "below_floor", "not_shown", "holds", "needlessly_high"]


@dataclass(frozen=True, slots=True)
class Margin:
    """`shown`: "1.9 ×", or "unknown": then no number exists, and no ruler.

    `at_least`: from an upper bound (loss not sought): the margin is this or more.
    `below_target`: it holds, and the target stands beside it. `remarks`: none where
    unknown. `why`: unknown because two outputs are not comparable, and why not.
    """

    shown: str
    verdict: Verdict
    at_least: bool = False
    below_target: bool = False
    remarks: tuple[Remark, ...] = ()
    why: WhyUnlike = ""


UNKNOWN = Margin("unknown", "unknown")


@dataclass(frozen=True, slots=True)
class Setting:
    """What the dial was left at, and in which situation.

    `output`: exact decimal, read back by a person, None when not; `is_final`: the
    final settings, or those of a pacing check; `at_handover`: being handed over.
    """

    output: str | None
    unit: str = "mA"
    is_final: bool = False
    at_handover: bool = False


def margin(
    setting: Setting,
    threshold: str | None,
    at_most: str | None,
    dial: Dial,
    limits: Mapping[str, str],
    is_dependent: bool,
) -> Margin:
    """Return the margin and its verdict; shown truncated, judged exactly.

    `threshold`, `at_most`: exact decimals in the setting's unit, one of them or
    neither. 1.96 over 1.0 is "1.9 ×", below a floor of 2.0. Below the floor weighs
    Look now when dependent or at handover. Needlessly high only for final settings.
    """
    output = number(setting.output)
    base = number(threshold) if threshold is not None else number(at_most)
    floor = number(limits.get("threshold_margin_floor"))
    if output is None or base is None or floor is None or base <= 0 or output <= 0:
        return UNKNOWN
    held = output / base
    case = _Case(setting, output, base, dial, limits, is_dependent, threshold is None)
    if held < floor:
        return _below(case, held)
    if _is_needlessly_high(case):
        told = case.words(held)
        keys = ("margin_high_multiple", "output_minimum_ma")
        high = Remark("needlessly_high", "look_again", told, _present(keys, limits))
        return Margin(times(held), "needlessly_high", case.is_bound, False, (high,))
    return _holds(case, held)


@dataclass(frozen=True, slots=True)
class _Case:
    setting: Setting
    output: Fraction
    base: Fraction
    dial: Dial
    limits: Mapping[str, str]
    is_dependent: bool
    is_bound: bool

    def words(self, held: Fraction) -> dict[str, str]:
        return {
            "margin": times(held),
            "output": shown_on(self.dial, decimal(self.output)),
            "threshold": shown_on(self.dial, decimal(self.base)),
            "floor": f"{self.limits['threshold_margin_floor']} ×",
            "unit": self.setting.unit,
        }


def _present(keys: tuple[str, ...], limits: Mapping[str, str]) -> tuple[str, ...]:
    return tuple(key for key in keys if key in limits)


def _below(case: _Case, held: Fraction) -> Margin:
    told, keys = case.words(held), ("threshold_margin_floor",)
    if case.is_bound:
        remark = Remark("margin_not_shown", "look_again", told, keys)
        return Margin(times(held), "not_shown", True, False, (remark,))
    asked = policy_asks(
        decimal(case.base),
        case.dial,
        case.limits,
        case.is_dependent,
        unit=case.setting.unit,
    ).output
    if asked is not None:
        told["asked"] = shown_on(case.dial, asked)
    heavy = case.is_dependent or case.setting.at_handover
    weight: Literal["look_now", "look_again"] = "look_now" if heavy else "look_again"
    remark = Remark("below_floor", weight, told, keys, "output" if asked else "")
    return Margin(times(held), "below_floor", False, False, (remark,))


def _holds(case: _Case, held: Fraction) -> Margin:
    target = multiple(case.limits, case.is_dependent)
    short = target is not None and held < target and not case.is_bound
    told = case.words(held)
    if target is not None:
        told["target"] = f"{decimal(target)} ×"
    code = "margin_at_least" if case.is_bound else "margin_holds"
    keys = ["threshold_margin_floor"]
    if short:
        code = "margin_holds_below_target"
        keys.append(
            "margin_if_dependent" if case.is_dependent else "threshold_margin_target"
        )
    remark = Remark(code, "fits", told, tuple(keys))
    return Margin(times(held), "holds", case.is_bound, short, (remark,))


def _is_needlessly_high(case: _Case) -> bool:
    most = number(case.limits.get("margin_high_multiple"))
    if most is None or not case.setting.is_final or case.output <= most * case.base:
        return False
    least = minimum(case.limits, case.setting.unit)
    if least is None:
        # Volts, children: no minimum is known here, so nothing is called needless.
        return False
    one_up = case.dial.above(least)
    return one_up is not None and case.output > one_up
