"""How a Python tablet reaches a server: in process, or over the wire."""

from __future__ import annotations

import json
import urllib.error
import urllib.request
from dataclasses import dataclass
from typing import Any, Protocol

from flask.testing import FlaskClient


class Unreachable(OSError):
    """Nobody answered."""


@dataclass(frozen=True)
class Reply:
    """What came back. `json` is None when it was no JSON."""

    status: int
    json: Any


class Transport(Protocol):
    """Anything that posts bytes and gives a reply."""

    def post(self, path: str, body: bytes, headers: dict[str, str]) -> Reply:
        """Post to a path. Raises Unreachable."""


class InProcess:
    """Posts to an application directly, without a cookie jar."""

    def __init__(self, app) -> None:
        self._client: FlaskClient = app.test_client(use_cookies=False)

    def post(self, path: str, body: bytes, headers: dict[str, str]) -> Reply:
        """Post to the application."""
        answer = self._client.post(path, data=body, headers=headers)
        return Reply(answer.status_code, answer.get_json(silent=True))


class OverHttp:
    """Posts to a real server. `url`: without a slash at the end."""

    def __init__(self, url: str) -> None:
        self._url = url

    def post(self, path: str, body: bytes, headers: dict[str, str]) -> Reply:
        """Post over HTTP. Raises Unreachable: when nobody listens."""
        asked = urllib.request.Request(self._url + path, body, headers, method="POST")
        try:
            with urllib.request.urlopen(asked, timeout=60) as answer:
                return Reply(answer.status, json.load(answer))
        except urllib.error.HTTPError as error:
            return Reply(error.code, _json_or_none(error.read()))
        except (urllib.error.URLError, ConnectionError) as error:
            raise Unreachable(str(error)) from error


def _json_or_none(raw: bytes) -> Any:
    try:
        return json.loads(raw)
    except ValueError:
        return None
