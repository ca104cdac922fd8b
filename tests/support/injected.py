"""A site in which somebody typed a text wherever the server takes one."""

from __future__ import annotations

import subprocess
import tomllib
from contextlib import suppress
from dataclasses import replace
from html.parser import HTMLParser
from itertools import cycle
from pathlib import Path

from tests.support.cast import CODER, SIGNER, Cast, hashed_once
from tests.support.photographs import FIELD as PHOTO
from tests.support.photographs import photographed, png, sends
from tests.support.signing import adds, signs
from tests.support.tablet import Tablet
from webapp.app import create_app
from webapp.app_db import close_held
from webapp.db import connect
from webapp.people import accounts
from webapp.people.accounts import CannotKeep
from webapp.settings import load

FIXTURE = Path(__file__).resolve().parents[2] / "fixtures" / "injection.toml"
TEXTS: dict[str, list[str]] = tomllib.loads(FIXTURE.read_text(encoding="utf-8"))[
    "texts"
]
FINDINGS = "finish.findings"
FAMILY = "patient.family_name"
WORDS = (FAMILY, "patient.given_name", FINDINGS, "consent.threat")
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
        self.boxes: list[str] = []
        self._is_box = False
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep the element and the names of its attributes."""
        self.elements.append((tag, tuple(sorted(name for name, _ in attrs))))
        self.values += [(name, value or "") for name, value in attrs]
        self.boxes += [value or "" for name, value in attrs if name == "value"]
        self._is_box = tag in ("textarea", "pre")

    def handle_data(self, data: str) -> None:
        """Keep what is read, and apart from it what is sent or copied again."""
        self.words.append(data)
        if self._is_box:
            self.boxes.append(data)
            self.words[-1] = ""

    def handle_endtag(self, tag: str) -> None:
        """Go on reading behind a box."""
        self._is_box = False

    def handle_comment(self, data: str) -> None:
        """Keep a comment as an element: no page has one."""
        self.elements.append(("!--", ()))

    @property
    def text(self) -> str:
        """Return all its words and the values of its fields, without spaces."""
        return squeezed("".join([*self.words, "\n", *self.boxes]))


class Injected:
    """The site. `told`: the texts by the places they were typed into.

    `withdrawn`: a signed record taken back, with the reason among them.
    """

    def __init__(self, home: Path, texts: list[str]) -> None:
        home.mkdir()
        self._next = cycle(texts)
        self.told: dict[str, str] = {}
        self.site = replace(load(home), hospital=self._text("hospital"), facility="EHH")
        self.app = create_app(self.site)
        self._db = connect(self.site.database)
        self.cast = Cast(self.app, self._db)
        for one in (SIGNER, CODER):
            named = replace(one, name=self._text(one.login, " " + one.login))
            accounts.add(self._db, named, hashed_once)
        self.record = self._tells()
        signer = self.cast.signer
        signer.signs_in()
        assert signs(signer, self.record).status_code == 302
        added = adds(signer, self.record, text=self._text("addendum"))
        assert added.status_code == 302
        self.withdrawn = self._withdraws()
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
            f"/records/{self.withdrawn}/withdrawn": coder,
            **{f"/records/{self.withdrawn}{more}": signer for more in ("", "/entries")},
            f"{one}/answer?path={FAMILY}": signer,
            "/records": signer,
            "/coding": coder,
            f"/coding/{self.record}": coder,
            "/tablets": self.cast.administrator,
            "/server": self.cast.administrator,
        }
        found = {
            self._short(path): actor.opens(path).text for path, actor in asked.items()
        }
        # Nothing is found, so that the page is the same whatever was typed.
        query = {"q": f"{typed} zz9", "state": typed, "path": typed, "next": typed}
        client, html = signer.client, {"Accept": "text/html"}
        for path in ("/records", f"{one}/entries", "/sign-in", "/limits/x", "/nowhere"):
            answer = client.get(path, query_string=query, headers=html)
            found[f"{self._short(path)} asked"] = answer.text
        for path in ("say", "strike", "remark"):
            told = {"path": typed, "entry": typed, "because": typed, "note": typed}
            answer = signer.posts(f"{one}/{path}", page="/sign-in", **told)
            assert answer.status_code >= 400
            found[f"{path} refused"] = answer.text
        answer = signer.posts("/sign-in", login=typed, password="x")
        found["sign-in refused"] = answer.text
        return found

    def paper(self, path: str) -> bytes:
        """Return a paper: "R/note.pdf" is the record's, "W/…" the withdrawn one's."""
        answer = self.cast.signer.opens(self.address(path))
        assert answer.mimetype == "application/pdf"
        return answer.data

    def address(self, path: str) -> str:
        """Return the address behind the short name of a paper or file."""
        which, _, rest = path.partition("/")
        record = {"R": self.record, "W": self.withdrawn}[which]
        return f"/records/{record}/{rest}"

    def _short(self, path: str) -> str:
        return path.replace(self.record, "R").replace(self.withdrawn, "W")

    def _text(self, place: str, end: str = "") -> str:
        self.told[place] = next(self._next) + end
        return self.told[place]

    def _tablet(self) -> Tablet:
        # A name that shows nothing is not taken; such a tablet goes by a plain one.
        with suppress(CannotKeep):
            return self.cast.tablet(self._text("tablet"))
        del self.told["tablet"]
        return self.cast.tablet()

    def _withdraws(self) -> str:
        """Return a record that was signed and then withdrawn, opened again since."""
        tablet, signer = self.cast.tablet(), self.cast.signer
        record = tablet.opens()
        tablet.sets(record, FAMILY, "Plainword")
        tablet.syncs()
        assert signs(signer, record).status_code == 302
        because = self._text("withdrawal")
        done = adds(signer, record, kind="withdrawal", text="", because=because)
        assert done.status_code == 302
        page = f"/records/{record}/withdrawn"
        opened = signer.posts(page, because=self._text("opened_because"))
        assert opened.status_code == 302
        return record

    def _tells(self) -> str:
        tablet = self._tablet()
        tablet.who = {"person": None, "name": self._text("who"), "role": "assistant"}
        record = tablet.opens()
        for path in WORDS:
            tablet.sets(record, path, self._text(path))
        number, rhythm = "patient.record_number", "indication.main_rhythm"
        tablet.sets(record, number, self._text(number))
        tablet.sets(record, rhythm, {"other": self._text(rhythm)})
        unit = self._text("unit")
        tablet.sets(record, "patient.weight", {"as": "64", "n": "64", "unit": unit})
        said = self._text("as")
        tablet.sets(record, "patient.height", {"as": said, "unit": ""})
        tablet.sets(record, "approach.first_puncture", ONE_DAY)
        tablet.adds(record, "finish.equipment_fault", {"what": self._text("fault")})
        somebody = {"person": None, "name": self._text("person", " third")}
        tablet.adds(record, "patient.people", {"person": somebody})
        wire = tablet.adds_wire(record, self._text("wire"))
        tablet.strikes(record, "wires", wire, self._text("struck"))
        shown = photographed(tablet, record, png(), self._text("caption"))
        tablet.sets(record, PHOTO, shown.value)
        # Its bytes never come: the tablet that has them is named.
        awaited = photographed(tablet, record, png(8, 8), self._text("awaited"))
        tablet.adds(record, "finish.imaging", {"photo": awaited.value})
        tablet.syncs()
        assert sends(tablet, shown).status == 200
        # One entry that no unlocked reader takes: the tablet's name stands beside it.
        tablet.writes_bytes(record, self._text("no_body").encode())
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
