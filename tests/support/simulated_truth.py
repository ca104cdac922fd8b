"""What must be true of a simulated world: kept beside it, compared with it.

Everything a tablet kept and everything the desk wrote is known here. `problems` says
what the product did that it must not; nothing in it is what the model merely guesses.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.support.simulated_disk import Row
from tests.support.simulated_network import Request
from tests.support.transport import Reply
from webapp.record.entry import GENESIS_CHAIN, Header, decode_header
from webapp.record.framing import Push, read_push


@dataclass
class Written:
    """An entry that a tablet kept: its body, and every place it was ever given."""

    record: str
    body: bytes
    is_legal: bool
    headers: set[Header] = field(default_factory=set)


@dataclass
class Truth:
    """The model of one world. `on_server`: ids that the server has said it holds."""

    database: Path
    problems: list[str] = field(default_factory=list)
    written: dict[str, Written] = field(default_factory=dict)
    desk: dict[str, bytes] = field(default_factory=dict)
    on_server: set[str] = field(default_factory=set)
    arrivals: int = 0
    _reading: sqlite3.Connection | None = None

    def keeps(self, row: Row, is_legal: bool) -> None:
        """Learn of an entry about to be committed on a tablet's disk."""
        header, body = row.entry.header, row.entry.body
        self.written[header.id] = Written(header.record, body, is_legal, {header})

    def sees(self, rows: Iterable[Row]) -> None:
        """Learn which places a tablet's entries have now."""
        for row in rows:
            self.written[row.entry.header.id].headers.add(row.entry.header)

    def arrives(self, request: Request) -> Callable[[Reply | None], None]:
        """Learn of a request that reaches the server; return what learns its reply."""
        self.arrivals += 1
        number = self.arrivals
        push = read_push(request.body) if request.path == "/sync" else None
        knows = self._knows_head(push)

        def learns(reply: Reply | None) -> None:
            self.reads()
            # What comes of damaged bytes shows in the end; they say nothing true.
            if push is None or reply is None:
                return
            if reply.status != 200:
                self.problems.append(
                    f"a whole request got {reply.status}: {reply.json}"
                )
            elif not request.is_garbled:
                self._judges(push, reply, knows if number == self.arrivals else None)

        return learns

    def reads(self) -> None:
        """Read what the server holds; what it held before must be there."""
        rows = self._asks("SELECT id, log FROM entry")
        there = {row[0] for row in rows}
        for entry in {i for i, log in rows if log == "desk"} - set(self.desk):
            [(self.desk[entry],)] = self._asks(
                "SELECT bytes FROM body JOIN entry USING (position) WHERE id = ?", entry
            )
        gone = self.on_server - there
        if gone:
            self.problems.append(f"the server forgot {sorted(gone)}")
        self.on_server = there

    def head(self) -> dict[str, Any]:
        """Return the head of the server's log, as its replies tell it."""
        last = "SELECT position, chain FROM entry ORDER BY position DESC LIMIT 1"
        [(position, chain)] = self._asks(last) or [(0, GENESIS_CHAIN)]
        return {"position": position, "chain": chain}

    def _judges(self, push: Push, reply: Reply, knows_head: bool | None) -> None:
        told = reply.json
        if knows_head is not None and told["went_back"] is knows_head:
            self.problems.append(f"went_back was {told['went_back']}, unlike the head")
        sent = [decode_header(item.header or b"") for item in push.items]
        for header, answer in zip(sent, told["answers"], strict=True):
            self._judges_answer(header, answer)

    def _judges_answer(self, header: Header, answer: dict) -> None:
        word = answer["answer"]
        if answer["id"] != header.id or word == "refused":
            self.problems.append(f"{header} was answered {answer}")
        elif word == "conflict" and not self.is_contested(header):
            self.problems.append(f"a conflict where there is none: {header}")
        elif word in ("kept", "had") and header.id not in self.on_server:
            self.problems.append(f"{word} was said of {header}, which is not there")

    def is_contested(self, header: Header) -> bool:
        """Return whether two entries had this place, or this entry two places."""
        place = (header.log, header.seq)
        others = [
            h
            for entry, written in self.written.items()
            for h in written.headers
            if (entry == header.id and h != header)
            or (entry != header.id and (h.log, h.seq) == place)
        ]
        return bool(others)

    def _knows_head(self, push: Push | None) -> bool | None:
        if push is None or push.head is None:
            return True
        if push.head.position == 0:
            return push.head.chain == GENESIS_CHAIN
        at = push.head.position
        told = self._asks("SELECT chain FROM entry WHERE position = ?", at)
        return told == [(push.head.chain,)]

    def _asks(self, sql: str, *values: Any) -> list[Any]:
        if self._reading is None:
            self._reading = sqlite3.connect(self.database)
        return self._reading.execute(sql, values).fetchall()

    def closes(self) -> None:
        """Let go of the database, as before its files are replaced."""
        if self._reading is not None:
            self._reading.close()
            self._reading = None
