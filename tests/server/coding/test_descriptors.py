"""Claim numbers stand in the rules alone, and never beside a publisher's wording."""

from __future__ import annotations

import re
from pathlib import Path

from tests.support.records import FIXTURES
from webapp.coding.columns import OWN_WORDS_MAX
from webapp.coding.questions import load_questions
from webapp.coding.rules import SHIPPED_RULES, load_rules
from webapp.say import SAY

ROOT = Path(__file__).resolve().parents[3]
SHIPPED = ("webapp", "static", "migrations", "fixtures")
PAGES = ("README.md", "DEVELOPERS.md")
TEXT = {".py", ".js", ".css", ".html", ".toml", ".json", ".md", ".txt", ".csv"}
CLAIMED = [rule for rule in load_rules() if rule.system in ("CPT", "HCPCS")]
# Words of publishers and of procedure headings, which our own words do without.
# Source: none; common practice, chosen from memory.
NOT_OURS = re.compile(
    r"insertion|replacement|transvenous|electrode|catheter|separate procedure"
    r"|each additional|evaluation|requiring|documentation of|permanent recording",
    re.IGNORECASE,
)


def shipped_files() -> list[Path]:
    folders = [f for name in SHIPPED for f in (ROOT / name).rglob("*")]
    files = [f for f in folders if f.suffix in TEXT and f.is_file()]
    return files + [ROOT / name for name in PAGES if (ROOT / name).exists()]


def test_claim_numbers_stand_only_in_the_rules():
    numbers = re.compile(rf"\b({'|'.join(rule.code for rule in CLAIMED)})\b")
    assert CLAIMED
    for file in shipped_files():
        if SHIPPED_RULES in file.parents:
            continue
        assert not numbers.search(file.read_text(encoding="utf-8")), file.name


def test_what_stands_beside_a_claim_number_is_short_and_ours():
    for rule in CLAIMED:
        assert len(rule.says) <= 80
        told = [rule.says, rule.because, *(e.because for e in rule.excludes)]
        told += [need.missing for need in rule.needs]
        assert not any(NOT_OURS.search(text) for text in told), rule.id


def test_own_words_of_every_rule_fit_their_column():
    assert all(len(rule.says) <= OWN_WORDS_MAX for rule in load_rules())


def test_no_screen_text_and_no_question_holds_a_claim_number():
    told = [v for k, v in SAY.items() if k.startswith("coding.")]
    for question in load_questions().values():
        told += [question.title, question.unclear, *question.choices]
    assert not [text for text in told if re.search(r"\b[0-9]{5}\b", text)]


def test_no_modifier_is_set_by_a_rule():
    for rule in load_rules():
        assert all(modifier.startswith("ask:") for modifier in rule.modifiers)


def test_fixture_records_hold_no_claim_number():
    text = (FIXTURES / "coding" / "records.toml").read_text(encoding="utf-8")
    assert not re.search(r"\b[0-9]{5}\b", text)
