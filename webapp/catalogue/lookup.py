"""The whole catalogue as one object: every legal path, and the field behind it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from webapp.catalogue.model import Field, Part

_WIRE_ID = r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}"
_OF_A_WIRE = re.compile(rf"wires/{_WIRE_ID}/[a-z0-9_.]+")
_OF_ANY_WIRE = re.compile(r"wires/[^/]+/(?P<rest>[a-z0-9_.]+)")
_REMARK = re.compile(r"remarks\.[a-z][a-z0-9_]*")
_ANY_REMARK = "remarks.*"
# Written at the desk, by a signed-in person or by the server itself.
ATTESTATIONS, ADDENDA, SETTLEMENTS = "attestations", "addenda", "settlements"
NEVER_FROM_A_TABLET = (
    ATTESTATIONS,
    ADDENDA,
    "joined_to",
    SETTLEMENTS,
    "rulings",
    "erasures",
)

# Worked out by whoever reads a condition, never entered: see when.py.
DERIVED = ("derived.age_years", "derived.age_days")


@dataclass(frozen=True, slots=True, eq=False)
class Catalogue:
    """Parts, the fields outside them, and the integer raised with each change.

    Compared and hashed as the object it is, so that what follows from one can be
    worked out once.
    """

    version: int
    parts: tuple[Part, ...]
    top: tuple[Field, ...]
    remark: Field
    _fields: dict[str, Field] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        fields = {f"{p.name}.{f.name}": f for p in self.parts for f in p.fields()}
        fields |= {f.name: f for f in self.top}
        object.__setattr__(self, "_fields", fields)

    def part(self, name: str) -> Part:
        """Return the part of this name. Raises KeyError."""
        return {part.name: part for part in self.parts}[name]

    def field(self, path: str) -> Field | None:
        """Return the field behind a path, or None.

        Takes a path of a wire ("wires/<id>/part.field"), every path that `paths`
        gives and, as conditions write it, a field of a wire without its wire.
        """
        if path.startswith("wires/") and (wire := _OF_ANY_WIRE.fullmatch(path)):
            found = self._fields.get(wire["rest"])
            return found if found and found.per_wire else None
        if path.startswith("remarks.") and (
            path == _ANY_REMARK or _REMARK.fullmatch(path)
        ):
            return self.remark
        return self._fields.get(path)

    def legal(self, path: str) -> Field | None:
        """Return the field behind a path that an entry may have, else None.

        A field of a wire needs its wire, named by a UUIDv7 ("*" is none).
        """
        wire = path.startswith("wires/") and _OF_A_WIRE.fullmatch(path)
        found = None if path == _ANY_REMARK else self.field(path)
        is_placed = found is not None and found.per_wire is bool(wire)
        return found if is_placed else None

    def is_legal(self, path: str) -> bool:
        """Tell whether an entry may have this path."""
        return self.legal(path) is not None

    def paths(self) -> Iterator[tuple[str, Field]]:
        """Give every path with its field; "*" stands for a wire or a remark."""
        for path, found in self._fields.items():
            yield (f"wires/*/{path}" if found.per_wire else path), found
        yield _ANY_REMARK, self.remark
