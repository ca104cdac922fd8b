"""The next output offered in a threshold test; after a loss only upward.

Source: fixtures/sources.md#clinical-7, "Next reading offered".
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from webapp.clinical.counted import Reading, Result, counts_as
from webapp.clinical.dial import Dial
from webapp.clinical.exact import decimal, number, ratio

Ends = Literal[
    "",
    "threshold_found",
    "margin_shown",
    "dial_lowest",
    "dial_highest",
    "set_not_known",
]


@dataclass(frozen=True, slots=True)
class NextOutput:
    """`output`: exact decimal, or None where nothing is offered; `ends`: then why.

    `is_highest`: the dial's highest is meant, whatever number that is.
    """

    output: str | None
    ends: Ends = ""
    is_highest: bool = False


@dataclass(frozen=True, slots=True)
class _State:
    """What the offer goes by; `last`: the latest reading's output and result."""

    dial: Dial
    set_output: Fraction | None
    captured: list[Fraction]
    lost: list[Fraction]
    last: tuple[Fraction, Result] | None


def next_output(
    readings: Sequence[Reading],
    set_output: str | None,
    dial: Dial,
    limits: Mapping[str, str],
    is_dependent: bool,
) -> NextOutput:
    """Return the output to offer next.

    `readings`: in the order read; `set_output`: the output at the start, read from
    the dial. Down: two thirds while above 2 mA, then by 0.2. After can't tell: the
    same output again. After any loss: the last captured output, else the one already
    set, else the dial's highest; always above every loss. A dependent patient is
    never offered less than the output set divided by `margin_shown_factor`.
    """
    counted = [
        (output, counts_as(reading, limits).counts_as)
        for reading in readings
        if (output := number(reading.output)) is not None
    ]
    captured = [x for x, result in counted if result == "captures"]
    lost = [x for x, result in counted if result == "no_capture"]
    last = counted[-1] if counted else None
    state = _State(dial, number(set_output), captured, lost, last)
    lowest = _lowest(state, limits) if is_dependent else None
    if lost:
        return _up(state, counted, lowest)
    if is_dependent and lowest is None:
        return NextOutput(None, "set_not_known")
    return _down(state, limits, lowest)


def _lowest(state: _State, limits: Mapping[str, str]) -> Fraction | None:
    """Return the lowest output offered to a dependent patient, or None: not known."""
    factor = number(limits.get("margin_shown_factor"))
    if state.set_output is None or factor is None:
        return None
    shown_at = state.set_output / factor
    return state.dial.at_or_above(shown_at) or state.dial.highest


def _up(
    state: _State, counted: list[tuple[Fraction, Result]], lowest: Fraction | None
) -> NextOutput:
    highest_lost = max(state.lost)
    last_loss = max(n for n, (_, r) in enumerate(counted) if r == "no_capture")
    since = [x for x, result in counted[last_loss + 1 :] if result == "captures"]
    if any(x > highest_lost for x in since):
        return NextOutput(None, "threshold_found")
    for output in _ways_up(state):
        if output > highest_lost:
            way = output if lowest is None else max(output, lowest)
            return NextOutput(decimal(way), "", way == state.dial.highest)
    return NextOutput(None, "dial_highest")


def _ways_up(state: _State) -> list[Fraction]:
    """Return the outputs that may bring capture back, the first choice first."""
    ways = state.captured[-1:] + sorted(state.captured)
    if state.set_output is not None:
        ways.append(state.set_output)
    return [*ways, state.dial.highest]


def _down(
    state: _State, limits: Mapping[str, str], lowest: Fraction | None
) -> NextOutput:
    if state.last is not None and state.last[1] == "cannot_tell":
        again = max(state.last[0], lowest or state.dial.lowest)
        return NextOutput(decimal(again))
    here = state.last[0] if state.last is not None else state.set_output
    if here is None:
        return NextOutput(None, "set_not_known")
    return _below(state, here, lowest, limits)


def _below(
    state: _State, here: Fraction, lowest: Fraction | None, limits: Mapping[str, str]
) -> NextOutput:
    if lowest is not None and here <= lowest:
        if state.last is None:
            return NextOutput(decimal(lowest))
        return NextOutput(None, "margin_shown")
    down = _one_down(state.dial, here, limits)
    if down is None:
        if state.last is None:
            return NextOutput(decimal(state.dial.lowest))
        return NextOutput(None, "dial_lowest")
    return NextOutput(decimal(down if lowest is None else max(down, lowest)))


def _one_down(dial: Dial, here: Fraction, limits: Mapping[str, str]) -> Fraction | None:
    """Return the next output below `here`, or None at the dial's lowest."""
    below = dial.below(here)
    coarse_above = number(limits.get("test_coarse_above_ma"))
    part = ratio(limits.get("test_coarse_ratio"))
    if coarse_above is not None and part is not None and here > coarse_above:
        coarse = dial.at_or_above(here * part)
        return coarse if coarse is not None and coarse < here else below
    fine = number(limits.get("test_fine_step_ma"))
    if fine is None:
        return below
    return dial.at_or_below(here - fine) or below
