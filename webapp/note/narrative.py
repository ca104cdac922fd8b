"""Findings and technique in sentences, composed from the fields, never invented.

What was not asked is named as not asked; the clinician's own words, where there are
any, stand in Finish as they were written.
"""

from __future__ import annotations

from dataclasses import dataclass

from webapp.note.blocks import Block, Heading, Prose
from webapp.note.casewords import cell, told
from webapp.note.complications import complications
from webapp.note.sources import Sources
from webapp.note.summary import consent
from webapp.note.threshold import wire_tests
from webapp.record.case import Case, Wire
from webapp.say import say


@dataclass(frozen=True, slots=True)
class Phrase:
    """One field's phrase. `key` takes {words}; `is_needed`: its absence is said."""

    path: str
    key: str
    is_needed: bool = False


INDICATION = (
    Phrase("indication.main_rhythm", "note.narrative.rhythm", True),
    Phrase("indication.with_rhythms", "note.narrative.with"),
    Phrase("indication.rhythm_certainty", "note.narrative.certainty"),
    Phrase("indication.stated_by", "note.narrative.stated_by"),
    Phrase("indication.compromise", "note.narrative.compromise", True),
    Phrase("indication.urgency", "note.narrative.urgency", True),
)
ACCESS = (
    Phrase("approach.site", "note.narrative.site", True),
    Phrase("approach.guidance", "note.narrative.guidance", True),
    Phrase("approach.first_puncture", "note.narrative.puncture", True),
    Phrase("approach.venous_proof", "note.narrative.venous_proof"),
    Phrase("approach.wire_kind", "note.narrative.kind"),
    Phrase("approach.chamber", "note.narrative.chamber"),
)
ADVANCE = (
    Phrase("advance.guided_by", "note.narrative.guided_by", True),
    Phrase("advance.final_depth", "note.narrative.final_depth", True),
    Phrase("advance.final_read_at", "note.narrative.read_at"),
    Phrase("advance.final_read_how", "note.narrative.read_how"),
)
CAPTURE = (
    Phrase("capture.pacing_delivered", "note.narrative.delivered"),
    Phrase("capture.pacing_start", "note.narrative.first_beat"),
    Phrase("capture.electrical_capture", "note.narrative.electrical", True),
    Phrase("capture.mechanical_capture", "note.narrative.mechanical", True),
    Phrase("capture.mechanical_rate", "note.narrative.counted"),
)
FINISH = (
    Phrase("finish.outcome", "note.narrative.outcome", True),
    Phrase("finish.post_diagnosis", "note.narrative.post_diagnosis"),
    Phrase("finish.dressing_on", "note.narrative.dressing"),
    Phrase("finish.destination", "note.narrative.destination"),
)


def narrative_blocks(sources: Sources) -> list[Block]:
    """Return the composed account as paragraphs, one a part."""
    case, day = sources.case, sources.day
    paragraphs = [_sentences(case, INDICATION, None, day)]
    paragraphs.append(say("note.narrative.consent", words=consent(case, day)))
    wires: list[Wire | None] = [*case.wires] or [None]
    for wire in wires:
        paragraphs += _wire(sources, wire)
    finish = [
        _sentences(case, FINISH, None, day),
        say("note.narrative.complications", words=" ".join(complications(case, day))),
    ]
    paragraphs.append(" ".join(finish))
    prose: list[Block] = [Prose(words) for words in paragraphs if words]
    note = Prose(say("note.narrative.composed"), quiet=True)
    return [Heading(say("note.narrative.title"), 1), *prose, note]


def _wire(sources: Sources, wire: Wire | None) -> list[str]:
    case, day = sources.case, sources.day
    name = f"{wire.name}: " if wire and len(case.wires) > 1 else ""
    capture = [_tested(sources, wire), _settings(case, wire, day)]
    capture.append(_sentences(case, CAPTURE, wire, day))
    return [
        name + _sentences(case, ACCESS, wire, day),
        name
        + " ".join([_readings(case, wire, day), _sentences(case, ADVANCE, wire, day)]),
        name + " ".join(c for c in capture if c),
    ]


def _sentences(
    case: Case, phrases: tuple[Phrase, ...], wire: Wire | None, day: str
) -> str:
    said = []
    for phrase in phrases:
        field = case.catalogue.field(phrase.path)
        is_wires = field is not None and field.per_wire and wire is not None
        path = case.wire_path(wire, phrase.path) if wire and is_wires else phrase.path
        answer = case.answer(path)
        if answer.heads:
            said.append(say(phrase.key, words=told(case, path, day)))
        elif phrase.is_needed and field is not None:
            said.append(say("note.narrative.unasked", label=field.label))
    return " ".join(said)


def _readings(case: Case, wire: Wire | None, day: str) -> str:
    path = "advance.depth_reading"
    rows = case.rows(case.wire_path(wire, path)) if wire else []
    said = [
        " ".join(p for p in (cell(r, "depth", day), cell(r, "result", day)) if p)
        for r in rows
    ]
    if not said:
        return say("note.narrative.no_readings")
    return say("note.narrative.readings", words="; ".join(said))


def _tested(sources: Sources, wire: Wire | None) -> str:
    tests = wire_tests(sources, wire) if wire else None
    if tests is None or not tests.sentence:
        return say("note.narrative.not_tested")
    return tests.sentence


def _settings(case: Case, wire: Wire | None, day: str) -> str:
    path = "capture.dial_left_at"
    rows = case.rows(case.wire_path(wire, path)) if wire else []
    if not rows:
        return say("note.narrative.no_settings")
    last = rows[-1]
    named = [
        (child.label, cell(last, child.name, day))
        for child in (last.field.children if last.field else ())
        if child.name in ("mode", "rate", "output", "output_v", "sensitivity")
    ]
    words = ", ".join(f"{label.lower()} {value}" for label, value in named if value)
    return say("note.narrative.settings", words=words or say("words.not_asked"))
