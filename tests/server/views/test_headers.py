"""What every answer tells a browser, and which requests are not for this server."""

from dataclasses import replace

import pytest

from tests.support.cast import PASSWORD, Cast, csrf_token
from webapp.app import create_app
from webapp.app_db import close_held
from webapp.headers import PERMISSIONS, POLICY

ANSWERS = (
    *("/sign-in", "/tablets", "/records", "/nowhere", "/tablet/", "/sw.js", "/limits"),
    *("/static/css/main.css", "/catalogue.json", "/tablet/manifest.webmanifest"),
)
OURS = "https://pacing.example"


@pytest.fixture
def named(site):
    """The application of a site with a name of its own, behind TLS."""
    made = create_app(
        replace(site, hosts=["pacing.example"], trusted_proxy="127.0.0.1")
    )
    yield made
    close_held()


def directives(policy):
    parts = (part.split() for part in policy.split(";"))
    return {name: set(values) for name, *values in parts}


@pytest.mark.parametrize("path", ANSWERS)
def test_every_answer_has_them(cast, path):
    actor = cast.administrator
    actor.signs_in()
    with actor.opens(path) as answer:
        headers = answer.headers
    assert headers["Content-Security-Policy"] == POLICY
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "no-referrer"
    assert headers["X-Frame-Options"] == "DENY"
    assert headers["Permissions-Policy"] == PERMISSIONS
    assert headers["Cross-Origin-Opener-Policy"] == "same-origin"
    assert headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert "Strict-Transport-Security" not in headers


def test_nothing_inline_and_nothing_from_elsewhere_runs():
    told = directives(POLICY)
    assert told.pop("default-src") == {"'none'"}
    assert told.pop("base-uri") == told.pop("frame-ancestors") == {"'none'"}
    assert told.pop("img-src") == {"'self'", "blob:", "data:"}
    wanted = ("script", "style", "font", "connect", "manifest", "worker")
    assert set(told) == {f"{name}-src" for name in wanted} | {"form-action"}
    assert all(allowed == {"'self'"} for allowed in told.values())


def test_only_what_is_used_is_allowed():
    told = dict(part.split("=") for part in PERMISSIONS.split(", "))
    allowed = {name for name, who in told.items() if who != "()"}
    assert allowed == {"camera", "screen-wake-lock"}
    assert told["camera"] == "(self)"
    assert told["microphone"] == told["geolocation"] == "()"


@pytest.mark.parametrize("path", ["/tablets", "/records", "/sign-in"])
def test_no_page_with_anybodys_words_may_be_kept_by_a_cache(cast, path):
    actor = cast.administrator
    actor.signs_in()
    assert actor.opens(path).headers["Cache-Control"] == "no-store"


def test_by_tls_a_browser_is_told_to_stay_with_it(named):
    answer = named.test_client().get("/sign-in", base_url=OURS)
    assert answer.headers["Strict-Transport-Security"].startswith("max-age=")


def test_behind_tls_the_session_belongs_to_this_host_only(named, db):
    coder = Cast(named, db).coder
    coder.base_url = OURS
    cookie = coder.signs_in().headers["Set-Cookie"]
    assert cookie.startswith("__Host-session=")
    for flag in ("Secure", "HttpOnly", "Path=/", "SameSite=Lax"):
        assert flag in cookie
    assert "Domain" not in cookie


@pytest.mark.parametrize(
    "host",
    [
        *("elsewhere.example", "localhost.elsewhere.example", "192.0.2.9"),
        *("pacing.example", "[2001:db8::1]", "[::2]:8321"),
    ],
)
@pytest.mark.parametrize("path", ["/sign-in", "/sync", "/static/css/main.css", "/x"])
def test_a_request_for_another_host_is_refused_with_a_word(client, host, path):
    answer = client.get(path, base_url=f"http://{host}", headers={"Accept": "*/*"})
    assert answer.status_code == 400
    assert "hosts in wiremark.toml" in answer.json["error"]
    assert answer.headers["Content-Security-Policy"] == POLICY


def test_a_person_reads_that_word_as_a_page(client):
    answer = client.get(
        "/sign-in", base_url="http://elsewhere.example", headers={"Accept": "text/html"}
    )
    assert answer.status_code == 400
    assert answer.text.startswith("This server is not called by this name here.")
    assert answer.mimetype == "text/plain"


@pytest.mark.parametrize(
    "host", ["localhost", "127.0.0.1:8321", "127.0.0.1", "[::1]", "[::1]:8321"]
)
def test_this_machines_own_names_are_always_taken(client, host):
    assert client.get("/sign-in", base_url=f"http://{host}").status_code == 200


def test_a_sites_own_name_is_taken(named):
    assert named.test_client().get("/sign-in", base_url=OURS).status_code == 200


@pytest.mark.parametrize(
    "there",
    ["/%09/elsewhere.example", "/%0a/elsewhere.example", "/%5celsewhere.example"],
)
def test_no_sign_that_a_browser_drops_leads_elsewhere(cast, there):
    coder = cast.coder
    answer = coder.posts(
        f"/sign-in?next={there}", login=coder.person.login, password=PASSWORD
    )
    assert answer.location == "/coding"


def _wrong(client, token, address):
    told = {"csrf_token": token, "login": "test-oda", "password": "not it at all"}
    client.post("/sign-in", data=told, environ_base={"REMOTE_ADDR": address})


def _is_let_in(cast, address):
    client = cast.coder.client
    told = {
        "csrf_token": csrf_token(client.get("/sign-in")),
        "login": "test-oda",
        "password": PASSWORD,
    }
    answer = client.post("/sign-in", data=told, environ_base={"REMOTE_ADDR": address})
    return answer.status_code == 302


@pytest.mark.parametrize("addresses", [1, 20])
def test_twenty_wrong_passwords_shut_the_guesser_out_and_never_a_sync(
    app, cast, tablet, addresses
):
    assert _is_let_in(cast, "203.0.113.9")
    guesser = app.test_client()
    token = csrf_token(guesser.get("/sign-in"))
    for number in range(20):
        _wrong(guesser, token, f"198.51.100.{number % addresses}")
    assert not _is_let_in(cast, "198.51.100.0")
    # From one address only that one waits; from many, the account does.
    assert _is_let_in(cast, "203.0.113.10") == (addresses == 1)
    assert tablet.syncs()["ok"]
