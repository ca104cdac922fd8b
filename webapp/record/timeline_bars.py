"""What lasted on the time ruler: drugs given, infusions, skin pacing, as data."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from webapp.catalogue.moments import is_clock_time, read_instant
from webapp.record.case import Case, Row
from webapp.say import say

SKIN, DRUGS = "skin_pacing", "drugs"
INFUSION, PACED = "iv_infusion", "paced"
# Groups of drugs, with the child that names the drug.
_GIVEN = (
    ("indication.drugs_given", "drug"),
    ("approach.sedation_drug", "drug"),
    ("approach.local_anaesthetic", "agent"),
)


@dataclass(frozen=True, slots=True)
class Bar:
    """One drug or spell of skin pacing, in Unix milliseconds.

    `lasts`: False for what was given at once; `end_ms`: None when no stop was told;
    `about`: the beginning was not exact.
    """

    lane: str
    start_ms: int
    end_ms: int | None
    lasts: bool
    label: str
    about: bool


def bars(case: Case) -> tuple[Bar, ...]:
    """Return every drug and spell of skin pacing with a clock time, in time."""
    return tuple(sorted((*_skin(case), *_drugs(case)), key=lambda b: b.start_ms))


def instant_ms(value: Any) -> int | None:
    """Return Unix milliseconds of an exact or about moment, else None."""
    if not is_clock_time(value):
        return None
    at = read_instant(value["utc"])
    return round(at.timestamp() * 1000) if at else None


def _drugs(case: Case) -> Iterator[Bar]:
    for path, named in _GIVEN:
        for row in case.rows(path):
            start = instant_ms(row.get("moment"))
            if start is None:
                continue
            stop = instant_ms(row.get("stopped"))
            lasts = row.get("route") == INFUSION or stop is not None
            label = _drug_words(row, named)
            yield Bar(DRUGS, start, stop, lasts, label, _is_about(row.get("moment")))


def _drug_words(row: Row, named: str) -> str:
    """Return "Atropine 1 mg"; what is not known of the dose is said."""
    drug = row.words(named) or say("timeline.drug_not_named")
    amounts = [row.words(name) for name in ("dose", "strength", "volume")]
    told = " ".join(words for words in amounts if words)
    if not told:
        return drug
    value = row.get("dose")
    if isinstance(value, dict) and "absent" in value:
        return say("timeline.dose_absent", drug=drug, dose=told)
    return f"{drug} {told}"


def _skin(case: Case) -> Iterator[Bar]:
    stops = _stops(case)
    for row in case.rows("indication.skin_pacing"):
        if row.get("state") != PACED:
            continue
        began = row.get("start") if row.get("start") is not None else row.get("moment")
        start = instant_ms(began)
        if start is None:
            continue
        end = instant_ms(row.get("stop")) or stops.get(row.id)
        told = [row.words("state"), row.words("rate"), row.words("output")]
        label = ", ".join(words for words in told if words)
        yield Bar(SKIN, start, end, True, label, _is_about(began))


def _stops(case: Case) -> dict[str, int]:
    """Return when a spell was first told as stopped, by its id."""
    found: dict[str, int] = {}
    for row in case.rows("indication.skin_pacing_stop"):
        of, at = row.get("of"), instant_ms(row.get("moment"))
        # Without a moment of its own it was told when it was entered.
        at = int(row.meta["time_ms"]) if at is None else at
        if isinstance(of, str):
            found[of] = min(at, found.get(of, at))
    return found


def _is_about(value: Any) -> bool:
    return bool(value["certainty"] == "about")
