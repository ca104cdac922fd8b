"""A wristband scanner as a tablet meets one: a keyboard that types very fast."""

from __future__ import annotations

import time

from playwright.sync_api import Page

# Apart by this much on the keyboard's own clock, however busy the machine is.
SCANNER_GAP_S = 0.008
HAND_GAP_S = 0.12


class Scanner:
    """Types at a page. Each key carries its own time, so that no test is timed."""

    def __init__(self, page: Page) -> None:
        self._keys = page.context.new_cdp_session(page)
        self._clock = time.time()

    def scans(self, text: str, prefix: str = "", line_feed: bool = False) -> None:
        """Type a code and Enter, as fast as a scanner does."""
        self._clock = max(self._clock + 1, time.time())
        self._types(prefix + text, SCANNER_GAP_S)
        self._press("Enter", "\r", SCANNER_GAP_S)
        if line_feed:
            self._press("j", "", SCANNER_GAP_S, modifiers=2)

    def types_by_hand(self, text: str) -> None:
        """Type the same keys at the pace of a quick hand, then Enter."""
        self._clock = max(self._clock + 1, time.time())
        self._types(text, HAND_GAP_S)
        self._press("Enter", "\r", HAND_GAP_S)

    def _types(self, text: str, gap_s: float) -> None:
        for sign in text:
            self._press(sign, sign, gap_s)

    def _press(self, key: str, text: str, gap_s: float, modifiers: int = 0) -> None:
        self._clock += gap_s
        code = ord(text[0]) if text else 0
        told = {"key": key, "modifiers": modifiers, "timestamp": self._clock}
        down = {"type": "keyDown" if text else "rawKeyDown", "text": text}
        number = {"windowsVirtualKeyCode": 13 if key == "Enter" else code}
        self._keys.send("Input.dispatchKeyEvent", {**told, **number, **down})
        self._keys.send("Input.dispatchKeyEvent", {**told, **number, "type": "keyUp"})
