"""What every answer tells a browser not to allow, whatever page it is."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Any

from flask import Flask, Response, request

_Wsgi = Callable[[dict[str, Any], Any], Iterable[bytes]]
# This machine by IPv6. The web library compares no address with colons in it.
_OWN_V6 = re.compile(r"\[::1\](:[0-9]{1,5})?")

# Every page works without inline code, so none is allowed; photos are shown from
# memory, hence blob:; an empty data: keeps browsers from asking for an icon.
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self';"
    " img-src 'self' blob: data:;"
    " font-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self';"
    " form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
# The camera takes photos, the lock keeps a running case lit. Nothing else is used.
_USED = ("camera", "screen-wake-lock")
_UNUSED = (
    *("accelerometer", "autoplay", "display-capture", "encrypted-media"),
    *("fullscreen", "geolocation", "gyroscope", "hid", "idle-detection"),
    *("magnetometer", "microphone", "midi", "payment", "picture-in-picture"),
    *("publickey-credentials-get", "serial", "usb", "xr-spatial-tracking"),
)
PERMISSIONS = ", ".join(
    [*(f"{name}=(self)" for name in _USED), *(f"{name}=()" for name in _UNUSED)]
)
# Two years, common practice; no other host is spoken for.
STRICT_TRANSPORT = "max-age=63072000"
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "X-Frame-Options": "DENY",
    "Permissions-Policy": PERMISSIONS,
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}


def register(app: Flask) -> None:
    """Put the headers on every answer of `app` that does not set its own.

    A request for [::1] is read as one for localhost, which is the same machine.
    """
    app.wsgi_app = _own_by_v6(app.wsgi_app)  # type: ignore[assignment,method-assign]

    @app.after_request
    def guard(response: Response) -> Response:
        for name, value in HEADERS.items():
            response.headers.setdefault(name, value)
        if request.is_secure:
            response.headers.setdefault("Strict-Transport-Security", STRICT_TRANSPORT)
        return response


def _own_by_v6(wsgi: _Wsgi) -> _Wsgi:
    def answer(environ: dict[str, Any], start: Any) -> Iterable[bytes]:
        if asked := _OWN_V6.fullmatch(environ.get("HTTP_HOST", "")):
            environ["HTTP_HOST"] = "localhost" + (asked[1] or "")
        return wsgi(environ, start)

    return answer
