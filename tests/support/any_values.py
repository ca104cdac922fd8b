"""Values as a tablet, an older release or a stranger may send them, for any field."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from random import Random
from typing import Any

from tests.support.any_typed import ODD_TEXTS, STRING_SET, TODAY, at_limits, decimal
from webapp.catalogue.decimals import exact
from webapp.catalogue.kinds import parse
from webapp.catalogue.model import Field

LARGEST = 2**53 - 1
SHA = "ab" * 32
ID = "01933f3e-1c00-7000-8000-000000000001"


@dataclass(frozen=True, slots=True)
class Sent:
    """A value here, and as JSON tells it to the tablet's code."""

    real: Any
    told: Any


def sent(value: Any) -> Sent:
    """Return a value that JSON can carry."""
    return Sent(value, value)


def _no_json(name: str, value: Any) -> Sent:
    return Sent(value, {"no json": name})


NOT_JSON = (
    _no_json("NaN", float("nan")),
    _no_json("Infinity", float("inf")),
    _no_json("-Infinity", float("-inf")),
    Sent(
        {"as": "5", "n": float("nan"), "unit": ""},
        {"as": "5", "n": {"no json": "NaN"}, "unit": ""},
    ),
    Sent([float("nan")], [{"no json": "NaN"}]),
    Sent(10**400, {"no json": "Infinity"}),
    Sent(
        {"width": 10**400, "height": 1, "strokes": [[[1, 1]]]},
        {"width": {"no json": "Infinity"}, "height": 1, "strokes": [[[1, 1]]]},
    ),
)


def _nested(value: Any, depth: int, wrap: Any) -> Any:
    for _ in range(depth):
        value = wrap(value)
    return value


DEEP = (
    _nested("x", 200, lambda inner: [inner]),
    _nested("x", 200, lambda inner: {"as": inner}),
    _nested("x", 200, lambda inner: {"other": inner}),
    _nested("x", 200, lambda inner: {"absent": inner}),
    {"absent": "not_done", "because": _nested("x", 200, lambda inner: [inner])},
    {"other": _nested("x", 50, lambda inner: {"other": inner})},
)
PLAIN: tuple[Any, ...] = (
    *(
        True,
        False,
        None,
        0,
        1,
        -1,
        LARGEST,
        LARGEST + 1,
        "",
        " ",
        "x",
        "yes",
        "no",
        "YES",
    ),
    *([], {}, [[]], [{}], [None], {"": ""}, {"as": ""}, {"as": None}, {"__proto__": 1}),
    {"__proto__": {"absent": "not_known"}},
    {"constructor": {"name": "x"}},
    {"toString": "x", "as": "5", "unit": ""},
    ["__proto__"],
    {"__proto__": "x"},
    {"hasOwnProperty": "x"},
    *({"absent": a} for a in ("not_known", "not_asked", "not_done", "", "other", None)),
    *({"absent": a} for a in (True, 1, [], {}, ["not_known"])),
    {"absent": "not_known", "because": "x"},
    {"absent": "not_known", "not_stated_by": "report"},
    {"absent": "not_known", "not_stated_by": " "},
    {"absent": "not_known", "not_stated_by": None},
    {"absent": "not_done", "because": ""},
    {"absent": "not_done", "because": "no time"},
    {"absent": "not_done", "because": None},
    {"absent": "not_done", "because": 1},
    {"absent": "not_done", "because": "a\x00\ufffd"},
    {"absent": "not_asked", "as": "5"},
)
_MOMENT = {"utc": f"{TODAY}T10:41:07.123Z", "zone": "Europe/Oslo", "offset_min": 60}
_EXACT = {**_MOMENT, "certainty": "exact", "clock": "tablet"}
_DRAWN = {"width": 600, "height": 200, "strokes": [[[1, 2], [3, 4]], [[5, 5]]]}
_PHOTO = {"sha256": SHA, "sealed": SHA, "type": "image/jpeg", "size": 10, "caption": ""}
_PERSON = {"person": None, "name": "E. Tarn-Example", "role": "operator"}
_FITTING: dict[str, tuple[dict[str, Any], ...]] = {
    "qty": (
        {"as": "5", "n": "5", "unit": ""},
        {"as": "5-6", "low": "5", "high": "6", "unit": ""},
        {"as": "<5", "cmp": "<", "n": "5", "unit": ""},
        {"as": "max", "special": "maximum", "unit": ""},
        {"as": "abc", "unit": ""},
        {"as": "5", "n": "5.0", "unit": ""},
        {"as": "5", "n": "6", "unit": ""},
        {"as": "6-5", "low": "6", "high": "5", "unit": ""},
    ),
    "date": ({"as": "3.2.54", "date": "1954-02-03"}, {"as": "31.2.54"}),
    "moment": (
        _EXACT,
        {"day": TODAY, "certainty": "day"},
        {"as": "x", "certainty": "unreadable"},
    ),
    "person": (_PERSON, {**_PERSON, "person": ID, "credential": "MD"}),
    "photo": (_PHOTO,),
    "drawing": (_DRAWN,),
}
# What one part of a value may be changed to: both sides of each limit among them.
_PARTS: dict[str, tuple[Any, ...]] = {
    "utc": (
        "1969-12-31T23:59:59.999Z",
        "1970-01-01T00:00:00.000Z",
        "2199-12-31T23:59:59.999Z",
        "2200-01-01T00:00:00.000Z",
        "2031-02-29T10:00:00.000Z",
        f"{TODAY}T10:41:07Z",
    ),
    "offset_min": (-721, -720, -719, 839, 840, 841, 60.5, "60", True),
    "zone": (
        "UTC",
        "Europe/Nope",
        "utc",
        "Etc/GMT+5",
        "America/Argentina/Ushuaia",
        "/",
        "",
    ),
    "certainty": ("exact", "about", "day", "unreadable", "sure"),
    "clock": ("tablet", "wall", "server", "ours"),
    "day": ("1899-12-31", "1900-01-01", "2199-12-31", "2200-01-01", "2031-02-29"),
    "date": (
        "1954-02-04",
        "1906-11-23",
        "1906-11-24",
        "1906-11-25",
        "2031-11-25",
        "0999-01-01",
        "2031-2-3",
    ),
    "width": (0, 1, 9999, 10_000, 10_001, True, 1.5),
    "height": (0, 1, 10_000, 10_001, "1"),
    "strokes": (
        [],
        [[]],
        [[[1]]],
        [[[1, 2, 3]]],
        [[[-10_000, 10_000]]],
        [[[-10_001, 1]]],
        [[[1, 10_001]]],
        [[[1, True]]],
        [[[1, 0.5]]],
        [[["1", 2]]],
        [[1, 2]],
    ),
    "size": (0, 1, LARGEST, LARGEST + 1, -1, True, "1"),
    "type": ("image/png", "image/webp", "image/gif", "IMAGE/JPEG", "", None),
    "sha256": (SHA.upper(), SHA[:-1], SHA + "\n", "", None),
    "person": (ID, ID.upper(), "", "x", None, 1),
    "name": ("", " ", "a\x00", "\ud800", "\ufffd", 1),
    "role": ("", None, 1, "x" * 3000),
    "n": (
        "05",
        "-0",
        "5.50",
        "1e3",
        "9" * 15,
        "9" * 16,
        "0." + "0" * 14 + "1",
        "-5",
        "",
        None,
        5,
    ),
    "low": ("5.0", "-7", "7", None),
    "high": ("4", "5", "6.0", None),
    "cmp": ("<", "<=", ">", ">=", "=", "≥", "", None),
    "special": ("maximum", "low", "high", "minimal", "max", "__proto__", None),
    "unit": ("", "mA", "kg", "constructor", None, 1),
    "as": (None, 5, [], *ODD_TEXTS[:4]),
}


def values(field: Field) -> Iterator[Sent]:
    """Yield values for one field: odd ones for any, and its kind's own, each spoilt."""
    random = Random(field.name + str(field.hard) + str(len(field.choices)))
    odd: list[Sent] = [*map(sent, PLAIN), *NOT_JSON, *map(sent, DEEP)]
    yield from (
        odd if field.kind not in ("one", "many", "qty") else random.sample(odd, 9)
    )
    for fitting in _FITTING.get(field.kind, ()):
        yield from map(sent, _spoilt(fitting, random, 3 if field.kind == "qty" else 99))
    if field.kind == "qty":
        yield from map(sent, _numbers(field, random))
    if field.kind in ("text", "prose"):
        yield from map(sent, (*STRING_SET, *ODD_TEXTS))
    if field.choices:
        yield from map(sent, _picks(field, random))
    if field.children:
        yield from _rows(field, random)


def _spoilt(value: dict[str, Any], random: Random, most: int) -> Iterator[Any]:
    """Yield a value, without each part, with one more, with each part changed."""
    yield value
    changed: list[Any] = [
        {k: v for k, v in value.items() if k != part} for part in value
    ]
    changed += [{**value, more: "x"} for more in ("as", "absent", "more", "__proto__")]
    changed += [{**value, p: new} for p in value for new in _PARTS.get(p, (None, 1))]
    yield from random.sample(changed, min(most, len(changed)))


def _numbers(field: Field, random: Random) -> Iterator[Any]:
    """Yield quantities at the field's limits, as read and as not typed."""
    for typed in at_limits(field, random):
        value = parse(field, typed, random.choice(("", *field.units)))
        yield value
        if "n" in value:
            finer = exact(value["n"]) + exact(field.step or "1") / 2
            yield {**value, "as": "as said", "n": decimal(finer)}


def _picks(field: Field, random: Random) -> Iterator[Any]:
    codes = [choice.code for choice in field.choices]
    one, two = random.choice(codes), random.choice(codes)
    text = random.choice((*STRING_SET, *ODD_TEXTS))
    yield from (
        one,
        {one: text},
        {one: "x", two: "y"},
        {"other": text},
        one.upper(),
        f" {one}",
    )
    yield from (
        [one],
        [one, two],
        [one, one],
        [one, {one: "x"}],
        [{one: text}, "x"],
        [[one]],
    )
    yield from ({one: {two: "x"}}, [one, None], [one, 1], [{}, one])


def _rows(field: Field, random: Random) -> Iterator[Sent]:
    """Yield rows of a group: each child's values, some of them, and odd parents."""
    whole: dict[str, Sent] = {}
    for child in field.children:
        own = list(values(child))
        whole[child.name] = random.choice(own)
        for one in random.sample(own, min(4, len(own))):
            yield Sent({child.name: one.real}, {child.name: one.told})
    real = {name: one.real for name, one in whole.items()}
    told = {name: one.told for name, one in whole.items()}
    for of in (ID, ID.upper(), "", None, 1, {"absent": "not_known"}):
        yield Sent({**real, "of": of}, {**told, "of": of})
    first = field.children[0].name
    unknown = {"absent": "not_known"}
    yield from map(sent, ({"of": ID}, {first: unknown}, {first: unknown, "of": ID}))
    yield from map(sent, ({"no_such": "x"}, {first: None}, {first: {first: "x"}}))
    yield from map(sent, ({"__proto__": {first: "x"}}, {"constructor": unknown}))
