"""Threshold tests of a wire in words and drawings, from what clinical computes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from webapp.clinical.dial import shown_on
from webapp.clinical.exact import number
from webapp.clinical.left_at import dial_in_use
from webapp.clinical.readings import ThresholdSummary, threshold_summary
from webapp.clinical.standing import Tested
from webapp.clinical.threshold import ThresholdTest
from webapp.note.casewords import row_time, sentence
from webapp.note.figures_amount import amount_of
from webapp.note.names_of_tests import name_of_test, row_names
from webapp.note.sources import Sources
from webapp.note.step_down import OutputMark, StepMarks
from webapp.record.case import Row, Wire
from webapp.say import say

CHECKS = "checks"


@dataclass(frozen=True, slots=True)
class DrawnTest:
    """One test with its caption and what is drawn of it. `part`: capture or checks."""

    part: str
    caption: str
    marks: StepMarks


@dataclass(frozen=True, slots=True)
class WireTests:
    """What the note says of a wire's threshold; `amount` "" where none is known.

    `left_at`: id of the settings that the margin was computed with, or "";
    `left_at_shown`: their output with the decimals of its dial.
    """

    amount: str
    unit: str
    when: str
    note: str
    margin_words: str
    left_at: str
    left_at_shown: str
    tests: tuple[DrawnTest, ...]

    @property
    def sentence(self) -> str:
        """Return the result for running text, "" when nothing was tested."""
        if not self.tests:
            return ""
        amount = f"{self.amount}\u00a0{self.unit}".strip() if self.amount else ""
        words = sentence([amount, self.note, self.margin_words])
        return say("note.narrative.threshold", words=words)


def wire_tests(sources: Sources, wire: Wire) -> WireTests:
    """Return a wire's threshold and every test of it, in time."""
    found = threshold_summary(sources.case.fold, wire.id, sources.policy)
    amount, note = _result(found)
    counted = next((t for t in found.tests if t.told.id == found.counted), None)
    return WireTests(
        amount=amount,
        unit=found.unit if amount else "",
        when=_when(sources, wire, counted) if counted else "",
        note=note,
        margin_words=_margin(found),
        left_at=found.left_at.id if found.left_at else "",
        left_at_shown=found.shown.get("left_at", ""),
        tests=tuple(_drawn(sources, wire, found)),
    )


def _result(found: ThresholdSummary) -> tuple[str, str]:
    """Return the number shown as the threshold, and what stands under it."""
    if found.retest:
        return "", say(f"note.retest.{found.retest}")
    shown = found.shown
    if found.threshold is not None:
        return shown["threshold"], _method(found.method, shown.get("low", ""))
    if found.at_most is not None:
        return say("note.at_most", value=shown["at_most"]), say(
            "note.method.loss_not_sought"
        )
    if found.none_up_to is not None:
        value = f"{shown['none_up_to']}\u00a0{found.unit}"
        return "", say("note.none_up_to", value=value)
    tested = any(t.told.readings for t in found.tests)
    return "", say("note.no_threshold" if tested else "note.not_tested")


def _method(method: str, low: str) -> str:
    return say(f"note.method.{method}", low=low) if method else ""


def _margin(found: ThresholdSummary) -> str:
    """Return margin and what policy asks; "unknown" is said, never a number."""
    if found.left_at is None:
        return ""
    if found.margin.verdict == "unknown":
        why = say(f"note.unlike.{found.margin.why}") if found.margin.why else ""
        words = sentence([say("note.margin_unknown"), why])
    elif found.margin.at_least:
        words = say("note.margin_at_least", margin=found.margin.shown)
    else:
        words = say("note.margin", margin=found.margin.shown)
    asks = found.shown.get("asks")
    if asks:
        asked = say("note.policy_asks", value=f"{asks}\u00a0{found.asks.unit}")
        return sentence([words, asked])
    return words


def _when(sources: Sources, wire: Wire, tested: Tested) -> str:
    rows = _rows(sources, wire, tested.told.part)
    ids = [i for i in tested.told.ids if i in rows] or [tested.told.id]
    last = rows.get(ids[-1])
    return row_time(last, sources.day) if last else ""


def _rows(sources: Sources, wire: Wire, part: str) -> dict[str, Row]:
    names = (f"{part}.threshold_test", f"{part}.output_reading")
    paths = [sources.case.wire_path(wire, name) for name in names]
    return {row.id: row for path in paths for row in sources.case.rows(path)}


def _drawn(
    sources: Sources, wire: Wire, found: ThresholdSummary
) -> Iterator[DrawnTest]:
    dial, _ = dial_in_use(sources.case.fold, wire.id)
    for tested in found.tests:
        if not tested.told.readings:
            continue
        rows = _rows(sources, wire, tested.told.part)
        marks = _marks(tested, rows)
        result = _test_words(
            tested.result, tested.told.unit, lambda v: shown_on(dial, v)
        )
        undrawn = len(tested.told.left_out)
        extra = say("note.undrawn", n=undrawn) if undrawn else ""
        head = _head(sources, wire, tested)
        caption = say("words.row_child", label=head, words=sentence([result, extra]))
        yield DrawnTest(tested.told.part, caption, marks)


def _head(sources: Sources, wire: Wire, tested: Tested) -> str:
    """Return a test's name and time: "Threshold test at insertion, 10:44"."""
    part, when = tested.told.part, _when(sources, wire, tested)
    path = sources.case.wire_path(wire, f"{part}.threshold_test")
    names = row_names(sources, path)
    unnamed = name_of_test(path, say("note.test"), when)
    name = names.get(tested.told.id, unnamed)
    return name if part == CHECKS else sentence([name, when])


def _marks(tested: Tested, rows: dict[str, Row]) -> StepMarks:
    readings = []
    for row_id, reading in zip(tested.told.ids, tested.told.readings, strict=True):
        exact = number(reading.output)
        if exact is None or row_id not in rows:
            continue
        child = "output" if tested.told.unit == "mA" else "output_v"
        shown, _ = amount_of(rows[row_id].get(child))
        readings.append(OutputMark(exact, shown or reading.output, reading.result))
    bracket = tested.result.bracket
    low = number(bracket.low) if bracket else None
    high = number(bracket.high) if bracket else None
    return StepMarks(tuple(readings), low, high)


def _test_words(result: ThresholdTest, unit: str, shown: Callable[[str], str]) -> str:
    """Return one test's own result, whether or not it is the one that counts."""
    if result.threshold is not None and result.bracket is not None:
        low = shown(result.bracket.low)
        value = f"{shown(result.threshold)}\u00a0{unit}"
        return say(
            "note.test_threshold",
            value=value,
            low=low,
            method=_method(result.method, low),
        )
    if result.at_most is not None:
        return say("note.test_at_most", value=f"{shown(result.at_most)}\u00a0{unit}")
    if result.none_up_to is not None:
        return say("note.none_up_to", value=f"{shown(result.none_up_to)}\u00a0{unit}")
    return say("note.no_threshold")
