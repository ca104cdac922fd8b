"""One tablet over one connection that stays open, as the product's own does."""

from __future__ import annotations

import base64
import http.client
import json
import time
from dataclasses import dataclass, field
from typing import Any

from tests.support.server import LiveServer
from webapp.db import connect
from webapp.people import tablets
from webapp.record.framing import MOST_ENTRIES, encode_push
from webapp.record.log import utc_now
from webapp.record.writer import SealedEntry, Writer
from webapp.settings import load

_TYPE = {"Content-Type": "application/wiremark-sync"}


class NotKept(RuntimeError):
    """The server did not count what it was sent: the measurement means nothing."""


@dataclass(slots=True)
class Client:
    """An enrolled tablet. `writer`: its log; `head`: the server's head it saw last.

    The record it wrote in first stays open: `since` says how far it holds it.
    """

    connection: http.client.HTTPConnection
    token: str
    writer: Writer
    head: dict[str, Any] | None = None
    open: str = ""
    since: int = 0
    batch_ms: list[float] = field(default_factory=list)

    @classmethod
    def enrols(cls, home: Any, port: int, name: str) -> Client:
        """Enrol at the server of this home by a one-time code."""
        db = connect(load(home).database)
        _, code = tablets.add(db, name)
        db.conn.close()
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=120)
        told = json.dumps({"code": code}).encode()
        headers = {"Content-Type": "application/json"}
        connection.request("POST", "/tablet/enrol", told, headers)
        given = json.loads(connection.getresponse().read())
        key = given["server_key"]
        writer = Writer(key["id"], base64.b64decode(key["spki"]))
        return cls(connection, given["token"], writer)

    def sends(self, entries: list[SealedEntry], batch: int = MOST_ENTRIES) -> float:
        """Send every entry and wait for each answer; return the seconds it took."""
        began = time.perf_counter()
        for start in range(0, len(entries), batch):
            sent = time.perf_counter()
            self.sends_one(entries[start : start + batch])
            self.batch_ms.append((time.perf_counter() - sent) * 1000)
        return time.perf_counter() - began

    def sends_one(self, entries: list[SealedEntry]) -> dict[str, Any]:
        """Send one batch until it is taken, and take in the reply.

        A server that asks to come again later is asked again then, as tablets do.
        Raises NotKept: when any entry was not kept and counted.
        """
        headers = {**_TYPE, "Authorization": f"Bearer {self.token}"}
        while True:
            self.connection.request("POST", "/sync", self._request(entries), headers)
            response = self.connection.getresponse()
            raw = response.read()
            if response.status != 503:
                break
            time.sleep(float(response.headers["Retry-After"]))
        if response.status != 200:
            raise NotKept(f"{response.status}: {raw[:500]!r}")
        reply: dict[str, Any] = json.loads(raw)
        for answer in reply["answers"]:
            if (answer["answer"], answer["counts"]) != ("kept", "counted"):
                raise NotKept(f"{answer}")
        self.head = reply["head"]
        for share in reply["pull"]:
            self.since = share["upto"]
        return reply

    def _request(self, entries: list[SealedEntry]) -> bytes:
        tip = entries[-1].header.seq
        self.open = self.open or entries[0].header.record
        opened = [{"record": self.open, "since": self.since, "tips": []}]
        head = {
            "v": 1,
            "catalogue": 1,
            "now": utc_now(),
            "logs": [{"log": self.writer.log, "tip": tip}],
            "wraps": [w.as_json() for w in self.writer.wraps_of(entries)],
            "entries": [e.as_json() for e in entries],
            "open": opened,
            "head": self.head,
            "pull_all": False,
        }
        return encode_push(head, [e.sealed for e in entries])


def enrolled(server: LiveServer, name: str) -> Client:
    """Return a tablet of the server, once the server answers and its database is made.

    The address of the catalogue is asked first: a connection waits until somebody
    takes it.
    """
    connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=120)
    connection.request("GET", "/catalogue.json")
    connection.getresponse().read()
    connection.close()
    return Client.enrols(server.home, server.port, name)
