"""Time and chance of a simulated world: both drawn from its seed."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from random import Random
from types import SimpleNamespace
from unittest.mock import patch

from webapp.record import entry, log

# Midnight of an invented day; every schedule begins here.
BEGAN_MS = int(datetime(2031, 11, 24, 10, 0, tzinfo=UTC).timestamp() * 1000)


@dataclass
class SimulatedClock:
    """The true time, which passes only when told, and the server's error of it.

    `server_ms`, `tablet_ms`: how far a clock is ahead of the true time.
    """

    now_ms: int = BEGAN_MS
    server_ms: int = 0
    tablet_ms: dict[str, int] = field(default_factory=dict)

    def passes(self, ms: int) -> None:
        """Let time pass everywhere."""
        self.now_ms += ms

    def of_tablet(self, name: str) -> datetime:
        """Return what a tablet's clock shows."""
        return moment(self.now_ms + self.tablet_ms.get(name, 0))

    def of_server(self) -> str:
        """Return the server's time as it writes it."""
        shown = moment(self.now_ms + self.server_ms)
        return (
            shown.strftime("%Y-%m-%dT%H:%M:%S.") + f"{shown.microsecond // 1000:03d}Z"
        )


def moment(ms: int) -> datetime:
    """Return Unix milliseconds as a moment."""
    return datetime.fromtimestamp(ms / 1000, UTC)


@contextmanager
def runs_by(clock: SimulatedClock, chance: Random) -> Iterator[None]:
    """Let the log's times and ids come from this clock and this chance."""
    drawn = SimpleNamespace(token_bytes=chance.randbytes)
    timed = SimpleNamespace(time=lambda: clock.now_ms / 1000)
    with ExitStack() as patches:
        patches.enter_context(patch.object(entry, "secrets", drawn))
        patches.enter_context(patch.object(entry, "time", timed))
        patches.enter_context(patch.object(log, "utc_now", clock.of_server))
        yield
