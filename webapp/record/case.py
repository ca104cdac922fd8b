"""Read a folded record: the one layer for questions, note, codes and desk."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal

from webapp.catalogue.kinds import check
from webapp.catalogue.lookup import Catalogue
from webapp.catalogue.model import Field
from webapp.catalogue.when import holds
from webapp.catalogue.words import words
from webapp.record.derived import derived

State = Literal[
    "answered", "two_answers", "not_known", "not_done", "not_asked", "impossible"
]
WIRES = "wires"


@dataclass(frozen=True, slots=True)
class Answer:
    """What a path says. `entries`: ids behind it; `value`: None unless one head.

    Two answers keep both in `heads`, and neither in `value`.
    """

    path: str
    field: Field | None
    state: State
    value: Any
    heads: tuple[Any, ...]
    entries: tuple[str, ...]
    words: str

    @property
    def is_answered(self) -> bool:
        """Return whether there is one answer that is no absence."""
        return self.state in ("answered", "impossible")


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a group. `struck`: None, or {"by", "reason"}."""

    id: str
    path: str
    field: Field | None
    value: dict[str, Any]
    meta: dict[str, Any]
    struck: dict[str, Any] | None

    def words(self, child: str) -> str:
        """Return a child's display text, "" when the row does not hold it."""
        if child not in self.value:
            return ""
        field = self.field.child(child) if self.field else None
        return words(field, self.value[child]) if field else str(self.value[child])

    def get(self, child: str) -> Any:
        """Return a child's value, or None."""
        return self.value.get(child)


@dataclass(frozen=True, slots=True)
class Wire:
    """One wire of the record; `id` is the entry id in its paths."""

    id: str
    name: str


class Case:
    """A folded record with its catalogue. Holds no state but caches."""

    def __init__(self, fold: dict[str, Any], catalogue: Catalogue) -> None:
        self.fold = fold
        self.catalogue = catalogue

    def answer(self, path: str) -> Answer:
        """Return what a value path says; never raises for an unknown path."""
        field = self.catalogue.field(path)
        heads = self.fold["values"].get(path, [])
        ids = tuple(i for head in heads for i in head["entries"])
        values = tuple(head["value"] for head in heads)
        if not heads:
            return Answer(path, field, "not_asked", None, (), (), words_of(field, None))
        if len(heads) > 1:
            told = " or ".join(words_of(field, v) for v in values)
            return Answer(path, field, "two_answers", None, values, ids, told)
        state = state_of(field, values[0])
        told = words_of(field, values[0])
        return Answer(path, field, state, values[0], values, ids, told)

    def words(self, path: str) -> str:
        """Return a value path's display text."""
        return self.answer(path).words

    def rows(self, path: str, struck: bool = False) -> list[Row]:
        """Return a group's rows in the record's order, struck ones only if asked."""
        field = self.catalogue.field(path)
        return [
            Row(
                row["id"],
                path,
                field,
                row["value"] if isinstance(row["value"], dict) else {},
                self.fold["entries"][row["id"]],
                row["struck"],
            )
            for row in self.fold["rows"].get(path, [])
            if struck or row["struck"] is None
        ]

    def meta(self, entry_id: str) -> dict[str, Any]:
        """Return who, when and how of an entry. Raises KeyError: when unknown."""
        found: dict[str, Any] = self.fold["entries"][entry_id]
        return found

    @cached_property
    def wires(self) -> list[Wire]:
        """Return the wires in order of their first entry."""
        found = []
        for number, row in enumerate(self.rows(WIRES), start=1):
            named = self.answer(f"{WIRES}/{row.id}/approach.wire_name")
            seed = row.words("name") or f"Wire {number}"
            found.append(Wire(row.id, named.words if named.is_answered else seed))
        return found

    def wire_path(self, wire: Wire | str, path: str) -> str:
        """Return the path of a per-wire field for one wire."""
        wire_id = wire if isinstance(wire, str) else wire.id
        return f"{WIRES}/{wire_id}/{path}"

    def paths_of(self, field_path: str) -> list[str]:
        """Return the record's paths for a catalogue path, one per wire if per wire.

        Without any wire, a per-wire field has the one path that its first will get
        a name for: none. Then the list is empty.
        """
        field = self.catalogue.field(field_path)
        if field is not None and field.per_wire:
            return [self.wire_path(w, field_path) for w in self.wires]
        return [field_path]

    def is_asked(self, field: Field, wire: str | None = None) -> bool:
        """Return whether a field's own condition lets it be asked now."""
        if field.asked_when is None:
            return True
        return holds(field.asked_when, self.reader(wire))[0]

    def reader(
        self, wire: str | None = None, row: dict[str, Any] | None = None
    ) -> Callable[[str], dict[str, Any]]:
        """Return the function the condition language reads with.

        A path of a per-wire field means `wire`, or the only wire there is;
        `row.child` means a child of `row`.
        """

        def read(path: str) -> dict[str, Any]:
            if path.startswith("row.") and row is not None:
                name = path.removeprefix("row.")
                values = [row[name]] if name in row else []
                return {"values": values, "ids": [], "rows": []}
            if path.startswith("derived."):
                known = derived(self.fold, path)
                values = [] if known is None else [known]
                return {"values": values, "ids": [], "rows": []}
            real = self._real_path(path, wire)
            answer = self.answer(real)
            rows = self.rows(real)
            ids = list(answer.entries) + [r.id for r in rows]
            values = list(answer.heads)
            if answer.state == "impossible":
                values = []
            told = [{**_possible(r), "id": r.id} for r in rows]
            here = {"values": values, "ids": ids, "rows": told}
            field = answer.field
            if field is None:
                return here
            units = {child.name: child.unit for child in field.children}
            return {**here, "unit": field.unit, "units": units}

        return read

    def _real_path(self, path: str, wire: str | None) -> str:
        field = self.catalogue.field(path)
        if field is None or not field.per_wire or path.startswith(f"{WIRES}/"):
            return path
        if wire is None and len(self.wires) == 1:
            wire = self.wires[0].id
        return self.wire_path(wire, path) if wire else path


def _possible(row: Row) -> dict[str, Any]:
    """Return a row's values without the impossible, which nothing computes with."""
    return {
        name: value
        for name, value in row.value.items()
        if state_of(row.field.child(name) if row.field else None, value) != "impossible"
    }


def state_of(field: Field | None, value: Any) -> State:
    """Return the state of one value."""
    if isinstance(value, dict) and "absent" in value:
        absent: State = value["absent"]
        return absent if absent in ("not_known", "not_done") else "not_asked"
    if field is None:
        return "answered"
    verdict = check(field, value)
    return "impossible" if verdict.state in ("impossible", "illegal") else "answered"


def words_of(field: Field | None, value: Any) -> str:
    """Return display text; "not asked" for nothing."""
    if value is None:
        return "not asked"
    return words(field, value) if field else str(value)
