"""Fields declared in vector files: from JSON data to the catalogue's Field."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from webapp.catalogue.model import Choice, Field, Range

VECTORS = Path(__file__).resolve().parents[2] / "fixtures" / "vectors"


def vectors(name: str) -> dict[str, Any]:
    """Return the content of fixtures/vectors/<name>.json."""
    read: dict[str, Any] = json.loads((VECTORS / f"{name}.json").read_text("utf-8"))
    return read


def declared(data: dict[str, Any]) -> Field:
    """Return the field that `data` declares; what is left out has its default."""
    made = dict(data)
    for limits in ("hard", "soft"):
        if made.get(limits) is not None:
            made[limits] = Range(**made[limits])
    for plural in ("units", "needs"):
        made[plural] = tuple(made.get(plural, ()))
    made["choices"] = tuple(Choice(**c) for c in made.get("choices", ()))
    made["children"] = tuple(declared(c) for c in made.get("children", ()))
    return Field(**made)


def fields_of(read: dict[str, Any]) -> dict[str, Field]:
    """Return the fields a vector file declares, by their key."""
    return {key: declared(data) for key, data in read["fields"].items()}
