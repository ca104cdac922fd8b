"""Signing in and out at the desk."""

import time

import pytest

from tests.support.cast import PASSWORD, csrf_token
from webapp.people import access_log, accounts
from webapp.views.desk_auth import home_of, verify

WRONG = "not the password 1"
NOWHERE_NEAR = "/sign-in?next="


def says_refused(answer):
    return answer.status_code == 401 and b"Not signed in" in answer.data


def test_the_page_asks_for_a_name_and_a_password(client):
    page = client.get("/sign-in")
    assert page.status_code == 200
    for name in (b'name="login"', b'name="password"', b'type="password"'):
        assert name in page.data
    assert page.headers["Cache-Control"] == "no-store"


def test_the_right_password_leads_to_ones_own_first_page(cast):
    for actor, home in (
        (cast.administrator, "/tablets"),
        (cast.signer, "/records"),
        (cast.coder, "/coding"),
        (cast.recorder, "/tablet/"),
    ):
        answer = actor.signs_in()
        assert (answer.status_code, answer.location) == (302, home)
        assert home_of(actor.person) == home


def test_a_page_asked_for_before_is_opened_after(cast):
    administrator = cast.administrator
    sent = administrator.opens("/tablets?x=1")
    assert sent.status_code == 302
    assert sent.location == "/sign-in?next=/tablets?x%3D1"
    answer = administrator.posts(
        sent.location, login=administrator.person.login, password=PASSWORD
    )
    assert answer.location == "/tablets?x=1"


@pytest.mark.parametrize(
    "there",
    [
        "https://elsewhere.example/",
        "//elsewhere.example/",
        "/\\elsewhere.example",
        "javascript:alert(1)",
        "elsewhere",
        "",
    ],
)
def test_a_link_never_leads_away_from_this_site(cast, there):
    administrator = cast.administrator
    answer = administrator.posts(
        NOWHERE_NEAR + there, login=administrator.person.login, password=PASSWORD
    )
    assert answer.location == "/tablets"


def test_every_refusal_says_the_same(cast, db):
    administrator = cast.administrator
    name = administrator.person.login
    wrong = administrator.posts("/sign-in", login=name, password=WRONG)
    nobody = administrator.posts("/sign-in", login="nobody", password=PASSWORD)
    accounts.deactivate(db, administrator.person.id)
    closed = administrator.posts("/sign-in", login=name, password=PASSWORD)
    assert all(map(says_refused, (wrong, nobody, closed)))
    said = {_words(answer) for answer in (wrong, nobody, closed)}
    assert len(said) == 1


def test_a_password_is_never_sent_back(cast):
    answer = cast.coder.posts("/sign-in", login="test-oda", password="secret word 77")
    assert b"secret word 77" not in answer.data


def test_what_is_missing_is_named(cast):
    answer = cast.coder.posts("/sign-in", login="", password="")
    assert answer.status_code == 400
    assert b"Give the sign-in name." in answer.data
    assert b"Give the password." in answer.data


def test_the_right_password_does_not_help_after_too_many_tries(cast):
    coder = cast.coder
    for _ in range(5):
        assert says_refused(coder.signs_in(WRONG))
    assert says_refused(coder.signs_in())


def test_too_many_tries_say_the_same_of_an_account_that_does_not_exist(cast):
    coder = cast.coder
    for _ in range(6):
        last = coder.posts("/sign-in", login="nobody", password=WRONG)
    for _ in range(6):
        known = coder.signs_in(WRONG)
    assert _words(known) == _words(last)


def test_too_many_tries_outlast_a_restart(cast, site):
    from webapp.app import create_app

    for _ in range(5):
        cast.coder.signs_in(WRONG)
    again = create_app(site).test_client()
    token = csrf_token(again.get("/sign-in"))
    told = {"csrf_token": token, "login": "test-oda", "password": PASSWORD}
    assert says_refused(again.post("/sign-in", data=told))


def test_a_form_without_its_token_signs_nobody_in(cast):
    coder = cast.coder
    answer = coder.client.post(
        "/sign-in", data={"login": "test-oda", "password": PASSWORD}
    )
    assert answer.status_code == 400
    assert coder.opens("/tablets").status_code == 302


def test_the_session_cookie_is_kept_from_scripts_and_from_other_sites(cast):
    cookie = cast.coder.signs_in().headers["Set-Cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie


def test_the_session_cookie_is_for_https_only_where_the_site_says_so(site, db):
    from dataclasses import replace

    from tests.support.cast import Cast
    from webapp.app import create_app

    app = create_app(replace(site, secure_cookies=True))
    coder = Cast(app, db).coder
    coder.base_url = "https://localhost/"
    assert "Secure" in coder.signs_in().headers["Set-Cookie"]


def test_forms_work_over_https_for_a_browser_that_sends_no_referrer(cast):
    coder = cast.coder
    coder.base_url = "https://localhost/"
    assert coder.signs_in().status_code == 302


def test_a_session_survives_a_restart_of_the_server(cast, site):
    from webapp.app import create_app

    administrator = cast.administrator
    administrator.signs_in()
    cookie = administrator.client.get_cookie("session")
    again = create_app(site).test_client()
    again.set_cookie("session", cookie.value)
    assert again.get("/tablets").status_code == 200


def test_signing_out_ends_the_session_and_may_be_done_twice(cast):
    administrator = cast.administrator
    administrator.signs_in()
    assert administrator.opens("/tablets").status_code == 200
    for _ in range(2):
        assert administrator.signs_out().location == "/sign-in"
        assert administrator.opens("/tablets").status_code == 302


def test_signing_out_needs_the_forms_token(cast):
    administrator = cast.administrator
    administrator.signs_in()
    assert administrator.client.post("/sign-out").status_code == 400
    assert administrator.opens("/tablets").status_code == 200


def test_a_deactivated_persons_session_ends_at_once(cast, db):
    administrator = cast.administrator
    administrator.signs_in()
    accounts.deactivate(db, administrator.person.id)
    assert administrator.opens("/tablets").status_code == 302


def test_a_new_password_ends_sessions_elsewhere(cast, db):
    administrator = cast.administrator
    administrator.signs_in()
    accounts.change_password(db, administrator.person.id, "basalt and rope 11")
    assert administrator.opens("/tablets").status_code == 302


def test_a_session_ends_after_a_shift(cast):
    administrator = cast.administrator
    administrator.signs_in()
    with administrator.client.session_transaction() as session:
        session["since"] = int(time.time()) - 12 * 3600 - 1
    assert administrator.opens("/tablets").status_code == 302


def test_another_role_is_told_no_more_than_that_it_is_not_theirs(cast):
    for actor in (cast.coder, cast.recorder, cast.signer, cast.elsewhere):
        actor.signs_in()
        answer = actor.opens("/tablets")
        assert answer.status_code == 403
        assert b"Not found, or not yours to open." in answer.data


def test_a_program_without_a_session_is_told_in_json(client):
    answer = client.get("/tablets", headers={"Accept": "application/json"})
    assert answer.status_code == 401
    assert answer.json == {
        "ok": False,
        "error": "Sign in first.",
        "errors": [],
        "status": 401,
    }


def test_a_change_without_a_session_is_not_redirected(client):
    token = csrf_token(client.get("/sign-in"))
    answer = client.post("/tablets", data={"csrf_token": token, "name": "x"})
    assert answer.status_code == 401


def test_signing_in_again_is_asked_with_the_same_limits(app, cast, db):
    signer = cast.signer.person
    with app.test_request_context("/", environ_base={"REMOTE_ADDR": "192.0.2.7"}):
        assert verify(db, signer.id, PASSWORD)
        for _ in range(5):
            assert not verify(db, signer.id, WRONG)
        assert not verify(db, signer.id, PASSWORD)
        assert not verify(db, "nobody", PASSWORD)


def test_sessions_and_refusals_are_in_the_access_log(cast, db):
    administrator = cast.administrator
    administrator.signs_in(WRONG)
    administrator.signs_in()
    administrator.signs_out()
    lines = [
        (line.what, line.person)
        for line in reversed(access_log.latest(db))
        if line.what.startswith("session")
    ]
    person = administrator.person.id
    assert lines == [
        ("session:refuse", person),
        ("session:begin", person),
        ("session:end", person),
    ]


def _words(answer):
    """The page without its one-time token and without the name that was typed."""
    lines = answer.get_data(as_text=True).splitlines()
    return "\n".join(line for line in lines if "<input" not in line)
