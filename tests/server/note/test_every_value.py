"""Every value of a record stands in print beside its label, found by its place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

import pytest
from pdfminer.layout import LTChar

from tests.support.notes import Word, made, squeezed
from tests.support.records import Recording
from webapp.catalogue import CATALOGUE
from webapp.catalogue.kinds import parse
from webapp.catalogue.lookup import NEVER_FROM_A_TABLET
from webapp.catalogue.model import Field
from webapp.catalogue.words import words

# A drawing is drawn and a picture is shown: both are tested where they are made.
PICTURES = ("drawing", "photo")
# Groups whose rows have a print of their own, tested beside it.
OTHERWISE = (*NEVER_FROM_A_TABLET, "wires", "moments", "remarks.*")
ROW_PT, COLUMN_PT, GAP_PT = 6.0, 1.0, 3.0
SHORTEST = 3


@dataclass(frozen=True, slots=True)
class Told:
    """One value: where it was said, the label it must stand beside, what to find."""

    path: str
    label: str
    token: str


class Telling:
    """A record in which every field is answered once, each with words of its own."""

    def __init__(self) -> None:
        self.record = Recording()
        self.told: list[Told] = []
        self._rows: dict[str, str] = {}
        self._count = 0

    def tell(self) -> None:
        """Answer everything there is to answer on a tablet."""
        wire = self.record.adds("wires", {"name": "Wire 1"})
        for template, field in CATALOGUE.paths():
            if template in OTHERWISE:
                continue
            path = template.replace("*", wire)
            if field.kind == "group":
                self._row(template, path, field)
            else:
                value, token = self._value(field)
                self.record.says(path, value)
                self._keep(template, field, token)

    def _row(self, template: str, path: str, field: Field) -> None:
        row: dict[str, Any] = {}
        for child in field.children:
            row[child.name], token = self._value(child)
            self._keep(f"{template}.{child.name}", child, token)
        if field.row_of:
            row["of"] = self._rows[field.row_of]
        name = template.removeprefix("wires/*/")
        self._rows[name] = self.record.adds(path, row)

    def _keep(self, path: str, field: Field, token: str) -> None:
        if field.kind not in PICTURES:
            self.told.append(Told(path, field.label, token))

    def _value(self, field: Field) -> tuple[Any, str]:
        self._count += 1
        return _VALUES[field.kind](field, self._count)


def _text(field: Field, n: int) -> tuple[Any, str]:
    typed = f"Zq{n:04d}"
    return parse(field, typed), typed


def _quantity(field: Field, n: int) -> tuple[Any, str]:
    typed = f"{7000 + n}"
    return parse(field, typed, field.units[0] if field.units else ""), typed


def _choice(field: Field, n: int) -> tuple[Any, str]:
    code = next((c.code for c in field.choices if c.takes_text), "")
    if code:
        return {code: f"Zq{n:04d}"}, f"Zq{n:04d}"
    value = field.choices[n % len(field.choices)].code
    return value, words(field, value)


def _choices(field: Field, n: int) -> tuple[Any, str]:
    value, token = _choice(field, n)
    return [value], words(field, [value]) if isinstance(value, str) else token


def _moment(field: Field, n: int) -> tuple[Any, str]:
    hour, minute = 12 + n // 60 % 12, n % 60
    utc = f"2026-05-14T{hour:02d}:{minute:02d}:00.000Z"
    place = {"zone": "America/New_York", "offset_min": -240}
    value = {"utc": utc, "certainty": "exact", "clock": "tablet", **place}
    return value, f"{(hour - 4) % 24:02d}:{minute:02d}"


def _date(field: Field, n: int) -> tuple[Any, str]:
    value = parse(field, f"{1 + n % 28}.2.1949")
    return value, words(field, value)


def _person(field: Field, n: int) -> tuple[Any, str]:
    return {"person": None, "name": f"Zq{n:04d}", "role": "operator"}, f"Zq{n:04d}"


def _photo(field: Field, n: int) -> tuple[Any, str]:
    digests = {"sha256": f"{n:064x}", "sealed": f"{n:064x}"}
    return {**digests, "type": "image/jpeg", "size": 9, "caption": f"Zq{n:04d}"}, ""


def _drawing(field: Field, n: int) -> tuple[Any, str]:
    return {"width": 60, "height": 20, "strokes": [[[1, 2], [3, 4]]]}, ""


def _yes(field: Field, n: int) -> tuple[Any, str]:
    return "yes", "yes"


_VALUES = {
    **{"text": _text, "prose": _text, "qty": _quantity, "one": _choice},
    **{"many": _choices, "moment": _moment, "date": _date, "person": _person},
    **{"photo": _photo, "drawing": _drawing, "yn": _yes},
}


@cache
def telling() -> Telling:
    """Return the record, told once."""
    made_once = Telling()
    made_once.tell()
    return made_once


@cache
def pages() -> tuple[tuple[Word, ...], ...]:
    """Return its note's pages, each as the runs of letters that stand together."""
    note = made(telling().record.case)
    return tuple(tuple(_runs(page.letters)) for page in note.pages)


def _runs(letters: tuple[LTChar, ...]) -> Iterator[Word]:
    """Give the runs of letters on one line with no gap between them."""
    run: list[LTChar] = []
    for letter in letters:
        last = run[-1] if run else letter
        is_apart = abs(letter.y0 - last.y0) > 1 or not letter.x0 - last.x0 >= 0
        if run and (is_apart or letter.x0 - last.x1 > GAP_PT):
            yield _as_word(run)
            run = []
        run.append(letter)
    if run:
        yield _as_word(run)


def _as_word(run: list[LTChar]) -> Word:
    text = "".join(letter.get_text() for letter in run)
    low, high = min(c.y0 for c in run), max(c.y1 for c in run)
    return Word(text, run[0].x0, low, run[-1].x1, high)


def stands_beside(label: str, token: str) -> bool:
    """Tell whether a value is found beside, under or after its label on some page.

    What is broken over lines is known by its first line.
    """
    said, name = squeezed(token), squeezed(label)
    return any(
        _is_beside(page, run, name, place)
        for page in pages()
        for run in page
        for place in _places(squeezed(run.text), said)
    )


def _places(run: str, said: str) -> Iterator[int]:
    """Give where a value, or what stands of it on this line, begins in a run."""
    yield from (n for n in range(len(run)) if run.startswith(said, n))
    for length in range(SHORTEST, len(said)):
        if run.endswith(said[:length]):
            yield len(run) - length


def _is_beside(page: tuple[Word, ...], value: Word, name: str, place: int) -> bool:
    before = squeezed(value.text)[:place]
    if before.endswith(name):
        return True
    return any(
        _is_named(squeezed(run.text), name)
        for run in page
        if run is not value and _is_its_label(run, value)
    )


def _is_named(run: str, name: str) -> bool:
    is_first_line = len(run) >= SHORTEST and name.startswith(run)
    ends_so = len(name) >= SHORTEST and run.endswith(name)
    return run == name or is_first_line or ends_so


def _is_its_label(run: Word, value: Word) -> bool:
    """Tell whether a run shares the value's row, or heads its column."""
    is_left = run.x0 <= value.x0 and abs(run.y1 - value.y1) <= ROW_PT
    is_above = run.y0 >= value.y0 and abs(run.x0 - value.x0) <= COLUMN_PT
    return is_left or is_above


def _part(told: Told) -> str:
    return told.path.removeprefix("wires/*/").split(".")[0]


@pytest.mark.parametrize("part", sorted({_part(told) for told in telling().told}))
def test_every_value_stands_beside_its_label(part: str) -> None:
    own = [told for told in telling().told if _part(told) == part]
    assert own
    lost = [told for told in own if not stands_beside(told.label, told.token)]
    assert lost == []


def test_every_field_of_a_tablet_was_told() -> None:
    leaves = sum(
        sum(c.kind not in PICTURES for c in field.children)
        if field.kind == "group"
        else field.kind not in PICTURES
        for path, field in CATALOGUE.paths()
        if path not in OTHERWISE
    )
    assert len(telling().told) == leaves > 800


def test_a_value_is_not_found_beside_another_s_label() -> None:
    own = [told for told in telling().told if told.token.startswith("Zq")]
    moved = zip(own, own[len(own) // 2 :] + own[: len(own) // 2], strict=True)
    found = [
        f"{a.token} beside {b.label}"
        for a, b in moved
        if a.label != b.label and stands_beside(b.label, a.token)
    ]
    assert found == []
