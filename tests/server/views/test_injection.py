"""What was typed to be run stands as typed, on every page, paper, file and header."""

import csv
import io
import re

import pytest

from tests.support.injected import (
    TEXTS,
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
PAPERS = ("note.pdf", "added/1.pdf")


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
    is_marked = any(map(marked, typed.told))
    for text in dict.fromkeys(typed.told):
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


def test_the_record_shows_every_text_as_it_was_typed(typed):
    page = Shape(typed.pages(PLAIN)["/records/R"]).text
    for text in typed.told[2:9]:
        seen = squeezed(text) in page
        assert seen or squeezed(text.translate(CONTROLS)) in page, text


@pytest.mark.parametrize("name", PAPERS)
def test_papers_print_every_text_or_name_what_has_no_ink(typed, name, tmp_path):
    pdf = typed.paper(name)
    words = text_of(pdf)
    # The family name heads every paper; an addendum's text stands on its own.
    wanted = typed.told[2:7] if name == "note.pdf" else typed.told[-1:]
    for text in wanted:
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
        assert row["family"].removeprefix("'") == typed.told[2]


def test_names_of_files_are_ours(typed):
    one = f"/records/{typed.record}"
    asked = [(typed.cast.signer, f"{one}/{name}") for name in PAPERS]
    asked.append((typed.cast.coder, f"{one}/codes.csv"))
    for actor, path in asked:
        headers = actor.opens(path).headers
        assert NAMED.fullmatch(headers["Content-Disposition"]), path
        assert "taken" not in str(headers)


def test_nothing_typed_reaches_the_servers_log(typed, caplog):
    for text in dict.fromkeys(typed.told):
        typed.pages(text)
    assert [record.getMessage() for record in caplog.records] == []
