"""Place what lasted under the time ruler: one lane for skin pacing, one for drugs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from webapp.record.timeline_bars import DRUGS, SKIN, Bar
from webapp.say import say, say_apart

# A row holds words and, under them, the bar; so many rows a lane at most.
ROW, LANE_GAP, WORDS_UP = 28, 24, 8
ROWS = {SKIN: 2, DRUGS: 4}
# Text of about eight pixels a letter; what was given at once is so wide.
LETTER, GAP, AT_ONCE, FOOT = 8, 14, 6, 14


@dataclass(frozen=True, slots=True)
class Drawn:
    """One bar: from `x`, `width` long, at `y`; its words end or begin at `text_x`.

    `has_start`: it began on the ruler; `has_end`: so was its stop told. An edge it
    has not is left open.
    """

    x: int
    y: int
    width: int
    lasts: bool
    has_start: bool
    has_end: bool
    text: str
    text_x: int
    anchor: str

    @property
    def span(self) -> tuple[int, int]:
        """Return from where to where bar and words reach."""
        long = len(self.text) * LETTER
        first = self.text_x - long if self.anchor == "end" else self.text_x
        return min(first, self.x), max(first + long, self.x + self.width)


@dataclass(frozen=True, slots=True)
class Lane:
    """One lane. `y`: baseline of its name; `foot`: where it ends."""

    name: str
    y: int
    bars: tuple[Drawn, ...]
    foot: int


@dataclass(frozen=True, slots=True)
class Ruler:
    """The ruler's ends in milliseconds and pixels, and where a time stands on it."""

    start_ms: int
    end_ms: int
    right: int
    x: Callable[[int], int]


def lanes(bars: tuple[Bar, ...], ruler: Ruler, top: int) -> tuple[Lane, ...]:
    """Return the lanes that hold anything, one under another from `top`."""
    made: list[Lane] = []
    for name in (SKIN, DRUGS):
        own = [_drawn(bar, ruler) for bar in bars if bar.lane == name]
        if not own:
            continue
        first = top + LANE_GAP
        packed = _packed(own, ROWS[name], first)
        top = max(bar.y for bar in packed)
        made.append(Lane(say(f"timeline.{name}"), first, packed, top + FOOT))
    return tuple(made)


def _drawn(bar: Bar, ruler: Ruler) -> Drawn:
    start = max(bar.start_ms, ruler.start_ms)
    is_told = bar.end_ms is not None and bar.end_ms <= ruler.end_ms
    end = bar.end_ms if bar.end_ms is not None and is_told else ruler.end_ms
    x = ruler.x(start)
    width = max(ruler.x(end) - x, AT_ONCE) if bar.lasts else AT_ONCE
    text = say_apart("timeline.about", label=bar.label) if bar.about else bar.label
    has_start = bar.start_ms >= ruler.start_ms
    is_late = x + len(text) * LETTER > ruler.right
    where = (x + AT_ONCE, "end") if is_late else (x, "start")
    has_end = is_told and bar.lasts
    return Drawn(x, 0, width, bar.lasts, has_start, has_end, text, *where)


def _packed(bars: list[Drawn], rows: int, first: int) -> tuple[Drawn, ...]:
    """Return the bars that find room, the earlier first; no words over others'."""
    ends = [-GAP] * rows
    found: list[Drawn] = []
    for bar in bars:
        begin, end = bar.span
        row = next((r for r in range(rows) if ends[r] + GAP <= begin), None)
        if row is not None:
            ends[row] = end
            found.append(replace(bar, y=first + WORDS_UP + row * ROW))
    return tuple(found)
