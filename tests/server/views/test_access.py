"""Every address of the application, tried by those it is not for."""

import pytest

from tests.support.cast import csrf_token

# What anybody may load: how to get in, and the tablet's shell, which holds no data.
OPEN = {
    "desk_auth.sign_in",
    "desk_auth.sign_out",
    "static",
    "bedside.page",
    "bedside.rehearsal",
    "bedside.worker",
    "style.index",
}
# Proven by a code or a token: nobody's cookie opens them (test_sync, test_tablets).
BY_TOKEN = {
    "sync.sync",
    "photo_sync.take",
    "photo_sync.ask",
    "tablets.enrol",
    "tablets.person",
}
# For anybody signed in: the first page, and the site's limits.
OF_NO_PATIENT = {"/", "/limits"}
SAMPLE = "0199c0de-0000-7000-8000-000000000001"


def guarded(app):
    """Every address and method that needs somebody, with a value in each place."""
    found = []
    for rule in app.url_map.iter_rules():
        if rule.endpoint in OPEN | BY_TOKEN:
            continue
        values = dict.fromkeys(rule.arguments, SAMPLE)
        _, path = rule.build(values, append_unknown=False)
        methods = sorted(rule.methods - {"HEAD", "OPTIONS"})
        found += [(method, path) for method in methods]
    return found


def test_there_are_addresses_to_guard(app):
    assert ("GET", "/tablets") in guarded(app)
    assert ("GET", "/records") in guarded(app)


def test_nobody_gets_anything_but_the_way_in(app, client):
    token = csrf_token(client.get("/sign-in"))
    for method, path in guarded(app):
        told = {"csrf_token": token} if method != "GET" else None
        answer = client.open(path, method=method, data=told)
        assert answer.status_code == 401, (method, path)


def test_one_from_elsewhere_gets_nothing(app, cast):
    actor = cast.elsewhere
    actor.signs_in()
    token = csrf_token(actor.opens("/sign-in"))
    for method, path in guarded(app):
        if path in OF_NO_PATIENT:
            continue
        told = {"csrf_token": token} if method != "GET" else None
        answer = actor.client.open(path, method=method, data=told)
        assert answer.status_code in (403, 404), (method, path)


@pytest.mark.parametrize("endpoint", sorted(OPEN | BY_TOKEN))
def test_what_is_open_is_there_by_that_name(app, endpoint):
    assert endpoint in app.view_functions


def test_no_form_is_taken_without_its_token(app, cast):
    actor = cast.administrator
    actor.signs_in()
    for method, path in guarded(app):
        if method != "GET":
            answer = actor.client.open(path, method=method)
            assert answer.status_code == 400, (method, path)


def test_no_answer_may_be_kept_by_a_cache_or_framed_by_another_site(app, cast):
    actor = cast.administrator
    actor.signs_in()
    for path in ("/tablets", "/sign-in", "/records"):
        headers = actor.opens(path).headers
        assert headers["Cache-Control"] == "no-store"
        assert headers["X-Frame-Options"] == "DENY"
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert "script-src 'self'" in headers["Content-Security-Policy"]
