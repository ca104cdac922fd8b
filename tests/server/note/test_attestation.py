"""The signature as it was given, and what it fixes."""

from __future__ import annotations

from dataclasses import replace

from tests.support.notes import CONTENT, SIGNED, note_of
from tests.support.records import Recording
from webapp.note.attestation import attestation_blocks, grouped, signed_words
from webapp.note.blocks import Line, Prose


def lines(**changed) -> dict[str, str]:
    note = note_of(Recording().case, **changed)
    blocks = attestation_blocks(note)
    return {b.label: b.said[0].words for b in blocks if isinstance(b, Line)}


def test_name_credential_role_time_zone_and_method_are_printed() -> None:
    """coding.md section 7, Signature."""
    told = lines(attestation=SIGNED)
    assert told["Name"] == "E. Tarn-Example, MD"
    assert told["Role"] == "operator"
    assert told["Signed at"] == "14 May 2026, 11:31:12 (UTC-05:00, America/Chicago)"
    assert told["Proven by"] == "password, asked again at signing"


def test_the_statement_is_printed_as_signed() -> None:
    blocks = attestation_blocks(note_of(Recording().case, attestation=SIGNED))
    assert SIGNED.statement in [b.words for b in blocks if isinstance(b, Prose)]


def test_a_late_signature_says_why() -> None:
    late = replace(SIGNED, late_because="on leave")
    assert lines(attestation=late)["Signed late because"] == "on leave"
    assert "Signed late because" not in lines(attestation=SIGNED)


def test_a_supervisor_signs_apart_from_the_author() -> None:
    other = replace(SIGNED, name="I. Skerry-Example", role="supervisor")
    note = note_of(Recording().case, attestation=SIGNED, cosigned=(other,))
    names = [b.said[0].words for b in attestation_blocks(note)
             if isinstance(b, Line) and b.label == "Name"]  # fmt: skip
    assert names == ["E. Tarn-Example, MD", "I. Skerry-Example, MD"]


def test_a_draft_says_that_nobody_signed() -> None:
    note = note_of(Recording().case)
    assert signed_words(note) == ""
    blocks = attestation_blocks(note)
    words = [b.words for b in blocks if isinstance(b, Prose)]
    assert any("Nobody has signed" in w for w in words)


def test_a_digest_is_printed_whole_in_groups_a_person_can_compare() -> None:
    assert grouped(CONTENT).replace(" ", "") == CONTENT
    assert {len(g) for g in grouped(CONTENT).split()} == {8}
    assert lines()["Content digest"] == grouped(CONTENT)
