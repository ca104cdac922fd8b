"""What rules read that stands in no single entry, worked out of the record.

A value under `record.` is read like any answer: two different ones are two answers.
A group under `record.` has rows like any group; its children are named below.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from webapp.coding import critical_care
from webapp.coding.critical_care import Attendance, is_same
from webapp.coding.dates import local, span_of
from webapp.record.case import Case, Row

CHAMBERS_PLACED = "record.chambers_placed"
KIDNEY_STAGE = "record.kidney_stage"
SEDATION_MINUTES = "record.sedation_minutes"
CRITICAL_CARE = "record.critical_care"
SKIN_PACING = "record.skin_pacing"

# Where the entries stand that each of these is worked out of.
HOME = {
    CHAMBERS_PLACED: "approach.chamber",
    KIDNEY_STAGE: "patient.kidney_disease",
    SEDATION_MINUTES: "approach.sedation_start",
    CRITICAL_CARE: critical_care.PATH,
    SKIN_PACING: "indication.skin_pacing",
}
# Children that the group's own rows do not have; the others are read as recorded.
CHILDREN = {
    CRITICAL_CARE: (
        "minutes",
        "all_counted",
        "midnight",
        "own_entry",
        "shared_with_procedure",
        "shared_with_people",
        "shared_by_own",
        "further",
        "further_cms",
    ),
    SKIN_PACING: ("captured",),
}
PROVIDERS = ("operator", "supervisor")
PLACED_HERE = ("new_here", "exchanged_here")
SKIN_READINGS = "indication.skin_pacing_reading"
SIGNS = ("electrical", "mechanical")


@dataclass(frozen=True, slots=True)
class Subject:
    """The wire or row a rule is asked about; neither for the whole record.

    `ids`: the entries its row was worked out of, when it is not one entry's own.
    """

    id: str = ""
    wire: str | None = None
    row: dict[str, Any] = field(default_factory=dict)
    ids: tuple[str, ...] = ()

    @property
    def entries(self) -> list[str]:
        """Return the entries behind what its row says."""
        return list(self.ids) or [self.id]


def value_of(case: Case, path: str) -> dict[str, Any] | None:
    """Return what a value under `record.` says, None for a path that is none."""
    if path == CHAMBERS_PLACED:
        return _chambers_placed(case)
    if path == KIDNEY_STAGE:
        return _kidney_stage(case)
    if path == SEDATION_MINUTES:
        return _sedation_minutes(case)
    return None


def rows_of(
    case: Case, path: str, zone: str, confirmed: frozenset[str]
) -> list[Subject] | None:
    """Return the rows of a group under `record.`, None for a path that is none."""
    if path == CRITICAL_CARE:
        found = critical_care.attendances(case, zone)
        return [_attended(case, one, zone, confirmed) for one in found]
    if path == SKIN_PACING:
        return [_skin_pacing(case, row) for row in case.rows(HOME[path])]
    return None


def whole(number: int, unit: str = "min") -> dict[str, str]:
    """Return a whole number as the condition language reads one."""
    return {"as": str(number), "n": str(number), "unit": unit}


def told(values: list[Any], ids: Iterable[str] = ()) -> dict[str, Any]:
    """Return what a path reads as."""
    return {"values": values, "ids": list(ids), "rows": []}


def _chambers_placed(case: Case) -> dict[str, Any]:
    """Return the chambers of the wires placed or exchanged in this record."""
    chambers: list[str] = []
    ids: list[str] = []
    for wire in case.wires:
        came = case.answer(case.wire_path(wire, "approach.wire_came"))
        chamber = case.answer(case.wire_path(wire, "approach.chamber"))
        if came.value in PLACED_HERE and chamber.state == "answered":
            chambers.append(str(chamber.value))
            ids += [*came.entries, *chamber.entries]
    return told([chambers] if chambers else [], ids)


def _kidney_stage(case: Case) -> dict[str, Any]:
    """Return each stage that some source gives; two sources may give two."""
    rows = [row for row in case.rows(HOME[KIDNEY_STAGE]) if row.get("stage")]
    stages = dict.fromkeys(str(row.get("stage")) for row in rows)
    return told(list(stages), [row.id for row in rows])


def _sedation_minutes(case: Case) -> dict[str, Any]:
    ends = [case.answer(f"approach.sedation_{end}") for end in ("start", "stop")]
    start, stop = (local(end.value, "UTC") for end in ends)
    if start is None or stop is None or stop < start:
        return told([])
    minutes = int((stop - start).total_seconds() // 60)
    return told([whole(minutes)], [i for end in ends for i in end.entries])


def _skin_pacing(case: Case, spell: Row) -> Subject:
    """Return a spell with what its readings say: yes, or no and never yes."""
    readings = [r for r in case.rows(SKIN_READINGS) if r.get("of") == spell.id]
    # A pulse felt under pads may be muscle: electrical capture outweighs it.
    for sign in SIGNS:
        said = {reading.get(sign) for reading in readings}
        if "yes" in said or "no" in said:
            captured = "yes" if "yes" in said else "no"
            ids = (spell.id, *(r.id for r in readings if r.get(sign) == captured))
            return Subject(spell.id, None, {**spell.value, "captured": captured}, ids)
    return Subject(spell.id, None, dict(spell.value), (spell.id,))


def _attended(
    case: Case, one: Attendance, zone: str, confirmed: frozenset[str]
) -> Subject:
    rows = [span.row for span in one.spans]
    row = {**_joined(rows), **_counts(case, one, zone)}
    row["own_entry"] = _yes_no(all(_is_own(r, confirmed) for r in rows))
    return Subject(rows[0].id, None, row, tuple(r.id for r in rows))


def _joined(rows: list[Row]) -> dict[str, Any]:
    """Return what the rows say together; a statement is made only by all of them."""
    found: dict[str, Any] = {}
    for row in rows:
        for name, value in row.value.items():
            found.setdefault(name, value)
    for name in ("excludes_procedures", "related"):
        said = [row.get(name) for row in rows]
        found.pop(name, None)
        if "no" in said:
            found[name] = "no"
        elif set(said) == {"yes"}:
            found[name] = "yes"
    return found


def _counts(case: Case, one: Attendance, zone: str) -> dict[str, Any]:
    minutes = one.minutes
    ran = _ran(case)
    found: dict[str, Any] = {
        "minutes": whole(minutes),
        "all_counted": _yes_no(one.is_whole),
        "midnight": _midnight(one),
        "shared_with_people": whole(one.shared_with_people),
        "shared_by_own": whole(one.shared_by_own),
        "further": whole(critical_care.further_units(minutes), ""),
        "further_cms": whole(critical_care.further_units_cms(minutes), ""),
    }
    shared = one.shared_with_procedure(ran, span_of(case, zone))
    return (
        found if shared is None else {**found, "shared_with_procedure": whole(shared)}
    )


def _ran(case: Case) -> bool:
    """Return whether there was a procedure that minutes could lie in."""
    if case.answer("finish.outcome").value == "not_started":
        return False
    came = (
        case.answer(case.wire_path(wire, "approach.wire_came")).value
        for wire in case.wires
    )
    is_placed = any(value != "came_with_it" for value in came)
    return is_placed or case.answer("approach.first_puncture").is_answered


def _midnight(one: Attendance) -> str:
    """Return "asked" while nobody said that a span over midnight was continuous."""
    crossing = [s.row.get("over_midnight") for s in one.spans if s.day != s.last_day]
    return "asked" if any(said != "yes" for said in crossing) else "settled"


def _is_own(row: Row, confirmed: frozenset[str]) -> bool:
    """Return whether the person made the statement, or signed for it."""
    person = row.get("person")
    told_by = (row.meta["author"], row.meta["called_by"])
    is_theirs = any(is_same(person, by) for by in told_by)
    signs = isinstance(person, dict) and person.get("role") in (
        "operator",
        "supervisor",
    )
    return is_theirs or (signs and row.id in confirmed)


def _yes_no(is_so: bool) -> str:
    return "yes" if is_so else "no"
