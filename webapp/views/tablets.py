"""Tablets: the administrator's list, enrolment, and signing in on a tablet."""

from __future__ import annotations

from base64 import b64encode
from typing import Any

from flask import (
    Blueprint,
    current_app,
    jsonify,
    redirect,
    render_template,
    request,
    url_for,
)
from flask.blueprints import BlueprintSetupState
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import StringField

from webapp.app_db import get_db, settings
from webapp.db import writing
from webapp.errors import BadRequest, Forbidden, NotFound, Problem, Unauthorized
from webapp.people import accounts, grants, tablets, throttle
from webapp.people.accounts import BEDSIDE_ROLES, CannotKeep, Person
from webapp.people.sign_in import try_password
from webapp.people.tablets import CODE_HOURS, Tablet
from webapp.people.throttle import ADDRESS_FACTOR, Limits
from webapp.record import tablet_logs
from webapp.record.data_key import data_key_of
from webapp.say import say
from webapp.views.desk_auth import requires, sign_in_limits
from webapp.views.tablet_token import tablet_here, tablet_or_none

bp = Blueprint("tablets", __name__)
# Failures to enrol are counted as those of one account that nobody can have.
ENROLMENT = "@enrol"


@bp.record_once
def _exempt(state: BlueprintSetupState) -> None:
    # Both are proven by what they carry, a code or a token, never by a cookie.
    for view in (enrol, person):
        state.app.extensions["csrf"].exempt(view)


class NameForm(FlaskForm):  # type: ignore[misc]  # the library has no types
    """A tablet's name."""

    name = StringField(say("tablets.name"))


@bp.get("/tablets")
@requires("administrator")
def index() -> str:
    """Show every tablet."""
    return _page(NameForm(formdata=None))


@bp.post("/tablets")
@requires("administrator")
def add() -> str | tuple[str, int]:
    """Make a place for a tablet and show its code, once."""
    form = NameForm()
    try:
        tablet, code = tablets.add(get_db(), form.name.data or "")
    except CannotKeep as error:
        return _page(form, problems=error.problems), 400
    return _page(NameForm(formdata=None), tablet, code)


@bp.post("/tablets/<tablet>/renew")
@requires("administrator")
def renew(tablet: str) -> str:
    """Show a new code for a tablet that was wiped, lost its token or was revoked."""
    found = _known(tablet)
    return _page(NameForm(formdata=None), found, tablets.renew(get_db(), found.id))


@bp.post("/tablets/<tablet>/revoke")
@requires("administrator")
def revoke(tablet: str) -> Response:
    """Count nothing more from a tablet. Done twice, it changes nothing more."""
    tablets.revoke(get_db(), _known(tablet).id)
    return redirect(url_for("tablets.index"))


@bp.post("/tablet/enrol")
def enrol() -> Response:
    """Take a one-time code; give the tablet its token and what it needs to begin."""
    code = _text("code")
    address, limits = request.remote_addr or "", _enrolment_limits()
    if throttle.must_wait(get_db(), ENROLMENT, address, limits):
        message = say("tablets.enrol_wait", minutes=limits.window_min)
        raise Unauthorized(message, (Problem("code", "wait", message),))
    former = tablet_or_none()
    redeemed = tablets.redeem(get_db(), code)
    if redeemed is None:
        throttle.count_failure(get_db(), ENROLMENT, address, limits)
        message = say("tablets.enrol_refused")
        raise Unauthorized(message, (Problem("code", "refused", message),))
    tablet, token = redeemed
    if former is not None and former.id != tablet.id:
        with writing(get_db()):
            tablet_logs.hand_over(get_db(), former.id, tablet.id)
    return jsonify(_enrolled(tablet, token))


@bp.post("/tablet/person")
def person() -> Response:
    """Let a person in on a tablet for some hours, so that it may open more records.

    With the tablet's data key as it was wrapped for this server, that comes back open:
    whoever signs in unlocks the tablet.
    """
    tablet = tablet_here()
    if tablet.is_revoked:
        raise Forbidden(say("because.revoked"))
    given = _account(_text("id", ""), _text("name", ""))
    login = given.login if given else _text("name", "")
    found = try_password(
        get_db(),
        login,
        _text("password"),
        request.remote_addr or "",
        sign_in_limits(),
        "grant:refuse",
    )
    if found is None or not found.has_role(*BEDSIDE_ROLES):
        limits = sign_in_limits()
        raise Unauthorized(
            say("sign_in.refused", tries=limits.tries, minutes=limits.window_min)
        )
    grant = grants.give(get_db(), tablet.id, found, settings().person_grant_h)
    raw = data_key_of(current_app.extensions["keyring"], tablet.id, _json("wrap"))
    return jsonify(
        ok=True,
        grant=grant.token,
        person=found.as_listed(),
        expires=grant.expires_at,
        data_key=b64encode(raw).decode() if raw else None,
    )


def _enrolment_limits() -> Limits:
    """Return wider bounds: a code is random, and a ward may share one address."""
    limits = sign_in_limits()
    return Limits(limits.tries * ADDRESS_FACTOR, limits.window_min)


def _page(
    form: NameForm,
    fresh: Tablet | None = None,
    code: str = "",
    problems: tuple[Problem, ...] = (),
) -> str:
    return render_template(
        "tablets/index.html",
        form=form,
        listed=tablets.tablets(get_db()),
        fresh=fresh,
        code=code,
        hours=CODE_HOURS,
        problems=problems,
    )


def _known(tablet: str) -> Tablet:
    found = tablets.by_id(get_db(), tablet)
    if found is None:
        raise NotFound
    return found


def _account(person_id: str, name: str) -> Person | None:
    """Return who is meant: by id, by sign-in name, or by a name only one has."""
    db = get_db()
    if person_id:
        return accounts.by_id(db, person_id)
    named = [p for p in accounts.active_people(db) if p.name == name.strip()]
    return accounts.by_login(db, name) or (named[0] if len(named) == 1 else None)


def _enrolled(tablet: Tablet, token: str) -> dict[str, Any]:
    site = settings()
    return {
        "ok": True,
        "tablet": {"id": tablet.id, "name": tablet.name},
        "token": token,
        "server_key": current_app.extensions["keyring"].current().public(),
        "people": [p.as_listed() for p in accounts.active_people(get_db())],
        "hospital": site.hospital,
        "zone": site.zone,
        "settings": site.of_tablets,
    }


def _json(name: str) -> Any:
    """Return a value of the request's JSON; None: there is none."""
    try:
        given = request.get_json(silent=True)
    except RecursionError:
        return None
    return given.get(name) if isinstance(given, dict) else None


def _text(name: str, otherwise: str | None = None) -> str:
    """Return a text of the request's JSON. Raises BadRequest: naming the field."""
    told = _json(name)
    found = otherwise if told is None else told
    if isinstance(found, str) and len(found) <= 1000 and _is_unicode(found):
        return found
    message = say("sync.expected", expected=f"JSON with {name} as text")
    raise BadRequest(problems=(Problem(name, "shape", message),))


def _is_unicode(text: str) -> bool:
    """Return whether no half of a surrogate pair is in it, which JSON lets through."""
    return not any("\ud800" <= sign <= "\udfff" for sign in text)
