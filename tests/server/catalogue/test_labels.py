"""The words a person reads: short, in sentence case, in the trade's own language."""

from __future__ import annotations

import re

from tests.server.catalogue.walk import texts

TEXTS = [(where, text) for where, text in texts() if text]
LONGEST = 50

# Systems and their numbers never reach the bedside.
CODE_WORDS = re.compile(
    r"\b(ICD|CPT|HCPCS|SNOMED|LOINC|UCUM|FHIR|HL7|NCCI|DRG|billing code|modifier)\b"
    r"|\b[0-9]{5}\b|\b[A-TV-Z][0-9]{2}\.[0-9A-Z]+\b",
    re.IGNORECASE,
)

# Words that another word of ours replaces, whatever they stand for.
NEVER = re.compile(
    r"\b(station|hub depth|insertion|recommended|advice|warning|overruled|dismissed"
    r"|incomplete test|underlying|pads on|undo|delete|synced|saved|cart|alias|fork"
    r"|conflict|gap|missing|N/A|wall view|practice|demo|took|seat|supported|denied"
    r"|should|must|error|normal|safe|correct|successfully|please)\b|!",
    re.IGNORECASE,
)
# Words with a trade meaning too: allowed there, and only there.
WITH_REASON = {
    "stage": {"Stage", "Stage not stated"}
    | {f"Stage {n}" for n in ("1", "2", "3", "3a", "3b", "4", "5")},
    "step": set(),
    "runs?": {"Runs"},
    "wall": {"Chest wall"},
    "marks?": set(),
    "stamp": set(),
    "lost": {
        "Capture lost (not a test)",
        "Margin shown, loss not sought",
        "Pulse lost",
    },
    "alert": {"Alert"},
    "dependent": {"Bradycardia-dependent torsades"},
    "device": {
        "Device failure",
        "Other tricuspid device",
        "Vein blocked, device leads or fistula on that side",
    },
    "seal": set(),
    "attest": set(),
    "lock(ed)?": {
        "Sleeve lock",
        "Sleeve locked",
        "Settings locked",
        "Locked",
        "On, not locked",
    },
}

# Capitals inside a text. A name of a maker or of a product would be one more.
CAPITALS = {
    "AF", "AV", "BP", "CO2", "CT", "ECG", "I", "II", "III", "INR", "IVC", "K", "MRI",
    "NPI", "P", "PR", "QRS", "QT", "QTc", "R", "RA", "RV", "S", "ST", "SVC", "SVT",
    "SpO2", "V", "V1", "V2", "VF", "VT", "V1–V2", "Lyme", "CPR", "ASA",
}  # fmt: skip


def _is_foreign(text: str) -> bool:
    return bool(CODE_WORDS.search(text) or NEVER.search(text)) or any(
        re.search(rf"\b{word}\b", text, re.IGNORECASE) and text not in allowed
        for word, allowed in WITH_REASON.items()
    )


def test_every_text_is_in_our_words() -> None:
    assert [(w, t) for w, t in TEXTS if _is_foreign(t)] == []


def _is_badly_set(text: str) -> bool:
    words = re.findall(r"[^\W\d_][\w–]*", text)
    later = {word for word in words[1:] if word[0].isupper()}
    starts = not text[0].isalpha() or text[0].isupper() or words[0] in ("cm", "pH")
    return not (later <= CAPITALS and starts and text == text.strip())


def test_every_text_is_in_sentence_case_without_names() -> None:
    assert [(w, t) for w, t in TEXTS if _is_badly_set(t)] == []


def test_labels_and_choices_are_short() -> None:
    long = [t for w, t in TEXTS if len(t) > LONGEST and not w.endswith("note")]
    assert long == []


def test_the_searches_find_what_they_are_for() -> None:
    assert CODE_WORDS.search("Needed for 33210")
    assert CODE_WORDS.search("I44.2 stated")
    assert NEVER.search("Underlying rhythm")
    assert not NEVER.search("Own rhythm")


def test_pulling_back_is_never_asked_before_the_balloon_is_down() -> None:
    back = re.compile(r"\b(pull|withdraw|remove)\b", re.IGNORECASE)
    bare = [t for _, t in TEXTS if back.search(t) and "balloon" not in t.lower()]
    assert bare == []
