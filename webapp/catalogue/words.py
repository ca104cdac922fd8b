"""Values in words, as screens, notes and lists show them.

Twin: static/js/form/words.js (with `apart`), held equal by fixtures/vectors/words.json.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from webapp.catalogue.dates import MONTHS
from webapp.catalogue.kinds import check
from webapp.catalogue.model import Field
from webapp.catalogue.moments import local
from webapp.catalogue.typed import is_said, visible
from webapp.catalogue.units import shown_unit
from webapp.say import say

_COMPARATORS = {">": ">", "<": "<", ">=": "≥", "<=": "≤"}
_NO_SPACE_BEFORE = "°"
_HOUR_S, _DAY_S = 3600, 86400
_LACKS = object()


def words(
    field: Field,
    value: Any,
    day: str | None = None,
    beside: Callable[[str], str] = str,
) -> str:
    """Return a value as a person reads it. Never raises.

    `day`: a day the reader already knows ("2031-11-24"): moments of that day are
    told without it. None is "not asked". What could not be read stands as typed;
    what is impossible is told like any other, and marked by the caller. `beside`: what
    a typed text goes through before it stands beside our words or another typed text;
    a screen gives `apart`.
    """
    if value is None:
        return say("words.not_asked")
    if check(field, value).state == "illegal":
        return say("words.not_readable")
    if isinstance(value, dict) and "absent" in value:
        return visible(absence_words(value, beside))
    return visible(_told(field, value, day, beside))


def _told(
    field: Field, value: Any, day: str | None, beside: Callable[[str], str]
) -> str:
    match field.kind:
        case "text" | "prose":
            return str(value)
        case "yn":
            return say(f"words.{value}")
        case "one":
            return _pick_words(field, value, beside)
        case "many":
            return ", ".join(beside(_pick_words(field, p, beside)) for p in value)
        case "qty":
            return quantity_words(value)
        case "moment":
            return moment_words(value, day)
        case "date":
            return day_words(value["date"]) if "date" in value else str(value["as"])
        case "person":
            return _person_words(value, beside)
        case "photo":
            caption = value["caption"]
            key = "words.photo_caption" if is_said(caption) else "words.photo"
            return say(key, caption=beside(caption) if is_said(caption) else caption)
        case "drawing":
            return say("words.drawing")
        case "group":
            return _row_words(field, value, day, beside)


def absence_words(value: dict[str, Any], beside: Callable[[str], str] = str) -> str:
    """Return "not known", "not stated by …", "not done, because …", "not asked"."""
    if "not_stated_by" in value:
        return say("words.not_stated", report=beside(value["not_stated_by"]))
    if value["absent"] != "not_done":
        return say(f"words.{value['absent']}")
    if is_said(value.get("because")):
        return say("words.not_done", because=beside(value["because"]))
    return say("words.not_done_unsaid")


def quantity_words(value: dict[str, Any]) -> str:
    """Return a quantity with its unit: "1.5 mA", "20 to 30 /min", "> 10 mg/dL"."""
    if "special" in value:
        return say(f"words.{value['special']}")
    if "low" in value:
        low, high = number_words(value["low"]), number_words(value["high"])
        return with_unit(say("words.range", low=low, high=high), value["unit"])
    if "n" not in value:
        return str(value["as"])
    number = number_words(value["n"])
    if "cmp" in value:
        number = f"{_COMPARATORS[value['cmp']]} {number}"
    return with_unit(number, value["unit"])


def number_words(number: str) -> str:
    """Return a canonical decimal with a real minus sign."""
    return number.replace("-", "−")


def with_unit(number: str, unit: str) -> str:
    """Return a number and its UCUM unit as shown: "37.5 °C", "−30°", "1.2"."""
    shown = shown_unit(unit)
    if not shown:
        return number
    return number + shown if shown == _NO_SPACE_BEFORE else f"{number} {shown}"


def day_words(day: str) -> str:
    """Return "2031-11-24" as "24 Nov 2031"."""
    return f"{int(day[8:])} {MONTHS[int(day[5:7]) - 1]} {int(day[:4])}"


def time_words(moment: dict[str, Any]) -> str:
    """Return the time of day an exact or about moment had where it was: "10:41"."""
    return local(moment).strftime("%H:%M")


def moment_words(value: dict[str, Any], day: str | None = None) -> str:
    """Return "24 Nov 2031 10:41", "24 Nov 2031 about 10:41", or the day alone."""
    if "day" in value:
        return day_words(value["day"])
    if "utc" not in value:
        return str(value["as"])
    time = time_words(value)
    if value["certainty"] == "about":
        time = say("words.about", time=time)
    here = local(value).date().isoformat()
    return time if here == day else f"{day_words(here)} {time}"


def elapsed_words(seconds: int) -> str:
    """Return how long ago: "just now", "40 s", "4 min", "1 h 45 min", "3 d".

    Never a colon. Whole units, cut off: seconds from 20, minutes to 99, then hours
    and minutes, days from 48 h. A negative time is a clock behind the writer's:
    under 20 s still "just now", else "ahead of this clock".
    """
    if seconds <= -20:
        return say("words.ago_ahead")
    if seconds < 20:
        return say("words.ago_just_now")
    if seconds < 60:
        return say("words.ago_seconds", seconds=seconds)
    minutes = seconds // 60
    if minutes < 100:
        return say("words.ago_minutes", minutes=minutes)
    if seconds >= 2 * _DAY_S:
        return say("words.ago_days", days=seconds // _DAY_S)
    hours, rest = seconds // _HOUR_S, minutes % 60
    if rest == 0:
        return say("words.ago_hours", hours=hours)
    return say("words.ago_hours_minutes", hours=hours, minutes=rest)


def _pick_words(
    field: Field, pick: str | dict[str, str], beside: Callable[[str], str]
) -> str:
    code = pick if isinstance(pick, str) else next(iter(pick))
    choice = field.choice(code)
    label = choice.label if choice else code
    if isinstance(pick, str):
        return label
    text = pick[code]
    if code == "other":
        return text
    return say("words.row_child", label=label, words=beside(text))


def _person_words(value: dict[str, Any], beside: Callable[[str], str]) -> str:
    name = value["name"]
    if is_said(value.get("credential")):
        credential = beside(value["credential"])
        name = say("words.person_credential", name=beside(name), credential=credential)
    if is_said(value.get("role")):
        role = beside(value["role"])
        return say("words.person_role", name=beside(name), role=role)
    return str(name)


def _row_words(
    field: Field,
    row: dict[str, Any],
    day: str | None,
    beside: Callable[[str], str],
) -> str:
    told = [
        say("words.row_child", label=c.label, words=beside(words(c, v, day, beside)))
        for c in field.children
        if (v := row.get(c.name, _LACKS)) is not _LACKS
    ]
    return "; ".join(told)
