"""Who the note is about: the identifiers printed on every page."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from webapp.note.casewords import SEPARATOR, told
from webapp.record.case import Case
from webapp.say import say


@dataclass(frozen=True, slots=True)
class Identity:
    """`name` in its printed form; `details` under it; `short` repeats on each page."""

    name: str
    details: str
    short: str


def identity(case: Case, day: str) -> Identity:
    """Return the patient's identifiers as recorded; what is missing is said.

    A patient without a name keeps the working name and the case code.
    """
    name = _name(case)
    born = _born(case, day)
    numbers = _numbers(case)
    details = [_sex(case), born, *numbers]
    return Identity(
        name,
        SEPARATOR.join(d for d in details if d),
        SEPARATOR.join([name, born, *numbers]),
    )


def _name(case: Case) -> str:
    family = case.answer("patient.family_name")
    given = case.answer("patient.given_name")
    if "two_answers" in (family.state, given.state):
        return f"{family.words}, {given.words}"
    names = [a.words for a in (family, given) if a.is_answered]
    if names:
        return ", ".join(names)
    alias = case.answer("patient.alias")
    code = case.answer("patient.case_code")
    known = [say("note.name_not_known")]
    known += [alias.words] if alias.is_answered else []
    known += [say("note.case_code", code=code.words)] if code.is_answered else []
    return ", ".join(known)


def _born(case: Case, day: str) -> str:
    born = case.answer("patient.birth_date")
    if born.state == "answered":
        years = _years(born.value["date"], day)
        key = "note.born_age" if years is not None else "note.born"
        return say(key, day=born.words, years=years)
    if born.state in ("two_answers", "impossible"):
        return say("note.born", day=told(case, "patient.birth_date", day))
    age = case.answer("patient.estimated_age")
    if age.is_answered:
        is_told = case.answer("patient.age_how").value == "told"
        return say("note.told_age" if is_told else "note.estimated_age", age=age.words)
    by_look = case.answer("patient.age_class")
    if by_look.is_answered:
        return say("note.age_by_look", age=by_look.words)
    return say("note.born_not_asked", state=born.words)


def _years(born: str, day: str) -> int | None:
    then, now = date.fromisoformat(born), date.fromisoformat(day) if day else None
    if now is None or now < then:
        return None
    return now.year - then.year - ((now.month, now.day) < (then.month, then.day))


def _sex(case: Case) -> str:
    sex = case.answer("patient.sex")
    return sex.words if sex.heads else say("note.sex_not_asked")


def _numbers(case: Case) -> list[str]:
    record = case.answer("patient.record_number")
    encounter = case.answer("patient.encounter_number")
    told_numbers = [say("note.record_number", number=record.words)]
    if encounter.heads:
        told_numbers.append(say("note.encounter_number", number=encounter.words))
    return told_numbers
