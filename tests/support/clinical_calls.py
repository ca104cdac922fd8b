"""Call what is computed from plain JSON, as vectors and the other language give it.

`tests/js/clinical.mjs` has the same names; the two are held equal.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import asdict
from fractions import Fraction
from functools import lru_cache
from typing import Any

from tests.support.clinical_calls_after import calls_after
from tests.support.clinical_calls_around import calls_around
from tests.support.clinical_calls_way import calls_way
from tests.support.clinical_told import fold_of, now_ms
from webapp.clinical import policy as policies
from webapp.clinical.ages import Size, age_class
from webapp.clinical.case_remarks import AREAS, case_remarks
from webapp.clinical.counted import Reading, counts_as
from webapp.clinical.dependence import (
    OwnRhythm,
    dependence,
    may_offer_sensing_test,
    offered_tests,
)
from webapp.clinical.dial import Dial, dial_of, dial_problem, shown_on
from webapp.clinical.dial_text import segments
from webapp.clinical.exact import decimal, number, ratio
from webapp.clinical.margin import Setting, margin
from webapp.clinical.next_output import next_output
from webapp.clinical.output import policy_asks
from webapp.clinical.readings import threshold_summary
from webapp.clinical.remark_answers import answer_to
from webapp.clinical.remarks import (
    Remark,
    asks,
    finding,
    more,
    source_line,
    weight_word,
)
from webapp.clinical.sensing import (
    sensing_remarks,
    sensing_threshold,
    sensitivity_asks,
)
from webapp.clinical.shown import age, elapsed, shown, times, truncated
from webapp.clinical.threshold import threshold_test
from webapp.clinical.told import Told
from webapp.say import SAY

Input = dict[str, Any]


def policy_of(given: Input) -> policies.Policy:
    """Return the shipped limits with the overrides of an input."""
    return _loaded(json.dumps(given.get("policy"), sort_keys=True))


@lru_cache
def _loaded(overrides: str) -> policies.Policy:
    return policies.load(json.loads(overrides))


def limits_of(given: Input) -> dict[str, str]:
    """Return the limits that an input is to be judged by."""
    return policy_of(given).limits(given.get("is_adult", True))


def told_as_fold(given: Input) -> Input:
    """Return an input whose record is folded, for either language."""
    if "remark" in given:
        return {"words": WORDS, **given}
    if "told" not in given:
        return given
    rest = {k: v for k, v in given.items() if k not in ("told", "now")}
    if "now" in given:
        rest["now_ms"] = now_ms(given["now"])
    return {"wire": "w1", "fold": fold_of(given["told"]), **rest}


def _dial(given: Input) -> Dial:
    return dial_of(given.get("dial"))


def _readings(given: Input) -> list[Reading]:
    return [
        Reading(**r) if isinstance(r, dict) else Reading(r[0], LETTERS[r[1]])
        for r in given["readings"]
    ]


WORDS = {
    key: text
    for key, text in SAY.items()
    if key.startswith("clinical.") or key == "caution.decides"
}
LETTERS: dict[str, Any] = {"c": "captures", "n": "no_capture", "?": "cannot_tell"}


def _threshold_test(given: Input) -> Any:
    context = {
        name: given[name]
        for name in ("is_dependent", "is_ordered", "unit")
        if name in given
    }
    return threshold_test(_readings(given), _dial(given), limits_of(given), **context)


def _next_output(given: Input) -> Any:
    return next_output(
        _readings(given),
        given["set"],
        _dial(given),
        limits_of(given),
        given["is_dependent"],
    )


def _offered_in_turn(given: Input) -> list[str]:
    """Follow the offers while each of them captures."""
    readings, offers = _readings(given), []
    for _ in range(100):
        offer = next_output(
            readings,
            given["set"],
            _dial(given),
            limits_of(given),
            given["is_dependent"],
        )
        if offer.output is None:
            return [*offers, offer.ends]
        offers.append(offer.output)
        readings.append(Reading(offer.output, "captures"))
    return offers


def _policy_asks(given: Input) -> Any:
    context = {k: given[k] for k in ("unit", "why_none") if k in given}
    return policy_asks(
        given["threshold"],
        _dial(given),
        limits_of(given),
        given.get("is_dependent", False),
        **context,
    )


def _margin(given: Input) -> Any:
    return margin(
        Setting(**given["setting"]),
        given.get("threshold"),
        given.get("at_most"),
        _dial(given),
        limits_of(given),
        given.get("is_dependent", False),
    )


def _dependence(given: Input) -> Any:
    blank = {
        "result": None,
        "rate_per_min": None,
        "is_tolerated": None,
        "is_called_reliable": None,
    }
    return dependence(OwnRhythm(**{**blank, **given["own"]}), limits_of(given))


def _age_class(given: Input) -> Any:
    names = ("years", "weight_kg", "height_cm")
    size = Size(*(number(given.get(n)) for n in names), given.get("by_look", ""))
    return age_class(size, policy_of(given).limits(is_adult=True))


def _remark_words(given: Input) -> dict[str, str]:
    words, rows = WORDS, policies.exported(policy_of(given))["rows"]
    told = given["remark"]
    remark = Remark(**{**told, "limits": tuple(told["limits"])})
    return {
        "weight": weight_word(remark, words),
        "finding": finding(remark, words),
        "more": more(remark, words),
        "asks": asks(remark, words),
        "source": source_line(remark, rows, words),
    }


def _summary(given: Input) -> Any:
    given = told_as_fold(given)
    context = {k: given[k] for k in ("now_ms", "at_handover") if k in given}
    return threshold_summary(given["fold"], given["wire"], policy_of(given), **context)


def _case_remarks(given: Input) -> Any:
    given = told_as_fold(given)
    found = case_remarks(given["fold"], policy_of(given), now_ms=given.get("now_ms"))
    return [asdict(one) for one in found]


def _answers(given: Input) -> Any:
    """Return code and answer of each remark of a record, None where nobody spoke."""
    fold = told_as_fold(given)["fold"]
    found = case_remarks(fold, policy_of(given))
    rows = [(one.name, answer_to(fold, one)) for one in found]
    return [[code, row.value.get("answer") if row else None] for code, row in rows]


def _area(name: str) -> Callable[[Input], Any]:
    """Return the call of one area's remarks, named `in_<area>`."""

    def run(given: Input) -> Any:
        given = told_as_fold(given)
        told = Told(given["fold"], policy_of(given), given.get("now_ms"))
        return [asdict(one) for one in AREAS[name](told)]

    return run


def _snapped(given: Input) -> dict[str, Any]:
    dial, value = _dial(given), number(given["value"]) or Fraction(0)
    found = {
        "at_or_above": dial.at_or_above(value),
        "at_or_below": dial.at_or_below(value),
        "above": dial.above(value),
        "below": dial.below(value),
    }
    told = {k: None if v is None else decimal(v) for k, v in found.items()}
    return {
        **told,
        "step": dial.step_at(value),
        "shown": shown_on(dial, given["value"]),
        "known": dial.known,
        "problem": dial_problem(given.get("dial")),
        "lowest": decimal(dial.lowest),
        "highest": decimal(dial.highest),
    }


def _truncated(given: Input) -> str:
    exact = ratio(given["value"]) or Fraction(0)
    return truncated(exact, given["step"])


def _times(given: Input) -> str:
    over = number(given["over"]) or Fraction(1)
    return times((number(given["value"]) or Fraction(0)) / over)


CALLS: dict[str, Callable[[Input], Any]] = {
    "threshold_test": _threshold_test,
    "counts_as": lambda g: counts_as(Reading(**g["reading"]), limits_of(g)),
    "next_output": _next_output,
    "offered_in_turn": _offered_in_turn,
    "policy_asks": _policy_asks,
    "margin": _margin,
    "dependence": _dependence,
    "offered_tests": lambda g: offered_tests(
        g["is_dependent"], g["pads_ready"], g["doctor_present"]
    ),
    "may_offer_sensing_test": lambda g: may_offer_sensing_test(g["is_dependent"]),
    "age_class": _age_class,
    "remark_words": _remark_words,
    "threshold_summary": _summary,
    "dial": _snapped,
    "segments": lambda g: segments(g["text"]),
    "shown": lambda g: shown(g["value"], g["step"]),
    "truncated": _truncated,
    "times": _times,
    "elapsed": lambda g: elapsed(g["seconds"]),
    "age": lambda g: age(g["seconds"]),
    "limits": limits_of,
    "sensing_threshold": lambda g: sensing_threshold([(v, r) for v, r in g["mv"]]),
    "sensitivity_asks": lambda g: sensitivity_asks(
        g["measured"], _dial(g), limits_of(g)
    ),
    "sensing_remarks": lambda g: [
        asdict(remark)
        for remark in sensing_remarks(
            g["measured"], g["left_at"], _dial(g), limits_of(g), g["is_dependent"]
        )
    ],
    "case_remarks": _case_remarks,
    "remark_answers": _answers,
    **calls_after(limits_of, told_as_fold, policy_of),
    **calls_around(policy_of, told_as_fold),
    **calls_way(limits_of),
    **{f"in_{name}": _area(name) for name in AREAS},
}


def call(function: str, given: Input) -> Any:
    """Return what a function gives, as JSON."""
    return plain(CALLS[function](given))


def plain(result: Any) -> Any:
    """Return dataclasses as dicts and tuples as lists."""
    told = asdict(result) if hasattr(result, "__dataclass_fields__") else result
    return json.loads(json.dumps(told))
