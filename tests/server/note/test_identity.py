"""Who the note is about, also when nobody knows the name."""

from __future__ import annotations

from tests.support.records import Recording
from webapp.note.identity import Identity, identity


def identified(**answers: object) -> Identity:
    record = Recording()
    for name, value in answers.items():
        record.says(f"patient.{name}", value)
    return identity(record.case, "2026-05-14")


def test_name_birth_date_age_and_numbers_stand_as_printed_on_the_band() -> None:
    found = identified(
        family_name="ALDERMERE", given_name="Test-Ines", sex="female",
        birth_date={"as": "3.2.54", "date": "1954-02-03"}, record_number="00417220",
        encounter_number="2031-88-0142",
    )  # fmt: skip
    assert found.name == "ALDERMERE, Test-Ines"
    assert found.details.replace("\u00a0", " ") == (
        "Female · born 3 Feb 1954 (72 y) · record 00417220 · encounter 2031-88-0142"
    )


def test_a_birthday_still_to_come_is_not_counted() -> None:
    born = {"as": "15.5.1954", "date": "1954-05-15"}
    assert "(71 y)" in identified(birth_date=born).details


def test_a_birth_date_after_the_case_gives_no_age() -> None:
    born = {"as": "1.1.2027", "date": "2027-01-01"}
    assert " y)" not in identified(birth_date=born).details


def test_without_a_name_the_working_name_and_case_code_stand() -> None:
    found = identified(alias="Harbour man", case_code="7316", age_class="elderly_adult")
    assert found.name == "NAME NOT KNOWN, Harbour man, case code 7316"
    assert "age by look: Elderly adult" in found.details


def test_an_age_that_was_told_is_no_estimate() -> None:
    """published-cases.md CR-06 and CR-08: the age in years, no birth date."""
    age = {"as": "82", "n": "82", "unit": "a"}
    found = identified(estimated_age=age, age_how="told")
    assert "age 82 y, as told" in found.details.replace("\u00a0", " ")
    guessed = identified(estimated_age=age)
    assert "estimated age 82 y" in guessed.details.replace("\u00a0", " ")


def test_nothing_known_is_said_to_be_not_asked() -> None:
    found = identified()
    assert found.name == "NAME NOT KNOWN"
    assert found.details.replace("\u00a0", " ") == (
        "sex not asked · date of birth not asked · record not asked"
    )


def test_two_names_are_both_printed() -> None:
    record = Recording()
    record.says("patient.family_name", "ALDERMERE")
    record.says("patient.family_name", "ALDERMIRE", by="nurse")
    found = identity(record.case, "2026-05-14")
    assert "ALDERMERE or ALDERMIRE" in found.name


def test_an_impossible_birth_date_is_marked_in_every_header() -> None:
    found = identified(birth_date={"as": "31.2.54"})
    assert "born impossible as 31.2.54" in found.short


def test_a_record_number_not_known_is_said_so() -> None:
    assert "record not known" in identified(record_number={"absent": "not_known"}).short
