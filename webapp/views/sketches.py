"""Drawings made by hand, such as a signature, as paths for the desk's own SVG."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from flask import Blueprint

from webapp.catalogue.model import Field
from webapp.record.case import Case, state_of

KIND = "drawing"


@dataclass(frozen=True, slots=True)
class Shown:
    """One drawing. `path`: its strokes as SVG path data; `entry`: who drew it."""

    width: int
    height: int
    path: str
    label: str
    entry: str


bp = Blueprint("sketches", __name__)


@bp.app_context_processor
def _page_words() -> dict[str, Any]:
    return {"sketches_at": sketches_at}


def sketches_at(case: Case, path: str) -> list[Shown]:
    """Return the drawings that stand at a field; two answers are both."""
    field = case.catalogue.field(path)
    if field is None or field.kind != KIND:
        return []
    heads = case.fold["values"].get(path, [])
    return [
        _shown(field, head["value"], head["entries"][0])
        for head in heads
        if state_of(field, head["value"]) == "answered"
    ]


def _shown(field: Field, value: dict[str, Any], entry: str) -> Shown:
    path = " ".join(_stroke(stroke) for stroke in value["strokes"])
    return Shown(value["width"], value["height"], path, field.label, entry)


def _stroke(points: list[list[int]]) -> str:
    """Return one stroke; of one point it is a dot, a line to itself."""
    first, *rest = points
    on = " ".join(f"L{a} {b}" for a, b in rest or [first])
    return f"M{first[0]} {first[1]} {on}"
