"""What both sides say of typed text, without the marks that keep it apart on a screen.

A tablet's words are for a screen and carry them (static/js/form/apart.js, held by
fixtures/vectors/apart.json); the server's go to papers too, and get them where a page
shows them (webapp/pages.py).
"""

from __future__ import annotations

from typing import Any

_MARKS = str.maketrans("", "", "\u2068\u2069")


def without_marks(text: str) -> str:
    """Return a text as it reads; a value shown within another one is marked once more."""
    return text.translate(_MARKS)


def unmarked(told: Any) -> Any:
    """Return a judgement with the marks out of its words and messages; values stay."""
    if not isinstance(told, dict) or "words" not in told:
        return told
    verdict = told["verdict"]
    problems = [
        {**one, "message": without_marks(one["message"])} for one in verdict["problems"]
    ]
    words = without_marks(told["words"])
    return {**told, "verdict": {**verdict, "problems": problems}, "words": words}
