"""Plain calls of settings, due times, drift and handing over, for vectors.

`tests/js/clinical_after.mjs` has the same names.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from webapp.clinical.asynchronous import asynchronous
from webapp.clinical.depth_moved import depth_compared, depth_read
from webapp.clinical.drift import Measured, drift
from webapp.clinical.due import next_due
from webapp.clinical.dwell import dwell
from webapp.clinical.first_settings import (
    first_settings,
    first_settings_of,
    left_beside_asked,
)
from webapp.clinical.mean_pressure import mean_pressure
from webapp.clinical.mode import mode_of, mode_words
from webapp.clinical.open_test import open_test
from webapp.clinical.output import PolicyAsks
from webapp.clinical.over import is_over
from webapp.clinical.policy import Policy
from webapp.clinical.told import Told
from webapp.clinical.wire_sensing import sensing_summary

Input = dict[str, Any]
Calls = dict[str, Callable[[Input], Any]]


def calls_after(
    limits_of: Callable[[Input], dict[str, str]],
    told_as_fold: Callable[[Input], Input],
    policy_of: Callable[[Input], Policy],
) -> Calls:
    """Return the calls by name."""

    def folded(call: Callable[[Input], Any]) -> Callable[[Input], Any]:
        return lambda given: call(told_as_fold(given))

    return {
        "mode": _mode,
        "open_test": folded(
            lambda g: open_test(g["fold"], g["wire"], limits_of(g), g.get("now_ms"))
        ),
        "asynchronous": folded(lambda g: asynchronous(g["fold"], g["wire"])),
        "first_settings": lambda g: first_settings(
            g["urgency"], g["own"], g["own_rate"], limits_of(g)
        ),
        "first_settings_of": folded(
            lambda g: first_settings_of(g["fold"], limits_of(g))
        ),
        "left_beside_asked": lambda g: left_beside_asked(
            PolicyAsks(g["asked"], g["unit"]), g["left_at"], g.get("left_unit", "mA")
        ),
        "next_due": folded(lambda g: _next_due(g, policy_of(g))),
        "drift": lambda g: drift(
            [Measured(ms, value) for ms, value in g["values"]],
            g["output"],
            g["is_below_floor"],
            g["due_ms"],
            limits_of(g),
        ),
        "depth_compared": lambda g: _compared(g, limits_of(g)),
        "sensing_summary": folded(
            lambda g: sensing_summary(
                Told(g["fold"], policy_of(g), g.get("now_ms")), g["wire"]
            )
        ),
        "is_over": folded(lambda g: is_over(g["fold"], g["wire"])),
        "dwell": folded(lambda g: dwell(g["fold"], g["wire"])),
        "mean_pressure": lambda g: mean_pressure(g["systolic"], g["diastolic"]),
    }


def _next_due(given: Input, policy: Policy) -> list[Input]:
    return [
        {
            "kind": one.kind,
            "due_ms": one.due_ms,
            "since_ms": one.since_ms,
            "after": one.after,
        }
        for one in next_due(given["fold"], given["wire"], policy)
    ]


def _compared(given: Input, limits: dict[str, str]) -> str | None:
    before, after = (depth_read(given[name], ()) for name in ("before", "after"))
    return depth_compared(before, after, limits) if before and after else None


class _Keys(dict[str, str]):
    """User texts that are their own keys."""

    def __missing__(self, key: str) -> str:
        return key


def _mode(given: Input) -> Any:
    mode = mode_of(given["value"])
    if mode is None:
        return None
    return {
        "code": mode.code,
        "is_asynchronous": mode.is_asynchronous,
        "wants_atrial_wire": mode.wants_atrial_wire,
        "words": mode_words(mode, _Keys()),
    }
