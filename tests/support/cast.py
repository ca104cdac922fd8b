"""The cast of every test: who records, who signs, who codes, who runs the place."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

from sqlite_utils import Database
from werkzeug.test import TestResponse

from tests.support.tablet import Tablet
from tests.support.transport import InProcess, Transport
from webapp.people import accounts, tablets
from webapp.people.accounts import NewPerson, Person
from webapp.people.passwords import hash_password

PASSWORD = "kelp and copper 7"
_BROWSER = {"Accept": "text/html,application/xhtml+xml,*/*;q=0.8"}
_TOKEN = re.compile(rb'name="csrf_token"[^>]*value="([^"]+)"')

RECORDER = NewPerson("test-mira", "Test-Mira FJORDHOLM", ("assistant",), PASSWORD)
SIGNER = NewPerson(
    "test-ines",
    "Test-Ines ALDERMERE",
    ("operator", "supervisor"),
    PASSWORD,
    "MD",
    "1234567893",
    "Example Harbour Physicians",
)
SUPERVISOR = NewPerson(
    "test-ole", "Test-Ole SKAGMERE", ("operator", "supervisor"), PASSWORD, "MD"
)
CODER = NewPerson("test-oda", "Test-Oda BRENNHAVN", ("coder",), PASSWORD)
ADMINISTRATOR = NewPerson(
    "test-alf", "Test-Alf STRANDLUND", ("administrator",), PASSWORD
)
ELSEWHERE = NewPerson("e-tarn", "E. Tarn-Example", ("assistant",), PASSWORD)


@cache
def hashed_once(password: str) -> str:
    """Hash as the product does, but once for all tests: it is slow on purpose."""
    return hash_password(password)


class Actor:
    """One person with a browser at the desk. `base_url`: as in the address line."""

    def __init__(self, app, person: Person) -> None:
        self.person = person
        self.client = app.test_client()
        self.base_url = "http://localhost/"

    def signs_in(self, password: str = PASSWORD) -> TestResponse:
        """Fill in the form and send it."""
        login = self.person.login
        return self.posts("/sign-in", login=login, password=password)

    def signs_out(self) -> TestResponse:
        """Press the key that ends the session."""
        return self.posts("/sign-out", page="/sign-in")

    def opens(self, path: str) -> TestResponse:
        """Open a page as a browser does."""
        return self.client.get(path, base_url=self.base_url, headers=_BROWSER)

    def posts(
        self, path: str, /, page: str | None = None, **fields: Any
    ) -> TestResponse:
        """Send a form as the page that holds it would; `page`: where it stands."""
        told = {"csrf_token": csrf_token(self.opens(page or path)), **fields}
        return self.client.post(
            path, base_url=self.base_url, data=told, headers=_BROWSER
        )


class Cast:
    """Everybody, and their tablets. People exist once they are named."""

    def __init__(self, app, db: Database, transport: Transport | None = None) -> None:
        self._app, self._db = app, db
        self._transport = transport or InProcess(app)
        self._actors: dict[str, Actor] = {}

    @property
    def recorder(self) -> Actor:
        """One who taps at the bedside, and reads nothing at the desk."""
        return self._actor(RECORDER)

    @property
    def signer(self) -> Actor:
        """One who reviews and signs."""
        return self._actor(SIGNER)

    @property
    def supervisor(self) -> Actor:
        """One who signs what another signed."""
        return self._actor(SUPERVISOR)

    @property
    def coder(self) -> Actor:
        """One who codes."""
        return self._actor(CODER)

    @property
    def administrator(self) -> Actor:
        """One who enrols tablets and keeps people."""
        return self._actor(ADMINISTRATOR)

    @property
    def elsewhere(self) -> Actor:
        """One from another place, with no part in the records of these tests."""
        return self._actor(ELSEWHERE)

    def tablet(self, name: str | None = None) -> Tablet:
        """Enrol a new tablet; they are called tablet 2, tablet 3 and so on."""
        known = len(tablets.tablets(self._db))
        _, code = tablets.add(self._db, name or f"tablet {known + 2}")
        return Tablet.enrols(self._transport, code)

    def revokes(self, tablet: Tablet) -> None:
        """Revoke a tablet."""
        tablets.revoke(self._db, tablet.id)

    def _actor(self, new: NewPerson) -> Actor:
        if new.login not in self._actors:
            person = accounts.by_login(self._db, new.login) or accounts.add(
                self._db, new, hashed_once
            )
            self._actors[new.login] = Actor(self._app, person)
        return self._actors[new.login]


def csrf_token(page: TestResponse) -> str:
    """Return the token of the first form on a page, or "" when it has none."""
    found = _TOKEN.search(page.data)
    return found.group(1).decode() if found else ""
