"""The page of the limits: whoever is signed in reads each with where it comes from."""

from __future__ import annotations

from dataclasses import replace
from html import unescape

import pytest

from tests.support.cast import Cast
from webapp.app import create_app
from webapp.clinical.policy import load
from webapp.views.limits import FIRST, grouped

STRICTER = {"threshold_margin_target": "3", "need_review_h": "24, 72"}


@pytest.fixture
def changed(site, db):
    """The signer at a hospital with two limits of its own."""
    signer = Cast(create_app(replace(site, policy=STRICTER)), db).signer
    signer.signs_in()
    return signer


def row_of(page: str, key: str) -> str:
    return unescape(page.partition(f'<tr id="{key}"')[2].partition("</tr>")[0])


def test_every_limit_stands_with_meaning_value_range_source_and_word(signer) -> None:
    page = signer.opens("/limits").text
    for key, row in load().rows.items():
        if key == "capture_lost_card":
            continue
        told = row_of(page, key)
        assert row.meaning in told, key
        assert row.source in told, key
        assert row.kind == "texts" or row.values[0] in told, key
        assert row.kind == "texts" or f"{row.low} to {row.high}" in told, key


def test_every_number_but_a_count_or_a_part_stands_with_its_unit() -> None:
    bare = {
        line.row.key
        for group in grouped(load())
        for line in group.lines
        if not line.texts and line.shown == ", ".join(line.row.values)
    }
    assert bare == {
        "stalled_readings",
        "test_coarse_ratio",
        "sensitivity_fraction",
        "passes_before_change",
        "look_again_clean_case_max",
    }


def test_the_card_stands_in_full(signer) -> None:
    page = unescape(signer.opens("/limits").text)
    assert load().rows["capture_lost_card"].value.strip() in page


def test_a_site_that_changed_nothing_says_so(signer) -> None:
    page = signer.opens("/limits").text
    assert "Every limit is as shipped." in page
    assert "data-differs" not in page


def test_a_limit_of_the_hospital_is_marked_beside_the_shipped_one(changed) -> None:
    page = changed.opens("/limits").text
    assert page.count("data-differs") == 2
    assert "shipped: 2.5 ×" in row_of(page, "threshold_margin_target")
    assert "<b>24, 72 h</b>" in row_of(page, "need_review_h")
    assert '<a href="#threshold_margin_target">' in page
    assert load(STRICTER).version in page


def test_a_card_of_the_hospital_is_named_as_its_own(site, db) -> None:
    own = {"capture_lost_card": "Capture lost\n1. Call the red telephone."}
    signer = Cast(create_app(replace(site, policy=own)), db).signer
    signer.signs_in()
    page = signer.opens("/limits").text
    assert "1. Call the red telephone." in page
    assert '<a href="#capture_lost_card">' in page


def test_the_limits_an_older_record_began_with_can_still_be_read(
    site, db, app, changed
) -> None:
    shipped = load().version
    page = changed.opens(f"/limits/{shipped}").text
    assert f"This is version {shipped}" in page
    assert "<b>2.5 ×</b>" in row_of(page, "threshold_margin_target")
    assert changed.opens("/limits/none-such").status_code == 404


@pytest.mark.parametrize("who", ["recorder", "signer", "coder", "administrator"])
def test_anybody_signed_in_reads_it(cast, who) -> None:
    actor = getattr(cast, who)
    actor.signs_in()
    assert actor.opens("/limits").status_code == 200


def test_nobody_else_does(client) -> None:
    assert client.get("/limits").status_code in (302, 303, 401)


def test_the_desk_links_to_it_on_each_page(signer) -> None:
    assert 'href="/limits"' in signer.opens("/records").text


def test_each_group_begins_with_a_limit_there_is() -> None:
    assert set(FIRST) <= set(load().rows)
