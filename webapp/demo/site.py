"""Who works at the fictitious hospital, and what stands in its settings."""

from __future__ import annotations

from webapp.people.accounts import NewPerson

PASSWORD = "harbour-demo-2031"  # noqa: S105 - printed for everybody, serves one machine
SITE = """hospital = "Example Harbour Hospital"
facility = "EXHB"
zone = "America/Chicago"

[cpt_enabled]
by = "R. Wend-Example"
role = "administrator"
on = "2026-01-02"
licence_reference = "demonstration only"
"""
# One person a role; the check digits of the NPIs are right, the persons are not real.
CAST = (
    NewPerson("tarn", "E. Tarn-Example", ("operator",), PASSWORD, "MD", "1234567893"),
    NewPerson("fell", "O. Fell-Example", ("supervisor",), PASSWORD, "MD", "1000000004"),
    NewPerson("ouse", "K. Ouse-Example", ("nurse",), PASSWORD, "RN"),
    NewPerson("beck", "J. Beck-Example", ("assistant",), PASSWORD),
    NewPerson("rill", "M. Rill-Example", ("coder",), PASSWORD, "CCS"),
    NewPerson("wend", "R. Wend-Example", ("administrator",), PASSWORD),
)
