"""Read a folded record: the one layer for questions, note, codes and desk."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal, NamedTuple

from webapp.catalogue.kinds import check
from webapp.catalogue.lookup import Catalogue
from webapp.catalogue.model import Field
from webapp.catalogue.when import Asking, compiled_once
from webapp.catalogue.words import words
from webapp.record.derived import derived

State = Literal[
    "answered", "two_answers", "not_known", "not_done", "not_asked", "impossible"
]
WIRES = "wires"


class Answer(NamedTuple):
    """What a path says. `entries`: ids behind it; `value`: None unless one head.

    Two answers keep both in `heads`, and neither in `value`.
    """

    path: str
    field: Field | None
    state: State
    value: Any
    heads: tuple[Any, ...]
    entries: tuple[str, ...]

    @property
    def words(self) -> str:
        """Return the display text; two answers stand side by side."""
        if not self.heads:
            return words_of(self.field, None)
        return " or ".join(words_of(self.field, value) for value in self.heads)

    @property
    def is_answered(self) -> bool:
        """Return whether there is one answer that is no absence."""
        return self.state in ("answered", "impossible")


class Row(NamedTuple):
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
    """A folded record with its catalogue. Holds no state but caches.

    `sound`: ids of entries whose values were just judged, with nothing impossible.
    """

    def __init__(
        self,
        fold: dict[str, Any],
        catalogue: Catalogue,
        sound: Collection[str] = frozenset(),
    ) -> None:
        self.fold = fold
        self.catalogue = catalogue
        self.sound = sound
        self._forget()

    def __getstate__(self) -> dict[str, Any]:
        """Return what a copy needs: what is worked out is worked out there again."""
        kept = ("fold", "catalogue", "sound")
        return {name: self.__dict__[name] for name in kept}

    def __setstate__(self, kept: dict[str, Any]) -> None:
        """Take up what `__getstate__` gave."""
        self.__dict__.update(kept)
        self._forget()

    def _forget(self) -> None:
        self._answers: dict[str, Answer] = {}
        self._reads: dict[str | None, dict[str, dict[str, Any]]] = {}
        self._asked: dict[tuple[Asking, str | None], bool] = {}

    @cached_property
    def told_paths(self) -> frozenset[str]:
        """Return the paths under which any entry stands, struck or not."""
        return frozenset((*self.fold["values"], *self.fold["rows"]))

    def answer(self, path: str) -> Answer:
        """Return what a value path says; never raises for an unknown path."""
        known = self._answers.get(path)
        if known is None:
            known = self._answers[path] = self._answer(path)
        return known

    def _answer(self, path: str) -> Answer:
        field = self.catalogue.field(path)
        heads = self.fold["values"].get(path, [])
        ids = tuple(i for head in heads for i in head["entries"])
        values = tuple(head["value"] for head in heads)
        if not heads:
            return Answer(path, field, "not_asked", None, (), ())
        if len(heads) > 1:
            return Answer(path, field, "two_answers", None, values, ids)
        judged_by = None if ids[0] in self.sound else field
        state = state_of(judged_by, values[0])
        return Answer(path, field, state, values[0], values, ids)

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
        is_asked = compiled_once(field.asked_when)
        if (is_asked, wire) not in self._asked:
            self._asked[is_asked, wire] = is_asked(self.reader(wire))
        return self._asked[is_asked, wire]

    def reader(
        self, wire: str | None = None, row: dict[str, Any] | None = None
    ) -> Callable[[str], dict[str, Any]]:
        """Return the function the condition language reads with.

        A path of a per-wire field means `wire`, or the only wire there is;
        `row.child` means a child of `row`.
        """

        known = self._reads.setdefault(wire, {})

        def read(path: str) -> dict[str, Any]:
            if path.startswith("row.") and row is not None:
                name = path.removeprefix("row.")
                values = [row[name]] if name in row else []
                return {"values": values, "ids": [], "rows": []}
            if path not in known:
                known[path] = self._read(path, wire)
            return known[path]

        return read

    def _read(self, path: str, wire: str | None) -> dict[str, Any]:
        if path.startswith("derived."):
            derived_value = derived(self.fold, path)
            values = [] if derived_value is None else [derived_value]
            return {"values": values, "ids": [], "rows": []}
        real = self._real_path(path, wire)
        if real not in self.told_paths:
            return {"values": [], "ids": [], "rows": []}
        answer = self.answer(real)
        rows = self.rows(real)
        told = [
            {**(r.value if r.id in self.sound else _possible(r)), "id": r.id}
            for r in rows
        ]
        here = {
            "values": [] if answer.state == "impossible" else list(answer.heads),
            "ids": list(answer.entries) + [r.id for r in rows],
            "rows": told,
        }
        field = answer.field
        if field is None:
            return here
        units = {child.name: child.unit for child in field.children}
        return {**here, "unit": field.unit, "units": units}

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
