"""Initials name one person each."""

from __future__ import annotations

from tests.support.records import PEOPLE, Recording
from webapp.note.initials import initials_of


def fold_by(*names: str) -> dict:
    record = Recording()
    record.says("patient.alias", "x")
    fold = record.case.fold
    first = fold["order"][0]
    people = [{"person": None, "name": n, "role": "nurse"} for n in names]
    metas = {
        f"{n}": {**fold["entries"][first], "author": p, "entered_by": p}
        for n, p in enumerate(people)
    }
    return {**fold, "order": list(metas), "entries": metas}


def test_first_letters_of_the_words_of_a_name() -> None:
    found = initials_of(fold_by("E. Tarn-Example", "Test-Mira FJORDHOLM"))
    assert found == {"E. Tarn-Example": "ET", "Test-Mira FJORDHOLM": "TF"}


def test_two_people_never_share_initials() -> None:
    names = ("Ann Ness", "Alan North", "Amy Nixon")
    assert list(initials_of(fold_by(*names)).values()) == ["AN", "AN2", "AN3"]


def test_a_name_in_another_script_gets_a_number() -> None:
    assert list(initials_of(fold_by("山田 太郎", "محمد")).values()) == ["P", "P2"]


def test_a_long_name_keeps_its_first_two_and_its_last_letter() -> None:
    assert initials_of(fold_by("A B C D E F")) == {"A B C D E F": "ABF"}


def test_callers_have_initials_too() -> None:
    record = Recording(by="nurse")
    record.says("patient.alias", "x", called_by="operator")
    assert set(initials_of(record.case.fold)) == {
        PEOPLE["nurse"]["name"],
        PEOPLE["operator"]["name"],
    }
