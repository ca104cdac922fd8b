"""Every kind of field, typed at and judged: alike in both languages, nothing lost.

One field of the catalogue for each shape that the kinds tell apart.

One node process for all that is typed, one for all values.
"""

from __future__ import annotations

import base64
import re
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

from tests.support import node
from tests.support.any_typed import (
    CLOCKS,
    ODD_NUMBERS,
    ODD_TEXTS,
    STRING_SET,
    TODAY,
    ZONE,
    at_limits,
    days,
    fields,
    lengths,
)
from tests.support.any_values import values
from tests.support.streams import filled
from tests.support.unmarked import unmarked
from webapp.catalogue.export import field_as_dict
from webapp.catalogue.kinds import check, parse
from webapp.catalogue.model import Field
from webapp.catalogue.typed import SPACE, has_control
from webapp.catalogue.words import words
from webapp.record.framing import MOST_ENTRY_BYTES
from webapp.record.ruling import read_body
from webapp.record.seal import NONCE_BYTES, TAG_BYTES

SETTING = {"today": TODAY, "zone": ZONE}
Case = tuple[int, str, str | None]


@cache
def typed_cases() -> list[Case]:
    """Return what is typed: the field's place, the text, the unit said beside it."""
    random = Random(20311124)
    found: list[Case] = []
    for place, field in enumerate(fields()):
        texts = list(texts_for(field, random))
        if field.kind not in {fields()[n].kind for n in range(place)}:
            texts += [*STRING_SET, *ODD_TEXTS]
        found += [(place, text, unit_beside(field, random)) for text in texts]
    return found


def texts_for(field: Field, random: Random) -> list[str]:
    """Return the texts for one field: its limits as often as everything else."""
    if field.kind == "qty":
        limits = list(at_limits(field, random))
        # Half of the numbers stand at a limit, or one step beside it.
        odd = random.sample(ODD_NUMBERS, (len(limits) * 3 // 4) or 4)
        return [*limits, *odd, *random.sample(STRING_SET + ODD_TEXTS, 6)]
    odd_texts = [*STRING_SET, *ODD_TEXTS, *ODD_NUMBERS]
    if field.kind in ("text", "prose", "person"):
        return [*lengths(field), *odd_texts]
    if field.kind in ("date", "moment"):
        return [*days(field), *CLOCKS, *odd_texts]
    named = [text for c in field.choices for text in (c.code, c.label.upper())]
    several = [", ".join(random.sample(named, 2)) for _ in named[1:4]]
    few = random.sample(named, min(4, len(named)))
    return [*few, *several, *random.sample(odd_texts, 12)]


def unit_beside(field: Field, random: Random) -> str | None:
    return random.choice((None, None, None, "", *field.units, "mA"))


def typed_here(case: Case) -> dict[str, Any]:
    """Return what the server says of typed text, in the tablet's shape."""
    place, raw, unit = case
    value = parse(fields()[place], raw, unit, **SETTING)
    return {"value": value, **judged_here(fields()[place], value)}


def judged_here(field: Field, value: Any) -> dict[str, Any]:
    verdict = check(field, value, today=TODAY)
    problems = [
        {"field": p.field, "code": p.code, "message": p.message}
        for p in verdict.problems
    ]
    told = words(field, value, TODAY)
    return {"verdict": {"state": verdict.state, "problems": problems}, "words": told}


def on_the_tablet(function: str, cases: list[Any]) -> list[dict[str, Any]]:
    plain = [field_as_dict(field) for field in fields()]
    [found] = node.call("./reading.mjs", function, [[plain, cases, SETTING]])
    assert "threw" not in found, found
    results: list[dict[str, Any]] = found
    return results


def differing(cases: list[Any], here: list[Any], there: list[Any]) -> list[Any]:
    """Return the first cases that the two judge differently, cut to be read."""
    triples = zip(cases, here, there, strict=True)
    wrong = [(c, a, b) for c, a, b in triples if unmarked(a) != unmarked(b)]
    return [
        (fields()[case[0]].name, *(ascii(part)[:300] for part in (case[1:], a, b)))
        for case, a, b in wrong[:5]
    ]


def test_whatever_is_typed_means_the_same_on_both_sides():
    cases = typed_cases()
    here = [typed_here(case) for case in cases]
    assert differing(cases, here, on_the_tablet("everyTyped", cases)) == []


def test_whatever_is_sent_is_judged_the_same_on_both_sides():
    cases = [(n, v) for n, field in enumerate(fields()) for v in values(field)]
    here = [judged_here(fields()[place], value.real) for place, value in cases]
    there = on_the_tablet("everyJudged", [(n, value.told) for n, value in cases])
    shown = [(place, value.told) for place, value in cases]
    assert differing(shown, here, there) == []
    assert len(cases) >= 5000


def test_half_of_the_numbers_stand_at_a_limit():
    places = [n for n, field in enumerate(fields()) if field.kind == "qty"]
    texts = [raw for place, raw, _ in typed_cases() if place in places]
    random = Random(1)
    at_a_limit = sum(len(list(at_limits(fields()[n], random))) for n in places)
    odd = sum(text in ODD_NUMBERS for text in texts)
    assert at_a_limit >= odd
    assert at_a_limit > 400
    assert set(ODD_NUMBERS) <= set(texts)


def test_every_kind_meets_the_whole_string_set():
    met: dict[str, set[str]] = {}
    for place, raw, _ in typed_cases():
        met.setdefault(fields()[place].kind, set()).add(raw)
    assert len(met) == 12
    whole = {*STRING_SET, *ODD_TEXTS}
    assert {kind for kind, texts in met.items() if not texts >= whole} == set()


def test_nothing_typed_is_lost():
    """Whatever the verdict, the value holds what was typed, or it is refused."""
    lost = []
    for case in typed_cases():
        place, raw, _ = case
        told = typed_here(case)
        if not holds_typed(fields()[place], raw, told):
            lost.append((fields()[place].name, ascii(raw)[:80], ascii(told)[:200]))
    assert lost == []


def test_whatever_is_typed_reaches_the_server_as_the_tablet_kept_it():
    plain = [field_as_dict(field) for field in fields()]
    whole = filled({"id": "", "log": "", "seq": 1})["body"]
    arguments = [plain, typed_cases(), SETTING, whole]
    [found] = node.call("./reading.mjs", "everyBody", [arguments])
    wrong = []
    for (place, raw, unit), body in zip(typed_cases(), found, strict=True):
        kept = parse(fields()[place], raw, unit, **SETTING)
        read = None if body is None else read_body(base64.b64decode(body))
        if (read and read["value"]) != kept:
            wrong.append((fields()[place].name, ascii(raw)[:80], ascii(read)[:200]))
    assert wrong == []


def test_the_largest_body_a_tablet_keeps_is_one_the_server_takes():
    text = (Path(__file__).parents[2] / "static/js/log/entry.js").read_text("utf-8")
    [told] = re.findall(r"LARGEST_BODY = ([0-9* -]+);", text)
    first, *taken_off = told.replace("64 * 1024", str(64 * 1024)).split("-")
    largest = int(first) - sum(map(int, taken_off))
    assert 60_000 < largest + NONCE_BYTES + TAG_BYTES <= MOST_ENTRY_BYTES


def holds_typed(field: Field, raw: str, told: dict[str, Any]) -> bool:
    """Tell whether typed text is found again in what it became.

    Only newlines are made one kind, halves of characters become the sign U+FFFD, which
    is marked, and blanks at the ends of a text that stands by itself go.
    """
    text, verdict = as_kept(raw), told["verdict"]
    if is_blank(text):
        return told["value"] is None
    if verdict["state"] == "illegal":
        return True
    codes = {problem["code"] for problem in verdict["problems"]}
    is_marked = "sign_lost" in codes or "\ufffd" not in text
    is_marked &= "control_characters" in codes or not has_control(text.strip(SPACE))
    return is_marked and is_in(field, text, told["value"])


def is_in(field: Field, text: str, value: Any) -> bool:
    if field.kind in ("qty", "date"):
        return bool(value["as"] == text)
    if field.kind == "moment":
        return value.get("as") == text or is_read_again(field, value)
    if field.kind == "person":
        return bool(value["name"] == text.strip(SPACE))
    if field.kind == "many":
        pieces = [p for p in text.replace("\n", ",").split(",") if not is_blank(p)]
        return all(any(is_told(field, pick, p) for pick in value) for p in pieces)
    if field.kind in ("one", "yn"):
        return is_told(field, value, text)
    return bool(value == text.strip(SPACE))


def is_told(field: Field, pick: Any, text: str) -> bool:
    """Tell whether a pick is the text: in its own words, or by its code or label."""
    typed = text.strip(SPACE)
    if isinstance(pick, dict):
        return bool(pick["other"] == typed)
    choice = field.choice(pick)
    names = [pick] if choice is None else [choice.code, choice.label]
    short = {"y": "yes", "n": "no"} if field.kind == "yn" else {}
    lowered = typed.lower()
    return typed == pick or short.get(lowered, lowered) in [n.lower() for n in names]


def is_blank(text: str) -> bool:
    return text.strip(SPACE) == ""


def as_kept(raw: str) -> str:
    text = raw.replace("\r\n", "\n").replace("\r", "\n")
    return "".join("\ufffd" if "\ud800" <= c <= "\udfff" else c for c in text)


def is_read_again(field: Field, value: dict[str, Any]) -> bool:
    """Tell whether a moment that was read, typed as its words say, is that moment."""
    if "day" in value:
        return bool(parse(field, value["day"], **SETTING) == value)
    return bool(parse(field, value["utc"], **SETTING)["utc"] == value["utc"])
