"""A signature drawn on the tablet is shown at the desk, with who drew it and when."""

import pytest

from tests.support.html import Page
from tests.support.remarked_pages import words

SIGNATURE = "consent.signature"
DRAWN = {"width": 300, "height": 100, "strokes": [[[10, 50], [60, 20]], [[220, 50]]]}


@pytest.fixture
def record(tablet):
    made = tablet.opens()
    tablet.sets(made, SIGNATURE, DRAWN)
    tablet.syncs()
    return made


def figures(signer, record):
    page = Page(signer.opens(f"/records/{record}").text)
    return page, [tag for tag in page.tags if tag.has_class("sketch")]


def test_each_stroke_is_drawn_and_one_point_is_a_dot(signer, record):
    page, [figure] = figures(signer, record)
    [svg] = [t for t in page.tags if t.parent is figure and t.name == "svg"]
    # The parser gives names of attributes in small letters.
    assert svg["viewbox"] == "0 0 300 100"
    [path] = [t for t in page.tags if t.parent is svg]
    assert path["d"] == "M10 50 L60 20 M220 50 L220 50"


def test_it_has_a_name_and_says_who_drew_it_when(signer, tablet, record):
    page, [figure] = figures(signer, record)
    [svg] = [t for t in page.tags if t.parent is figure and t.name == "svg"]
    assert svg["aria-label"] == "Signature, drawn by hand"
    [said] = [t for t in page.tags if t.has_class("said") and t.is_inside("figcaption")]
    line = next(t for t in page.tags if t.get("id") == SIGNATURE)
    under = [
        t for t in page.tags if t.has_class("said") and not t.is_inside("figcaption")
        and words(page, t) in words(page, line)
    ]  # fmt: skip
    assert words(page, said)
    assert words(page, said) in [words(page, one) for one in under]


def test_nothing_of_it_needs_a_looser_policy(signer, record):
    page, [figure] = figures(signer, record)
    inside = [t for t in page.tags if t.name in ("svg", "path", "figure")]
    assert [t for t in inside if "style" in t] == []
    answer = signer.opens(f"/records/{record}")
    assert "unsafe-inline" not in answer.headers["Content-Security-Policy"]
    assert figure.is_inside("dd")


def test_two_signatures_are_both_shown(cast, signer, tablet, record):
    other = cast.tablet("tablet 9")
    other.opens(record)
    other.sets(record, SIGNATURE, {**DRAWN, "strokes": [[[1, 1]]]}, seen=[])
    other.syncs()
    assert len(figures(signer, record)[1]) == 2


def test_a_signature_not_given_has_no_drawing(signer, tablet):
    made = tablet.opens()
    tablet.sets(made, SIGNATURE, {"absent": "not_done", "because": "hands in plaster"})
    tablet.syncs()
    assert figures(signer, made)[1] == []
