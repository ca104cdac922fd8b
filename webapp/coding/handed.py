"""Rows of the coder's file: one record's lines with what stands at its head."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from webapp.coding.columns import OWN_WORDS_MAX
from webapp.coding.findings import Finding
from webapp.coding.row_head import NoteFacts, head_of
from webapp.coding.rules import MODIFIER
from webapp.coding.sheet import Sheet, line_key
from webapp.coding.site import CPT_ENABLED, SiteCoding
from webapp.record.handed_line import HandedLine

WITHDRAWN = "withdrawn"
POINTERS_MAX = 4
CLAIM_SYSTEMS = ("CPT", "HCPCS")
NO_LONGER = "no longer in the signed note"
# Rows have columns a coder fills; nobody has decided yet.
UNDECIDED = {"modifiers": "", "decided_by": "", "decided_at": ""}
# What a removed line no longer says.
NOTHING_LEFT = {"missing": "", "units": "", "dx_pointers": "", "open_questions": "0"}


@dataclass(frozen=True, slots=True)
class Handing:
    """One export. `lines`: numbers by line key; `kept`: lines handed out before."""

    export_id: str
    site: SiteCoding
    lines: Mapping[str, int]
    kept: Mapping[str, HandedLine]


def rows_of(handing: Handing, sheet: Sheet, note: NoteFacts) -> list[dict[str, str]]:
    """Return one record's rows in the order of their lines.

    A line that was handed out before and that the note no longer gives is sent as
    removed, never left out; so is every line of a withdrawn note.
    """
    head = head_of(handing.export_id, sheet, note, handing.site)
    rows: list[dict[str, str]] = []
    own = (f for view in sheet.views for f in sheet.lines_of(view))
    present = {line_key(f): f for f in own}
    for key, finding in present.items():
        row = {**head, **_line(finding, handing.lines[key])}
        row["dx_pointers"] = _pointers(sheet, finding, handing.lines)
        row["open_questions"] = str(len(open_questions(sheet, finding)))
        if note.state == WITHDRAWN:
            row |= {**NOTHING_LEFT, "state": "removed", "reason": WITHDRAWN}
        rows.append(row)
    for key, line in handing.kept.items():
        if key not in present:
            rows.append({**head, **_removed(line, handing.site)})
    return sorted(rows, key=lambda row: int(row["line"]))


def as_kept(finding: Finding, line: int) -> HandedLine:
    """Return what must be remembered of a line that is handed out."""
    row = _line(finding, line)
    named = [name for name in HandedLine.__slots__ if name != "line"]
    return HandedLine(line, *(row[name] for name in named))


def _line(finding: Finding, line: int) -> dict[str, str]:
    rule = finding.rule
    paths = [path for one in finding.missing for path in one.paths]
    return {
        **UNDECIDED,
        "line": str(line),
        "view": finding.view,
        "code_system": rule.system,
        "code_edition": finding.edition,
        "code": finding.code,
        "own_words": rule.says[:OWN_WORDS_MAX],
        "units": finding.units,
        "dx_pointers": "",
        "state": finding.state,
        "missing": ";".join(dict.fromkeys(paths)),
        "evidence": ";".join(finding.evidence),
        "rule": rule.id,
        "rule_edition": rule.rule_edition,
        "bundling_check": "not_checked",
        "reason": finding.because,
        "open_questions": "0",
        "edition_confirmed": "yes" if finding.confirmed else "no",
    }


def open_questions(sheet: Sheet, finding: Finding) -> tuple[str, ...]:
    """Return the questions a line waits for: its own and those on its modifiers."""
    asked = dict.fromkeys(finding.questions)
    if finding.state != "not_offered":
        for beside in sheet.of_view(finding.view):
            is_its_own = set(beside.rule.modifiers) & set(finding.rule.modifiers)
            if beside.rule.system == MODIFIER and is_its_own:
                asked |= dict.fromkeys(beside.questions or (beside.rule.id,))
    return tuple(asked)


def _removed(kept: HandedLine, site: SiteCoding) -> dict[str, str]:
    is_off = kept.code_system in CLAIM_SYSTEMS and CPT_ENABLED not in site.switches
    return {
        **UNDECIDED,
        **NOTHING_LEFT,
        "line": str(kept.line),
        "view": kept.view,
        "code_system": kept.code_system,
        "code_edition": kept.code_edition,
        "code": "" if is_off else kept.code,
        "own_words": kept.own_words,
        "state": "removed",
        "evidence": "",
        "rule": kept.rule,
        "rule_edition": kept.rule_edition,
        "bundling_check": "not_checked",
        "reason": NO_LONGER,
        "edition_confirmed": "no",
    }


def _pointers(sheet: Sheet, finding: Finding, lines: Mapping[str, int]) -> str:
    """Return the diagnosis lines a procedure of the professional view points to."""
    is_claimed = finding.rule.system in CLAIM_SYSTEMS and finding.state != "not_offered"
    if finding.view != "professional" or not is_claimed:
        return ""
    pointed = [
        lines[line_key(f)]
        for f in sheet.of_view(finding.view)
        if f.state == "candidate" and f.rule.system == "ICD-10-CM"
    ]
    return ";".join(str(line) for line in pointed[:POINTERS_MAX])
