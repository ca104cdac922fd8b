"""Somebody at the desk who asks for small pages, one after the other."""

from __future__ import annotations

import http.client
import re
import time
import urllib.parse
from dataclasses import dataclass, field
from pathlib import Path
from threading import Event

from tests.support.cast import PASSWORD, SIGNER, hashed_once
from webapp.db import connect
from webapp.people import accounts
from webapp.settings import load

_TOKEN = re.compile(rb'name="csrf_token"[^>]*value="([^"]+)"')


@dataclass(slots=True)
class Desk:
    """A signed-in person. `taken_ms`: what each request took, from end to end."""

    connection: http.client.HTTPConnection
    cookie: str = ""
    taken_ms: list[float] = field(default_factory=list)

    @classmethod
    def signs_in(cls, home: Path, port: int) -> Desk:
        """Sign in; the account is made when it is not there."""
        db = connect(load(home).database)
        if accounts.by_login(db, SIGNER.login) is None:
            accounts.add(db, SIGNER, hashed_once)
        db.conn.close()
        desk = cls(http.client.HTTPConnection("127.0.0.1", port, timeout=120))
        found = _TOKEN.search(desk.asks("/sign-in"))
        assert found is not None, "no form to sign in with"
        told = {
            "csrf_token": found[1].decode(),
            "login": SIGNER.login,
            "password": PASSWORD,
        }
        desk.asks("/sign-in", urllib.parse.urlencode(told).encode(), wanted=302)
        desk.taken_ms.clear()
        return desk

    def asks(self, path: str, form: bytes | None = None, wanted: int = 200) -> bytes:
        """Ask for a page, or send a form; return the page."""
        headers = {"Cookie": self.cookie, "Accept": "text/html"}
        if form is not None:
            headers["Content-Type"] = "application/x-www-form-urlencoded"
        began = time.perf_counter()
        self.connection.request("POST" if form else "GET", path, form, headers)
        response = self.connection.getresponse()
        page = response.read()
        self.taken_ms.append((time.perf_counter() - began) * 1000)
        if response.status != wanted:
            raise RuntimeError(f"{path}: {response.status} {page[:200]!r}")
        given = response.getheader("Set-Cookie")
        if given:
            self.cookie = given.split(";")[0]
        return page

    def keeps_asking(self, path: str, enough: Event) -> None:
        """Ask again and again until there is enough."""
        while not enough.is_set():
            self.asks(path)
