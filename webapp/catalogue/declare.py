"""Short words for declaring fields: one function a kind, and the conditions.

Every group also gets the children `moment` and `by`, unless it declares its own
or says `stamped=False`; `needs` is written as one string, "N1 C".
"""

from __future__ import annotations

from dataclasses import replace
from typing import TypedDict, Unpack, cast, get_args

from webapp.catalogue.model import (
    Choice,
    Code,
    Condition,
    Field,
    Need,
    Range,
)

ICD_EDITION = "FY2026-Apr"


class Rest(TypedDict, total=False):
    """What any field may say beside its name, label, needs and choices."""

    hint: str
    asked_when: Condition
    max_length: int
    row_of: str
    since: int


def _needs(words: str) -> tuple[Need, ...]:
    known = get_args(Need)
    for word in words.split():
        if word not in known:
            raise ValueError(f"{word} is no need")
    return cast("tuple[Need, ...]", tuple(words.split()))


def _range(words: str) -> Range | None:
    if not words:
        return None
    low, high = words.split("..")
    return Range(low, high)


def text(name: str, label: str, needs: str = "", **rest: Unpack[Rest]) -> Field:
    """Declare one line of text, at most 200 letters unless it says otherwise."""
    rest.setdefault("max_length", 200)
    return Field(name, label, "text", _needs(needs), **rest)


def prose(name: str, label: str, needs: str = "", **rest: Unpack[Rest]) -> Field:
    """Declare text of any length."""
    return Field(name, label, "prose", _needs(needs), **rest)


def yn(name: str, label: str, needs: str = "", **rest: Unpack[Rest]) -> Field:
    """Declare a yes or no."""
    return Field(name, label, "yn", _needs(needs), **rest)


def one(
    name: str,
    label: str,
    choices: tuple[Choice, ...],
    needs: str = "",
    **rest: Unpack[Rest],
) -> Field:
    """Declare a choice of one."""
    return Field(name, label, "one", _needs(needs), choices, **rest)


def many(
    name: str,
    label: str,
    choices: tuple[Choice, ...],
    needs: str = "",
    **rest: Unpack[Rest],
) -> Field:
    """Declare a choice of several."""
    return Field(name, label, "many", _needs(needs), choices, **rest)


class Amount(Rest, total=False):
    """What a quantity may say; ranges are "low..high" in the first unit."""

    hard: str
    soft: str
    soft_adult: str


def qty(
    name: str,
    label: str,
    units: str = "",
    step: str = "1",
    needs: str = "",
    **rest: Unpack[Amount],
) -> Field:
    """Declare a quantity; `units` are UCUM codes set apart by spaces."""
    adult = rest.pop("soft_adult", "")
    soft = _range(rest.pop("soft", "") or adult)
    hard = _range(rest.pop("hard", ""))
    return Field(
        name,
        label,
        "qty",
        _needs(needs),
        units=tuple(units.split()),
        step=step,
        hard=hard,
        soft=soft,
        soft_ages="adult" if adult else "all",
        **cast("Rest", rest),
    )


def moment(name: str, label: str, needs: str = "", **rest: Unpack[Rest]) -> Field:
    """Declare a moment: exact, about, or a day."""
    return Field(name, label, "moment", _needs(needs), **rest)


def date(
    name: str, label: str, needs: str = "", years: str = "", **rest: Unpack[Rest]
) -> Field:
    """Declare a calendar date, as a birth date (not future, at most 125 years ago).

    `years`: how many years ago it may lie instead; "-30..30" reaches as far ahead.
    """
    return Field(name, label, "date", _needs(needs), hard=_range(years), **rest)


def person(name: str, label: str, needs: str = "", **rest: Unpack[Rest]) -> Field:
    """Declare a person."""
    return Field(name, label, "person", _needs(needs), **rest)


def photo(name: str, label: str, needs: str = "", **rest: Unpack[Rest]) -> Field:
    """Declare a photo."""
    return Field(name, label, "photo", _needs(needs), **rest)


def drawing(name: str, label: str, needs: str = "", **rest: Unpack[Rest]) -> Field:
    """Declare a drawing, such as a signature."""
    return Field(name, label, "drawing", _needs(needs), **rest)


def group(
    name: str,
    label: str,
    needs: str,
    *children: Field,
    stamped: bool = True,
    **rest: Unpack[Rest],
) -> Field:
    """Declare rows that are added whole and struck whole."""
    named = {child.name for child in children}
    stamps = (moment("moment", "When"), person("by", "By"))
    extra = tuple(s for s in stamps if stamped and s.name not in named)
    return Field(name, label, "group", _needs(needs), children=children + extra, **rest)


def per_wire(*fields: Field) -> tuple[Field, ...]:
    """Return the fields as repeated for each wire."""
    return tuple(replace(field, per_wire=True) for field in fields)


def choice(code: str, label: str, icd: str = "") -> Choice:
    """Declare an answer; `icd` where it maps to exactly one diagnosis code."""
    codes = (Code("ICD-10-CM", icd, ICD_EDITION),) if icd else ()
    return Choice(code, label, codes)


def pick(**labels: str) -> tuple[Choice, ...]:
    """Declare plain answers as code=label."""
    return tuple(Choice(code, label) for code, label in labels.items())


OTHER = Choice("other", "Other (say)", takes_text=True)


def has(path: str) -> Condition:
    """Hold while the path has one current answer that is no absence."""
    return {"field": path, "has": True}


def equals(path: str, answer: str) -> Condition:
    """Hold while the path's answer is, or holds, this one."""
    return {"field": path, "is": answer}


def within(path: str, *answers: str) -> Condition:
    """Hold while the path's answer is, or holds, one of these."""
    return {"field": path, "in": list(answers)}


def below(path: str, limit: str) -> Condition:
    """Hold while the path's number is less than the limit."""
    return {"field": path, "lt": limit}


def has_row(group: str, where: Condition) -> Condition:
    """Hold while a row of the group fits; `where` reads its children as "row.x"."""
    return {"rows": group, "where": where}


def every(*conditions: Condition) -> Condition:
    """Hold while all of them hold."""
    return {"all": list(conditions)}


def some(*conditions: Condition) -> Condition:
    """Hold while at least one of them holds."""
    return {"any": list(conditions)}


def unless(condition: Condition) -> Condition:
    """Hold while the condition does not."""
    return {"not": condition}
