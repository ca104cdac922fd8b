"""Enrolling a tablet before its page is ready to take the code."""

from playwright.sync_api import expect

from webapp.people import tablets


def test_a_code_typed_before_the_page_is_ready_is_not_lost(live, bare_browser, db):
    _, code = tablets.add(db, "tablet 1")
    # A page of the place without a worker, so that its requests can be held back.
    page = bare_browser.opens(f"{live.url}/static/js/types.js")
    held = []
    page.route("**/catalogue.json", lambda route: held.append(route))
    with page.expect_request("**/catalogue.json"):
        page.goto(f"{live.url}/tablet/enrol")
    field, key = page.get_by_label("Code"), page.get_by_role("button", name="Enrol")
    field.fill(code)
    field.press("Enter")
    expect(key).to_be_disabled()
    expect(field).to_have_value(code)
    assert page.url == f"{live.url}/tablet/enrol"
    held[0].continue_()
    key.click()
    page.wait_for_url(f"{live.url}/tablet/")
