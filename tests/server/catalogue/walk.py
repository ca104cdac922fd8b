"""Every field and every text of the catalogue, for the tests beside this file."""

from __future__ import annotations

from collections.abc import Iterator

from webapp.catalogue import CATALOGUE
from webapp.catalogue.model import Field


def fields() -> Iterator[tuple[str, Field]]:
    """Yield each field and each child, as path and path.child."""
    for path, field in CATALOGUE.paths():
        yield path, field
        for child in field.children:
            yield f"{path}.{child.name}", child


def texts() -> Iterator[tuple[str, str]]:
    """Yield where, and text, for every label, hint, choice, title and note."""
    for path, field in fields():
        yield path, field.label
        yield f"{path} hint", field.hint
        for choice in field.choices:
            yield f"{path} {choice.code}", choice.label
    for part in CATALOGUE.parts:
        yield part.name, part.label
        for section in part.sections:
            yield f"{part.name} section", section.title
            yield f"{part.name} note", section.note
