"""What to fetch: the hospital's list, at hand before a case and beside the kit."""

import pytest
from playwright.sync_api import expect

from webapp.clinical.policy import load


@pytest.fixture
def paper(bedside):
    return bedside.page.get_by_role("dialog", name="What to fetch")


def test_the_list_opens_from_start_and_prints_nothing_else(bedside, paper):
    page = bedside.page
    page.get_by_role("button", name="What to fetch").click()
    for line in load().rows["bring_list"].values:
        kind, _, things = line.partition(":")
        section = paper.locator("section", has=page.get_by_role("heading", name=kind))
        expect(section.locator("li")).to_have_text(
            [thing.strip() for thing in things.split(";")]
        )
    page.emulate_media(media="print")
    expect(paper.get_by_text("Every case", exact=True)).to_be_visible()
    expect(page.locator("#start")).to_be_hidden()
    expect(paper.locator("[data-act=print]")).to_be_hidden()
    page.emulate_media(media="screen")
    page.keyboard.press("Escape")
    expect(paper).to_have_count(0)


def test_it_lies_beside_the_kit_and_leads_back_to_it(bedside, paper):
    bedside.starts_now()
    bedside.goes_to("Approach")
    key = bedside.page.locator(".kit [data-act=bring]")
    key.click()
    expect(paper).to_be_visible()
    paper.get_by_role("button", name="Close").click()
    expect(bedside.page.locator(".kit [data-act=bring]")).to_be_focused()
