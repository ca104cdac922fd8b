"""A tablet's data key, given back to somebody who proved who they are at the server."""

from __future__ import annotations

from typing import Any

from webapp.record.keyring import Keyring
from webapp.record.seal import CannotOpen, unwrap_key, wrap_from_json


def data_key_of(keyring: Keyring, tablet: str, given: Any) -> bytes | None:
    """Return the 32 bytes of a tablet's data key out of its wrap for the server.

    `given`: the wrap as the tablet kept it (`static/js/log/server-way.js`). None: it is
    no wrap, is another tablet's, or no key here opens it. The key's name is part of
    what is sealed, so no wrap of a record's key is opened by this way.
    """
    if not isinstance(given, dict) or given.get("key") != name_of(tablet):
        return None
    try:
        wrap = wrap_from_json(given)
        server_key = keyring.get(wrap.server_key)
        return unwrap_key(wrap, server_key.private) if server_key else None
    except CannotOpen:
        return None


def name_of(tablet: str) -> str:
    """Return the name under which a tablet wraps its data key."""
    return f"data key of {tablet}"
