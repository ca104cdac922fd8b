"""Read JSON that is written the one plain way in a third of the time; refuse the rest.

Plain is what compact writers of both languages give: read and written again it is the
same bytes, so no key stands twice and no sign was taken for another. Whatever is not
plain is left to the strict reader in `entry.py`, which decides alone what is sound.
"""

from __future__ import annotations

from typing import Any

from msgspec.json import Decoder, Encoder

# Both readers give up on deep nesting, at different depths; nothing sound is so deep.
_MOST_NESTED = 100
# The smallest integer that is not exact everywhere, 2^53, has sixteen digits.
_LONG_NUMBER = b"0" * 16
_DIGITS_AS_0 = bytes(ord("0") if chr(n).isdecimal() else n for n in range(256))


class NotPlain(ValueError):
    """The bytes are not plain JSON; they may be sound nevertheless."""


def read_plain(raw: bytes) -> Any:
    """Return what plain JSON says: no fraction, no integer of sixteen digits.

    Raises NotPlain: for all other bytes, sound or not.
    """
    nested = raw.count(b"[") + raw.count(b"{")
    if nested > _MOST_NESTED or _LONG_NUMBER in raw.translate(_DIGITS_AS_0):
        raise NotPlain("deep, or with a long run of digits")
    try:
        found = _DECODER.decode(raw)
    except (ValueError, RecursionError) as error:
        raise NotPlain("not read") from error
    if _ENCODER.encode(found) != raw:
        raise NotPlain("written again it is other bytes")
    return found


def _no_fraction(text: str) -> Any:
    raise NotPlain(f"the number {text[:20]} is not a whole one")


_DECODER = Decoder(float_hook=_no_fraction)
_ENCODER = Encoder()
