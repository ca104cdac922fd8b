"""A site in which somebody typed a text wherever the server takes one."""

from __future__ import annotations

import subprocess
import tomllib
from dataclasses import replace
from html.parser import HTMLParser
from itertools import cycle
from pathlib import Path

from tests.support.cast import Cast
from tests.support.signing import adds, signs
from webapp.app import create_app
from webapp.app_db import close_held
from webapp.db import connect
from webapp.settings import load

FIXTURE = Path(__file__).resolve().parents[2] / "fixtures" / "injection.toml"
TEXTS: dict[str, list[str]] = tomllib.loads(FIXTURE.read_text(encoding="utf-8"))[
    "texts"
]
FINDINGS = "finish.findings"
FAMILY = "patient.family_name"
ONE_DAY = {"day": "2026-05-14", "certainty": "day"}


def squeezed(text: str) -> str:
    """Return a text without any space, however a page or a paper broke it."""
    return "".join(text.split())


class Shape(HTMLParser):
    """A page as a browser builds it: elements with their attributes, and its words."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, tuple[str, ...]]] = []
        self.values: list[tuple[str, str]] = []
        self.words: list[str] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep the element and the names of its attributes."""
        self.elements.append((tag, tuple(sorted(name for name, _ in attrs))))
        self.values += [(name, value or "") for name, value in attrs]

    def handle_data(self, data: str) -> None:
        """Keep what is read."""
        self.words.append(data)

    def handle_comment(self, data: str) -> None:
        """Keep a comment as an element: no page has one."""
        self.elements.append(("!--", ()))

    @property
    def text(self) -> str:
        """Return all its words and the values of its fields, without spaces."""
        typed = [value for name, value in self.values if name == "value"]
        return squeezed("".join([*self.words, "\n", *typed]))


class Injected:
    """The site. `told`: the texts in the order of the places they were typed into."""

    def __init__(self, home: Path, texts: list[str]) -> None:
        home.mkdir()
        self._next = cycle(texts)
        self.told: list[str] = []
        self.site = replace(load(home), hospital=self._text(), facility="EHH")
        self.app = create_app(self.site)
        self._db = connect(self.site.database)
        self.cast = Cast(self.app, self._db)
        self.record = self._tells()
        self.cast.signer.signs_in()
        assert signs(self.cast.signer, self.record).status_code == 302
        added = adds(self.cast.signer, self.record, text=self._text())
        assert added.status_code == 302
        self.cast.coder.signs_in()
        self.cast.administrator.signs_in()

    def close(self) -> None:
        """Let go of the database."""
        self._db.conn.close()
        close_held()

    def pages(self, typed: str) -> dict[str, str]:
        """Return the HTML of every page that shows words; `typed`: into an address."""
        one = f"/records/{self.record}"
        signer, coder = self.cast.signer, self.cast.coder
        asked = {
            **{f"{one}{more}": signer for more in ("", "/entries", "/sign", "/added")},
            f"{one}/answer?path={FINDINGS}": signer,
            f"{one}/answer?path={FAMILY}": signer,
            "/records": signer,
            "/coding": coder,
            f"/coding/{self.record}": coder,
            "/tablets": self.cast.administrator,
            "/server": self.cast.administrator,
        }
        found = {
            path.replace(self.record, "R"): actor.opens(path).text
            for path, actor in asked.items()
        }
        # Nothing is found, so that the page is the same whatever was typed.
        query = {"q": f"{typed} zz9", "state": typed, "path": typed, "next": typed}
        client, html = signer.client, {"Accept": "text/html"}
        for path in ("/records", f"{one}/entries", "/sign-in", "/limits/x", "/nowhere"):
            answer = client.get(path, query_string=query, headers=html)
            found[f"{path.replace(self.record, 'R')} asked"] = answer.text
        for path in ("say", "strike", "remark"):
            told = {"path": typed, "entry": typed, "because": typed, "note": typed}
            answer = signer.posts(f"{one}/{path}", page="/sign-in", **told)
            assert answer.status_code >= 400
            found[f"{path} refused"] = answer.text
        answer = signer.posts("/sign-in", login=typed, password="x")
        found["sign-in refused"] = answer.text
        return found

    def paper(self, path: str) -> bytes:
        """Return a paper of the record."""
        answer = self.cast.signer.opens(f"/records/{self.record}/{path}")
        assert answer.mimetype == "application/pdf"
        return answer.data

    def _text(self) -> str:
        self.told.append(next(self._next))
        return self.told[-1]

    def _tells(self) -> str:
        tablet = self.cast.tablet()
        tablet.who = {"person": None, "name": self._text(), "role": "assistant"}
        record = tablet.opens()
        for path in (FAMILY, "patient.given_name", FINDINGS, "consent.threat"):
            tablet.sets(record, path, self._text())
        tablet.sets(record, "patient.record_number", self._text())
        tablet.sets(record, "indication.main_rhythm", {"other": self._text()})
        tablet.sets(record, "approach.first_puncture", ONE_DAY)
        tablet.adds(record, "finish.equipment_fault", {"what": self._text()})
        somebody = {"person": None, "name": self._text()}
        tablet.adds(record, "patient.people", {"person": somebody})
        wire = tablet.adds_wire(record, self._text())
        tablet.strikes(record, "wires", wire, self._text())
        tablet.syncs()
        return record


def text_of(pdf: bytes) -> str:
    """Return the words of a paper as another reader finds them, without spaces."""
    read = ["pdftotext", "-", "-"]
    done = subprocess.run(read, input=pdf, capture_output=True, check=True)
    return squeezed(done.stdout.decode())


def taken_apart(pdf: bytes, folder: Path) -> bytes:
    """Return a paper with nothing compressed."""
    kept, apart = folder / "paper.pdf", folder / "apart.pdf"
    kept.write_bytes(pdf)
    told = ["qpdf", "--qdf", "--object-streams=disable", str(kept), str(apart)]
    subprocess.run(told, check=True)
    return apart.read_bytes()
