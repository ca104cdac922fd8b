"""A tablet on a simulated disk, by the rules of `static/js/log/` and `static/js/sync/`.

Everything it knows lies on its disk but the person's grant; it may die at any commit,
and be put back to an older disk. Its own log then ends, and what stands in places that
are taken is given new ones (`incoming.js`, `refile.js`).
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import datetime
from random import Random
from typing import Any

from tests.support.simulated_disk import Battery, Disk, Key, Pulled, Row, Ruling
from tests.support.simulated_request import request_of
from tests.support.tablet import CONTENT_TYPE, SOMEBODY, stamp
from tests.support.transport import Reply, Transport
from webapp.record.entry import (
    VERSION,
    Header,
    decode_body,
    decode_header,
    encode_body,
    uuid7,
)
from webapp.record.fold import Opened, fold
from webapp.record.seal import KEY_BYTES, seal, wrap_key
from webapp.record.writer import SealedEntry

# Small, so that a schedule of a few entries needs several requests.
BATCH = 6


@dataclass(frozen=True, slots=True)
class Enrolled:
    """What a tablet was given when it was enrolled. `spki`: the server's public key."""

    name: str
    token: str
    server_key: str
    spki: bytes
    zone: str


@dataclass
class SimulatedTablet:
    """One tablet. `disk` is all that is left of it after it died."""

    enrolled: Enrolled
    transport: Transport
    chance: Random
    now: Callable[[], datetime]
    disk: Disk
    battery: Battery = field(default_factory=Battery)
    grant: str | None = None
    is_closed_out: bool = False

    @property
    def name(self) -> str:
        """Return what the tablet is called."""
        return self.enrolled.name

    def restarts(self, disk: Disk | None = None) -> None:
        """Start again on its disk, or on an older copy of it."""
        self.disk = disk or self.disk
        self.battery = Battery()
        self.grant = None

    def asks_for(self, record: str) -> None:
        """Open a record that is known elsewhere."""
        self._commits(replace(self.disk, asked=self.disk.asked | {record}))

    def signs_in(self, name: str, password: str) -> None:
        """Get a person's grant, which lasts until the tablet restarts."""
        told = json.dumps({"name": name, "password": password}).encode()
        headers = {**self._headers(), "Content-Type": "application/json"}
        reply = self.transport.post("/tablet/person", told, headers)
        assert reply.status == 200, reply
        self.grant = reply.json["grant"]

    def shows(self, record: str) -> dict[str, Any]:
        """Fold what this tablet holds of a record."""
        return fold(self.disk.entries_of(record))

    def writes(self, record: str, path: str, op: str, value: Any, told: Any) -> None:
        """Keep one entry. `told`: called with the row just before it is committed."""
        body = {
            "path": path,
            "op": op,
            "value": value,
            "seen": self._heads(record, path) if op == "set" else [],
            "at": {
                **stamp(self.enrolled.zone, self.now()),
                "skew_ms": self.disk.skew_ms,
            },
            "author": SOMEBODY,
            "entered_by": SOMEBODY,
            "called_by": None,
            "source": "seen",
            "how": "typed",
            "salt": self.chance.randbytes(16).hex(),
        }
        raw = encode_body(body)
        row, key = self._placed(self.disk, record, uuid7(), raw)
        told(row)
        self._commits(self.disk.with_row(row, key))

    def syncs(self, most: int = 30) -> None:
        """Exchange until nothing more is to be had. Raises Unreachable, TabletDied."""
        for _ in range(most):
            if not self.exchanges():
                return
        raise AssertionError(f"{self.name} never comes to an end of its exchanges")

    def exchanges(self) -> bool:
        """Exchange once; return whether another exchange may follow at once."""
        waiting = self.disk.to_offer()
        sent = waiting[:BATCH]
        sent_at = self.now()
        reply = self.transport.post("/sync", self._request(sent), self._headers())
        if reply.json is None:
            return False
        assert reply.status == 200, f"{self.name} was answered {reply}"
        return self._takes_in(sent, reply, sent_at) or len(waiting) > len(sent)

    def _request(self, sent: list[Row]) -> bytes:
        return request_of(self.disk, sent, self.now())

    def _takes_in(self, sent: list[Row], reply: Reply, sent_at: datetime) -> bool:
        told, before = reply.json, self.disk
        held = {log["log"]: log["held"] for log in told["logs"]}
        answers = {answer["id"]: answer for answer in told["answers"]}
        taken = {i for i, a in answers.items() if a["answer"] == "conflict"}
        is_taken = any(_id(row) in taken and not row.moved for row in sent)
        is_ahead = held.get(before.log, 0) > before.tips.get(before.log, 0)
        is_behind = is_taken or is_ahead
        went_back = told["went_back"]
        upto = {share["record"]: share["upto"] for share in told["pull"]}
        since = {} if is_behind else {**({} if went_back else before.since), **upto}
        self._commits(
            replace(
                before,
                log=uuid7() if is_behind else before.log,
                rulings=self._rulings(sent, told, held),
                pulled=self._pulled(told["pull"]),
                since=since,
                held=held,
                sure={} if went_back else before.sure_after(set(answers)),
                head=told["head"],
                skew_ms=_skew_ms(sent_at, self.now(), told["server_time"]),
                # One that forgot what it was told was put back too.
                tells=went_back or told["lost"] < before.lost,
                lost=told["lost"],
            )
        )
        self.is_closed_out = any(share.get("closed") for share in told["pull"])
        is_moved = self._refiles()
        more = any(share["more"] for share in told["pull"])
        return is_behind or is_moved or went_back or more

    def _rulings(
        self, sent: list[Row], told: dict[str, Any], held: dict[str, int]
    ) -> dict[str, Ruling]:
        rulings = {} if told["went_back"] else dict(self.disk.rulings)
        places = {_id(row): row.entry.header for row in sent}
        ruled = [
            (places[a["id"]], Ruling(a["answer"], a["counts"]))
            for a in told["answers"]
            if a["id"] in places
        ]
        for header, entry in self._given(told["pull"]):
            if self._is_own(header):
                is_erased = entry["counts"] == "counted" and entry["body"] is None
                before = rulings.get(header.id)
                is_answered = header.id in places or bool(before and before.is_answer)
                word = Ruling("kept", entry["counts"], is_erased, is_answered)
                ruled.append((header, word))
        for header, ruling in ruled:
            if ruling.is_noteworthy or header.seq > held.get(header.log, 0):
                rulings[header.id] = ruling
            else:
                rulings.pop(header.id, None)
        return rulings

    def _pulled(self, shares: list[dict[str, Any]]) -> dict[str, dict[str, Pulled]]:
        pulled = {record: dict(of) for record, of in self.disk.pulled.items()}
        for header, entry in self._given(shares):
            if not self._is_own(header):
                one = Pulled(entry["header"], _opened(header, entry), entry["counts"])
                pulled.setdefault(header.record, {})[header.id] = one
        return pulled

    @staticmethod
    def _given(shares: list[dict[str, Any]]) -> list[tuple[Header, dict[str, Any]]]:
        entries = [entry for share in shares for entry in share["entries"]]
        return [(decode_header(e["header"].encode()), e) for e in entries]

    def _is_own(self, header: Header) -> bool:
        return header.seq <= self.disk.tips.get(header.log, 0)

    def _refiles(self) -> bool:
        """Give entries whose place was taken by others a place in the log of now."""
        conflicts = {i for i, r in self.disk.rulings.items() if r.answer == "conflict"}
        displaced = [
            (place, row)
            for place, row in sorted(self.disk.rows.items())
            if _id(row) in conflicts and not row.moved and place[0] != self.disk.log
        ]
        for place, row in displaced:
            self._refiles_one(place, row)
        return bool(displaced)

    def _refiles_one(self, place: tuple[str, int], row: Row) -> None:
        log, seq = place
        moved, key = self._placed(
            self.disk, row.entry.header.record, _id(row), row.entry.body
        )
        disk = self.disk.with_row(replace(moved, moved=True), key)
        self._commits(
            replace(
                disk,
                rows={at: one for at, one in disk.rows.items() if at != place},
                rulings={i: r for i, r in disk.rulings.items() if i != _id(row)},
                tips={**disk.tips, log: min(disk.tips[log], seq - 1)},
                # What stands in that place is another's from now on: pulled again.
                since={},
            )
        )

    def _placed(
        self, disk: Disk, record: str, entry_id: str, body: bytes
    ) -> tuple[Row, Key]:
        log, seq = disk.place_after()
        key = disk.keys.get((log, record)) or self._new_key(log, record)
        header = Header(VERSION, entry_id, record, log, seq, key.id)
        sealed = seal(key.raw, header.encode(), body)
        return Row(SealedEntry(header, body, sealed), decode_body(body)), key

    def _new_key(self, log: str, record: str) -> Key:
        key_id, raw = uuid7(), self.chance.randbytes(KEY_BYTES)
        server, spki = self.enrolled.server_key, self.enrolled.spki
        return Key(key_id, raw, wrap_key(key_id, raw, record, log, server, spki))

    def _heads(self, record: str, path: str) -> list[str]:
        heads = self.shows(record)["values"].get(path, [])
        return [entry for head in heads for entry in head["entries"]]

    def _commits(self, disk: Disk) -> None:
        def write() -> None:
            self.disk = disk

        self.battery.commits(write)

    def _headers(self) -> dict[str, str]:
        headers = {
            "Authorization": f"Bearer {self.enrolled.token}",
            "Content-Type": CONTENT_TYPE,
        }
        return {**headers, "X-Person-Grant": self.grant} if self.grant else headers


def _id(row: Row) -> str:
    return row.entry.header.id


def _opened(header: Header, entry: dict[str, Any]) -> Opened | None:
    if entry["counts"] != "counted" or entry["body"] is None:
        return None
    body = decode_body(entry["body"].encode())
    return Opened(header.id, header.log, header.seq, body)


def _skew_ms(sent_at: datetime, got_at: datetime, server_time: str) -> int:
    middle = sent_at + (got_at - sent_at) / 2
    return round((middle - datetime.fromisoformat(server_time)).total_seconds() * 1000)
