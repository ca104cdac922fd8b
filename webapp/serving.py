"""How a site is served: the one place where the server's own limits stand."""

from __future__ import annotations

import gc
import sys
from typing import Any

from flask import Flask
from waitress import serve as wait

from webapp.app import MAX_BODY_BYTES
from webapp.views.turns import MOST_NOTES_WAITING, MOST_WAITING

# Measured with tests/bench/load_bench.py. Large batches and notes take turns; those
# that wait must leave some threads to small requests, which more threads do not make
# quicker.
OPTIONS: dict[str, Any] = {
    "threads": MOST_WAITING + MOST_NOTES_WAITING + 4,
    # Each tablet keeps one connection open, each browser at a desk up to six.
    "connection_limit": 300,
    # A tablet with nothing to say asks every half minute over the same connection.
    "channel_timeout": 120,
    # Else a stranger could fill the disk before the application looks.
    "max_request_body_size": MAX_BODY_BYTES,
    # A whole hospital's tablets may come back in the same second.
    "backlog": 1024,
    "ident": None,
    # A large batch comes in a few pieces then, not in fifty.
    "recv_bytes": 65536,
}
# How long one thread may keep Python's lock from another that the database let go.
SWITCH_S = 0.001
# So many new objects start a search for garbage. A large batch makes half as many,
# and leaves none behind: with the usual number it was searched again and again.
GARBAGE_AT = 20_000

# What is believed of the one proxy a site names, and removed from anybody else's
# request: who asked, and whether by TLS.
PROXY_HEADERS = {"x-forwarded-for", "x-forwarded-proto"}


def behind(proxy: str) -> dict[str, Any]:
    """Return the server's options for the proxy at this address; none for ""."""
    if not proxy:
        return {"clear_untrusted_proxy_headers": True}
    return {
        "trusted_proxy": proxy,
        "trusted_proxy_count": 1,
        "trusted_proxy_headers": PROXY_HEADERS,
        "clear_untrusted_proxy_headers": True,
    }


def serve(app: Flask, **where: Any) -> None:
    """Serve until stopped. `where`: host and port, or sockets that listen already."""
    sys.setswitchinterval(SWITCH_S)
    # What stands now stands until the end: looking through it again and again for
    # garbage took a twelfth of every large batch.
    gc.collect()
    gc.freeze()
    gc.set_threshold(GARBAGE_AT, 10, 10)
    proxy = app.config["SETTINGS"].trusted_proxy
    wait(app, **where, **OPTIONS, **behind(proxy))
