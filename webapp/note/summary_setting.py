"""Set the running text of page 1: state, test, complications, plan, gaps."""

from __future__ import annotations

from reportlab.platypus import Flowable, KeepTogether, Spacer, Table, TableStyle

from webapp.note.casewords import SEPARATOR, lowered
from webapp.note.faces import REGULAR
from webapp.note.gaps import Gaps
from webapp.note.ink import RULE_PT, TEXT
from webapp.note.remark_setting import set_first
from webapp.note.state import Lines
from webapp.note.step_down import step_downs
from webapp.note.styles import HEAD_3, STATE, STATE_LABEL, marked, plain
from webapp.note.summary import Summary
from webapp.note.text import markup
from webapp.say import say

LABEL_PT = 58.0
MISSING_SHOWN = 14
CUT_LETTERS = 700
TELL_STYLE = TableStyle(
    [
        ("FONTNAME", (0, 0), (-1, -1), REGULAR),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 6),
        ("TOPPADDING", (0, 0), (-1, -1), 0.4),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1.2),
    ]
)


def set_summary(told: Summary, width: float) -> list[Flowable]:
    """Return page 1's text in the order a receiver needs it."""
    out = _doubts(told.gaps)
    if told.in_place:
        out += [Spacer(1, 3), _boxed(say("note.not_for_mri"), width), Spacer(1, 3)]
    out += set_first(told.remarks, width)
    out += [*_state(told, width), *_tests(told, width)]
    out += _titled(say("note.complications"), [_cut(c) for c in told.complications])
    out += _missing(told.gaps)
    if told.before:
        out += _titled(say("note.before"), [_cut(line) for line in told.before])
    out += _titled(say("note.consent"), [_cut(told.consent)])
    if told.plan:
        out += [plain(say("note.plan"), HEAD_3), _tell(told.plan, width, 96)]
    if told.later:
        out += _titled(say("note.since"), [SEPARATOR.join(told.later)])
    if told.times and not told.wires:
        words = SEPARATOR.join(h.told for h in told.times)
        out += _titled(say("note.times"), [_cut(words)])
    return out


def _tests(told: Summary, width: float) -> list[Flowable]:
    out: list[Flowable] = []
    for wire in told.wires:
        for test in wire.tests:
            caption = sentence_of(wire.name, test.caption)
            drawn = step_downs(test.marks, width)
            out.append(KeepTogether([plain(caption, HEAD_3), *drawn]))
    return out


def sentence_of(name: str, words: str) -> str:
    """Return the words with the wire's name before them, where it has to be said."""
    return f"{name}: {words}" if name else words


def _state(told: Summary, width: float) -> list[Flowable]:
    head = say("note.state_as_at", time=told.as_at) if told.as_at else say("note.state")
    out: list[Flowable] = [plain(head, HEAD_3)]
    if not told.wires:
        return [*out, _tell(told.no_wire_state, width)]
    if told.earlier_wires:
        out.append(plain(say("note.earlier_wires", n=told.earlier_wires), STATE))
    for wire in told.wires:
        if wire.name:
            out.append(marked(f"<b>{markup(wire.name)}</b>", STATE))
        # Lines that belong to the patient, not the wire, are said with the last.
        is_last = wire is told.wires[-1]
        out.append(_tell(wire.state if is_last else wire.state[:2], width))
    return out


def _tell(lines: Lines, width: float, label_pt: float = LABEL_PT) -> Flowable:
    unasked = [label for label, words in lines if words == say("words.not_asked")]
    lines = tuple(pair for pair in lines if pair[0] not in unasked)
    if unasked:
        names = ", ".join(lowered(label) for label in unasked)
        lines = (*lines, (say("note.state.not_asked"), names))
    rows = [
        [plain(label, STATE_LABEL), plain(_cut(words), STATE)] for label, words in lines
    ]
    return Table(
        rows,
        colWidths=[label_pt, width - label_pt],
        style=TELL_STYLE,
        hAlign="LEFT",
        splitInRow=1,
    )


def _titled(title: str, paragraphs: list[str]) -> list[Flowable]:
    head = plain(title, HEAD_3)
    head.keepWithNext = 1
    return [head, *(plain(words, STATE) for words in paragraphs)]


def _doubts(found: Gaps) -> list[Flowable]:
    """Return what a reader must not overlook, before anything reassuring."""
    out: list[Flowable] = []
    if found.double:
        out += _titled(say("note.two_answers_stand"), [_cut(d) for d in found.double])
    if found.impossible:
        title = say("note.impossible_stand")
        out += _titled(title, [_cut(i) for i in found.impossible])
    return out


def _missing(found: Gaps) -> list[Flowable]:
    labels = [label for _, part in found.missing for label in part]
    if not labels:
        return _titled(say("note.not_recorded"), [say("note.nothing_missing")])
    words = SEPARATOR.join(labels[:MISSING_SHOWN])
    more = len(labels) - MISSING_SHOWN
    if more > 0:
        words = say("note.missing_more", words=words, n=more)
    return _titled(say("note.not_recorded_n", n=len(labels)), [words])


def _boxed(words: str, width: float) -> Flowable:
    style = TableStyle(
        [
            ("FONTNAME", (0, 0), (-1, -1), REGULAR),
            ("BOX", (0, 0), (-1, -1), RULE_PT, TEXT),
            ("LEFTPADDING", (0, 0), (-1, -1), 8),
            ("TOPPADDING", (0, 0), (-1, -1), 4),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 5),
        ]
    )
    cell = marked(f"<b>{markup(words)}</b>", STATE)
    return Table([[cell]], colWidths=[width], style=style, hAlign="LEFT")


def _cut(words: str) -> str:
    """Return at most 700 letters, saying where the rest stands."""
    if len(words) <= CUT_LETTERS:
        return words
    return say("note.cut", words=words[:CUT_LETTERS].rstrip())
