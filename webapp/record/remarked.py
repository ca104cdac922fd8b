"""Remarks on a record in words: what was found, where, what policy asks, who answered.

The one place that page and note get them from. Pure: the same record and limits give
the same remarks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from webapp.catalogue import CATALOGUE
from webapp.clinical.case_remarks import case_remarks
from webapp.clinical.found import Found
from webapp.clinical.policy import Policy
from webapp.clinical.remark_answers import evidence_text
from webapp.clinical.remarks import HEAVIER, asks, finding, more, source_line
from webapp.clinical.remarks import weight_word as word_of
from webapp.clinical.rows import rows_of
from webapp.record.case import Case, Row
from webapp.record.remark_times import AsAt, as_at
from webapp.say import SAY, say

ANSWERS = ("seen", "seen_otherwise")
# Nothing is asked of what only fits.
ASKING = ("look_now", "look_again")


@dataclass(frozen=True, slots=True)
class Given:
    """One answer to a remark. `entry`: its id; `answer`, `because`: in words, or ""."""

    entry: str
    answer: str
    because: str


@dataclass(frozen=True, slots=True)
class Remarked:
    """One remark in words. `place`: label of its field; `wire`: its name, of several.

    `limits`: the limits that decided it, each with its source, "" for none;
    `given`: the answers to it on just this evidence, in time; `as_at`: the time of day
    of that evidence.
    """

    found: Found
    place: str
    wire: str
    word: str
    finding: str
    asks: str
    more: str
    limits: str
    given: tuple[Given, ...]
    as_at: AsAt | None

    @property
    def path(self) -> str:
        """Return the record's path of the field it stands at."""
        return self.found.path

    @property
    def answers_path(self) -> str:
        """Return the path that answers to it are entries under."""
        return f"remarks.{self.found.name}"

    @property
    def evidence(self) -> str:
        """Return the evidence as an answer names it."""
        return evidence_text(self.found)

    @property
    def weight(self) -> str:
        """Return "look_now", "look_again" or "fits"."""
        return self.found.remark.weight

    @property
    def stands(self) -> bool:
        """Return False for what was so then and is put right since."""
        return self.found.stands

    @property
    def asks_answer(self) -> bool:
        """Return whether it is heavy enough to be answered."""
        return self.weight in ASKING

    @property
    def is_open(self) -> bool:
        """Return whether it stands, heavy enough to be answered, and nobody did."""
        return self.asks_answer and self.stands and not self.given


def remarked(case: Case, policy: Policy) -> tuple[Remarked, ...]:
    """Return every remark on a record: heavier first, what still stands before."""
    told = [_told(case, policy, one) for one in case_remarks(case.fold, policy)]
    return tuple(sorted(told, key=lambda r: (_heaviness(r), not r.stands)))


def answer_keys() -> tuple[tuple[str, str], ...]:
    """Return each answer's code with its words, as keys show them."""
    field = CATALOGUE.remark.child("answer")
    labels = {c.code: c.label for c in field.choices} if field else {}
    return tuple((code, labels[code]) for code in ANSWERS)


def _heaviness(told: Remarked) -> int:
    return HEAVIER.index(told.found.remark.weight)


def _told(case: Case, policy: Policy, found: Found) -> Remarked:
    remark, field = found.remark, case.catalogue.field(found.path)
    return Remarked(
        found,
        field.label if field else "",
        _wire(case, found),
        word_of(remark, SAY),
        finding(remark, SAY),
        asks(remark, SAY),
        more(remark, SAY),
        source_line(remark, _rows(policy), {**SAY, "caution.decides": ""}).strip(),
        tuple(_given(case, found)),
        as_at(case.fold, found.evidence),
    )


def _wire(case: Case, found: Found) -> str:
    """Return the name of the wire it is about, "" where there is only one."""
    if len(case.wires) < 2:
        return ""
    return next((w.name for w in case.wires if w.id == found.wire), "")


def _rows(policy: Policy) -> Mapping[str, Mapping[str, str]]:
    names = ("meaning", "shown", "source", "word")
    return {
        key: {name: getattr(row, name) for name in names}
        for key, row in policy.rows.items()
        if row.kind != "text"
    }


def _given(case: Case, found: Found) -> Iterator[Given]:
    path, evidence = f"remarks.{found.name}", evidence_text(found)
    rows = {row.id: row for row in case.rows(path)}
    # In time, as the tablet reads them.
    for told in rows_of(case.fold, path):
        if told.value.get("evidence", "") == evidence:
            yield given_of(rows[told.id])


def given_of(row: Row) -> Given:
    """Return an answer in words: "Seen, chose otherwise", and why."""
    return Given(row.id, row.words("answer"), row.words("because"))


def answer_words(given: Given) -> str:
    """Return "Seen, chose otherwise, because …", without who and when."""
    answer = given.answer or say("remarks.answered")
    if not given.because:
        return answer
    return say("remarks.because", answer=answer, because=given.because)
