"""Place a timeline on a page: numbers for the template's SVG, nothing else."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from fractions import Fraction
from itertools import pairwise
from zoneinfo import ZoneInfo

from webapp.record.timeline import Reading, Timeline
from webapp.views.timeline_lanes import Lane, Ruler, lanes

LEFT, WIDTH = 96, 1040
DEPTH_TOP, DEPTH_HEIGHT = 96, 92
OUTPUT_TOP, OUTPUT_HEIGHT = 214, 40
HEIGHT = 262
FLAG_ROWS = 3
# Text of about nine pixels a letter must not run into the next flag of its row.
LETTER, FLAG_GAP, LINE = 8, 16, 15
# Room right of the ruler in the picture.
MARGIN = 24
# Spans between ticks, in minutes: the first that gives at most ten is taken.
TICKS_MIN = (1, 2, 5, 10, 15, 30, 60, 120, 240, 480)
DAY_MIN = 1440


@dataclass(frozen=True, slots=True)
class Mark:
    """A word at a place; `y` its baseline, `foot` where its line ends."""

    x: int
    y: int
    text: str
    foot: int = 0
    anchor: str = "start"


@dataclass(frozen=True, slots=True)
class Bead:
    """A reading at its place; `captures` is what its shape tells."""

    x: int
    y: int
    text: str
    result: str
    label_y: int = 0


@dataclass(frozen=True, slots=True)
class Drawing:
    """All that the template draws."""

    flags: tuple[Mark, ...]
    ticks: tuple[Mark, ...]
    blocks: tuple[tuple[int, int], ...]
    depths: tuple[Bead, ...]
    depth_line: str
    depth_scale: tuple[Mark, ...]
    outputs: tuple[Bead, ...]
    output_line: str
    output_scale: tuple[Mark, ...]
    others: int
    lanes: tuple[Lane, ...]
    height: int
    has_open: bool
    left: int = LEFT
    right: int = LEFT + WIDTH


def draw(line: Timeline, zone: str) -> Drawing:
    """Return the drawing of a timeline in the hospital's own time."""
    span = line.end_ms - line.start_ms

    def x(ms: int) -> int:
        return LEFT + (ms - line.start_ms) * WIDTH // span

    deepest = _ceiling([r.amount for r in line.depths], 20)
    highest = _ceiling([r.amount for r in line.outputs], 10)
    depths = _labelled(
        [Bead(x(r.ms), _down(r.amount, deepest), r.says, r.result) for r in line.depths]
    )
    outputs = tuple(
        Bead(x(r.ms), _up(r.amount, highest), r.says, r.result) for r in line.outputs
    )
    ticks = _ticks(line, zone, span)
    flags = _flags(line, x)
    ruler = Ruler(line.start_ms, line.end_ms, LEFT + WIDTH + MARGIN, x)
    lasting = lanes(line.bars, ruler, OUTPUT_TOP + OUTPUT_HEIGHT)
    drawn = [bar for lane in lasting for bar in lane.bars]
    others = line.others + len(line.flags) - len(flags) + len(line.bars) - len(drawn)
    return Drawing(
        flags,
        tuple(Mark(x(ms), 78, text) for ms, text in ticks),
        tuple((x(a), x(b) - x(a)) for (a, _), (b, _) in list(pairwise(ticks))[::2]),
        depths,
        _steps(depths, line.depths, x(line.end_ms)),
        tuple(
            Mark(LEFT - 8, _down(Fraction(v), deepest), str(v))
            for v in (0, deepest // 2, deepest)
        ),
        outputs,
        _steps(outputs, line.outputs, None),
        tuple(Mark(LEFT - 8, _up(Fraction(v), highest), str(v)) for v in (0, highest)),
        # What finds no room in the picture is told in words, too.
        others,
        lasting,
        max([HEIGHT, *(lane.foot for lane in lasting)]),
        any(bar.lasts and not bar.has_end for bar in drawn),
    )


def _flags(line: Timeline, x: object) -> tuple[Mark, ...]:
    place = x if callable(x) else int
    ends = [0] * FLAG_ROWS
    marks: list[Mark] = []
    for flag in line.flags:
        text = f"about: {flag.label}" if flag.about else flag.label
        at, long = place(flag.ms), len(text) * LETTER
        anchor = "end" if at + long > LEFT + WIDTH + MARGIN else "start"
        first, last = (at - long, at) if anchor == "end" else (at, at + long)
        row = next((r for r in range(FLAG_ROWS) if ends[r] <= first), None)
        if row is None:
            continue
        ends[row] = last + FLAG_GAP
        marks.append(Mark(at, 16 + row * 18, text, 62, anchor))
    return tuple(marks)


def _labelled(beads: list[Bead]) -> tuple[Bead, ...]:
    """Return the beads with labels far enough apart to be read."""
    found: list[Bead] = []
    last = 0
    for bead in beads:
        last = max(bead.y + 5, last + LINE) if bead.text else last
        found.append(replace(bead, label_y=last))
    return tuple(found)


def _ticks(line: Timeline, zone: str, span: int) -> list[tuple[int, str]]:
    # A mistyped year makes a line of decades: still ten ticks, then in whole days.
    days = -(-span // (10 * DAY_MIN * 60_000)) * DAY_MIN
    step = next((m for m in TICKS_MIN if span // (m * 60_000) <= 10), days) * 60_000
    first = -(-line.start_ms // step) * step
    here = ZoneInfo(zone)
    found = []
    for ms in range(first, line.end_ms + 1, step):
        at = datetime.fromtimestamp(ms / 1000, UTC).astimezone(here)
        words = f"{at:%H:%M}" if step < DAY_MIN * 60_000 else f"{at.day} {at:%b %Y}"
        found.append((ms, words))
    return found


def _ceiling(amounts: list[Fraction], least: int) -> int:
    top = max([Fraction(least), *amounts])
    return -(-int(-(-top // 1)) // 10) * 10


def _down(amount: Fraction, deepest: int) -> int:
    return DEPTH_TOP + int(amount * DEPTH_HEIGHT / deepest)


def _up(amount: Fraction, highest: int) -> int:
    return OUTPUT_TOP + OUTPUT_HEIGHT - int(amount * OUTPUT_HEIGHT / highest)


def _steps(
    beads: tuple[Bead, ...], readings: tuple[Reading, ...], end: int | None
) -> str:
    """Return an SVG path that holds each value until the next was read."""
    if not readings:
        return ""
    parts = [f"M{beads[0].x} {beads[0].y}"]
    for bead in beads[1:]:
        parts += [f"H{bead.x}", f"V{bead.y}"]
    if end is not None:
        parts.append(f"H{end}")
    return " ".join(parts)
