"""The server behind a real TLS proxy: what a browser gets, and whose address counts."""

import http.client
import re
import socket
from urllib.parse import urlencode

import pytest

from tests.support.cast import PASSWORD
from tests.support.server import LiveServer
from tests.support.tls_proxy import NAME, TlsProxy
from webapp.people import access_log
from webapp.settings import load

BEHIND = '\nhosts = ["pacing.example"]\ntrusted_proxy = "127.0.0.1"\n'
FORGED = "203.0.113.66"
PAGE = {"Accept": "text/html"}
TOKEN = re.compile(rb'name="csrf_token"[^>]*value="([^"]+)"')


class Browser:
    """Asks over one TLS connection from an address of its own, and keeps a cookie."""

    def __init__(self, proxy: TlsProxy, address: str = "127.0.0.1") -> None:
        self._proxy, self._address, self.cookie = proxy, address, ""

    def asks(self, method, path, fields=None, **more):
        """Ask; return the status, the headers and the body."""
        plain = socket.create_connection(
            ("127.0.0.1", self._proxy.port), 30, (self._address, 0)
        )
        line = http.client.HTTPConnection(NAME)
        line.sock = self._proxy.context.wrap_socket(plain, server_hostname=NAME)
        form = {"Content-Type": "application/x-www-form-urlencoded"} if fields else {}
        kept = {"Cookie": self.cookie} if self.cookie else {}
        body = urlencode(fields) if fields else None
        line.request(method, path, body, {**PAGE, **form, **kept, **more})
        answer = line.getresponse()
        body = answer.read()
        line.close()
        if given := answer.headers.get("Set-Cookie"):
            self.cookie = given.split(";")[0]
        return answer.status, answer.headers, body

    def signs_in(self, login, password, **more):
        """Fill in the form and send it."""
        _, _, page = self.asks("GET", "/sign-in", **more)
        token = TOKEN.search(page).group(1).decode()
        told = {"csrf_token": token, "login": login, "password": password}
        return self.asks("POST", "/sign-in", told, **more)


@pytest.fixture
def proxy(site, tmp_path, cast):
    """A proxy before a running server whose site names it; a coder is known there."""
    assert cast.coder
    file = site.home / "wiremark.toml"
    # A bare key cannot stand after a table; the site's file has none.
    file.write_text(file.read_text(encoding="utf-8") + BEHIND, encoding="utf-8")
    server = LiveServer(load(site.home).home).start()
    made = TlsProxy(tmp_path / "proxy", server.url).start()
    yield made
    made.stop()
    server.stop()


def refusals(db):
    found = access_log.latest(db)
    return [line.detail for line in found if line.what == "session:refuse"]


def test_signing_in_by_tls_keeps_the_session_to_tls_and_this_host(proxy):
    browser = Browser(proxy)
    status, headers, _ = browser.signs_in("test-oda", PASSWORD)
    assert (status, headers["Location"]) == (302, "/coding")
    cookie = headers["Set-Cookie"]
    assert cookie.startswith("__Host-session=")
    assert {"Secure", "HttpOnly", "Path=/"} <= set(cookie.split("; "))
    assert headers["Strict-Transport-Security"].startswith("max-age=")
    status, headers, _ = browser.asks("GET", "/coding")
    assert status == 200
    assert headers["Strict-Transport-Security"].startswith("max-age=")
    assert "default-src 'none'" in headers["Content-Security-Policy"]


def test_the_address_in_the_log_is_the_callers_whatever_the_caller_claims(proxy, db):
    caller = Browser(proxy, "127.0.0.5")
    status, _, _ = caller.signs_in("test-oda", "wrong", **{"X-Forwarded-For": FORGED})
    assert status == 401
    assert refusals(db) == ["from 127.0.0.5"]


def test_a_guesser_behind_the_proxy_shuts_out_himself_only(proxy):
    guesser = Browser(proxy, "127.0.0.5")
    for number in range(5):
        claimed = {"X-Forwarded-For": f"203.0.113.{number}"}
        assert guesser.signs_in("test-oda", "wrong", **claimed)[0] == 401
    assert guesser.signs_in("test-oda", PASSWORD)[0] == 401
    assert Browser(proxy, "127.0.0.6").signs_in("test-oda", PASSWORD)[0] == 302


def test_a_request_for_another_host_is_refused_through_the_proxy_too(proxy):
    status, _, body = Browser(proxy).asks("GET", "/sign-in", Host="elsewhere.example")
    assert status == 400
    assert b"hosts in wiremark.toml" in body


def test_without_a_trusted_proxy_nobodys_word_on_caller_and_tls_is_taken(
    live, cast, db
):
    assert cast.coder
    line = http.client.HTTPConnection("127.0.0.1", live.port, timeout=30)
    claimed = {"X-Forwarded-For": FORGED, "X-Forwarded-Proto": "https", **PAGE}
    line.request("GET", "/sign-in", None, claimed)
    answer = line.getresponse()
    token = TOKEN.search(answer.read()).group(1).decode()
    assert "Strict-Transport-Security" not in answer.headers
    assert "Secure" not in answer.headers["Set-Cookie"]
    told = urlencode({"csrf_token": token, "login": "test-oda", "password": "wrong"})
    form = {"Content-Type": "application/x-www-form-urlencoded"}
    kept = {"Cookie": answer.headers["Set-Cookie"].split(";")[0]}
    line.request("POST", "/sign-in", told, {**claimed, **form, **kept})
    assert line.getresponse().status == 401
    line.close()
    assert refusals(db) == ["from 127.0.0.1"]
