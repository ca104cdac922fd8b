"""Any answer a field may take, the awkward ones often: for whole invented records."""

from __future__ import annotations

from random import Random
from typing import Any

from tests.support.tablet import Tablet
from webapp.catalogue import CATALOGUE
from webapp.catalogue.kinds import parse
from webapp.catalogue.lookup import NEVER_FROM_A_TABLET as DESK_ONLY
from webapp.catalogue.model import Choice, Field

TYPED = (
    *("<b>Ó'Brien & Søn</b>", "x" * 2000, "-5", "=1+1", "1,5", "10-20", ">10"),
    *("maximum", "999999", "0", "abc", "山田 محمد", "a\x00b", "\x1b[0m", "3.2.54"),
    *("31.2.54", "29.2.2024", "e\u0301👨‍👩‍👧", "</para>", "1e5", "٣", "60", "12.34"),
)
ABSENT = (
    {"absent": "not_known"},
    {"absent": "not_done", "because": "<i>x"},
    {"absent": "not_asked"},
    {"absent": "not_known", "not_stated_by": "report of A & <b>"},
)
MOMENTS = (
    {"day": "2031-11-24", "certainty": "day"},
    {"as": "second day <b>", "certainty": "unreadable"},
)


def any_value(field: Field, random: Random) -> Any:
    """Return one legal answer to a field that is no group; None for nothing said."""
    if random.random() < 0.08:
        return random.choice(ABSENT)
    return _OF_KIND[field.kind](field, random)


def answers_anything(tablet: Tablet, record: str, random: Random) -> None:
    """Answer about two thirds of all there is to answer, with one wire or two."""
    wires = [tablet.adds_wire(record) for _ in range(random.choice((1, 2)))]
    rows: dict[str, list[str]] = {}
    for template, field in CATALOGUE.paths():
        if template in DESK_ONLY or template.startswith("remarks"):
            continue
        for wire in wires if "*" in template else wires[:1]:
            if random.random() < 0.35:
                continue
            path = template.replace("*", wire)
            if field.kind == "group":
                parents = rows.get(field.row_of, wires)
                added = _adds_rows(tablet, record, path, field, parents, random)
                rows.setdefault(template.removeprefix("wires/*/"), []).extend(added)
            else:
                _sets(tablet, record, path, field, random)


def _sets(tablet: Tablet, record: str, path: str, field: Field, random: Random) -> None:
    for _ in range(random.choice((1, 1, 1, 2))):
        value = any_value(field, random)
        if value is not None:
            tablet.sets(record, path, value, seen=[])


def _adds_rows(
    tablet: Tablet,
    record: str,
    path: str,
    field: Field,
    parents: list[str],
    random: Random,
) -> list[str]:
    added: list[str] = []
    for _ in range(random.randint(1, 3)):
        told = {
            child.name: any_value(child, random)
            for child in field.children
            if random.random() < 0.8
        }
        row = {name: value for name, value in told.items() if value is not None}
        if not row:
            continue
        if field.row_of:
            row["of"] = random.choice(parents)
        added.append(tablet.adds(record, path, row))
        if random.random() < 0.1:
            tablet.strikes(record, path, added[-1], "wrong <b>")
    return added


def _typed(field: Field, random: Random) -> Any:
    return parse(field, random.choice(TYPED), random.choice(("", *field.units)))


def _choice(field: Field, random: Random) -> Any:
    return _said(random.choice(field.choices), random)


def _choices(field: Field, random: Random) -> Any:
    several = random.sample(field.choices, min(len(field.choices), 3))
    return [_said(choice, random) for choice in several]


def _said(choice: Choice, random: Random) -> Any:
    says_more = choice.takes_text and random.random() < 0.5
    return {choice.code: random.choice(TYPED)} if says_more else choice.code


def _moment(field: Field, random: Random) -> Any:
    exact = {
        "utc": f"2031-11-24T10:{random.randint(10, 59)}:00.000Z",
        "zone": random.choice(("Europe/Oslo", "UTC")),
        "offset_min": 60,
        "certainty": random.choice(("exact", "about")),
        "clock": random.choice(("tablet", "wall", "server")),
    }
    return random.choice((exact, exact, *MOMENTS))


def _person(field: Field, random: Random) -> Any:
    name, role = random.choice(TYPED), random.choice(("operator", "nurse", "x<y"))
    return {"person": None, "name": name, "role": role, "credential": "RN"}


def _photo(field: Field, random: Random) -> Any:
    return {
        "sha256": "ab" * 32,
        "sealed": "cd" * 32,
        "type": "image/jpeg",
        "size": 10,
        "caption": random.choice(TYPED),
    }


def _drawing(field: Field, random: Random) -> Any:
    return {"width": 600, "height": 200, "strokes": [[[1, 2], [3, 4]], [[5, 5]]]}


_OF_KIND = {
    "text": _typed,
    "prose": _typed,
    "qty": _typed,
    "date": _typed,
    "yn": lambda field, random: random.choice(("yes", "no")),
    "one": _choice,
    "many": _choices,
    "moment": _moment,
    "person": _person,
    "photo": _photo,
    "drawing": _drawing,
}
