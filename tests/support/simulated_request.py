"""What a simulated tablet sends in one request, by the rules of `outgoing.js`."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from tests.support.simulated_disk import Disk, Row
from webapp.record.framing import encode_push

MOST_HELD_TOLD = 2000


def request_of(disk: Disk, sent: list[Row], now: datetime) -> bytes:
    """Return the request's bytes: rows to send, and what is held of each record."""
    unsent = disk.unsent()
    headers = [row.entry.header for row in sent]
    keys = {disk.keys[header.log, header.record] for header in headers}
    head = {
        "v": 1,
        "catalogue": 1,
        "now": now.isoformat(),
        "logs": [{"log": log, "tip": tip} for log, tip in disk.tips.items()],
        "wraps": [key.wrap.as_json() for key in sorted(keys, key=lambda k: k.id)],
        "entries": [row.entry.as_json() for row in sent],
        "open": [_open(disk, record, unsent) for record in disk.records],
        "head": disk.head,
        "pull_all": False,
    }
    return encode_push(head, [row.entry.sealed for row in sent])


def _open(disk: Disk, record: str, unsent: list[Row]) -> dict[str, Any]:
    tips: dict[str, int] = {}
    for row in unsent:
        header = row.entry.header
        if header.record == record:
            tips[header.log] = max(tips.get(header.log, 0), header.seq)
    told = [{"log": log, "seq": seq} for log, seq in tips.items()]
    asked = {"record": record, "since": disk.since.get(record, 0), "tips": told}
    if not disk.tells:
        return asked
    pulled = disk.pulled.get(record, {}).values()
    return {**asked, "holds": [one.header for one in pulled][:MOST_HELD_TOLD]}
