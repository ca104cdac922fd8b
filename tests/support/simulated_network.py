"""What a request may meet on its way: loss, delay, repetition, cuts, a dying server."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

from tests.support.simulated_server import ServerDied, SimulatedServer
from tests.support.transport import Reply, Unreachable

# The network's own faults; the last two are the server's, met by the same request.
FAULTS = (
    "drop_before",
    "drop_after",
    "twice",
    "twice_late",
    "hold_back",
    "cut_request",
    "cut_answer",
    "garbled",
    "server_dies",
    "meanwhile",
)


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault. `at`: a cut's place in percent, or the statement of the server.

    `after`, `rows`: see `Watch`; `other`: who asks in the middle of this request.
    """

    kind: str
    at: int = 0
    after: bool = False
    rows: int = 0
    other: int = 0


@dataclass(frozen=True, slots=True)
class Request:
    """A request as it stands on the wire. `is_garbled`: a byte of it was changed."""

    path: str
    body: bytes
    headers: dict[str, str]
    is_garbled: bool = False


@dataclass
class SimulatedNetwork:
    """Carries requests to one server; the next one meets `fault`.

    `on_arrival`: called with each request that reaches the server whole, and what it
    returns with the reply that came of it, None when the server died.
    `calls`: exchanges of another tablet, by its number.
    """

    server: SimulatedServer
    on_arrival: Callable[[Request], Callable[[Reply | None], None]]
    calls: Callable[[int], None]
    fault: Fault | None = None
    held_back: list[Request] = field(default_factory=list)

    def post(self, path: str, body: bytes, headers: dict[str, str]) -> Reply:
        """Carry a request, and its answer back. Raises Unreachable."""
        request, fault = Request(path, body, dict(headers)), self.fault
        self.fault = None
        if fault is None:
            return self.delivers(request)
        carries: Any = getattr(self, f"_{fault.kind}")
        reply: Reply = carries(request, fault)
        return reply

    def delivers(self, request: Request) -> Reply:
        """Bring a request to the server now. Raises Unreachable: when it dies."""
        learns = self.on_arrival(request)
        try:
            reply = self.server.post(request.path, request.body, request.headers)
        except ServerDied as died:
            learns(None)
            raise Unreachable("the server died") from died
        learns(reply)
        return reply

    def delivers_late(self, number: int) -> None:
        """Bring one of the requests held back to the server; nobody awaits it."""
        if self.held_back:
            self.delivers(self.held_back.pop(number % len(self.held_back)))

    def _drop_before(self, request: Request, fault: Fault) -> Reply:
        raise Unreachable("the request was lost")

    def _drop_after(self, request: Request, fault: Fault) -> Reply:
        self.delivers(request)
        raise Unreachable("the answer was lost")

    def _twice(self, request: Request, fault: Fault) -> Reply:
        first = self.delivers(request)
        second = self.delivers(request)
        return second if fault.after else first

    def _twice_late(self, request: Request, fault: Fault) -> Reply:
        self.held_back.append(request)
        return self.delivers(request)

    def _hold_back(self, request: Request, fault: Fault) -> Reply:
        self.held_back.append(request)
        raise Unreachable("no answer in time")

    def _cut_request(self, request: Request, fault: Fault) -> Reply:
        part = request.body[: len(request.body) * fault.at // 100]
        reply = self.server.post(request.path, part, request.headers)
        assert 400 <= reply.status < 500, f"a cut request got {reply}"
        raise Unreachable("the request was cut")

    def _cut_answer(self, request: Request, fault: Fault) -> Reply:
        self.delivers(request)
        return Reply(200, None)

    def _garbled(self, request: Request, fault: Fault) -> Reply:
        """Change one byte of the sealed bodies; the answer is lost as well."""
        raw = bytearray(request.body)
        sealed = 4 + int.from_bytes(raw[:4], "big")
        if sealed < len(raw):
            raw[sealed + (len(raw) - sealed) * fault.at // 100] ^= 1
        self.delivers(replace(request, body=bytes(raw), is_garbled=True))
        raise Unreachable("the answer was lost")

    def _server_dies(self, request: Request, fault: Fault) -> Reply:
        watch = self.server.watch
        watch.dies_at, watch.after, watch.rows = fault.at, fault.after, fault.rows
        return self.delivers(request)

    def _meanwhile(self, request: Request, fault: Fault) -> Reply:
        watch = self.server.watch
        watch.calls_at, watch.calls = fault.at, lambda: self.calls(fault.other)
        return self.delivers(request)
