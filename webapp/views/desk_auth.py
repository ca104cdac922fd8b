"""Sign in and out at the desk, and who is signed in."""

from __future__ import annotations

import time
from collections.abc import Callable
from functools import wraps
from typing import ParamSpec, TypeVar
from urllib.parse import urlsplit

from flask import (
    Blueprint,
    Response,
    g,
    redirect,
    render_template,
    request,
    session,
    url_for,
)
from flask_wtf import FlaskForm
from sqlite_utils import Database
from werkzeug.wrappers import Response as AnyResponse
from wtforms import PasswordField, StringField
from wtforms.validators import InputRequired

from webapp.app_db import get_db, settings
from webapp.errors import Forbidden, Unauthorized, answer
from webapp.people import access_log, accounts
from webapp.people.accounts import Person
from webapp.people.sign_in import try_password
from webapp.people.throttle import Limits
from webapp.say import say

bp = Blueprint("desk_auth", __name__)
# A shift, and a little; our choice.
SESSION_H = 12
HOMES = (
    (("operator", "supervisor", "nurse"), "/records"),
    (("coder",), "/coding"),
    (("administrator",), "/tablets"),
)
BEDSIDE = "/tablet/"

P = ParamSpec("P")
R = TypeVar("R")


class SignInFirst(Unauthorized):
    """Nobody is signed in: a page sends them to sign in, a program is told."""


class SignInForm(FlaskForm):  # type: ignore[misc]  # the library has no types
    """The name and the password."""

    login = StringField(
        say("sign_in.login"),
        [InputRequired(say("sign_in.needed", label=say("sign_in.login").lower()))],
    )
    password = PasswordField(
        say("sign_in.password"),
        [InputRequired(say("sign_in.needed", label=say("sign_in.password").lower()))],
    )


@bp.app_errorhandler(SignInFirst)
def to_sign_in(error: SignInFirst) -> AnyResponse | tuple[Response | str, int]:
    """Send a person who reads a page to sign in, and back afterwards."""
    accepts = request.accept_mimetypes
    is_page = accepts["text/html"] > accepts["application/json"]
    if request.method == "POST" or not is_page:
        return answer(error.status, str(error))
    there = request.full_path.rstrip("?")
    return redirect(url_for("desk_auth.sign_in", next=there))


@bp.route("/sign-in", methods=["GET", "POST"])
def sign_in() -> str | AnyResponse | tuple[str, int]:
    """Begin a session. Says the same of a wrong name, password or a closed account."""
    form = SignInForm()
    # Not "GET": HEAD asks for the same page and sends nothing either.
    if request.method != "POST" or not form.validate():
        status = 400 if request.method == "POST" else 200
        return render_template("auth/sign_in.html", form=form, refused=""), status
    person = _signed_in(form.login.data, form.password.data)
    if person is None:
        limits = sign_in_limits()
        refused = say("sign_in.refused", tries=limits.tries, minutes=limits.window_min)
        page = render_template("auth/sign_in.html", form=form, refused=refused)
        return page, 401
    session.clear()
    session.update(
        person=person.id, version=person.session_version, since=int(time.time())
    )
    return redirect(_local(request.args.get("next")) or home_of(person))


@bp.post("/sign-out")
def sign_out() -> AnyResponse:
    """End the session here. Done twice, it ends nothing and says the same."""
    person = person_or_none()
    if person is not None:
        access_log.note(get_db(), "session:end", person=person.id)
    session.clear()
    return redirect(url_for("desk_auth.sign_in"))


def person_or_none() -> Person | None:
    """Return who is signed in, read anew in each request."""
    if "person" not in g:
        g.person = _session_person()
    found: Person | None = g.person
    return found


def current_person() -> Person:
    """Return who is signed in. Raises SignInFirst."""
    person = person_or_none()
    if person is None:
        raise SignInFirst
    return person


def requires(*roles: str) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Let a view be reached by these roles only.

    Raises SignInFirst: nobody is signed in; Forbidden: somebody in other roles.
    """

    def guard(view: Callable[P, R]) -> Callable[P, R]:
        @wraps(view)
        def guarded(*args: P.args, **kwargs: P.kwargs) -> R:
            if not current_person().has_role(*roles):
                raise Forbidden
            return view(*args, **kwargs)

        return guarded

    return guard


def home_of(person: Person) -> str:
    """Return the page a person's work starts on."""
    for roles, home in HOMES:
        if person.has_role(*roles):
            return home
    return BEDSIDE


def verify(db: Database, person_id: str, password: str) -> bool:
    """Return whether this is the password of a person who is signed in already.

    Asked again at signing; failures count as failures to sign in do.
    """
    person = accounts.by_id(db, person_id)
    if person is None:
        return False
    address = request.remote_addr or ""
    found = try_password(
        db, person.login, password, address, sign_in_limits(), "signature:refuse"
    )
    return found is not None and found.id == person_id


def sign_in_limits() -> Limits:
    """Return how many failures this site allows in how long."""
    return Limits(settings().sign_in_tries, settings().sign_in_window_min)


def _signed_in(login: str, password: str) -> Person | None:
    db, address = get_db(), request.remote_addr or ""
    person = try_password(
        db, login, password, address, sign_in_limits(), "session:refuse"
    )
    if person is not None:
        access_log.note(db, "session:begin", person=person.id)
    return person


def _session_person() -> Person | None:
    found = session.get("person")
    person = accounts.by_id(get_db(), found) if isinstance(found, str) else None
    if person is None or not person.is_active:
        return None
    is_fresh = time.time() - session.get("since", 0) < SESSION_H * 3600
    is_same = session.get("version") == person.session_version
    return person if is_fresh and is_same else None


def _local(address: str | None) -> str | None:
    """Return an address of this site only: a link must not lead elsewhere."""
    if not address or not address.startswith("/") or address[1:2] in ("/", "\\"):
        return None
    parts = urlsplit(address)
    return None if parts.scheme or parts.netloc else address
