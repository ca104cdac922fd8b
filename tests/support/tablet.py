"""A tablet made of Python that speaks the real protocol.

It seals what it writes, keeps what it pulls, sends from what the server says it
holds, and can lose a reply or send a batch twice.
"""

from __future__ import annotations

import base64
import json
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from tests.support.transport import Reply, Transport
from webapp.record.entry import decode_body, decode_header, uuid7
from webapp.record.fold import Opened, fold
from webapp.record.framing import MOST_ENTRIES, encode_push
from webapp.record.log import utc_now
from webapp.record.writer import Draft, SealedEntry, Writer

CONTENT_TYPE = "application/wiremark-sync"
SOMEBODY = {"person": None, "name": "Test-Mira FJORDHOLM", "role": "assistant"}


class NotEnrolled(AssertionError):
    """The server did not take the code."""


@dataclass(frozen=True)
class PulledEntry:
    """An entry the server gave. `body` is None when it gave no text."""

    header: bytes
    body: str | None
    position: int
    counts: str


@dataclass
class Tablet:
    """One enrolled tablet with one log. `who`: the person named at it now.

    `tells`: the server went back, and is told next what is held of others.
    """

    transport: Transport
    id: str
    name: str
    token: str
    writer: Writer
    people: list[dict[str, str]]
    zone: str
    who: dict[str, Any] = field(default_factory=lambda: dict(SOMEBODY))
    grant: str | None = None
    own: list[SealedEntry] = field(default_factory=list)
    records: list[str] = field(default_factory=list)
    pulled: dict[str, dict[str, PulledEntry]] = field(default_factory=dict)
    since: dict[str, int] = field(default_factory=dict)
    set_aside: dict[str, str] = field(default_factory=dict)
    held: int = 0
    head: dict[str, Any] | None = None
    tells: bool = False

    @classmethod
    def enrols(
        cls, transport: Transport, code: str, former: str | None = None
    ) -> Tablet:
        """Enrol with a one-time code; `former`: the token held before, if any."""
        headers = {"Content-Type": "application/json"}
        if former:
            headers["Authorization"] = f"Bearer {former}"
        told = json.dumps({"code": code}).encode()
        reply = transport.post("/tablet/enrol", told, headers)
        if reply.status != 200:
            raise NotEnrolled(f"{reply.status}: {reply.json}")
        given = reply.json
        key = given["server_key"]
        writer = Writer(key["id"], base64.b64decode(key["spki"]))
        tablet = given["tablet"]
        return cls(
            transport,
            tablet["id"],
            tablet["name"],
            given["token"],
            writer,
            given["people"],
            given["zone"],
        )

    def opens(self, record: str | None = None) -> str:
        """Open a record: a new one, or one that is known elsewhere."""
        found = record or uuid7()
        if found not in self.records:
            self.records.append(found)
        return found

    def sets(
        self, record: str, path: str, value: Any, seen: list[str] | None = None, **rest
    ) -> str:
        """Write a value, having seen what this tablet shows there now."""
        shown = self._heads(record, path) if seen is None else seen
        return self._writes(record, path, "set", value, shown, rest)

    def adds(self, record: str, path: str, row: dict[str, Any], **rest) -> str:
        """Add a row to a group."""
        return self._writes(record, path, "add", row, [], rest)

    def strikes(
        self, record: str, path: str, entry: str, reason: str | None = None, **rest
    ) -> str:
        """Strike a row, or a strike."""
        value = {"strikes": entry, "reason": reason}
        return self._writes(record, path, "strike", value, [], rest)

    def adds_wire(self, record: str, name: str = "Wire 1") -> str:
        """Add the wire that per-wire paths name; return its id."""
        return self.adds(record, "wires", {"name": name})

    def writes_bytes(self, record: str, body: bytes) -> str:
        """Seal bytes that need not be a body at all."""
        self.opens(record)
        entry = self.writer.write_body(record, uuid7(), body)
        self.own.append(entry)
        return entry.header.id

    def signs_in(self, name: str, password: str) -> Reply:
        """Ask for a person's grant; keep it when it is given."""
        told = json.dumps({"name": name, "password": password}).encode()
        headers = {**self._headers(), "Content-Type": "application/json"}
        reply = self.transport.post("/tablet/person", told, headers)
        if reply.status == 200:
            self.grant = reply.json["grant"]
        return reply

    def syncs(self) -> dict[str, Any]:
        """Exchange until nothing is left to send or to fetch; return the last reply."""
        while True:
            before = self.held
            reply = self.exchanges()
            is_more = any(share["more"] for share in reply["pull"]) or self.tells
            # A gap that the server does not close must not loop for ever.
            is_moving = self.unsent() and self.held > before
            if not is_more and not is_moving:
                return reply

    def exchanges(self, batch: list[SealedEntry] | None = None) -> dict[str, Any]:
        """Send one request, take in its reply, and return it."""
        reply = self.posts(self.request(batch))
        assert reply.status == 200, reply
        self._takes_in(reply.json)
        return reply.json

    def loses_reply(self) -> None:
        """Send one request whose reply never arrives."""
        assert self.posts(self.request()).status == 200

    def unsent(self, limit: int | None = MOST_ENTRIES) -> list[SealedEntry]:
        """Return the entries behind what the server is known to hold."""
        return [e for e in self.own if e.header.seq > self.held][:limit]

    def request(self, batch: list[SealedEntry] | None = None, **changes: Any) -> bytes:
        """Return a request's bytes; `changes` replace keys of its head."""
        entries = self.unsent() if batch is None else batch
        tip = {"log": self.writer.log, "seq": self.writer.tip}
        unsent_records = {e.header.record for e in self.unsent(limit=None)}
        head = {
            "v": 1,
            "catalogue": 1,
            "now": utc_now(),
            "logs": [{"log": self.writer.log, "tip": self.writer.tip}],
            "wraps": [w.as_json() for w in self.writer.wraps_of(entries)],
            "entries": [e.as_json() for e in entries],
            "open": [
                {
                    "record": record,
                    "since": self.since.get(record, 0),
                    "tips": [tip] if record in unsent_records else [],
                    **({"holds": self._holds(record)} if self.tells else {}),
                }
                for record in self.records
            ],
            "head": self.head,
            "pull_all": False,
            **changes,
        }
        return encode_push(head, [e.sealed for e in entries])

    def posts(self, body: bytes, **headers: str) -> Reply:
        """Post bytes to `/sync` under this tablet's token."""
        return self.transport.post("/sync", body, {**self._headers(), **headers})

    def fold(self, record: str) -> dict[str, Any]:
        """Fold what this tablet holds: its own and what it pulled."""
        own = [
            Opened(e.header.id, e.header.log, e.header.seq, decode_body(e.body))
            for e in self.own
            if e.header.record == record and e.header.id not in self.set_aside
        ]
        return fold([*own, *self._pulled_entries(record)])

    def shows(self, record: str, path: str) -> list[Any]:
        """Return the values this tablet shows under a path: two are two answers."""
        heads = self.fold(record)["values"].get(path, [])
        return [head["value"] for head in heads]

    def _heads(self, record: str, path: str) -> list[str]:
        heads = self.fold(record)["values"].get(path, [])
        return [entry for head in heads for entry in head["entries"]]

    def _holds(self, record: str) -> list[str]:
        headers = [e.header for e in self.pulled.get(record, {}).values()]
        others = [h for h in headers if decode_header(h).log != self.writer.log]
        return [header.decode() for header in others]

    def _pulled_entries(self, record: str) -> list[Opened]:
        found = []
        for entry in self.pulled.get(record, {}).values():
            header = decode_header(entry.header)
            if entry.counts == "counted" and entry.body is not None:
                body = decode_body(entry.body.encode())
                found.append(Opened(header.id, header.log, header.seq, body))
        return found

    def _writes(
        self,
        record: str,
        path: str,
        op: str,
        value: Any,
        seen: list[str],
        rest: dict[str, Any],
    ) -> str:
        self.opens(record)
        said = {
            "at": stamp(self.zone),
            "author": self.who,
            "entered_by": self.who,
            "called_by": None,
            "source": "seen",
            "how": "typed",
            **rest,
        }
        draft = Draft(uuid7(), path, op, value, tuple(seen), **said)
        self.own.append(self.writer.write(record, draft))
        return draft.id

    def _takes_in(self, reply: dict[str, Any]) -> None:
        if reply["went_back"]:
            self.since.clear()
        for answer in reply["answers"]:
            if answer["counts"] == "set_aside":
                self.set_aside[answer["id"]] = answer["because"]
        held = {log["log"]: log["held"] for log in reply["logs"]}
        self.held = held.get(self.writer.log, self.held)
        self.head = reply["head"]
        self.tells = reply["went_back"]
        for share in reply["pull"]:
            kept = self.pulled.setdefault(share["record"], {})
            for entry in share["entries"]:
                header = entry["header"].encode()
                entry_id = decode_header(header).id
                kept[entry_id] = PulledEntry(
                    header, entry["body"], entry["position"], entry["counts"]
                )
                if entry["counts"] == "counted":
                    # What was set aside may count later.
                    self.set_aside.pop(entry_id, None)
            self.since[share["record"]] = share["upto"]

    def _headers(self) -> dict[str, str]:
        headers = {
            "Authorization": f"Bearer {self.token}",
            "Content-Type": CONTENT_TYPE,
        }
        if self.grant:
            headers["X-Person-Grant"] = self.grant
        return headers


def stamp(zone: str, moment: datetime | None = None) -> dict[str, Any]:
    """Return an entry's `at` for a moment, or for now."""
    at = (moment or datetime.now(UTC)).astimezone(UTC)
    offset = at.astimezone(ZoneInfo(zone)).utcoffset()
    assert offset is not None
    utc = at.strftime("%Y-%m-%dT%H:%M:%S.") + f"{at.microsecond // 1000:03d}Z"
    minutes = int(offset.total_seconds() // 60)
    return {"utc": utc, "zone": zone, "offset_min": minutes, "skew_ms": 0}
