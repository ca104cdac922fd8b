"""The demo: eight fictitious cases, each in the state it is there to show."""

from __future__ import annotations

import re
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from sqlite_utils import Database

from tests.support.notes import tool
from webapp.app_db import close_held
from webapp.catalogue import CATALOGUE
from webapp.db import connect
from webapp.demo.commands import Ready, prepare, welcome
from webapp.demo.desk import Browser
from webapp.demo.filling import LATER, cases
from webapp.demo.site import CAST, PASSWORD
from webapp.note import worker
from webapp.people import accounts, tablets
from webapp.record import exports, photos
from webapp.record.case import Case
from webapp.record.fold import Opened, fold
from webapp.record.open_record import open_record
from webapp.record.photo_named import named_photos
from webapp.record.questions import open_questions
from webapp.record.records import ListedRecord, listed
from webapp.record.streams import read_stream
from webapp.record.writer import body_of
from webapp.settings import load

FILES = sorted((Path(__file__).parents[2] / "fixtures" / "demo").rglob("*.json"))
# Who, state, questions open, answers that are two, entries after the signature.
EXPECTED = {
    "NAME NOT KNOWN, Harbour man, bay R2": ("not_signed", 3, 1, 0),
    "FJORDMERE, Test-Lida": ("not_signed", 76, 0, 0),
    "HOLLINWATER, Test-Per Sørø": ("not_signed", 0, 0, 0),
    "BRENNHAVN, Test-Baby girl": ("not_signed", 0, 0, 0),
    "STRANDMERE, Test-Aksel": ("not_signed", 3, 3, 0),
    "ALDERMERE, Test-Ines": ("signed", 0, 0, 0),
    "MERROWDALE, Test-Oskar": ("addended", 0, 0, 0),
    "SEDGEFORD, Test-Ruth Åse": ("signed", 0, 0, 8),
}
# A weight of 700.5 kg and a temperature without its unit, as somebody typed them.
IMPOSSIBLE = {"2-name-not-known-a": {"patient.weight", "patient.temperature"}}
_LINK = re.compile(r'href="(/[^"#]*)"')


@dataclass
class Hospital:
    """The demo after its first start. `handed_out`: whose codes, by then."""

    home: Path
    ready: Ready
    db: Database
    handed_out: set[str]

    def record_of(self, who: str) -> ListedRecord:
        """Return the record of a name."""
        return next(r for r in listed(self.db) if r.who.startswith(who))

    def counts(self) -> dict[str, int]:
        """Return how many rows each table has that a start may not add to."""
        # A code that is given anew stands in the access log, and so does its sum.
        apart = {"access_log", "row_sum"}
        names = [t for t in self.db.table_names() if not t.startswith("sqlite_")]
        return {name: self.db[name].count for name in names if name not in apart}


@pytest.fixture(scope="module")
def hospital(tmp_path_factory):
    home = tmp_path_factory.mktemp("demo")
    ready = prepare(home)
    db = connect(load(home).database)
    with closing(db.conn):
        yield Hospital(home, ready, db, set(exports.last_handed(db)))
    close_held()
    worker.stop()


def test_the_list_shows_eight_records_each_in_its_own_state(hospital):
    found = {
        r.who: (r.state, r.open_questions, r.two_answers, r.late_entries)
        for r in listed(hospital.db)
    }
    assert found == EXPECTED


def test_every_entry_of_every_case_arrived_and_counts(hospital):
    told = [draft.id for one in (*cases(), *cases(LATER)) for draft in one.drafts]
    rows = hospital.db.conn.execute(
        "SELECT log = 'desk', count(*) FROM entry GROUP BY 1"
    ).fetchall()
    # Three signatures, one beside the first, one addendum; and the photo's entry.
    assert dict(rows) == {0: len(told) + 1, 1: 5}
    assert all(r.set_aside == 0 for r in listed(hospital.db))


def test_every_setting_of_every_case_names_who_read_it(hospital):
    """clinical.md V6: no settings without a read-by person."""
    drafts = [d for one in (*cases(), *cases(LATER)) for d in one.drafts]
    told = [d for d in drafts if ".dial_left_at" in d.path and d.op == "add"]
    assert len(told) > 5
    for draft in told:
        assert draft.author["name"] or draft.value["read_back_by"]["name"], draft.path


def test_a_second_start_opens_the_same_hospital_and_doubles_nothing(hospital):
    before = hospital.counts()
    again = prepare(hospital.home)
    assert hospital.counts() == before
    assert again.code != hospital.ready.code


def test_a_code_lets_a_browser_in_and_the_next_start_has_another(hospital):
    code = prepare(hospital.home).code
    client = hospital.ready.app.test_client()
    assert client.post("/tablet/enrol", json={"code": code}).status_code == 200
    prepare(hospital.home)
    names = {t.tablet.name for t in tablets.tablets(hospital.db)}
    assert {"Browser 1", "Browser 2", "Tablet 2", "Tablet 5"} <= names


def test_somebody_of_every_role_may_sign_in(hospital):
    found = {role for p in accounts.people(hospital.db) for role in p.roles}
    assert found == set(accounts.ROLES)


def test_what_is_printed_says_where_to_go_and_how_to_get_in(hospital):
    printed = "\n".join(welcome("http://127.0.0.1:8321", "CODE", hospital.home))
    for words in ("http://127.0.0.1:8321/tablet/enrol", "CODE", PASSWORD):
        assert words in printed
    for person in CAST:
        assert person.login in printed
        assert person.name in printed


@pytest.mark.parametrize("login", [person.login for person in CAST])
def test_no_page_that_a_person_can_reach_is_an_error(hospital, login):
    browser = Browser(hospital.ready.app, login, PASSWORD)
    waiting, seen = ["/"], set()
    while waiting:
        path = waiting.pop().replace("&amp;", "&")
        # One field's history, of some hundred in each record, stands for all.
        if path in seen or "path=" in path or path == "/sign-out":
            continue
        seen.add(path)
        with closing(browser.client.get(path, follow_redirects=True)) as answer:
            assert answer.status_code == 200, path
            if answer.mimetype == "text/html":
                waiting += _LINK.findall(answer.text)
    assert len(seen) > 1


@pytest.mark.parametrize("who", EXPECTED)
def test_the_note_of_each_case_is_a_sound_pdf(hospital, who, tmp_path):
    record = hospital.record_of(who).id
    browser = Browser(hospital.ready.app, "fell", PASSWORD)
    file = tmp_path / "note.pdf"
    file.write_bytes(browser.client.get(f"/records/{record}/note.pdf").data)
    assert "No syntax or stream encoding errors" in tool("qpdf", "--check", str(file))


def test_a_drawn_photo_can_be_shown(hospital):
    record = hospital.record_of("SEDGEFORD").id
    [photo] = named_photos(open_record(hospital.db, record).case)
    view = photos.view(hospital.db, photo.sealed)
    assert (view.plain_sha256, view.because) == (photo.sha256, "")
    assert (view.width, view.height) == (640, 480)


def test_the_codes_of_the_clean_case_were_handed_out(hospital):
    assert hospital.handed_out == {hospital.record_of("ALDERMERE").id}


def test_two_people_signed_the_clean_case_and_one_added_to_another(hospital):
    pages = {
        who: Browser(hospital.ready.app, "fell", PASSWORD).reads(
            f"/records/{hospital.record_of(who).id}"
        )
        for who in ("ALDERMERE", "MERROWDALE")
    }
    assert "Signed by E. Tarn-Example" in pages["ALDERMERE"]
    assert "Signed by O. Fell-Example" in pages["ALDERMERE"]
    assert "Addendum 1" in pages["MERROWDALE"]


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_what_cannot_be_stands_only_where_it_is_meant_to(file):
    drafts = read_stream(file).drafts
    opened = [Opened(d.id, "A", n, body_of(d)) for n, d in enumerate(drafts, 1)]
    questions = open_questions(Case(fold(opened), CATALOGUE))
    found = {q.path for q in questions if q.why == "impossible"}
    assert found == IMPOSSIBLE.get(file.stem, set())


# The first case tells a few moments of a row ahead; other tests read it as it is.
@pytest.mark.parametrize("file", FILES[1:], ids=lambda file: file.stem)
def test_nothing_in_a_case_happened_after_it_was_entered(file):
    drafts = read_stream(file).drafts
    entered = [draft.at["utc"] for draft in drafts]
    assert entered == sorted(entered)
    for draft in drafts:
        late = [utc for utc in _moments(draft.value) if utc > draft.at["utc"]]
        assert not late, draft.path


def _moments(value: Any) -> list[str]:
    if isinstance(value, dict):
        own = [value["utc"]] if "utc" in value else []
        return own + [utc for child in value.values() for utc in _moments(child)]
    if isinstance(value, list):
        return [utc for child in value for utc in _moments(child)]
    return []
