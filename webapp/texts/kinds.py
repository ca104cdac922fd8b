"""What is said about a value, and how values are said."""

from __future__ import annotations

KINDS: dict[str, str] = {
    "problem.above_hard": (
        "{label}: {typed} is above {limit} {unit}; kept as typed, not used."
    ),
    "problem.above_soft": "{label}: {typed} is above the usual {limit} {unit}.",
    "problem.because_missing": "{label}: why was it not done?",
    "problem.below_hard": (
        "{label}: {typed} is below {limit} {unit}; kept as typed, not used."
    ),
    "problem.below_soft": "{label}: {typed} is below the usual {limit} {unit}.",
    "problem.century_assumed": (
        "{label}: {typed} was read as {year}; type four figures if it is another."
    ),
    "problem.contradicts_typed": (
        "{label}: {typed} was typed and something else was kept; enter it again."
    ),
    "problem.control_characters": (
        "{label}: holds signs that cannot be printed; small letters stand for them."
    ),
    "problem.date_future": "{label}: {typed} lies in the future.",
    "problem.date_too_old": "{label}: {typed} is more than {years} years ago.",
    "problem.no_such_date": (
        "{label}: {typed} cannot be read as a date; write day, month, year."
    ),
    "problem.no_such_moment": (
        "{label}: {typed} cannot be read as a day or a time of day."
    ),
    "problem.none_and_more": "{label}: none, and something else as well.",
    "problem.not_of_kind": "{label}: not an answer to this question.",
    "problem.of_missing": "{label}: does not say what it belongs to.",
    "problem.off_step": "{label}: {typed} is finer than {step} {unit}.",
    "problem.sign_lost": "{label}: a sign could not be kept; \ufffd stands for it.",
    "problem.text_missing": "{label}: {choice}: what?",
    "problem.too_long": "{label}: longer than {limit} letters; kept whole.",
    "problem.unit_asked": "{label}: {typed} in which unit?",
    "problem.unit_unknown": "{label}: {typed} has a unit not known here: {unit}.",
    "problem.unreadable": (
        "{label}: {typed} cannot be read as a number; kept as typed, not used."
    ),
    "words.about": "about {time}",
    "words.ago_ahead": "ahead of this clock",
    "words.ago_days": "{days} d",
    "words.ago_hours": "{hours} h",
    "words.ago_hours_minutes": "{hours} h {minutes} min",
    "words.ago_just_now": "just now",
    "words.ago_minutes": "{minutes} min",
    "words.ago_seconds": "{seconds} s",
    "words.drawing": "drawn",
    "words.high": "high, no figure",
    "words.low": "low, no figure",
    "words.maximum": "maximum",
    "words.minimal": "minimal",
    "words.no": "no",
    "words.not_asked": "not asked",
    "words.not_done": "not done, because {because}",
    "words.not_done_unsaid": "not done, reason not said",
    "words.not_known": "not known",
    "words.not_readable": "not readable",
    "words.not_stated": "not stated by {report}",
    "words.person_credential": "{name}, {credential}",
    "words.person_role": "{name} ({role})",
    "words.photo": "photo",
    "words.photo_caption": "photo: {caption}",
    "words.range": "{low} to {high}",
    "words.row_child": "{label}: {words}",
    "words.yes": "yes",
}
