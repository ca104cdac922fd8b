"""A remark with its place: which field it stands at, what it rests on, if still so."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from webapp.clinical.remarks import HEAVIER, Remark
from webapp.clinical.rows import Row


@dataclass(frozen=True, slots=True)
class Found:
    """One remark where it belongs.

    `path`: the record's path of the field or group it stands at; `wire`: entry id of
    the wire it is about, "" for the case; `evidence`: ids of the entries it rests on,
    in the record's order; `stands`: False for what was so then and is put right since:
    told in the record and the note, no longer at the bedside.
    """

    remark: Remark
    path: str
    wire: str = ""
    evidence: tuple[str, ...] = ()
    stands: bool = True

    @property
    def name(self) -> str:
        """Return the code, which names the answer's path, `remarks.<name>`."""
        return self.remark.code


def at_row(remark: Remark, row: Row, wire: str = "", stands: bool = True) -> Found:
    """Return a remark that stands at one row and rests on it alone."""
    return Found(remark, row.path, wire, (row.id,), stands)


def heavier_found(found: Iterable[Found]) -> tuple[Found, ...]:
    """Return them by weight, the same never twice, otherwise in the order found."""
    once = list(dict.fromkeys(_Once(one) for one in found))
    return tuple(
        one.found for w in HEAVIER for one in once if one.found.remark.weight == w
    )


def ids_in_order(rows: Iterable[Row | None]) -> tuple[str, ...]:
    """Return the ids of these rows in the record's order, each once."""
    known = {row.id: row.place for row in rows if row is not None}
    return tuple(sorted(known, key=known.__getitem__))


class _Once:
    """Two are the same when they say the same of the same evidence."""

    def __init__(self, found: Found) -> None:
        self.found = found
        values = tuple(sorted(found.remark.values.items()))
        code, weight = found.remark.code, found.remark.weight
        self._key = (code, weight, values, found.path, found.wire, found.evidence)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Once) and self._key == other._key

    def __hash__(self) -> int:
        return hash(self._key)
