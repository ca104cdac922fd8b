"""A person with a browser at the desk: reads a page, then sends the form on it."""

from __future__ import annotations

from html.parser import HTMLParser

from flask import Flask

_HELD = ("csrf_token", "digest", "upto", "take_up")


class Browser:
    """One person, signed in. `password`: asked again for each signature."""

    def __init__(self, app: Flask, login: str, password: str) -> None:
        self.client = app.test_client()
        self.password = password
        self._sends("/sign-in", login=login)

    def signs(self, record: str) -> None:
        """Open a record, then sign what it holds."""
        self.reads(f"/records/{record}")
        self._sends(f"/records/{record}/sign", agree="yes")

    def adds(self, record: str, kind: str, text: str) -> None:
        """Add to a signed record, taking up every entry that came after."""
        self.reads(f"/records/{record}")
        self._sends(f"/records/{record}/added", kind=kind, text=text)

    def hands_out(self, record: str) -> None:
        """Read a record's codes and take them as a file."""
        self.reads(f"/coding/{record}")
        self.reads(f"/records/{record}/codes.csv")

    def reads(self, path: str) -> str:
        """Return a page. Raises RuntimeError: it is not given."""
        answer = self.client.get(path)
        if answer.status_code != 200:
            raise RuntimeError(f"{path}: {answer.status}")
        return answer.text

    def _sends(self, path: str, **said: str) -> None:
        form = _Form()
        form.feed(self.reads(path))
        told = {**form.held, "password": self.password, **said}
        answer = self.client.post(path, data=told)
        if answer.status_code != 302:
            raise RuntimeError(f"{path}: {answer.status}")


class _Form(HTMLParser):
    """What the forms of a page hold before anybody types."""

    def __init__(self) -> None:
        super().__init__()
        self.held: dict[str, list[str]] = {}

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        name = told.get("name") or ""
        if tag == "input" and name in _HELD:
            values = self.held.setdefault(name, [])
            value = told.get("value") or ""
            # Each form of a page carries the same token.
            if value not in values:
                values.append(value)
