"""The whole note, read back by tools that are not ours."""

from __future__ import annotations

import json
import os
import pickle
import re
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import pytest

from tests.support.notes import (
    CHAIN,
    CONTENT,
    SIGNED,
    flat,
    made,
    made_from,
    note_of,
    read,
    squeezed,
    told_case,
    tool,
)
from tests.support.records import Recording
from webapp.note.build import build_note
from webapp.note.model import CodeFact, Held

HOSTILE = "<b>Ó'Brien & Søn</b>"
COMPLETE = "demo/1-clean-emergency"
CASES = [COMPLETE, "demo/2-name-not-known-a", "demo/6-given-up",
         "published/CR-01", "published/CR-02"]  # fmt: skip


@pytest.fixture
def complete():
    return made_from(COMPLETE)


def kept(pdf: bytes, folder: Path) -> str:
    file = folder / "note.pdf"
    file.write_bytes(pdf)
    return str(file)


@pytest.mark.parametrize("name", CASES)
def test_two_identifiers_the_state_and_the_page_of_all_stand_on_every_page(
    name: str,
) -> None:
    case = told_case(name)
    found = made_from(name)
    family = case.answer("patient.family_name")
    named = family.words if family.is_answered else "NAME NOT KNOWN"
    number = case.answer("patient.record_number").words
    for place, page in enumerate(found.pages, start=1):
        assert named in page.text
        assert f"record {number}" in page.text
        assert "Not signed" in page.text
        assert f"page {place} of {len(found.pages)}" in page.text


def test_a_signed_note_names_its_signer_on_every_page() -> None:
    found = made(told_case("published/CR-02"), attestation=SIGNED)
    for page in found.pages:
        assert "Signed: E. Tarn-Example" in page.text
        assert "Not signed" not in page.text


def test_the_same_input_gives_the_same_bytes_in_two_processes(tmp_path) -> None:
    note = note_of(told_case(COMPLETE), attestation=SIGNED)
    packed = tmp_path / "note.pickle"
    packed.write_bytes(pickle.dumps(note))
    script = (
        "import pickle, sys; from webapp.note.build import build_note;"
        "sys.stdout.buffer.write(build_note(pickle.load(open(sys.argv[1], 'rb'))))"
    )
    hers = subprocess.run(
        [sys.executable, "-c", script, str(packed)],
        capture_output=True,
        check=True,
        cwd=Path(__file__).parents[3],
        env={**os.environ, "PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo"},
    ).stdout
    ours = build_note(note)
    assert ours == hers
    assert ours == build_note(note)


@pytest.mark.parametrize("name", CASES)
def test_qpdf_finds_nothing_wrong(name: str, tmp_path) -> None:
    file = kept(made_from(name).pdf, tmp_path)
    assert "No syntax or stream encoding errors" in tool("qpdf", "--check", file)


def test_only_embedded_fonts_of_ours_are_named(complete, tmp_path) -> None:
    listed = tool("pdffonts", kept(complete.pdf, tmp_path)).splitlines()[2:]
    assert listed
    for line in listed:
        assert re.match(r"[A-Z]{6}\+WiremarkSans-(Regular|Bold) ", line)
        assert line.split()[-5:-2] == ["yes", "yes", "yes"], line
    assert b"Helvetica" not in complete.pdf


@pytest.mark.parametrize(
    ("paper", "size"), [("A4", (595, 842)), ("Letter", (612, 792))]
)
def test_the_paper_is_the_one_asked_for(paper: str, size: tuple[int, int]) -> None:
    found = made_from("published/CR-02", paper)
    for page in found.pages:
        assert (round(page.width), round(page.height)) == size


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", [COMPLETE, "published/CR-01"])
def test_every_letter_lies_within_the_margins(name: str, paper: str) -> None:
    found = made_from(name, paper)
    for page in found.pages:
        for letter in page.letters:
            if letter.get_text().strip():
                assert letter.x0 >= 34, letter
                assert letter.x1 <= page.width - 34, letter
                assert letter.y0 >= 8, letter
                assert letter.y1 <= page.height - 8, letter


def test_no_answer_lies_over_the_next_column() -> None:
    record = Recording()
    record.says("patient.family_name", "W" * 80)
    record.says("patient.given_name", "x" * 2000)
    record.says("patient.record_number", "0" * 60)
    for page in made(record.case).pages:
        drawn = sorted(
            (round(c.y0, 1), c.x0, c.x1) for c in page.letters if c.get_text().strip()
        )
        for (y, _, end), (next_y, start, _) in pairwise(drawn):
            assert y != next_y or start >= end - 1.5


def test_dates_are_those_of_the_input_and_the_title_holds_no_name(complete) -> None:
    assert b"D:20260514113112-05'00'" in complete.pdf
    assert b"D:2000" not in complete.pdf
    title = b"/Title (Temporary transvenous pacing wire: procedure note)"
    assert title in complete.pdf
    assert b"ALDERMERE" not in complete.pdf
    assert b"/Lang (en-GB)" in complete.pdf
    assert complete.pdf.startswith(b"%PDF-1.7")


def test_hostile_text_stands_as_typed_wherever_it_may_be_typed() -> None:
    record = Recording()
    for path in ("patient.family_name", "patient.given_name", "finish.findings",
                 "patient.record_number", "consent.threat"):  # fmt: skip
        record.says(path, HOSTILE)
    record.says("indication.main_rhythm", {"other": HOSTILE})
    record.adds("finish.equipment_fault", {"what": HOSTILE, "asset": "0.1 <A <0.9"})
    record.adds("patient.people", {"person": {"person": None, "name": HOSTILE}})
    found = made(record.case, hospital=HOSTILE)
    assert found.letters.count(squeezed(HOSTILE)) >= 8
    assert squeezed("0.1 <A <0.9") in found.letters


def test_nothing_in_a_text_is_fetched_or_run() -> None:
    """cases.md S5-04: markup that names an address must print, not load."""
    record = Recording()
    told = '<img src="http://127.0.0.1:9/x.png"/> <a href="file:///etc/hostname">x</a>'
    record.says("patient.family_name", told)
    assert squeezed(told) in made(record.case).letters


def test_long_texts_flow_over_pages_and_keep_their_last_word(tmp_path) -> None:
    """cases.md S5-05: 20,000 words, and 2,000 letters without a space."""
    record = Recording()
    record.says("finish.findings", " ".join(f"w{n}" for n in range(20_000)) + " LAST")
    record.says("finish.technique", "x" * 1999 + "Z")
    record.adds("finish.equipment_fault", {"what": "y" * 1999 + "Q"})
    pdf = build_note(note_of(record.case))
    letters = squeezed(tool("pdftotext", kept(pdf, tmp_path), "-"))
    assert "w19999LAST" in letters
    assert "x" * 1999 + "Z" in letters
    assert "y" * 1999 + "Q" in letters


def test_lines_typed_apart_stay_apart() -> None:
    """cases.md S5-07."""
    record = Recording()
    record.says("finish.findings", "alpha\nbeta\n\ngamma")
    lines = [line.text.strip() for p in made(record.case).pages for line in p.lines]
    for word in ("alpha", "beta", "gamma"):
        assert word in lines


def test_another_script_is_named_and_travels_exactly_in_the_attached_file(
    tmp_path,
) -> None:
    record = Recording()
    texts = ["山田 太郎", "محمد", "דוד", "🚑 ok"]
    record.says("patient.family_name", texts[0])
    record.says("patient.given_name", texts[1])
    record.says("finish.findings", texts[2])
    record.adds("finish.equipment_fault", {"what": texts[3]})
    found = made(record.case)
    assert "not printable here: U+5C71" in found.text
    assert "\u25a0" not in found.text
    assert "\ufffd" not in found.text
    told = attached(found.pdf, tmp_path)
    assert [t["text"] for t in told["texts"]] == sorted(
        texts, key=lambda t: [x["text"] for x in told["texts"]].index(t)
    )
    assert len(told["texts"]) == 4


def attached(pdf: bytes, folder: Path) -> dict:
    file = kept(pdf, folder)
    assert "coded-facts.json" in tool("pdfdetach", "-list", file)
    out = folder / "facts.json"
    tool("pdfdetach", "-save", "1", "-o", str(out), file)
    return json.loads(out.read_text(encoding="utf-8"))


def test_coded_facts_travel_as_data_beside_the_print(tmp_path) -> None:
    fact = CodeFact("diagnosis", "Complete AV block", "I44.2", "FY2026-Apr", True)
    found = made(told_case("published/CR-02"), code_facts=(fact,))
    told = attached(found.pdf, tmp_path)
    assert told["schema"] == "wiremark-note-facts/1"
    assert told["candidates_not_a_claim"] is True
    assert told["facts"][0]["code"] == "I44.2"
    assert told["content_digest"] == CONTENT
    assert told["head"] == {"position": 214, "chain": CHAIN}


def test_qpdf_lists_the_attachment_too(complete, tmp_path) -> None:
    listed = tool("qpdf", "--list-attachments", kept(complete.pdf, tmp_path))
    assert "coded-facts.json" in listed


def test_an_empty_record_makes_a_note_that_says_so() -> None:
    found = made(Recording().case)
    assert "NAME NOT KNOWN" in found.pages[0].text
    assert "No wire is in this record." in found.pages[0].text
    assert "Indication not asked." in found.pages[0].text
    assert "Not recorded, needed:" in found.pages[0].text
    assert "None recorded." in found.text


def test_digests_and_the_log_s_head_are_printed_in_full() -> None:
    found = made(told_case("published/CR-02"), attestation=SIGNED)
    assert CONTENT in found.letters
    assert CHAIN in found.letters
    assert "214" in found.pages[-1].text
    assert flat(f"Fixed under digest {CONTENT[:16]}") in found.pages[0].text


def test_a_tablet_that_holds_entries_back_is_named_with_their_number() -> None:
    signed = SIGNED.__class__(
        name="E. Tarn-Example", credential="MD", role="operator",
        signed_at=SIGNED.signed_at, zone=SIGNED.zone, method=SIGNED.method,
        statement=SIGNED.statement, undelivered_because="tablet left with the crew",
    )  # fmt: skip
    held = (Held("Tablet 2", "2026-05-14T09:00:00Z", 7),)
    found = made(told_case("published/CR-02"), attestation=signed, undelivered=held)
    assert "Tablet 2" in found.text
    assert "entries announced and not here: 7" in found.text
    assert "tablet left with the crew" in found.text


def test_the_parts_stand_in_the_outline(complete, tmp_path) -> None:
    shown = tool("qpdf", "--json", "--json-key=outlines", kept(complete.pdf, tmp_path))
    titles = [entry["title"] for entry in json.loads(shown)["outlines"]]
    assert titles[0] == "Findings and technique"
    for part in ("Patient", "Indication", "Capture", "Finish", "Removal"):
        assert part in titles
    assert titles[-1] == "Signature and digests"


def test_the_record_id_stands_for_a_patient_without_a_name() -> None:
    found = made(told_case("published/CR-01"))
    assert all("0199aaaa-0000-7000-8000-0000000000a1" in p.text for p in found.pages)


def test_the_draft_reads_the_same_as_it_will_be_signed_but_for_the_signature() -> None:
    case = told_case("published/CR-02")
    draft, signed = made(case), read(build_note(note_of(case, attestation=SIGNED)))
    assert len(draft.pages) == len(signed.pages)
    assert "Complete AV block" in draft.pages[0].text
    assert "Complete AV block" in signed.pages[0].text
