"""What the coding desk and the coder's file say. Own words only: no descriptor."""

from __future__ import annotations

CODING: dict[str, str] = {
    "coding.because.not_in_edition": "not a code of the edition {edition}",
    "coding.because.edition_required": "edition of its date not loaded",
    "coding.because.not_enabled": "not enabled here",
    "coding.because.to_be_checked": "rule to be checked by a named coder",
    "coding.missing.provider_to_state": "provider to state {what}",
    "coding.missing.two_answers": "{what}: two answers",
    "coding.edition": "{edition}",
    "coding.edition_not_confirmed": (
        "{edition}; edition of the date not loaded: confirm"
    ),
    "coding.head.date": "Date of service {day}",
    "coding.head.no_day": "not recorded",
    "coding.head.status": "Status then: {status}",
    "coding.head.edition": "Edition: {edition}",
    "coding.head.no_edition": "none in hand",
    "coding.stated_missing": "{stated} (something missing: {missing})",
    "coding.fact.wire": "{wire}: {told}",
    "coding.fact.operator": "Operator: {person}",
}
