"""Remarks: what was found, how heavy it is, what policy asks; never an order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

Weight = Literal["fits", "look_again", "look_now"]
HEAVIER: tuple[Weight, ...] = ("look_now", "look_again", "fits")


@dataclass(frozen=True, slots=True)
class Remark:
    """One remark. `code` names its words under `clinical.remark.<code>`.

    `values`: what the words are filled with, already as shown; `limits`: keys of the
    policy rows that decided it; `asks`: code of what policy asks, or "".
    """

    code: str
    weight: Weight
    values: dict[str, str] = field(default_factory=dict)
    limits: tuple[str, ...] = ()
    asks: str = ""


def heavier_first(remarks: Iterable[Remark]) -> tuple[Remark, ...]:
    """Return the remarks by weight, each said once, otherwise in the order found."""
    once: list[Remark] = []
    for remark in remarks:
        if remark not in once:
            once.append(remark)
    return tuple(r for weight in HEAVIER for r in once if r.weight == weight)


def finding(remark: Remark, words: Mapping[str, str]) -> str:
    """Return what was found, in one line. `words`: user texts by key."""
    return _filled(words[f"clinical.remark.{remark.code}"], remark.values)


def asks(remark: Remark, words: Mapping[str, str]) -> str:
    """Return what policy asks, or "" where it asks nothing."""
    if not remark.asks:
        return ""
    return _filled(words[f"clinical.asks.{remark.asks}"], remark.values)


def more(remark: Remark, words: Mapping[str, str]) -> str:
    """Return what else belongs to the finding, or ""."""
    return _filled(words.get(f"clinical.more.{remark.code}", ""), remark.values)


def source_line(
    remark: Remark, rows: Mapping[str, Mapping[str, str]], words: Mapping[str, str]
) -> str:
    """Return the line below: each limit with its source, then who decides.

    `rows`: limits as in `policy.exported(...)["rows"]`.
    """
    told = [
        _filled(words["clinical.limit"], _in_words(rows[key], words))
        for key in remark.limits
        if key in rows
    ]
    return " ".join([*told, words["caution.decides"]])


def weight_word(remark: Remark, words: Mapping[str, str]) -> str:
    """Return the word of its weight: "Fits", "Look again", "Look now"."""
    return words[f"clinical.weight.{remark.weight}"]


def _in_words(row: Mapping[str, str], words: Mapping[str, str]) -> dict[str, str]:
    """Return a limit with how far its source carries, as nobody needs to look it up."""
    return {**row, "word": words.get(f"clinical.word.{row['word']}", row["word"])}


def _filled(text: str, values: Mapping[str, str]) -> str:
    for name, value in values.items():
        text = text.replace(f"{{{name}}}", value)
    return text
