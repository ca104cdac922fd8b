"""What can go wrong, and the one shape in which it is told.

WiremarkError            anything a request may be answered with
├── BadRequest      400  the request does not say what it must
├── Unauthorized    401  nobody, or nobody we know
├── Forbidden       403  somebody, but not for this
├── NotFound        404  no such thing, or not theirs to know of
├── Conflict        409  it changed meanwhile
├── TooLarge        413  more than one request may carry
└── Busy            503  too many ask for much at once; it may be asked again

sqlite3.OperationalError: a writer waited too long (503), or the disk is full (507).
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from flask import Flask, Response, jsonify, render_template, request
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException, SecurityError

from webapp.say import say


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with one field. `code` is stable, `message` is for people."""

    field: str
    code: str
    message: str


class WiremarkError(Exception):
    """An answer that is not the one asked for."""

    status = 500
    key = "error.server"

    def __init__(self, message: str = "", problems: tuple[Problem, ...] = ()) -> None:
        super().__init__(message or say(self.key))
        self.problems = problems


class BadRequest(WiremarkError):
    """The request does not say what it must."""

    status, key = 400, "error.bad_request"


class Unauthorized(WiremarkError):
    """Nobody, or nobody we know."""

    status, key = 401, "error.unauthorized"


class Forbidden(WiremarkError):
    """Somebody, but not for this."""

    status, key = 403, "error.forbidden"


class NotFound(WiremarkError):
    """No such thing, or not theirs to know of."""

    status, key = 404, "error.not_found"


class Conflict(WiremarkError):
    """It changed meanwhile."""

    status, key = 409, "error.conflict"


class TooLarge(WiremarkError):
    """More than one request may carry."""

    status, key = 413, "error.too_large"


class Busy(WiremarkError):
    """Too many ask for much at once. Nothing was done; it may be asked again."""

    status, key = 503, "error.busy"


# Below what the web library reads of a form.
MOST_TYPED_BYTES = 400 * 1024
# Of SQLite's extended codes the low byte is the kind.
_KIND = 0xFF
_BUSY = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
RETRY_AFTER_S = 5

_KEYS = {
    400: "error.bad_request",
    401: "error.unauthorized",
    403: "error.forbidden",
    404: "error.not_found",
    405: "error.method",
    409: "error.conflict",
    413: "error.too_large",
}


def error_body(
    status: int, message: str, problems: tuple[Problem, ...] = ()
) -> dict[str, object]:
    """Return the one JSON shape of every error."""
    told = [{"field": p.field, "code": p.code, "message": p.message} for p in problems]
    return {"ok": False, "error": message, "errors": told, "status": status}


def answer(
    status: int, message: str, problems: tuple[Problem, ...] = ()
) -> tuple[Response | str, int]:
    """Tell an error as a page to a person and as JSON to a program."""
    accepts = request.accept_mimetypes
    wants_page = accepts.best_match(["application/json", "text/html"]) == "text/html"
    if wants_page and accepts["text/html"] > accepts["application/json"]:
        page = render_template(
            "error.html",
            status=status,
            message=message,
            problems=problems,
            typed=_typed_words(),
        )
        return page, status
    return jsonify(error_body(status, message, problems)), status


def _typed_words() -> list[str]:
    """Return what a person typed into a form that was not taken, to be copied.

    Secrets, tokens and what the page itself put into its form are left out.
    """
    if request.method != "POST" or request.content_length is None:
        return []
    if request.content_length > MOST_TYPED_BYTES:
        return []
    ours = {"csrf_token", "path", "seen", "digest", "upto", "entry", "take_up"}
    return [
        text
        for name, text in request.form.items(multi=True)
        if name not in ours and "password" not in name and text.strip()
    ]


def _later(app: Flask, status: int, key: str) -> Response:
    told = app.make_response(answer(status, say(key)))
    told.headers["Retry-After"] = str(RETRY_AFTER_S)
    if request.method == "GET":
        # A person who only reads need not ask again by hand.
        told.headers["Refresh"] = str(RETRY_AFTER_S)
    return told


def register(app: Flask) -> None:
    """Answer every failure of `app` in the one shape."""

    @app.errorhandler(WiremarkError)
    def ours(error: WiremarkError) -> tuple[Response | str, int]:
        return answer(error.status, str(error), error.problems)

    @app.errorhandler(Busy)
    def busy(error: Busy) -> Response:
        return _later(app, error.status, error.key)

    @app.errorhandler(sqlite3.OperationalError)
    def database(error: sqlite3.OperationalError) -> Response:
        kind = getattr(error, "sqlite_errorcode", 0) & _KIND
        if kind in _BUSY:
            # Nothing of the request is kept: whoever sent it sends it again.
            return _later(app, 503, "error.busy")
        if kind == sqlite3.SQLITE_FULL:
            app.logger.error("the disk is full: %s", error)
            return _later(app, 507, "error.disk_full")
        raise error

    @app.errorhandler(CSRFError)
    def form_expired(_: CSRFError) -> tuple[Response | str, int]:
        return answer(400, say("error.form_expired"))

    @app.errorhandler(SecurityError)
    def other_host(_: SecurityError) -> Response:
        # A page would want addresses, and none can be made for a host not ours.
        said = say("error.host")
        if request.accept_mimetypes.best == "text/html":
            return Response(said, 400, mimetype="text/plain")
        told = jsonify(error_body(400, said))
        told.status_code = 400
        return told

    @app.errorhandler(HTTPException)
    def theirs(error: HTTPException) -> tuple[Response | str, int] | HTTPException:
        status = error.code or 500
        if status < 400:
            return error
        fallback = "error.server" if status >= 500 else "error.bad_request"
        key = _KEYS.get(status, fallback)
        return answer(status, say(key))
