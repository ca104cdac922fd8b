"""What a tablet loads: every file there, the same for everybody, no session in it."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, replace

import pytest

from tests.support.cast import Cast
from webapp.app import create_app
from webapp.db import connect
from webapp.settings import load

PAGES = ("/tablet/", "/tablet/enrol", "/tablet/manifest.webmanifest", "/catalogue.json")
TYPES = {
    ".js": "text/javascript",
    ".css": "text/css",
    ".json": "application/json",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".woff2": "font/woff2",
    ".webmanifest": "application/manifest+json",
}


@pytest.fixture(scope="module")
def shared_site(tmp_path_factory):
    """One site for the whole file: its shell is rendered once."""
    home = tmp_path_factory.mktemp("home")
    (home / "wiremark.toml").write_text('hospital = "Example Harbour Hospital"\n')
    return load(home)


@pytest.fixture(scope="module")
def shared_app(shared_site):
    return create_app(shared_site)


@pytest.fixture(scope="module")
def client(shared_app):
    """A browser in which nobody is signed in."""
    return shared_app.test_client()


@pytest.fixture(scope="module")
def signer(shared_app, shared_site):
    """One who is signed in at the desk."""
    db = connect(shared_site.database)
    signer = Cast(shared_app, db).signer
    signer.signs_in()
    yield signer
    db.conn.close()


@dataclass(frozen=True)
class Answer:
    status: int
    mimetype: str
    data: bytes
    cookies: list[str]


def fetched(client, path: str) -> Answer:
    """Ask for a path and close what was opened for it."""
    with client.get(path) as answer:
        cookies = answer.headers.getlist("Set-Cookie")
        return Answer(answer.status_code, answer.mimetype, answer.data, cookies)


def worker(client) -> str:
    return fetched(client, "/sw.js").data.decode()


def shell_list(client) -> list[str]:
    found = re.search(r"const SHELL = (\[.*?\]);", worker(client), re.DOTALL)
    return json.loads(found.group(1).replace(",\n]", "\n]"))


def version(client) -> str:
    return re.search(r'const VERSION = "(\w+)"', worker(client)).group(1)


def test_every_file_the_worker_keeps_is_there_with_its_type(client):
    listed = shell_list(client)
    assert set(PAGES) < set(listed)
    assert len(listed) == len(set(listed)) > 60
    for path in listed:
        answer = fetched(client, path)
        assert answer.status == 200, path
        suffix = f".{path.rpartition('.')[2]}" if "." in path else ""
        assert answer.mimetype == TYPES.get(suffix, "text/html"), path
        assert answer.data, path
        assert not answer.cookies, path


def test_no_cached_byte_holds_a_csrf_token(client, signer):
    for path in shell_list(client):
        for asker in (client, signer.client):
            data = fetched(asker, path).data
            assert b'name="csrf_token"' not in data, path
            assert b"csrf-token" not in data, path


@pytest.mark.parametrize("path", [*PAGES, "/sw.js"])
def test_a_page_of_the_shell_is_the_same_for_everybody(client, signer, path):
    told = fetched(client, path).data
    assert told == fetched(signer.client, path).data
    assert told == fetched(client, f"{path}?source=home").data


@pytest.mark.parametrize("path", [*PAGES, "/sw.js"])
def test_a_page_of_the_shell_is_asked_for_anew_each_time(client, path):
    assert client.get(path).headers["Cache-Control"] == "no-cache"


def test_no_name_of_a_person_is_in_the_shell(signer):
    name = signer.person.name.encode()
    for path in PAGES:
        assert name not in signer.client.get(path).data


def test_the_worker_may_serve_the_tablet_and_nothing_else(client):
    assert client.get("/sw.js").headers["Service-Worker-Allowed"] == "/tablet/"
    assert client.get("/sw.js").mimetype == "text/javascript"


def test_two_starts_of_one_server_give_one_version(client, shared_site):
    assert version(create_app(shared_site).test_client()) == version(client)


def test_a_hospital_s_own_limit_is_a_new_version(client, shared_site):
    other = create_app(replace(shared_site, policy={"stalled_readings": "4"}))
    assert version(other.test_client()) != version(client)


def test_the_manifest_starts_inside_the_worker_s_scope(client):
    manifest = client.get("/tablet/manifest.webmanifest").json
    assert manifest["start_url"].startswith(manifest["scope"])
    assert manifest["scope"] == "/tablet/"
    assert manifest["display"] == "standalone"
    for icon in manifest["icons"]:
        assert icon["src"] in shell_list(client)
        assert fetched(client, icon["src"]).mimetype == icon["type"]


def test_the_catalogue_holds_parts_words_and_limits_but_no_public_code(client):
    catalogue = client.get("/catalogue.json").json
    names = [part["name"] for part in catalogue["parts"]]
    assert names[:2] == ["patient", "indication"]
    assert catalogue["say"]["strip.none_sent"]
    assert catalogue["policy"]["version"]
    assert "I44.2" not in json.dumps(catalogue)


def test_every_word_the_log_and_sync_say_is_in_the_catalogue(client):
    words = client.get("/catalogue.json").json["say"]
    said = set()
    places = ("/static/js/log/", "/static/js/sync/", "/static/js/pages/")
    for path in shell_list(client):
        if path.startswith(places):
            source = fetched(client, path).data.decode()
            said |= set(re.findall(r'"((?:strip|shell|enrol)\.\w+)"', source))
            for problem in re.findall(r'StoreProblem\("(\w+)"', source):
                said.add(f"store.{problem}")
            for problem in re.findall(r'SignInProblem\("(\w+)"', source):
                said |= {f"sign_in.{problem}", f"enrol.{problem}"}
    assert len(said) > 25
    assert sorted(said - set(words)) == []
