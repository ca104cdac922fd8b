"""The paper copy: the whole case printed or shown from the tablet without a server."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside
from tests.support.browser import Browser, wait_until
from tests.support.looking import audit, clipped, small_targets, wider_than_screen
from tests.support.notes import squeezed
from tests.support.server import LiveServer
from tests.support.syncing import ENROL
from tests.support.told_here import Told, anything, of_file
from tests.support.unmarked import without_marks
from webapp.db import connect, migrate
from webapp.people import tablets
from webapp.settings import DATABASE_FILE

SIZES = {"tablet": (1280, 800), "upright": (800, 1280), "phone": (390, 844)}
PAPERS = ("A4", "Letter")
STORE = """async () => {
  const { openStore } = await import("/static/js/log/store.js");
  window.store = await openStore();
}"""
# Every answer and every cell of the open case: its label and its words, by the same
# function as the form, the desk and the note.
SAID = """async (record) => {
  const { loadCatalogue } = await import("/static/js/sync/catalogue.js");
  const { indexFields } = await import("/static/js/form/fields.js");
  const { words } = await import("/static/js/form/words.js");
  const { setWords } = await import("/static/js/form/say.js");
  const catalogue = await loadCatalogue();
  setWords(catalogue.say);
  const index = indexFields(catalogue);
  const fold = await store.fold(record);
  const found = [];
  for (const [path, heads] of Object.entries(fold.values)) {
    const { field } = index.at(path);
    for (const { value } of heads) found.push([field.label, words(field, value)]);
  }
  for (const [path, rows] of Object.entries(fold.rows)) {
    const field = index.at(path)?.field ?? index.top(path);
    for (const { value } of rows) for (const child of field.children)
      if (child.name in value) found.push([child.label, words(child, value[child.name])]);
  }
  return found;
}"""
# What stands in one line of the copy, so that a value is looked for beside its label.
LINES = """() => [...document.querySelectorAll(".paper-line")].map((line) => ({
  label: line.querySelector(".paper-label").textContent,
  said: line.querySelector(".paper-said").textContent }))"""


def letters(text: str) -> str:
    """A text without spaces, and without what keeps typed text apart on a screen."""
    return squeezed(without_marks(text))


class Copied:
    """A tablet whose server is stopped, on which paper copies are looked at."""

    def __init__(self, browser: Browser, server: LiveServer) -> None:
        self.server, home = server.start(), server.home
        db = connect(home / DATABASE_FILE)
        migrate(db)
        _, code = tablets.add(db, "tablet 2")
        bare = browser.opens(f"{self.server.url}/static/js/types.js")
        bare.evaluate(STORE)
        assert bare.evaluate(ENROL, code) is None
        bare.close()
        db.conn.close()
        self.bedside = Bedside(browser, self.server.url)
        self.page = self.bedside.page
        self.page.evaluate(STORE)
        self.bedside.can_do_without_server()
        self.server.stop()

    def opens(self, record: str, part: str = "finish"):
        """Open a case's copy by its key in Finish."""
        self.page.evaluate(
            "(hash) => { location.hash = hash; }", f"#/case/{record}/{part}"
        )
        # Who it is now is seen first; a key pressed before that reaches nothing.
        drawn = self.page.locator(f"#panel[data-of-record='{record}']")
        expect(drawn).to_have_count(1)
        expect(self.page.locator("#case:not([inert])")).to_be_visible()
        key = self.page.locator(".finish [data-act='paper']")
        # It also waits, unseen, on the part that was shown before: a press there is lost.
        expect(key).to_be_visible()
        # By keys: a second tap of a finger so soon would be a tremble.
        key.press("Enter")
        return self.shown()

    def shown(self):
        """The copy, once it stands."""
        copy = self.page.get_by_role("dialog", name="Paper copy of the case")
        expect(copy).to_be_visible()
        return copy

    def closes(self) -> None:
        """Close it as a person does."""
        self.page.keyboard.press("Escape")
        expect(self.page.locator(".paper")).to_have_count(0)

    def prints(self, path: Path, paper: str) -> list[str]:
        """Print it; return the text of each page."""
        self.page.pdf(path=str(path), format=paper)
        told = subprocess.run(
            ["pdftotext", "-raw", str(path), "-"], check=True, capture_output=True
        )
        return told.stdout.decode().removesuffix("\f").split("\f")


@pytest.fixture(scope="module")
def tablet(shell, tmp_path_factory):
    """An enrolled tablet without its server."""
    browser = shell.browser(tmp_path_factory.mktemp("profile") / "tablet")
    server = LiveServer(tmp_path_factory.mktemp("home"))
    yield Copied(browser, shell.at_its_address(server))
    browser.close()


@pytest.fixture(scope="module")
def clean(tablet):
    """The record of the invented clean emergency."""
    return of_file("demo/1-clean-emergency").put(tablet.page)


@pytest.fixture
def copy(tablet, clean):
    """Its copy, shown."""
    yield tablet.opens(clean)
    tablet.closes()
    tablet.page.set_viewport_size({"width": 1280, "height": 800})


@pytest.mark.parametrize("paper", PAPERS)
def test_every_answer_of_a_case_is_printed_after_its_label(
    tablet, clean, copy, tmp_path, paper
):
    text = letters(" ".join(tablet.prints(tmp_path / "case.pdf", paper)))
    said = tablet.page.evaluate(SAID, clean)
    assert len(said) > 400
    missing = [(label, words) for label, words in said if letters(words) not in text]
    assert missing == []


@pytest.mark.parametrize("paper", PAPERS)
def test_every_page_names_the_patient_twice_and_its_own_number(
    tablet, copy, tmp_path, paper
):
    pages = tablet.prints(tmp_path / "case.pdf", paper)
    assert len(pages) > 3
    for number, page in enumerate(pages, start=1):
        assert "ALDERMERE, Test-Ines" in page, number
        assert "no. 00417220" in page, number
        assert "3 Feb 1949" in page, number
        assert f"page {number} of {len(pages)}" in page, number


@pytest.mark.parametrize("seed", [3, 8])
def test_every_value_of_a_made_up_case_stands_beside_its_label(tablet, tmp_path, seed):
    record = anything(seed).put(tablet.page)
    tablet.opens(record)
    lines = [
        (letters(line["label"]), letters(line["said"]))
        for line in tablet.page.evaluate(LINES)
    ]
    for label, words in tablet.page.evaluate(SAID, record):
        sought, name = letters(words), letters(label)
        # A value of a field stands in the field's line, one of a row after its name.
        beside = any(
            (at == name and sought in said) or f"{name}{sought}" in said
            for at, said in lines
        )
        assert beside, (label, words)
    pages = tablet.prints(tmp_path / "any.pdf", "A4")
    assert f"page {len(pages)} of {len(pages)}" in pages[-1]
    tablet.closes()


@pytest.fixture(scope="module")
def odd(tablet):
    """The copy's lines of a case in which little is plain."""
    told = Told()
    told.sets("", "patient.family_name", "BRANDNESS")
    told.sets("", "patient.sex", "female", seen=[])
    told.sets("", "patient.sex", "male", seen=[])
    told.sets("", "patient.weight", {"absent": "not_done", "because": "no scale"})
    wire = told.adds_wire("")
    high = {"as": "340", "n": "340", "unit": "cm"}
    depth = f"wires/{wire}/advance.depth_reading"
    told.adds("", depth, {"depth": high})
    struck = told.adds("", depth, {"depth": {"as": "34", "n": "34", "unit": "cm"}})
    told.strikes("", depth, struck, "another patient")
    photo = {"sha256": "ab" * 32, "sealed": "cd" * 32, "type": "image/png", "size": 9}
    told.sets("", f"wires/{wire}/approach.image_photo", {**photo, "caption": "vein"})
    told.adds("", "indication.event", {"what": "lead slipped", "later": "a newer word"})
    told.sets("", "patient.no_such_field", "typed by a newer form")
    record = told.put(tablet.page)
    tablet.opens(record)
    lines = tablet.page.evaluate(LINES)
    whole = tablet.page.locator(".paper-sheet").inner_text()
    tablet.closes()
    return {"lines": lines, "whole": whole}


def line(odd, label: str) -> str:
    [said] = [one["said"] for one in odd["lines"] if one["label"] == label]
    return said


def test_two_answers_are_both_printed_and_called_two(odd):
    said = line(odd, "Sex for clinical use")
    assert said.startswith("two answers")
    assert "Female" in said
    assert "Male" in said


def test_what_is_impossible_is_printed_as_told_and_marked(odd):
    assert "340 cm impossible as told" in line(odd, "Depth reading 1")


def test_a_struck_row_is_printed_with_who_and_why(odd):
    said = line(odd, "Depth reading 2")
    assert "entered in error, struck by K. Ouse-Example: another patient" in said
    assert "34 cm" in said


def test_absence_and_an_open_question_are_printed_apart(odd):
    assert "not done, because no scale" in line(odd, "Weight")
    assert line(odd, "Date of birth") == "not asked"


def test_a_photo_is_printed_by_its_words_and_name(odd):
    [said] = [one["said"] for one in odd["lines"] if "photo:" in one["said"]]
    assert "photo: vein, kept on the tablet as cdcdcdcdcdcd" in said


def test_what_a_newer_form_wrote_is_printed_as_it_stands(odd):
    assert "later a newer word" in line(odd, "Event or finding 1")
    assert "typed by a newer form" in line(odd, "patient.no_such_field")


def test_the_copy_says_what_it_is_and_what_the_server_has(odd):
    assert re.search(
        r"Not signed; shown and printed from tablet 2 at \d+ \w+ \d{4} \d\d:\d\d\.",
        odd["whole"],
    )
    assert "Not yet on the server: 11 of 11 entries." in odd["whole"]


def test_each_answer_has_who_said_it_and_its_age(odd):
    said = line(odd, "Family name")
    assert re.search(r"\d\d:\d\d · K\. Ouse-Example, nurse · just now", said)


def test_what_stands_now_is_printed_with_its_age(copy):
    block = copy.locator(".paper-standing")
    expect(block).to_contain_text("Read the generator.")
    expect(block.locator(".paper-line", has_text="Depth")).to_contain_text(
        re.compile(r"34 cm at sheath hub, RV contact \(ST up\) \d+ d")
    )
    expect(block.locator(".paper-line", has_text="Own rhythm")).to_contain_text(" d")


def test_a_row_half_told_is_printed_as_not_yet_kept(tablet):
    case = tablet.bedside
    case.goes_home()
    case.starts_new()
    case.goes_to("Indication")
    case.adds("Drug given")
    case.types("Dose", "0.5")
    case.goes_to("Finish")
    tablet.page.locator(".finish [data-act='paper']").click()
    expect(tablet.shown()).to_contain_text("Begun and not yet kept")
    expect(tablet.shown().locator(".paper-part", has_text="Begun")).to_contain_text(
        re.compile("Drug given.*0.5")
    )
    tablet.closes()


@pytest.mark.parametrize("theme", ["night", "dim", "day"])
def test_it_prints_black_on_white_from_any_theme(tablet, copy, theme):
    page = tablet.page
    before = page.evaluate("document.documentElement.dataset.theme")
    page.evaluate("(t) => { document.documentElement.dataset.theme = t; }", theme)
    page.emulate_media(media="print")
    colours = page.evaluate("""() => [...document.querySelectorAll(".paper *")]
      .filter((node) => node.checkVisibility())
      .map((node) => getComputedStyle(node).color)""")
    ground = page.evaluate("getComputedStyle(document.body).backgroundColor")
    page.emulate_media(media="screen")
    page.evaluate("(t) => { document.documentElement.dataset.theme = t; }", before)
    assert set(colours) == {"rgb(0, 0, 0)"}
    assert ground == "rgb(255, 255, 255)"


def test_the_key_prints_the_copy_and_nothing_else(tablet, copy):
    page = tablet.page
    page.evaluate("() => { window.print = () => { window.printed = true; }; }")
    copy.get_by_role("button", name="Print").click()
    wait_until(page, "window.printed === true")
    page.emulate_media(media="print")
    assert page.locator("#case").is_hidden()
    assert copy.get_by_role("button", name="Print").is_hidden()
    page.emulate_media(media="screen")


def test_it_opens_from_the_storage_view_and_gives_the_case_back(tablet, clean):
    page = tablet.page
    page.evaluate("(hash) => { location.hash = hash; }", f"#/case/{clean}/advance")
    expect(page.locator("#work[data-view=live]")).to_be_visible()
    page.locator("[data-act='storage']:visible").click()
    sheet = page.get_by_role("dialog", name="Where the entries are")
    sheet.get_by_role("button", name="Paper copy").click()
    tablet.shown().get_by_role("button", name="Close").click()
    expect(sheet.get_by_role("button", name="Paper copy")).to_be_focused()
    sheet.get_by_role("button", name="Close").click()
    expect(page.locator("#work[data-view=live]")).to_be_visible()


def test_what_is_kept_meanwhile_comes_into_the_copy(tablet, clean, copy):
    value = {"what": "the lights went out"}
    entry = {"path": "indication.event", "op": "add", "value": value}
    author = {"person": None, "name": "K. Ouse-Example", "role": "nurse"}
    tablet.page.evaluate(
        "([record, entry]) => store.append(record, entry)",
        [clean, {**entry, "author": author}],
    )
    expect(copy).to_contain_text("the lights went out")


@pytest.mark.parametrize("size", SIZES)
def test_it_is_read_on_any_screen(tablet, copy, size):
    width, height = SIZES[size]
    tablet.page.set_viewport_size({"width": width, "height": height})
    assert wider_than_screen(tablet.page) == []
    assert clipped(tablet.page) == []
    assert small_targets(tablet.page, least_px=48) == []


def test_no_serious_finding_of_axe_on_the_copy(tablet, copy):
    assert audit(tablet.bedside) == []
