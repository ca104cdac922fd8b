"""Complications as stated: none seen up to when, each one, what is awaited."""

from __future__ import annotations

from webapp.note.casewords import cell, row_time, sentence, told
from webapp.record.case import Case, Row
from webapp.say import say


def complications(case: Case, day: str) -> tuple[str, ...]:
    """Return the complications line, each complication, and what is awaited.

    A later complication stands beside a signed "none seen"; neither replaces it.
    """
    found = [_line_said(case, r, day) for r in case.rows("finish.complications_line")]
    found += [_complication(r, day) for r in case.rows("finish.complication")]
    for path in ("finish.complications_line", "finish.complication"):
        if case.answer(path).heads:
            found.append(told(case, path, day))
    return tuple(found) or (say("words.not_asked"),)


def _line_said(case: Case, row: Row, day: str) -> str:
    up_to, by, how = (cell(row, name, day) for name in ("up_to", "by", "how"))
    # An absence is a value of its own, and no key to look up.
    none_seen = str(row.get("none_seen"))
    key = {"yes": "note.none_seen", "no": "note.something_seen"}.get(
        none_seen, "note.complications_unsaid"
    )
    said = say(key, up_to=up_to or say("note.time_not_stated"))
    who = sentence([by, how])
    awaited = cell(row, "awaited", day)
    told_by = f" ({who})" if who else ""
    rest = " " + say("note.awaited", words=awaited) if awaited else ""
    return f"{said}{told_by}.{rest}"


def _complication(row: Row, day: str) -> str:
    cause = cell(row, "cause", day)
    by = cell(row, "cause_by", day)
    cause_words = say("note.cause_as_stated", cause=cause or say("words.not_asked"))
    return sentence(
        [
            row.words("kind") or say("note.kind_not_stated"),
            cell(row, "when_seen", day),
            row_time(row, day),
            cell(row, "severity", day),
            cell(row, "treated", day),
            cell(row, "outcome", day),
            cause_words + (f" ({by})" if by else ""),
        ]
    )
