"""Photos taken on the Python tablet: pictures of every sort, sealed and sent."""

from __future__ import annotations

import io
import json
import struct
import zlib
from dataclasses import dataclass, replace
from typing import Any

from PIL import Image

from tests.support.tablet import Tablet
from tests.support.transport import Reply
from webapp.record.entry import sha256_hex
from webapp.record.photo import SealedPhoto

PHOTO_TYPE = "application/wiremark-photo"
FIELD = "approach.image_photo"
ORIENTATION = 0x0112
RED, BLUE = (200, 30, 30), (30, 30, 200)


@dataclass(frozen=True)
class Taken:
    """A photo as its tablet holds it. `value`: what an entry says of it."""

    photo: SealedPhoto
    original: bytes
    value: dict[str, Any]

    def changed(self, **parts: Any) -> Taken:
        """Return it with parts of the request replaced."""
        return replace(self, photo=replace(self.photo, **parts))


def photographed(
    tablet: Tablet,
    record: str,
    original: bytes,
    caption: str = "RV, 34 cm",
    kind: str = "image/png",
) -> Taken:
    """Seal a photo as the tablet does; no entry names it yet, and nothing is sent."""
    photo = tablet.writer.seal_photo(record, original)
    value = {
        "sha256": sha256_hex(original),
        "sealed": photo.sealed,
        "type": kind,
        "size": len(original),
        "caption": caption,
    }
    return Taken(photo, original, value)


def sends(tablet: Tablet, taken: Taken, **headers: str) -> Reply:
    """Send a photo under the tablet's token."""
    return posts(tablet, taken.photo.encode(), **headers)


def posts(tablet: Tablet, body: bytes, **headers: str) -> Reply:
    """Post bytes as a photo."""
    told = {"Authorization": f"Bearer {tablet.token}", "Content-Type": PHOTO_TYPE}
    return tablet.transport.post("/sync/photo", body, {**told, **headers})


def asks(tablet: Tablet, digests: Any) -> Reply:
    """Ask which photos the server lacks."""
    headers = {
        "Authorization": f"Bearer {tablet.token}",
        "Content-Type": "application/json",
    }
    body = json.dumps({"digests": digests}).encode()
    return tablet.transport.post("/sync/photos", body, headers)


def takes_photo(
    tablet: Tablet, original: bytes, path: str = FIELD, **how: Any
) -> tuple[str, Taken]:
    """Take a photo in a new record: entry and photo both sent; return both."""
    record = tablet.opens()
    taken = photographed(tablet, record, original, **how)
    tablet.sets(record, path, taken.value)
    tablet.syncs()
    assert sends(tablet, taken).status == 200
    return record, taken


# -- Pictures ----------------------------------------------------------------


def two_colours(width: int = 60, height: int = 40) -> Image.Image:
    """Return a picture whose left half is red and whose right half is blue."""
    image = Image.new("RGB", (width, height), RED)
    image.paste(BLUE, (width // 2, 0, width, height))
    return image


def encoded(image: Image.Image, kind: str = "PNG", **how: Any) -> bytes:
    """Return a picture as a file's bytes."""
    out = io.BytesIO()
    image.save(out, kind, **how)
    return out.getvalue()


def png(width: int = 60, height: int = 40) -> bytes:
    """Return a PNG of two colours."""
    return encoded(two_colours(width, height))


def held_sideways() -> bytes:
    """Return a JPEG that says it was held with its right side up: blue is on top."""
    image = two_colours()
    exif = image.getexif()
    exif[ORIENTATION] = 8
    exif[0x010F] = "a maker's name"
    return encoded(image, "JPEG", exif=exif, quality=95)


def bomb(width: int = 60_000, height: int = 60_000) -> bytes:
    """Return a PNG of a few bytes that says it has so many pixels."""
    head = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    rows = zlib.compress(bytes(10_000))
    pieces = [(b"IHDR", head), (b"IDAT", rows), (b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunk(*piece) for piece in pieces)


def layered() -> bytes:
    """Return a JPEG with more scans than any camera writes."""
    raw = encoded(two_colours(), "JPEG", progressive=True)
    at = raw.rindex(b"\xff\xda")
    scan = raw[at:-2]
    return raw[:at] + scan * 200 + raw[-2:]


def decoded(jpeg: bytes) -> Image.Image:
    """Return a served picture, decoded."""
    image = Image.open(io.BytesIO(jpeg))
    image.load()
    return image


def is_near(pixel: Any, colour: tuple[int, int, int]) -> bool:
    """Return whether a pixel is that colour, but for what JPEG does to it."""
    return all(abs(a - b) < 30 for a, b in zip(pixel, colour, strict=True))


def chunk(name: bytes, data: bytes) -> bytes:
    """Return one piece of a PNG."""
    check = zlib.crc32(name + data)
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", check)
