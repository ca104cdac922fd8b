"""Decode a photo, and make the picture that is shown in its place.

The original never changes and is never shown: what is shown is decoded here and
encoded anew, so that nothing but pixels is left. No file, no clock, no database.
"""

from __future__ import annotations

import io
import threading
from dataclasses import dataclass
from math import sqrt

from PIL import Image, ImageOps, UnidentifiedImageError

# Fifty million pixels are more than any tablet's camera gives, and take 200 MB.
MOST_PIXELS = 50_000_000
# Legible at 17 cm on paper; a long narrow strip keeps its length.
SHOWN_PIXELS, LONGEST_SHOWN = 4_000_000, 8192
# A progressive JPEG is decoded once for each of its scans; cameras write ten or so.
MOST_SCANS = 100
QUALITY = 85
TYPES = {
    "JPEG": "image/jpeg",
    # A JPEG with a second picture behind it, as many cameras write.
    "MPO": "image/jpeg",
    "PNG": "image/png",
    "WEBP": "image/webp",
}
_SCAN = b"\xff\xda"
_WHITE = (255, 255, 255)
# Each takes memory for a whole picture.
_one_at_a_time = threading.Lock()


@dataclass(frozen=True, slots=True)
class Picture:
    """What decoding found. Width and height in pixels, as it is held upright.

    `because`: key of why it cannot be shown, "" when it can; then `jpeg` is there.
    """

    type: str
    width: int
    height: int
    because: str
    jpeg: bytes | None = None


def read_picture(raw: bytes) -> Picture:
    """Return what a photo's original bytes are, and the picture to show. Never raises.

    >>> read_picture(b"").because
    'photo.cannot.empty'
    """
    if not raw:
        return Picture("", 0, 0, "photo.cannot.empty")
    with _one_at_a_time:
        try:
            return _read(raw)
        except (Image.DecompressionBombError, Image.DecompressionBombWarning):
            return Picture("", 0, 0, "photo.cannot.pixels")
        except MemoryError:
            return Picture("", 0, 0, "photo.cannot.pixels")
        except UnidentifiedImageError:
            return Picture("", 0, 0, "photo.cannot.kind")
        except Exception:
            # The decoders raise nearly anything over bytes made to break them, and
            # whatever it is, the photo is kept and cannot be shown.
            return Picture("", 0, 0, "photo.cannot.broken")


def _read(raw: bytes) -> Picture:
    with Image.open(io.BytesIO(raw), formats=("JPEG", "PNG", "WEBP")) as image:
        kind = TYPES.get(image.format or "", "")
        width, height = image.size
        if width * height > MOST_PIXELS:
            return Picture(kind, width, height, "photo.cannot.pixels")
        if kind == "image/jpeg" and raw.count(_SCAN) > MOST_SCANS:
            return Picture(kind, width, height, "photo.cannot.scans")
        # A JPEG is decoded at a half or a quarter at once, where that is enough.
        image.draft(None, _fitted(width, height))
        upright = _upright(image)
        if (upright.width < upright.height) != (image.width < image.height):
            width, height = height, width
        shown = _on_white(_eight_bits(upright))
        fitted = _fitted(*shown.size)
        if fitted != shown.size:
            shown = shown.resize(fitted, Image.Resampling.LANCZOS, reducing_gap=3.0)
        return Picture(kind, width, height, "", _jpeg(shown))


def _upright(image: Image.Image) -> Image.Image:
    """Return the picture as it was held, where it says how; else as it lies."""
    image.load()
    try:
        return ImageOps.exif_transpose(image)
    except Exception:
        # What a camera writes beside the pixels may be damaged, and they are not.
        return image


def _fitted(width: int, height: int) -> tuple[int, int]:
    """Return the size at which a picture is shown: never larger, at least a pixel."""
    scale = min(
        1.0, sqrt(SHOWN_PIXELS / (width * height)), LONGEST_SHOWN / max(width, height)
    )
    return max(1, int(width * scale)), max(1, int(height * scale))


def _eight_bits(image: Image.Image) -> Image.Image:
    """Bring sixteen bits a pixel to eight; converting alone would make it all white."""
    if not image.mode.startswith("I"):
        return image
    return image.convert("I").point(lambda value: value / 256).convert("L")


def _on_white(image: Image.Image) -> Image.Image:
    """Return the picture in red, green and blue; what is transparent is white."""
    if not image.has_transparency_data:
        return image.convert("RGB")
    layered = image.convert("RGBA")
    ground = Image.new("RGB", layered.size, _WHITE)
    ground.paste(layered, mask=layered.getchannel("A"))
    return ground


def _jpeg(image: Image.Image) -> bytes:
    out = io.BytesIO()
    # Comments, profiles and the rest are written again from here.
    image.info = {}
    # No pixels lend their colour to a neighbour: a thin trace stays what it is.
    image.save(out, "JPEG", quality=QUALITY, subsampling=0)
    return out.getvalue()
