"""Typed text before any kind reads it: blanks, digits of other scripts, controls."""

from __future__ import annotations

import re

# Spaces a keyboard or a paste can leave round a value; named one by one because
# the two languages' own notions of white space differ.
SPACE = " \t\n\r\v\f\u00a0\u2007\u2009\u202f"
# Longer text is neither number, date nor time: a pasted page must cost no search.
LONGEST = 80
# Stands where a sign was lost: half of a pair, or what another program could not read.
LOST = "\ufffd"
_NEWLINE = re.compile(r"\r\n?")
_LONE_SURROGATE = re.compile("[\ud800-\udfff]")
_CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f]")
_ODD_SIGN = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufffd]")
_CAPITAL = re.compile("[A-Z]")
_SIGNS = {
    **{0x0660 + d: str(d) for d in range(10)},  # Arabic-Indic
    **{0x06F0 + d: str(d) for d in range(10)},  # Extended Arabic-Indic
    **{0xFF10 + d: str(d) for d in range(10)},  # full width
    0x066B: ".",
    0xFF0E: ".",
    0xFF0C: ",",
    0x2212: "-",
    0xFF0D: "-",
    0x03BC: "\u00b5",
}


def trim(text: str) -> str:
    """Return `text` without blanks at its ends."""
    return text.strip(SPACE)


def plain(text: str) -> str:
    """Return `text` with one kind of newline and no half characters.

    A form post turns newlines into CR LF; half of a surrogate pair cannot be
    written as UTF-8 and becomes U+FFFD. Nothing else changes.
    """
    return _LONE_SURROGATE.sub(LOST, _NEWLINE.sub("\n", text))


def has_half_character(text: str) -> bool:
    """Tell whether `text` holds half of a surrogate pair."""
    return _LONE_SURROGATE.search(text) is not None


def has_control(text: str) -> bool:
    """Tell whether `text` holds a control character other than tab and newline."""
    return _CONTROL.search(text) is not None


def has_odd_sign(text: str) -> bool:
    """Tell whether `text` holds any of these, or a lost sign: one search for three."""
    return _ODD_SIGN.search(text) is not None


def ascii_lower(text: str) -> str:
    """Return `text` with A to Z lowered and every other character untouched."""
    return _CAPITAL.sub(lambda m: m.group().lower(), text)


def western(text: str) -> str:
    """Return `text` trimmed, Arabic and full-width digits and signs made ASCII."""
    return trim(text).translate(_SIGNS)


def is_said(text: object) -> bool:
    """Tell whether `text` is a string that says something."""
    return isinstance(text, str) and trim(text) != ""


def visible(text: str) -> str:
    """Return `text` with control characters as their visible pictures.

    U+0000 is shown as U+2400 and so on; C1 controls as U+FFFD.
    """
    return _CONTROL.sub(lambda m: _picture(ord(m.group())), text)


def _picture(code: int) -> str:
    if code == 0x7F:
        return "\u2421"
    return chr(0x2400 + code) if code < 0x20 else "\ufffd"
