"""A paragraph whose spaces come out as spaces, also those that hold a line together."""

from __future__ import annotations

from typing import Any

from reportlab.platypus import Paragraph

KEPT = "\u00a0"


class Para(Paragraph):
    """Break no line at a no-break space, then draw it as a plain one.

    So "1.2 mA" stays on one line, and text taken out of the file has the spaces
    that were typed.
    """

    def drawPara(self, debug: int = 0) -> None:
        broken: Any = self
        _plain(broken.blPara)
        super().drawPara(debug)


def _plain(broken: Any) -> None:
    if broken.kind == 0:
        broken.lines = [
            (space, [word.replace(KEPT, " ") for word in words])
            for space, words in broken.lines
        ]
        return
    for line in broken.lines:
        for fragment in line.words:
            if getattr(fragment, "text", None):
                fragment.text = fragment.text.replace(KEPT, " ")
