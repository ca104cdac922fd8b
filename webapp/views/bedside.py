"""What a tablet loads: the shell's pages, its worker, catalogue and manifest."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from flask import Blueprint, Response, current_app, render_template

from webapp.catalogue import CATALOGUE
from webapp.catalogue.export import export
from webapp.clinical.policy_kept import handed_out
from webapp.forms import part_form
from webapp.joined_files import joined_script, joined_style
from webapp.paths import static_folder
from webapp.say import SAY, say
from webapp.shell import (
    Shell,
    fingerprint,
    shell_of,
    worker_source,
)

bp = Blueprint("bedside", __name__)

SCOPE = "/tablet/"
TABLET = "js/pages/tablet.js"
STYLE = "css/main.css"
ICONS = (
    ("icon-192.png", "192x192", "any"),
    ("icon-512.png", "512x512", "any"),
    ("icon-maskable-512.png", "512x512", "maskable"),
)
_TYPES = {
    "/catalogue.json": "application/json",
    "/tablet/": "text/html",
    "/tablet/enrol": "text/html",
    "/tablet/lock": "text/html",
    "/tablet/passphrase": "text/html",
    "/tablet/tablet.css": "text/css",
    "/tablet/tablet.js": "text/javascript",
    "/tablet/manifest.webmanifest": "application/manifest+json",
}


@dataclass(frozen=True, slots=True)
class _Made:
    """The shell as long as no static file changes."""

    static: tuple[tuple[str, int, int], ...]
    pages: dict[str, bytes]
    shell: Shell


@bp.get("/tablet/", defaults={"path": "/tablet/"})
@bp.get("/tablet/enrol", defaults={"path": "/tablet/enrol"})
@bp.get("/tablet/lock", defaults={"path": "/tablet/lock"})
@bp.get("/tablet/passphrase", defaults={"path": "/tablet/passphrase"})
@bp.get("/tablet/tablet.css", defaults={"path": "/tablet/tablet.css"})
@bp.get("/tablet/tablet.js", defaults={"path": "/tablet/tablet.js"})
@bp.get(
    "/tablet/manifest.webmanifest",
    defaults={"path": "/tablet/manifest.webmanifest"},
)
@bp.get("/catalogue.json", defaults={"path": "/catalogue.json"})
def page(path: str) -> Response:
    """Serve a page of the shell: the same bytes for everybody, without a session."""
    return _fresh(Response(_made().pages[path], content_type=_TYPES[path]))


@bp.get("/tablet/rehearsal")
def rehearsal() -> Response:
    """Serve the same shell; there it works in a database that is never sent."""
    return page("/tablet/")


@bp.get("/sw.js")
def worker() -> Response:
    """Serve the worker with the version and the list of what it keeps."""
    source = (static_folder() / "sw.js").read_text(encoding="utf-8")
    filled = worker_source(source, _made().shell)
    response = _fresh(Response(filled, content_type="text/javascript"))
    response.headers["Service-Worker-Allowed"] = SCOPE
    return response


def _fresh(response: Response) -> Response:
    response.headers["Cache-Control"] = "no-cache"
    return response


def _made() -> _Made:
    """Return the shell, made once: its forms take long to render."""
    static = fingerprint(static_folder())
    known = current_app.extensions.get("shell")
    if isinstance(known, _Made) and known.static == static and not current_app.debug:
        return known
    pages = _pages()
    worker_bytes = (static_folder() / "sw.js").read_bytes()
    made = _Made(static, pages, shell_of(pages, static_folder(), worker_bytes))
    current_app.extensions["shell"] = made
    return made


def _pages() -> dict[str, bytes]:
    forms = {part.name: part_form(part)(formdata=None) for part in CATALOGUE.parts}
    shell = render_template(
        "bedside/shell.html",
        catalogue=CATALOGUE,
        parts=CATALOGUE.parts,
        forms=forms,
    )
    limits = handed_out(current_app.extensions["limits"])
    return {
        "/catalogue.json": _json(export(CATALOGUE, SAY, limits)),
        "/tablet/": shell.encode(),
        "/tablet/enrol": render_template("bedside/enrol.html").encode(),
        "/tablet/lock": render_template("bedside/lock.html").encode(),
        "/tablet/passphrase": render_template("bedside/passphrase.html").encode(),
        "/tablet/tablet.css": joined_style(static_folder(), STYLE),
        "/tablet/tablet.js": joined_script(static_folder(), TABLET),
        "/tablet/manifest.webmanifest": _json(_manifest()),
    }


def _manifest() -> dict[str, Any]:
    return {
        "id": SCOPE,
        "name": say("shell.name"),
        "short_name": say("shell.name"),
        "description": say("shell.description"),
        "lang": "en",
        "start_url": SCOPE,
        "scope": SCOPE,
        "display": "standalone",
        "background_color": "#0b0f10",
        "theme_color": "#0b0f10",
        "icons": [
            {
                "src": f"/static/icons/{name}",
                "sizes": sizes,
                "type": "image/png",
                "purpose": purpose,
            }
            for name, sizes, purpose in ICONS
        ],
    }


def _json(data: dict[str, Any]) -> bytes:
    return json.dumps(data, ensure_ascii=False, separators=(",", ":")).encode()
