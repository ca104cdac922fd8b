"""A withdrawn record is kept, and opened only with a reason, which is written down."""

from __future__ import annotations

from flask import session

from webapp.record.addenda import is_withdrawn
from webapp.record.open_record import OpenRecord

_OPENED = "withdrawn"
_MOST = 20


class NeedsReason(Exception):
    """The record was withdrawn, and nobody said yet why it is opened."""

    def __init__(self, record: str) -> None:
        super().__init__(record)
        self.record = record


def guard_withdrawn(found: OpenRecord) -> None:
    """Let a record be read. Raises NeedsReason: it was withdrawn, no reason given."""
    if is_withdrawn(found.case) and found.id not in session.get(_OPENED, []):
        raise NeedsReason(found.id)


def remember(record: str) -> None:
    """Let this session read a withdrawn record from now on."""
    session[_OPENED] = [*session.get(_OPENED, [])[-_MOST:], record]
