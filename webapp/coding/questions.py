"""Questions to clinicians, in one neutral form, and the lint that refuses others."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

SHIPPED_QUESTIONS = Path(__file__).parent / "questions.toml"
ALWAYS_OFFERED = ("other (say)", "cannot be determined", "no further detail")

# What a title or a choice may not name: then it would name the answer.
DIAGNOSES = re.compile(
    r"block|bradycardia|fibrillation|flutter|tachycardia|torsades|infarct|shock"
    r"|cardiogenic|septic|syncope|arrest|tamponade|perforation|pneumothorax|failure"
    r"|kal(a)?emia|hypothermia|poisoning|delirium|syndrome",
    re.IGNORECASE,
)
WORTH = re.compile(
    r"\b(pay\w*|paid|bill\w*|reimburs\w*|charge[sd]?|revenue|quality|sever\w*|claim\w*"
    r"|cod(e|es|ed|ing)|drg|units?)\b|[$€£]",
    re.IGNORECASE,
)
A_CODE = re.compile(r"\b([A-Z][0-9][0-9A-Z](\.[0-9A-Z]+)?|[0-9]{5}|[0-9A-Z]{7})\b")
LEADING = re.compile(
    r"please document|can you (add|document)|we need|confirm that|should be|isn't it",
    re.IGNORECASE,
)
YES_NO = frozenset(("yes", "no"))


@dataclass(frozen=True, slots=True)
class Question:
    """One question. `facts`: paths whose entries are cited; no `choices`: open text.

    `offered`: what the clinician may answer besides own words.
    """

    id: str
    title: str
    facts: tuple[str, ...]
    unclear: str
    choices: tuple[str, ...]

    @property
    def offered(self) -> tuple[str, ...]:
        """Return the choices with those that always stand at the end."""
        return (*self.choices, *ALWAYS_OFFERED)


def load_questions(file: Path = SHIPPED_QUESTIONS) -> dict[str, Question]:
    """Read every question by id."""
    raw = tomllib.loads(file.read_text(encoding="utf-8"))["question"]
    found = [
        Question(
            q["id"], q["title"], tuple(q["facts"]), q["unclear"], tuple(q["choices"])
        )
        for q in raw
    ]
    return {question.id: question for question in found}


def lint(question: Question) -> list[str]:
    """Return why a question may not be sent; empty when it is neutral.

    The diagnosis words of the facts are the record's own and are not looked at.
    """
    told = (question.title, question.unclear, *question.choices)
    checks: Iterable[tuple[bool, str]] = (
        (bool(DIAGNOSES.search(question.title)), "the title names an answer"),
        (
            any(
                DIAGNOSES.search(text) for text in (question.unclear, *question.choices)
            ),
            "a diagnosis that no cited entry supports",
        ),
        (len(question.choices) == 1, "one choice only"),
        (bool(YES_NO & set(question.choices)), "yes or no on something new"),
        (any(WORTH.search(text) for text in told), "a word of payment or coding"),
        (any(A_CODE.search(text) for text in told), "a code"),
        (any(LEADING.search(text) for text in told), "it leads"),
        (question.title.endswith("?"), "the title asks"),
        (not question.facts, "no entry is cited"),
    )
    return [because for broken, because in checks if broken]
