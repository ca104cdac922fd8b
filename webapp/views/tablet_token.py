"""Which tablet a request comes from, and whose grant it carries."""

from __future__ import annotations

from flask import request

from webapp.app_db import get_db
from webapp.errors import Unauthorized
from webapp.people import grants, tablets
from webapp.people.accounts import Person
from webapp.people.tablets import Tablet

GRANT_HEADER = "X-Person-Grant"
_SCHEME = "bearer "


def tablet_or_none() -> Tablet | None:
    """Return the tablet whose token the request carries, revoked or not."""
    given = request.headers.get("Authorization", "")
    if not given.lower().startswith(_SCHEME):
        return None
    return tablets.by_token(get_db(), given[len(_SCHEME) :].strip())


def tablet_here() -> Tablet:
    """Return the request's tablet. Raises Unauthorized; a cookie is not looked at."""
    tablet = tablet_or_none()
    if tablet is None:
        raise Unauthorized
    return tablet


def granted_person(tablet: Tablet) -> Person | None:
    """Return who signed in on this tablet, if the request carries their grant."""
    token = request.headers.get(GRANT_HEADER)
    return grants.holder(get_db(), tablet.id, token) if token else None
