"""A code line that was handed out, as it is remembered."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class HandedLine:
    """`line`: its number for ever; the rest so that it can be taken back by it."""

    line: int
    view: str
    rule: str
    rule_edition: str
    code_system: str
    code_edition: str
    code: str
    own_words: str
