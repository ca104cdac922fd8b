"""What was typed to be run stands as typed, on every page, paper, file and header."""

import csv
import io
import re

import pytest

from tests.support.injected import (
    FAMILY,
    TEXTS,
    WORDS,
    Injected,
    Shape,
    squeezed,
    taken_apart,
    text_of,
)
from webapp.coding.csv_export import FORMULA_STARTS
from webapp.note.text import printable

PLAIN = "Plainword"
RUNS = (b"/JavaScript", b"/JS ", b"/URI", b"/Launch", b"/OpenAction", b"/GoToR")
NAMED = re.compile(r'(inline|attachment); filename="[A-Za-z0-9.-]+"')
CONTROLS = {code: 0x2400 + code for code in range(32)}
PAPERS = ("R/note.pdf", "R/added/1.pdf", "W/note.pdf", "W/added/1.pdf")


STEPS = {"\u2066": 1, "\u2067": 1, "\u2068": 1, "\u2069": -1}
TURNS = re.compile("[\u0590-\u08ff\u200f\u202a-\u202e]")


def reaching(text):
    """Return whether a sign of a text could turn what stands beside the text."""
    for line in re.split("[\n\r\u0085\u2029]", text):
        depth = 0
        for sign in line:
            depth += STEPS.get(sign, 0)
            if depth < 0 or (not depth and TURNS.match(sign)):
                return True
        if depth:
            return True
    return False


def marked(text):
    """Return whether a text has signs that move a cursor or more."""
    return any(ord(sign) in CONTROLS for sign in text)


@pytest.fixture(scope="module")
def plain(tmp_path_factory):
    """The same site in which nobody typed anything to be run."""
    made = Injected(tmp_path_factory.mktemp("plain") / "home", [PLAIN])
    yield {path: Shape(html).elements for path, html in made.pages(PLAIN).items()}
    made.close()


@pytest.fixture(scope="module", params=TEXTS)
def typed(request, tmp_path_factory, plain):
    """A site for each kind of text."""
    home = tmp_path_factory.mktemp(request.param) / "home"
    made = Injected(home, TEXTS[request.param])
    yield made
    made.close()


def test_pages_have_the_elements_and_attributes_they_have_with_plain_words(
    typed, plain
):
    known = {element for elements in plain.values() for element in elements}
    # An answer with a control sign is no answer: the page asks for it, and says so.
    is_marked = any(map(marked, typed.told.values()))
    for text in dict.fromkeys(typed.told.values()):
        for path, html in typed.pages(text).items():
            shape = Shape(html)
            if is_marked:
                assert set(shape.elements) <= known, (path, text)
            else:
                assert shape.elements == plain[path], (path, text)
            for name, value in shape.values:
                assert not name.startswith("on"), (path, text)
                assert name != "style", (path, text)
                if name in ("href", "src", "action"):
                    assert value.startswith(("/", "#", "data:,")) or not value, value


def is_in(text, page):
    """Return whether a text stands on a page, controls as their pictures."""
    told = (text, text.translate(CONTROLS))
    return any(squeezed(one).replace("\u2069", "") in page for one in told)


@pytest.mark.parametrize(
    ("path", "places"),
    [
        ("/records/R", (*WORDS, "who", "fault", "person", "wire", "struck", "caption")),
        ("/records/R", ("unit", "as", "awaited", "test-ines", "no_body")),
        ("/records/R/entries", (*WORDS, "who", "fault", "person", "struck", "unit")),
        ("/records/R/entries", ("as", "caption", "awaited", "wire")),
        ("/records/W/entries", ("withdrawal",)),
        ("/records/W/withdrawn", ("withdrawal", "test-ines", "test-oda")),
        ("/coding/R", ("test-ines", "test-oda", "hospital", FAMILY)),
        ("/tablets", ("tablet", "hospital")),
    ],
)
def test_pages_show_every_text_as_it_was_typed(typed, path, places):
    page = Shape(typed.pages(PLAIN)[path]).text.replace("\u2069", "")
    for place in places:
        text = typed.told.get(place)
        assert text is None or is_in(text, page), (place, text)


def test_what_was_typed_turns_nothing_beside_it_round(typed):
    for path, html in typed.pages(PLAIN).items():
        shape = Shape(html)
        sent = ("value", "href", "action")
        shown = [value for name, value in shape.values if name not in sent]
        for text in [*shape.words, *shown]:
            assert not reaching(text), (path, text)
        # What is sent or copied again holds no sign that nobody typed.
        for text in shape.boxes:
            assert "\u2068" not in text, (path, text)


@pytest.mark.parametrize("name", PAPERS)
def test_papers_print_every_text_or_name_what_has_no_ink(typed, name, tmp_path):
    pdf = typed.paper(name)
    words = text_of(pdf)
    # The family name heads every paper; an addendum's text stands on its own.
    wanted = {
        "R/note.pdf": (*WORDS, "who", "caption", "awaited", "unit", "as", "test-ines"),
        "R/added/1.pdf": ("addendum", "test-ines"),
        "W/note.pdf": ("test-ines",),
        "W/added/1.pdf": ("withdrawal", "test-ines"),
    }
    for text in (typed.told[place] for place in wanted[name]):
        # A cell breaks its lines where it must, beside those of the next.
        told = (printable(text), printable(text.translate(CONTROLS)))
        assert any(all(word in words for word in one.split()) for one in told), text
    apart = taken_apart(pdf, tmp_path)
    assert not [sign for sign in RUNS if sign in apart]


def test_the_coders_file_holds_text_and_no_formula(typed):
    coder = typed.cast.coder
    answer = coder.opens(f"/records/{typed.record}/codes.csv")
    assert answer.status_code == 200
    rows = list(csv.DictReader(io.StringIO(answer.data.decode("utf-8-sig"), "")))
    assert rows
    for row in rows:
        assert None not in row
        for column, cell in row.items():
            assert not cell.startswith(FORMULA_STARTS), column
        assert row["family"].removeprefix("'") == typed.told[FAMILY]


def test_names_of_files_are_ours(typed):
    asked = [(typed.cast.signer, typed.address(name)) for name in PAPERS]
    asked.append((typed.cast.coder, typed.address("R/codes.csv")))
    for actor, path in asked:
        headers = actor.opens(path).headers
        assert NAMED.fullmatch(headers["Content-Disposition"]), path
        assert "taken" not in str(headers)


def test_nothing_typed_reaches_the_servers_log(typed, caplog):
    for text in dict.fromkeys(typed.told.values()):
        typed.pages(text)
    assert [record.getMessage() for record in caplog.records] == []
