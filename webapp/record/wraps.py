"""The wraps of sealing keys: kept as they came, opened when needed."""

from __future__ import annotations

from collections.abc import Iterable

from sqlite_utils import Database

from webapp.record.keyring import Keyring
from webapp.record.seal import CannotOpen, Opener, Wrap, unwrap_key


class Keys:
    """The sealing keys of one request, from its own wraps and from those kept."""

    def __init__(self, keyring: Keyring, given: Iterable[Wrap]) -> None:
        self._keyring = keyring
        self._opened: dict[Wrap, bytes | None] = {}
        self._openers: dict[tuple[str, str, str], Opener | None] = {}
        self._wraps = {wrap.key: wrap for wrap in given if self.opens(wrap)}

    def add_kept(self, db: Database, keys: Iterable[str]) -> None:
        """Read the kept wraps of those of these keys that did not come along."""
        for key in keys:
            wrap = None if key in self._wraps else _kept(db, key)
            if wrap is not None:
                self._wraps[key] = wrap
                self._openers.clear()

    def key_for(self, key: str, record: str, log: str) -> bytes | None:
        """Return the key's bytes, if its wrap opens and is for this log and record."""
        wrap = self._wraps.get(key)
        is_for = wrap is not None and (wrap.record, wrap.log) == (record, log)
        return self._unwrapped(wrap) if wrap and is_for else None

    def opener_for(self, key: str, record: str, log: str) -> Opener | None:
        """Return what opens the seals of this key, made once; None as `key_for`."""
        place = (key, record, log)
        if place not in self._openers:
            known = self.key_for(key, record, log)
            self._openers[place] = Opener(known) if known else None
        return self._openers[place]

    def opens(self, wrap: Wrap) -> bool:
        """Return whether a key of this server opens the wrap."""
        return self._unwrapped(wrap) is not None

    def is_for_another_key(self, wrap: Wrap) -> bool:
        """Return whether the wrap is for a server key that is not here.

        Such a wrap is kept: the key may come back from a backup.
        """
        return self._keyring.get(wrap.server_key) is None

    def _unwrapped(self, wrap: Wrap) -> bytes | None:
        if wrap not in self._opened:
            self._opened[wrap] = self._try(wrap)
        return self._opened[wrap]

    def _try(self, wrap: Wrap) -> bytes | None:
        server_key = self._keyring.get(wrap.server_key)
        if server_key is None:
            return None
        try:
            return unwrap_key(wrap, server_key.private)
        except CannotOpen:
            return None


_INSERT = "INSERT INTO wrap VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (key) "
_UNLESS_KEPT = _INSERT + "DO NOTHING"
_INSTEAD = (
    _INSERT + "DO UPDATE SET server_key = excluded.server_key, epk = excluded.epk,"
    " nonce = excluded.nonce, wrapped = excluded.wrapped"
    " WHERE record = excluded.record AND log = excluded.log"
    " AND wrapped <> excluded.wrapped"
)


def keep(db: Database, tablet: str, wraps: Iterable[Wrap], keys: Keys) -> None:
    """Keep the wraps that are of use to anybody. Call inside `writing(db)`.

    A wrap that opens takes the place of one that came before; any other does not.
    """
    for w in wraps:
        if not (keys.opens(w) or keys.is_for_another_key(w)):
            continue
        db.conn.execute(
            _INSTEAD if keys.opens(w) else _UNLESS_KEPT,
            (w.key, w.record, w.log, tablet, w.server_key, w.epk, w.nonce, w.wrapped),
        )


def log_of(db: Database, key: str) -> str | None:
    """Return the log whose entries a kept key seals; None when it is not kept."""
    wrap = _kept(db, key)
    return wrap.log if wrap else None


def _kept(db: Database, key: str) -> Wrap | None:
    row = db.conn.execute(
        "SELECT key, record, log, server_key, epk, nonce, wrapped FROM wrap"
        " WHERE key = ?",
        (key,),
    ).fetchone()
    return Wrap(*row) if row else None
