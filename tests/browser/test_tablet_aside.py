"""What a revoked tablet writes counts nowhere, and is shown where it was typed."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside
from tests.support.browser import wait_until
from tests.support.looking import clipped, wider_than_screen
from tests.support.syncing import ENROL
from webapp.people import tablets

WHY = "The tablet was revoked before this arrived."
OPEN = """async () => {
  const { openStore } = await import("/static/js/log/store.js");
  window.store = await openStore();
}"""


@pytest.fixture
def revoked(browser, live, db):
    """A tablet on an open case, revoked in the middle of it."""
    bare = browser.opens(f"{live.url}/static/js/types.js")
    bare.evaluate(OPEN)
    made, code = tablets.add(db, "tablet 7")
    assert bare.evaluate(ENROL, code) is None
    bare.close()
    case = Bedside(browser, live.url)
    case.starts_now()
    case.page.evaluate(OPEN)
    wait_until(case.page, "(await store.status()).unsent === 0", 60)
    tablets.revoke(db, made.id)
    return case


def test_an_answer_stands_by_its_field_as_typed_with_the_reason(revoked):
    revoked.types("Weight", "64,5")
    aside = revoked.field("Weight").locator(".field-aside")
    expect(aside).to_contain_text("Set aside, kept here: 64,5 kg", timeout=90_000)
    expect(aside).to_contain_text(WHY)
    assert "patient.weight" not in revoked.fold()["values"]
    for size in ((390, 844), (1280, 800)):
        revoked.page.set_viewport_size({"width": size[0], "height": size[1]})
        assert wider_than_screen(revoked.page) == []
        assert clipped(revoked.page) == []
    revoked.goes_to("Indication")
    revoked.adds("Drug given")
    revoked.types("Dose", "0.5")
    revoked.keeps_row()
    rows = revoked.field("Drug given").locator(".field-aside")
    expect(rows).to_contain_text("0.5", timeout=90_000)
    revoked.goes_to("Patient")
    expect(aside).to_contain_text("64,5 kg")
    revoked.reloads()
    expect(aside).to_contain_text("64,5 kg")
