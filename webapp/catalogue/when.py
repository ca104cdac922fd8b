"""The one condition language: conditions as data, answers with their evidence.

    {field="p", has=true}      one current answer that is no absence
    {field="p", is="x"}        that answer is x, or holds it, or equals it as a number
    {field="p", in=["x","y"]}  that answer is, or holds, one of these
    {field="p", lt="30"}       that number is surely less ("< 30" is, "low" is not)
    {field="p", before="q"}    that moment or date is surely earlier than the other
    {rows="g", where={..}, counts=2}   at least so many rows of a group fit
    {all=[..]} {any=[..]} {not={..}}

Inside `where`, "row.name" is a child of the row. Two answers, an absence and a
field not asked are never has, is, in, lt or before. Numbers are of the field's first
unit; a value in another unit is converted exactly, and without a fixed conversion it
is neither equal nor less. Twin: static/js/form/when.js.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from fractions import Fraction
from typing import Any

from webapp.catalogue.decimals import canonical, exact
from webapp.catalogue.model import Condition
from webapp.catalogue.moments import local
from webapp.catalogue.units import converted

# read(path) -> {"values": heads, "ids": their entries, "unit": the field's first unit,
#                "rows": [{"id", child: value}], "units": {child: its first unit}}
Read = Callable[[str], dict[str, Any]]
Held = tuple[bool, list[str]]
Asking = Callable[[Read], bool]
_COMPILED: dict[int, tuple[Condition, Asking]] = {}
_MOST_COMPILED = 2000
_ROW = "row."


def holds(condition: Condition, read: Read) -> Held:
    """Return whether a condition holds, and the entry ids that this rests on.

    `all` that holds and `any` that does not rest on every part; else on the parts
    that decided. Rows that fit are the evidence; without enough of them, all rows
    looked at. Raises ValueError: when the condition is not of the language.
    """
    keys = frozenset(condition)
    if keys == {"not"}:
        held, ids = holds(_condition(condition["not"]), read)
        return not held, ids
    if keys == {"all"}:
        return _joined(condition["all"], read, deciding=False)
    if keys == {"any"}:
        return _joined(condition["any"], read, deciding=True)
    if "rows" in keys and keys <= {"rows", "where", "counts"}:
        return _counts(condition, read)
    if len(keys) == 2 and "field" in keys:
        return _answers(condition, read)
    raise ValueError(f"not a condition: {condition!r}")


def compiled_once(condition: Condition) -> Asking:
    """Return what `compiled` returns, worked out once for each condition object."""
    known = _COMPILED.get(id(condition))
    if known is None or known[0] is not condition:
        # Copies of a catalogue come with every note that is sent to be made.
        if len(_COMPILED) >= _MOST_COMPILED:
            _COMPILED.clear()
        known = _COMPILED[id(condition)] = (condition, compiled(condition))
    return known[1]


def compiled(condition: Condition) -> Asking:
    """Return a function that tells whether a condition holds, without its evidence.

    Gives what `holds` gives first, in a tenth of the time: a list of records asks
    every condition of the catalogue of every record. Raises ValueError: as `holds`.
    """
    keys = frozenset(condition)
    if keys == {"not"}:
        inner = compiled(_condition(condition["not"]))
        return lambda read: not inner(read)
    if keys in ({"all"}, {"any"}):
        (name,) = keys
        parts = [compiled(_condition(part)) for part in _list(condition[name])]
        every = all if name == "all" else any
        return lambda read: every([part(read) for part in parts])
    if keys == {"field", "is"}:
        path, wanted = str(condition["field"]), condition["is"]
        if isinstance(wanted, str):
            return lambda read: _is_now(read(path), (wanted,))
    if keys == {"field", "in"}:
        path, words = str(condition["field"]), _list(condition["in"])
        if all(isinstance(word, str) for word in words):
            return lambda read: _is_now(read(path), words)
    return lambda read: holds(condition, read)[0]


def _is_now(here: dict[str, Any], wanted: Collection[str]) -> bool:
    value = _current(here)
    if value is None:
        return False
    if isinstance(value, str):
        return value in wanted
    return any(_is(value, word, here.get("unit", "")) for word in wanted)


def paths_read(condition: Condition) -> Iterator[str]:
    """Yield every path a condition may read, "row.name" as "group.row.name"."""
    for key, value in condition.items():
        if key in ("field", "before", "rows"):
            yield str(value)
        elif key == "where":
            for path in paths_read(_condition(value)):
                is_child = path.startswith(_ROW)
                yield f"{condition['rows']}.{path}" if is_child else path
        elif key in ("all", "any") and isinstance(value, list):
            for part in value:
                yield from paths_read(_condition(part))
        elif key == "not":
            yield from paths_read(_condition(value))


def _condition(value: object) -> Condition:
    if not isinstance(value, dict):
        raise ValueError(f"not a condition: {value!r}")
    return value


def _list(value: object) -> list[Any]:
    if not isinstance(value, list):
        raise ValueError(f"not a list: {value!r}")
    return value


def _joined(parts: object, read: Read, *, deciding: bool) -> Held:
    held = [holds(_condition(part), read) for part in _list(parts)]
    decided = [ids for answer, ids in held if answer is deciding]
    rests_on = decided or [ids for _, ids in held]
    return bool(decided) is deciding, _unique(i for ids in rests_on for i in ids)


def _counts(condition: Condition, read: Read) -> Held:
    wanted = condition.get("counts", 1)
    if type(wanted) is not int or wanted < 1:
        raise ValueError(f"counts is no number of rows: {condition!r}")
    where = _condition(condition.get("where", {"all": []}))
    group = read(str(condition["rows"]))
    rows, units = group["rows"], group.get("units", {})
    fitting = [row for row in rows if holds(where, _in_row(row, units, read))[0]]
    enough = len(fitting) >= wanted
    return enough, _unique(row["id"] for row in (fitting if enough else rows))


def _in_row(row: dict[str, Any], units: dict[str, str], read: Read) -> Read:
    def read_here(path: str) -> dict[str, Any]:
        if not path.startswith(_ROW):
            return read(path)
        name = path.removeprefix(_ROW)
        values = [row[name]] if name in row else []
        unit = units.get(name, "")
        return {"values": values, "ids": [row["id"]], "rows": [], "unit": unit}

    return read_here


def _answers(condition: Condition, read: Read) -> Held:
    here = read(str(condition["field"]))
    ids = _unique(here["ids"])
    value, unit = _current(here), here.get("unit", "")
    match condition:
        case {"has": bool(wanted)}:
            return (value is not None) is wanted, ids
        case {"is": str(wanted)}:
            return _is(value, wanted, unit), ids
        case {"in": list(wanted)} if all(isinstance(w, str) for w in wanted):
            return any(_is(value, w, unit) for w in wanted), ids
        case {"lt": str(limit)} if canonical(limit) == limit:
            return _is_less(value, limit, unit), ids
        case {"before": str(path)}:
            there = read(path)
            both = _unique([*here["ids"], *there["ids"]])
            return _is_before(value, _current(there)), both
    raise ValueError(f"not a condition: {condition!r}")


def _current(read: dict[str, Any]) -> Any:
    """Return the one answer that is no absence, or None."""
    values = read["values"]
    if len(values) != 1 or (isinstance(values[0], dict) and "absent" in values[0]):
        return None
    return values[0]


def _is(value: Any, wanted: str, unit: str) -> bool:
    if isinstance(value, list):
        return any(_is(item, wanted, unit) for item in value)
    if not isinstance(value, dict):
        return isinstance(value, str) and value == wanted
    if "unit" in value:
        is_point = "n" in value and "cmp" not in value and canonical(wanted) == wanted
        return is_point and _number(value["n"], value, unit) == exact(wanted)
    if "as" in value or "day" in value:
        return wanted in (value.get("date"), value.get("day"))
    return list(value) == [wanted]


def _is_less(value: Any, limit: str, unit: str) -> bool:
    if not isinstance(value, dict) or "unit" not in value:
        return False
    figure = value.get("high", value.get("n"))
    if figure is None or value.get("cmp") in (">", ">="):
        return False
    high = _number(figure, value, unit)
    if high is None:
        return False
    return high <= exact(limit) if value.get("cmp") == "<" else high < exact(limit)


def _number(figure: str, value: dict[str, Any], unit: str) -> Fraction | None:
    said = value["unit"]
    return converted(figure, said, unit) if said and unit else exact(figure)


def _is_before(one: Any, other: Any) -> bool:
    if not isinstance(one, dict) or not isinstance(other, dict):
        return False
    if "utc" in one and "utc" in other:
        return bool(one["utc"] < other["utc"])
    days = (_day(one), _day(other))
    return None not in days and str(days[0]) < str(days[1])


def _day(value: dict[str, Any]) -> str | None:
    if "utc" in value:
        return local(value).date().isoformat()
    return value.get("day", value.get("date"))


def _unique(ids: Any) -> list[str]:
    return list(dict.fromkeys(ids))
