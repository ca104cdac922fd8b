"""What is shown of a photo: decoded, upright, on white, bounded; or why it is not."""

from __future__ import annotations

import zlib
from array import array

import pytest
from PIL import Image

from tests.support.photographs import (
    BLUE,
    RED,
    bomb,
    chunk,
    decoded,
    encoded,
    held_sideways,
    is_near,
    layered,
    png,
    two_colours,
)
from webapp.record.photo_picture import (
    LONGEST_SHOWN,
    MOST_PIXELS,
    SHOWN_PIXELS,
    read_picture,
)

WHITE = (255, 255, 255)


def transparent() -> Image.Image:
    image = two_colours().convert("RGBA")
    image.paste((0, 0, 0, 0), (0, 0, 30, 40))
    return image


def pale() -> Image.Image:
    """Sixteen bits a pixel: dark on the left, light on the right."""
    row = array("H", [8 * 256] * 30 + [240 * 256] * 30)
    return Image.frombytes("I;16", (60, 40), row.tobytes() * 40)


SHOWN = {
    "PNG": (png(), "image/png", (RED, BLUE)),
    "JPEG": (encoded(two_colours(), "JPEG", quality=95), "image/jpeg", (RED, BLUE)),
    "progressive JPEG": (
        encoded(two_colours(), "JPEG", quality=95, progressive=True),
        "image/jpeg",
        (RED, BLUE),
    ),
    "CMYK JPEG": (
        encoded(two_colours().convert("CMYK"), "JPEG", quality=95),
        "image/jpeg",
        (RED, BLUE),
    ),
    "WebP": (
        encoded(two_colours(), "WEBP", lossless=True),
        "image/webp",
        (RED, BLUE),
    ),
    "two pictures in one JPEG": (
        encoded(
            two_colours(),
            "MPO",
            save_all=True,
            append_images=[two_colours()],
            quality=95,
        ),
        "image/jpeg",
        (RED, BLUE),
    ),
    "transparent PNG": (encoded(transparent()), "image/png", (WHITE, BLUE)),
    "PNG of a palette with a hole": (
        encoded(transparent().quantize(8)),
        "image/png",
        (WHITE, BLUE),
    ),
    "grey PNG": (
        encoded(two_colours().convert("L")),
        "image/png",
        ((81, 81, 81), (49, 49, 49)),
    ),
    "PNG of one bit": (
        encoded(Image.new("1", (60, 40), 1)),
        "image/png",
        (WHITE, WHITE),
    ),
    "PNG of sixteen bits": (
        encoded(pale()),
        "image/png",
        ((8, 8, 8), (240, 240, 240)),
    ),
}
NOT_SHOWN = {
    "nothing": (b"", "photo.cannot.empty"),
    "no picture": (b"no picture" * 50, "photo.cannot.kind"),
    "another kind": (encoded(two_colours(), "GIF"), "photo.cannot.kind"),
    "vector graphics": (b"<svg xmlns='http://www.w3.org/2000/svg'/>",
                        "photo.cannot.kind"),
    "half a PNG": (png(600, 400)[:200], "photo.cannot.broken"),
    "half a JPEG": (
        encoded(two_colours(600, 400), "JPEG")[:-500],
        "photo.cannot.broken",
    ),
    "a head alone": (png()[:40], "photo.cannot.kind"),
    "too many pixels": (bomb(), "photo.cannot.pixels"),
    "just too many pixels": (bomb(MOST_PIXELS // 1000 + 1, 1000),
                             "photo.cannot.pixels"),
    "too many layers": (layered(), "photo.cannot.scans"),
}  # fmt: skip


@pytest.mark.parametrize(("raw", "kind", "colours"), SHOWN.values(), ids=SHOWN)
def test_a_picture_is_shown_as_it_looks(raw, kind, colours) -> None:
    made = read_picture(raw)
    assert (made.because, made.type) == ("", kind)
    shown = decoded(made.jpeg)
    assert (shown.format, shown.mode, shown.size) == ("JPEG", "RGB", (60, 40))
    assert is_near(shown.getpixel((5, 20)), colours[0])
    assert is_near(shown.getpixel((55, 20)), colours[1])


@pytest.mark.parametrize(("raw", "because"), NOT_SHOWN.values(), ids=NOT_SHOWN)
def test_what_cannot_be_shown_says_why(raw, because) -> None:
    made = read_picture(raw)
    assert (made.because, made.jpeg) == (because, None)


def test_a_photo_held_sideways_stands_upright_and_tells_nothing_of_its_camera() -> None:
    raw = held_sideways()
    made = read_picture(raw)
    assert (made.width, made.height) == (40, 60)
    shown = decoded(made.jpeg)
    assert shown.size == (40, 60)
    assert is_near(shown.getpixel((20, 5)), BLUE)
    assert is_near(shown.getpixel((20, 55)), RED)
    assert dict(shown.getexif()) == {}
    assert b"maker" in raw
    assert b"maker" not in made.jpeg


def test_nothing_but_pixels_goes_along() -> None:
    text = b"a maker's name"
    told = {"comment": text, "icc_profile": text, "dpi": (301, 301)}
    made = read_picture(encoded(two_colours(), "JPEG", **told))
    assert text not in made.jpeg
    assert not {"comment", "icc_profile", "dpi"} & decoded(made.jpeg).info.keys()


def test_a_damaged_note_of_the_camera_does_not_hide_the_picture() -> None:
    raw = bytearray(held_sideways())
    at = raw.index(b"Exif\0\0")
    raw[at + 6 : at + 30] = b"\xff" * 24
    made = read_picture(bytes(raw))
    assert (made.because, decoded(made.jpeg).size) == ("", (60, 40))


@pytest.mark.parametrize("size", [(1, 1), (8000, 200), (200, 8000), (1, 9000), (3, 2)])
def test_a_picture_of_any_shape_keeps_its_proportion_and_a_side(size) -> None:
    made = read_picture(encoded(Image.new("RGB", size, RED)))
    assert (made.because, made.width, made.height) == ("", *size)
    width, height = decoded(made.jpeg).size
    assert max(width, height) <= LONGEST_SHOWN
    assert min(width, height) >= 1
    assert width / height == pytest.approx(size[0] / size[1], rel=0.2)


def test_a_strip_as_long_as_a_tablet_makes_it_loses_no_pixel() -> None:
    made = read_picture(encoded(Image.new("RGB", (8000, 200), RED), "JPEG"))
    assert decoded(made.jpeg).size == (8000, 200)


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP"])
def test_a_large_picture_is_shown_smaller_and_remembered_as_it_was(kind) -> None:
    made = read_picture(encoded(two_colours(4000, 3000), kind))
    assert (made.width, made.height) == (4000, 3000)
    width, height = decoded(made.jpeg).size
    assert SHOWN_PIXELS * 0.95 < width * height <= SHOWN_PIXELS


def test_the_same_photo_is_shown_by_the_same_bytes() -> None:
    assert read_picture(held_sideways()) == read_picture(held_sideways())


def test_a_text_that_unpacks_for_ever_is_not_unpacked() -> None:
    raw, head = png(), 33
    text = b"Comment\0\0" + zlib.compress(bytes(64 * 1024 * 1024), 9)
    stuffed = raw[:head] + chunk(b"zTXt", text) + raw[head:]
    assert read_picture(stuffed).because == "photo.cannot.broken"
