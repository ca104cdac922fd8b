"""A drawn ultrasound picture of a vein: says on its face that nobody was scanned."""

from __future__ import annotations

import io
import math
import random

from PIL import Image, ImageDraw

from webapp.demo.tablets import Photographed
from webapp.record.entry import uuid7
from webapp.record.writer import Draft
from webapp.say import say

WIDTH, HEIGHT = 640, 480
GRAIN = 4
_TABLET = "Tablet 5"
_AT = {
    "utc": "2026-05-21T14:10:40.000Z",
    "zone": "America/Chicago",
    "offset_min": -300,
    "skew_ms": 0,
}
_AT_MS = 1_779_372_640_000
_SEEN_BY = {
    "person": None,
    "name": "E. Tarn-Example",
    "role": "operator",
    "credential": "MD",
}
_TAKEN_BY = {"person": None, "name": "J. Beck-Example", "role": "assistant"}


def photo_of(record: str) -> Photographed:
    """Return the photo of a record's stored picture, taken at the puncture."""
    draft = Draft(
        uuid7(_AT_MS),
        "approach.image_photo",
        "set",
        {"caption": say("demo.caption")},
        (),
        _AT,
        _SEEN_BY,
        _TAKEN_BY,
        None,
        "seen",
        "typed",
    )
    return Photographed(_TABLET, record, drawn_vein(), draft)


def drawn_vein() -> bytes:
    """Return the picture as a PNG: the same bytes each time."""
    image = Image.new("L", (WIDTH, HEIGHT), 0)
    _tissue(image)
    draw = ImageDraw.Draw(image)
    # An artery with a bright wall above, the wider vein below it and to the left.
    _vessel(draw, (365, 150, 465, 250), wall=215)
    _vessel(draw, (190, 190, 350, 320), wall=150)
    draw.line((120, 62, 268, 232), fill=250, width=3)
    draw.ellipse((262, 228, 272, 238), fill=255)
    _scale(draw)
    for n, line in enumerate(say("demo.drawn").splitlines()):
        draw.text((16, HEIGHT - 56 + 22 * n), line, fill=255, font_size=18)
    out = io.BytesIO()
    image.save(out, "PNG", optimize=True)
    return out.getvalue()


def _tissue(image: Image.Image) -> None:
    """Fill with soft grains in layers, darker with depth."""
    grains = random.Random(1)  # noqa: S311 - grain of a picture, not a secret
    size = (WIDTH // GRAIN, HEIGHT // GRAIN)
    rows = [
        95 + 40 * math.sin(y / 6) - 0.6 * y + (35 if y % 15 == 0 else 0)
        for y in range(size[1])
    ]
    coarse = Image.new("L", size)
    coarse.putdata(
        [
            max(0, int(row * grains.uniform(0.35, 1.1)))
            for row in rows
            for _ in range(size[0])
        ]
    )
    image.paste(coarse.resize(image.size, Image.Resampling.BICUBIC))


def _vessel(
    draw: ImageDraw.ImageDraw, box: tuple[int, int, int, int], wall: int
) -> None:
    draw.ellipse(box, fill=12, outline=wall, width=4)


def _scale(draw: ImageDraw.ImageDraw) -> None:
    """Draw one tick a centimetre along the right edge."""
    for depth_cm in range(1, 5):
        y = depth_cm * 96
        draw.line((WIDTH - 22, y, WIDTH - 8, y), fill=255, width=2)
        draw.text((WIDTH - 64, y - 10), f"{depth_cm} cm", fill=255, font_size=14)
