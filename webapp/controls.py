"""Between the controls of one field and a JSON value of its kind, both ways.

The names of the controls are fixed in `templates/forms/field.html`: the field's own
name, and that name with a suffix such as `.unit` or `.because`.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from webapp.catalogue.kinds import check, parse
from webapp.catalogue.model import Field
from webapp.catalogue.moments import is_utc, local, typed_time
from webapp.catalogue.typed import is_said, trim
from webapp.catalogue.words import day_words


@dataclass(frozen=True, slots=True)
class Setting:
    """The local day ("2031-11-24") and the zone that typed times are meant in."""

    today: str | None = None
    zone: str | None = None


@dataclass(frozen=True, slots=True)
class Posted:
    """The controls of one field. `getlist`: what was sent under a control's name."""

    getlist: Callable[[str], list[str]]
    name: str

    def said(self, suffix: str = "") -> str:
        """Return a control's text without blanks at its ends, "" when missing."""
        return trim(self.raw(suffix))

    def raw(self, suffix: str = "") -> str:
        """Return a control's text as it was sent, "" when missing."""
        return next(iter(self.getlist(self.name + suffix)), "")

    def all(self) -> list[str]:
        """Return every value sent under the field's own name."""
        return list(self.getlist(self.name))


def other_suffix(code: str) -> str:
    """Return the suffix of the text beside a choice that takes text."""
    return ".other" if code == "other" else f".other.{code}"


def read(field: Field, posted: Posted, setting: Setting) -> Any:
    """Return the value that the controls say together; None: nothing was said.

    A chosen absence wins over everything; a reason or a report's name typed without
    a choice counts where the controls themselves say nothing.
    """
    chosen = posted.said(".absent")
    if chosen:
        return _absence(chosen, posted)
    value = _value(field, posted, setting)
    if value is not None:
        return value
    if posted.said(".because"):
        return _absence("not_done", posted)
    return _absence("not_known", posted) if posted.said(".not_stated_by") else None


def _absence(chosen: str, posted: Posted) -> dict[str, str]:
    """Return the absence; an unknown word is kept, and `check` calls it illegal."""
    also = {"not_known": "not_stated_by", "not_done": "because"}.get(chosen, "")
    text = posted.said(f".{also}") if also else ""
    return {"absent": chosen, **({also: text} if text else {})}


def _value(field: Field, posted: Posted, setting: Setting) -> Any:
    match field.kind:
        case "qty":
            return parse(field, posted.raw(), posted.said(".unit"))
        case "yn":
            return posted.said() or None
        case "one":
            picks = _picks(field, posted)
            return picks[0] if picks else None
        case "many":
            return _picks(field, posted) or None
        case "moment":
            return _moment(field, posted, setting)
        case "person":
            return _person(posted)
        case "photo" | "drawing":
            return _made(field, posted)
        case "group":
            return _row(field, posted, setting)
    return parse(field, posted.raw(), today=setting.today)


def _picks(field: Field, posted: Posted) -> list[Any]:
    picks: list[Any] = []
    for code in posted.all():
        choice = field.choice(code)
        text = posted.said(other_suffix(code)) if choice and choice.takes_text else ""
        pick = {code: text} if text else code
        if code and pick not in picks:
            picks.append(pick)
    return picks


def _moment(field: Field, posted: Posted, setting: Setting) -> Any:
    """Read day, time, certainty and clock; an untouched moment keeps its seconds."""
    day, time = posted.said(".day"), posted.said(".time")
    if not day and not time:
        return None
    clock = posted.said(".clock")
    also = {"clock": clock} if clock else {}
    before = _json(posted.said(".utc"))
    if isinstance(before, dict) and _is_shown_by(before, posted):
        return {**before, **also}
    about = "about " if time and posted.said(".certainty") == "about" else ""
    packed = typed_time(time)
    exact = f"{packed[0]:02}:{packed[1]:02}:{packed[2]:02}" if packed else time
    typed = f"{about}{day} {exact}"
    value = parse(field, typed, today=setting.today, zone=setting.zone)
    if "utc" in value:
        return {**value, **also}
    return {**value, "as": trim(f"{day} {time}")} if "as" in value else value


def _is_shown_by(moment: dict[str, Any], posted: Posted) -> bool:
    """Tell whether the controls still show this moment, as `show` set them."""
    if not is_utc(moment.get("utc")) or type(moment.get("offset_min")) is not int:
        return False
    shown = _shown_moment(moment)
    return all(
        posted.said(suffix) == shown[suffix]
        for suffix in (".day", ".time", ".certainty")
    )


def _person(posted: Posted) -> dict[str, Any] | None:
    if not posted.said():
        return None
    return {
        "person": posted.said(".person") or None,
        "name": posted.said(),
        "role": posted.said(".role"),
        "credential": posted.said(".credential"),
    }


def _made(field: Field, posted: Posted) -> Any:
    """Return a photo or drawing the page's script made; unreadable text as it is."""
    if not posted.said():
        return None
    value = _json(posted.said())
    if field.kind == "photo" and isinstance(value, dict):
        return {**value, "caption": posted.said(".caption")}
    return posted.said() if value is None else value


def _json(text: str) -> Any:
    if not is_said(text):
        return None
    try:
        return json.loads(text)
    except (ValueError, RecursionError):
        return None


def _row(field: Field, posted: Posted, setting: Setting) -> dict[str, Any] | None:
    row: dict[str, Any] = {}
    for child in field.children:
        under = Posted(posted.getlist, f"{posted.name}.{child.name}")
        value = read(child, under, setting)
        if value is not None:
            row[child.name] = value
    if row and field.row_of and posted.said(".of"):
        row = {"of": posted.said(".of"), **row}
    return row or None


def show(field: Field, value: Any) -> dict[str, list[str]]:
    """Return what each control holds to show a value, by suffix: `read` backwards.

    {"": ["1,5"], ".unit": ["mA"]}. A value not of the kind shows nothing.
    """
    if value is None or check(field, value).state == "illegal":
        return {}
    if isinstance(value, dict) and "absent" in value:
        return {f".{key}": [text] for key, text in value.items()}
    if field.kind in ("one", "many"):
        return _shown_picks(value if isinstance(value, list) else [value])
    if field.kind == "group":
        return {}
    return {suffix: [text] for suffix, text in _shown(field, value).items()}


def _shown_picks(picks: list[Any]) -> dict[str, list[str]]:
    shown: dict[str, list[str]] = {"": []}
    for pick in picks:
        code, text = (pick, "") if isinstance(pick, str) else next(iter(pick.items()))
        shown[""].append(code)
        if text:
            shown[other_suffix(code)] = [text]
    return shown


def _shown(field: Field, value: Any) -> dict[str, str]:
    match field.kind:
        case "qty":
            return {"": value["as"], ".unit": value["unit"]}
        case "date":
            return {"": value["as"]}
        case "moment":
            return _shown_moment(value)
        case "person":
            keys = ("person", "role", "credential")
            return {"": value["name"], **{f".{k}": value.get(k) or "" for k in keys}}
        case "photo":
            return {"": json.dumps(value), ".caption": value["caption"]}
        case "drawing":
            return {"": json.dumps(value)}
    return {"": str(value)}


def _shown_moment(value: dict[str, Any]) -> dict[str, str]:
    if "as" in value:
        return {".day": value["as"]}
    if "day" in value:
        return {".day": day_words(value["day"])}
    here = local(value)
    return {
        ".utc": json.dumps(value),
        ".day": day_words(here.date().isoformat()),
        ".time": here.strftime("%H:%M"),
        ".certainty": str(value.get("certainty")),
        ".clock": str(value.get("clock")),
    }
