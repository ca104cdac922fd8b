"""A person who taps: the same verbs as one who has only keys."""

from __future__ import annotations

from playwright.sync_api import Locator

from tests.support.bedside import Bedside


class Fingers:
    """The hands of somebody who touches the screen."""

    unseen: tuple[str, ...] = ()

    def __init__(self, bedside: Bedside) -> None:
        self.bedside = bedside

    def taps(self, key: Locator) -> None:
        """Tap a key or a link."""
        key.click()

    def chooses(self, box: Locator) -> None:
        """Tap an answer: its box covers its key."""
        box.click()

    def fills(self, box: Locator, text: str) -> None:
        """Write in a line from its beginning."""
        box.fill(text)

    def selects(self, box: Locator, value: str) -> None:
        """Choose from a list."""
        box.select_option(value=value)

    def enters(self) -> None:
        """Tap the screen keyboard's Enter."""
        self.bedside.page.keyboard.press("Enter")

    def leaves(self, root: Locator) -> None:
        """Move the focus out of a field."""
        self.bedside.leaves(root)

    def goes_to(self, part: str) -> None:
        """Open a part from the rail."""
        self.bedside.goes_to(part)

    def starts_now(self) -> None:
        """Tap the key that needs no name."""
        self.bedside.starts_now()

    def is_now(self, name: str, role: str) -> None:
        """Say who is at the tablet."""
        self.bedside.is_now(name, role)
