"""Values with parts of their own: the kinds "person", "photo" and "drawing"."""

from __future__ import annotations

import re
from typing import Any

from webapp.catalogue.model import Field
from webapp.catalogue.typed import is_said, trim
from webapp.catalogue.verdicts import OK, Verdict, illegal

PHOTO_TYPES = ("image/jpeg", "image/png", "image/webp")
_UUID = re.compile(r"[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}")
_SHA256 = re.compile(r"[0-9a-f]{64}")
_LARGEST = 2**53 - 1
_PAPER = 10_000


def is_id(value: object) -> bool:
    """Tell whether `value` is a UUID in lower case."""
    return isinstance(value, str) and _UUID.fullmatch(value) is not None


def is_whole(value: object, low: int, high: int) -> bool:
    """Tell whether `value` is an integer in the closed range; true is none."""
    return type(value) is int and low <= value <= high


def read_person(raw: str) -> dict[str, Any]:
    """Return a person known by a typed name only."""
    return {"person": None, "name": trim(raw), "role": "", "credential": ""}


def check_person(field: Field, value: object) -> Verdict:
    """Judge a JSON value of kind person; role and credential may be left out."""
    if not isinstance(value, dict) or not {"person", "name"} <= value.keys():
        return illegal(field)
    if not value.keys() <= {"person", "name", "role", "credential"}:
        return illegal(field)
    is_known = value["person"] is None or is_id(value["person"])
    texts = (value.get("role", ""), value.get("credential", ""))
    is_text = all(isinstance(text, str) for text in texts)
    return OK if is_known and is_text and is_said(value["name"]) else illegal(field)


def check_photo(field: Field, value: object) -> Verdict:
    """Judge a JSON value of kind photo: digests, type, size, caption; not the bytes."""
    keys = {"sha256", "sealed", "type", "size", "caption"}
    if not isinstance(value, dict) or value.keys() != keys:
        return illegal(field)
    digests = (value["sha256"], value["sealed"])
    fits = (
        all(isinstance(d, str) and _SHA256.fullmatch(d) for d in digests)
        and value["type"] in PHOTO_TYPES
        and is_whole(value["size"], 1, _LARGEST)
        and isinstance(value["caption"], str)
    )
    return OK if fits else illegal(field)


def check_drawing(field: Field, value: object) -> Verdict:
    """Judge a JSON value of kind drawing: at least one stroke of whole points."""
    if not isinstance(value, dict) or value.keys() != {"width", "height", "strokes"}:
        return illegal(field)
    strokes = value["strokes"]
    fits = (
        is_whole(value["width"], 1, _PAPER)
        and is_whole(value["height"], 1, _PAPER)
        and isinstance(strokes, list)
        and len(strokes) > 0
        and all(_is_stroke(stroke) for stroke in strokes)
    )
    return OK if fits else illegal(field)


def _is_stroke(stroke: object) -> bool:
    return (
        isinstance(stroke, list)
        and len(stroke) > 0
        and all(
            isinstance(point, list)
            and len(point) == 2
            and all(is_whole(number, -_PAPER, _PAPER) for number in point)
            for point in stroke
        )
    )
