"""Whether a tablet's entry counts: decided once, at receipt, from its body.

Gives the key of the reason against it (see `webapp.texts.people`), "" for none.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from webapp.catalogue import CATALOGUE
from webapp.catalogue.kinds import check
from webapp.catalogue.lookup import NEVER_FROM_A_TABLET
from webapp.catalogue.model import Field
from webapp.record.entry import UnreadableBody, decode_body, is_uuid7

_SALT = re.compile(r"[0-9a-f]{32}")


class Named(NamedTuple):
    """What another entry may be named as: by `seen`, or by a strike."""

    record: str
    path: str
    op: str


def read_body(raw: bytes) -> dict[str, Any] | None:
    """Return the body, or None when it cannot be read as text and as an entry."""
    try:
        body = decode_body(raw)
        # Half a surrogate pair passes as JSON and fails wherever it is written out.
        if b"\\u" in raw:
            json.dumps(body, ensure_ascii=False).encode()
    except (UnreadableBody, UnicodeEncodeError):
        return None
    return body


class Judged(NamedTuple):
    """A body looked at alone. `against`: key of the reason not to count it, or "".

    `is_sound`: nothing in its value is impossible; False also where nobody looked.
    """

    against: str
    is_sound: bool = False


def reason_against(
    body: dict[str, Any],
    field_of: Callable[[str], Field | None] = CATALOGUE.legal,
) -> str:
    """Return why a tablet's body does not count, looking at it alone."""
    return judged(body, field_of).against


def judged(
    body: dict[str, Any],
    field_of: Callable[[str], Field | None] = CATALOGUE.legal,
) -> Judged:
    """Judge a tablet's body, looking at it alone."""
    against = _against_frame(body)
    return Judged(against) if against else _content(body, field_of(body["path"]))


def reason_against_names(
    body: dict[str, Any], entry_id: str, record: str, known: Mapping[str, Named]
) -> str:
    """Return why the entries a body names stand against it.

    `known`: those of them that are here. One that is not here yet cannot be judged;
    the fold looks at record and path again, so that it does no harm.
    """
    for name in body["seen"]:
        other = known.get(name)
        is_elsewhere = other and (other.record, other.path) != (record, body["path"])
        if name == entry_id or is_elsewhere:
            return "because.seen"
    if body["op"] != "strike":
        return ""
    target = body["value"]["strikes"]
    other = known.get(target)
    if target == entry_id:
        return "because.strike"
    if other is None:
        return ""
    is_row = other.op in ("add", "strike")
    is_here = (other.record, other.path) == (record, body["path"])
    return "" if is_row and is_here else "because.strike"


def names_in(body: dict[str, Any]) -> list[str]:
    """Return the ids of the entries that a body names."""
    strikes = [body["value"]["strikes"]] if body["op"] == "strike" else []
    return [*body["seen"], *strikes]


def _against_frame(body: dict[str, Any]) -> str:
    at = body["at"]
    is_timed = (
        isinstance(at.get("zone"), str)
        and type(at.get("offset_min")) is int
        and (at.get("skew_ms") is None or type(at["skew_ms"]) is int)
    )
    if not is_timed:
        return "because.at"
    called_by = body["called_by"]
    if not (
        _is_person(body["author"])
        and _is_person(body["entered_by"])
        and (called_by is None or _is_person(called_by))
    ):
        return "because.author"
    is_marked = _SALT.fullmatch(body["salt"]) and all(map(is_uuid7, body["seen"]))
    return "" if is_marked else "because.unreadable"


def _is_person(given: dict[str, Any]) -> bool:
    person = given.get("person")
    return (
        isinstance(given.get("name"), str)
        and isinstance(given.get("role"), str)
        and (person is None or isinstance(person, str))
    )


def _content(body: dict[str, Any], field: Field | None) -> Judged:
    if body["path"].split(".")[0] in NEVER_FROM_A_TABLET:
        return Judged("because.desk_only")
    if field is None:
        return Judged("because.path")
    if body["op"] != "set" and body["seen"]:
        return Judged("because.seen")
    if body["op"] == "strike":
        is_row = field.kind == "group"
        return Judged(_against_strike(body["value"]) if is_row else "because.op")
    if body["op"] == "add" and field.kind != "group":
        return Judged("because.op")
    return _value(body["op"], field, body["value"])


def _value(op: str, field: Field, value: Any) -> Judged:
    state = check(field, value).state
    if state == "illegal":
        return Judged("because.value")
    # A group is told row by row; set as a whole it can only be absent.
    wants_absence = field.kind == "group" and op == "set"
    if field.kind == "group" and (state == "absent") != wants_absence:
        return Judged("because.op")
    return Judged("", is_sound=state != "impossible")


def _against_strike(value: Any) -> str:
    if not isinstance(value, dict) or set(value) - {"strikes", "reason"}:
        return "because.value"
    target, reason = value.get("strikes"), value.get("reason")
    is_right = isinstance(target, str) and is_uuid7(target)
    is_told = reason is None or isinstance(reason, str)
    return "" if is_right and is_told else "because.value"
