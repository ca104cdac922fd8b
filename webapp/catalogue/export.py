"""The catalogue as the tablet gets it: plain JSON data, without any public code."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from webapp.catalogue.lookup import Catalogue
from webapp.catalogue.model import Choice, Field, Part, Range, Section


def export(
    catalogue: Catalogue, say: Mapping[str, str], policy: Mapping[str, Any]
) -> dict[str, Any]:
    """Return the content of catalogue.json.

    `top` holds the fields outside the parts, `remark` the one behind remarks.<name>.
    """
    return {
        "version": catalogue.version,
        "parts": [_part(part) for part in catalogue.parts],
        "top": [field_as_dict(field) for field in catalogue.top],
        "remark": field_as_dict(catalogue.remark),
        "say": dict(say),
        "policy": dict(policy),
    }


def field_as_dict(field: Field) -> dict[str, Any]:
    """Return one field with its choices and children, as JSON data."""
    return {
        "name": field.name,
        "label": field.label,
        "kind": field.kind,
        "needs": list(field.needs),
        "choices": [_choice(choice) for choice in field.choices],
        "units": list(field.units),
        "step": field.step,
        "hard": _range(field.hard),
        "soft": _range(field.soft),
        "soft_ages": field.soft_ages,
        "max_length": field.max_length,
        "per_wire": field.per_wire,
        "children": [field_as_dict(child) for child in field.children],
        "row_of": field.row_of,
        "asked_when": field.asked_when,
        "hint": field.hint,
        "since": field.since,
        "until": field.until,
    }


def _part(part: Part) -> dict[str, Any]:
    return {
        "name": part.name,
        "label": part.label,
        "on_rail": part.on_rail,
        "sections": [_section(section) for section in part.sections],
    }


def _section(section: Section) -> dict[str, Any]:
    return {
        "title": section.title,
        "note": section.note,
        "fields": [field_as_dict(field) for field in section.fields],
    }


def _choice(choice: Choice) -> dict[str, Any]:
    told = {
        "code": choice.code,
        "label": choice.label,
        "takes_text": choice.takes_text,
    }
    # Only a retired answer carries its last version: still shown, not offered.
    return told if choice.until is None else {**told, "until": choice.until}


def _range(limits: Range | None) -> dict[str, str] | None:
    return {"low": limits.low, "high": limits.high} if limits else None
