"""How a computed number and an elapsed time are written, the same everywhere."""

from __future__ import annotations

from fractions import Fraction

from webapp.clinical.exact import decimal, number

MINUTE_S = 60
DAY_S = 86400


def shown(value: str, step: str = "") -> str:
    """Return a decimal as it is shown beside a dial of that step, "" for whole ones.

    Below 10 with as many decimals as the step has, from 10 with none; a value finer
    than that keeps all its own: ("2", "0.1") gives "2.0", ("20", "0.1") "20",
    ("0.75", "0.1") "0.75". What is no number comes back as it is.
    """
    exact = number(value)
    if exact is None:
        return value
    places = _places(step) if abs(exact) < 10 else 0
    return _padded(decimal(exact), places)


def truncated(value: Fraction, step: str = "0.1") -> str:
    """Return a fraction cut, never rounded, to the step: 1.96 gives "1.9".

    A step that is none, 0 or below it counts as 0.1.
    """
    known = number(step)
    grid = known if known is not None and known > 0 else Fraction(1, 10)
    cut = abs(value) // grid * grid
    text = _padded(decimal(cut), _places(step))
    return f"-{text}" if value < 0 and cut else text


def times(value: Fraction) -> str:
    """Return a margin in words: "1.9 ×"."""
    return f"{truncated(value)} ×"


def seconds_of(ms: int) -> int:
    """Return whole seconds of a span in milliseconds, also where it runs backwards."""
    return ms // 1000


def elapsed(seconds: int) -> str:
    """Return an elapsed time: "40 s", "14 min", "1 h 45 min"; never with a colon.

    Cut to whole minutes. A time that runs backwards is "unknown".
    """
    if seconds < 0:
        return "unknown"
    if seconds < MINUTE_S:
        return f"{seconds} s"
    minutes = seconds // MINUTE_S
    if minutes <= 99:
        return f"{minutes} min"
    return f"{minutes // 60} h {minutes % 60} min"


def age(seconds: int) -> str:
    """Return the age of a standing number: as `elapsed`, but "just now" and days."""
    if 0 <= seconds < 20:
        return "just now"
    if seconds >= 2 * DAY_S:
        return f"{seconds // DAY_S} d"
    return elapsed(seconds)


def _places(step: str) -> int:
    exact = number(step)
    return len(decimal(exact).partition(".")[2]) if exact is not None else 0


def _padded(text: str, places: int) -> str:
    whole, _, part = text.partition(".")
    part = part.ljust(places, "0")
    return f"{whole}.{part}" if part else whole
