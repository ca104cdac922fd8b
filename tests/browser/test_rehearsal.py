"""Rehearsals: three scripted patients to their end, and nothing of them leaves."""

import json
import re

import pytest
from playwright.sync_api import expect

from tests.support.looking import clipped, covered, wider_than_screen
from tests.support.overlaid import crossing

# The way in that each script's monitor shows.
NECK = ((15, "high_ra"), (18, "mid_ra"), (22, "low_ra"))
WAYS = {
    "steady": (*NECK, (27, "rv_free"), (34, "rv_contact")),
    "wrong_way": (
        *NECK,
        (26, "ivc"),
        (20, "mid_ra"),
        (27, "rv_free"),
        (34, "rv_contact"),
    ),
    "lost": (*NECK, (27, "rv_free"), (36, "rv_contact")),
}
MISSED = {
    "steady": ["P waves asked", "Balloon down at the end", "Wiring asked"],
    "wrong_way": ["P waves asked", "Balloon down at the end", "Wiring asked"],
    "lost": ["P waves asked", "Balloon down at the end", "Wiring asked"],
}
SITE = "America/Chicago"
REAL_CASES = """async () => {
  const { openStore } = await import("/static/js/log/store.js");
  const store = await openStore();
  const records = await store.records();
  store.close();
  return records.length;
}"""


class Rehearsal:
    """One rehearsal at its own address."""

    def __init__(self, page, name):
        self.page, self.name = page, name
        page.locator(f"[data-act=rehearse-{name}]").click()
        expect(page.locator("#case")).to_be_visible()

    def goes(self, part):
        self.page.locator(f".stop[data-part={part}]").click()
        expect(self.page.locator(f"#part-{part}:not([hidden])")).to_have_count(1)

    def key(self, act):
        return self.page.locator(f"#panel [data-act='{act}']")

    def monitor(self, attribute):
        return self.page.locator(".monitor-strip").get_attribute(attribute)

    def taps(self, *acts):
        for act in acts:
            expect(self.page.locator(".adv-grid:not([data-held])")).to_have_count(1)
            self.key(act).click()

    def reads_depth(self, cm, pattern):
        self.taps("depth-other", *(f"digit-{digit}" for digit in str(cm)))
        expect(self.page.locator(".adv-depth [data-called]")).to_have_count(1)
        self.taps(f"result-{pattern}")
        expect(self.page.locator(".adv-depth [data-called]")).to_have_count(0)
        expect(self.page.locator(".adv-depth .num")).to_contain_text(str(cm))

    def sees(self, attribute, value):
        expect(self.page.locator(".monitor-strip")).to_have_attribute(attribute, value)

    def reads_output(self, ma):
        """Take what the monitor answers for the result, as a person would."""
        self.key("other-output").click()
        for figure in ma:
            self.page.locator(f"#panel [data-key='{figure}']").click()
        self.key("pad-done").click()
        self.key("dial-confirm").click()
        captures = self.monitor("data-captures") == "true"
        self.key("captures" if captures else "no_capture").click()
        expect(self.key("dial-confirm")).to_have_attribute("aria-pressed", "false")
        return captures

    def reads_back(self, ma):
        self.key("read-output").click()
        for figure in ma:
            self.page.locator(f"#panel [data-key='{figure}']").click()
        self.key("pad-done").click()
        self.key("keep-read").click()
        expect(self.key("keep-read")).to_have_attribute("data-none", "")

    def debrief(self):
        self.goes("finish")
        self.page.locator("[data-act=debrief]").click()
        return self.page.locator(".debrief")


@pytest.fixture(scope="module")
def room(standing, shared_browser):
    """The rehearsals' page, opened once; what it sent."""
    page = shared_browser.opens(f"{standing.url}/tablet/rehearsal")
    sent = []
    page.on("request", lambda asked: sent.append((asked.method, asked.url)))
    return page, sent


@pytest.mark.parametrize("name", WAYS)
def test_a_rehearsal_runs_to_its_debrief_and_leaves_nothing(room, name):
    page, sent = room
    page.evaluate("location.hash = '#/'")
    expect(page.locator("#start .rehearsal-word")).to_have_text(
        "REHEARSAL · no patient"
    )
    run = Rehearsal(page, name)
    run.goes("advance")
    run.taps("guide-intracardiac_ecg")
    for cm, pattern in WAYS[name]:
        run.reads_depth(cm, pattern)
        if run.monitor("data-shows") == "runs":
            run.taps("ectopy-runs")
            run.sees("data-shows", "pattern")
    run.goes("capture")
    found = [run.reads_output(ma) for ma in ("5", "2", "0.5")]
    assert found == [True, True, False]
    run.reads_back("3")
    run.sees("data-captures", "false" if name == "lost" else "true")
    if name == "lost":
        page.locator("#danger [data-act=capture-lost]").click()
        page.keyboard.press("Escape")
        assert run.reads_output("5") is True
    debrief = run.debrief()
    depths, outputs = len(WAYS[name]), 4 if name == "lost" else 3
    count = depths + outputs
    expect(debrief).to_contain_text(
        f"Readings: {count} of {count} as the script shows them"
    )
    missed = debrief.locator("h4:has-text('Not entered') + ul li")
    assert missed.all_inner_texts()[:3] == MISSED[name]
    assert [asked for asked in sent if asked[0] != "GET"] == []
    assert page.evaluate(REAL_CASES) == 0


# The log of patients is enrolled in another zone than the browser is set to.
ENROLLED = """async (zone) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { writeMeta } = await import("/static/js/log/meta.js");
  const base = await openBase({ name: "wiremark" });
  await writeMeta(base, "enrolment", { tablet: "Tablet 9", hospital: "Example Harbour",
    zone, token: "none", server_key: null });
  base.close();
}"""
ROWS = """async () => {
  const { openStore } = await import("/static/js/log/store.js");
  const store = await openStore({ name: "wiremark-rehearsal" });
  const [{ record }] = await store.records();
  const { rows } = await store.fold(record);
  store.close();
  return rows;
}"""


def test_a_rehearsal_runs_on_the_clock_of_the_site_and_names_its_case(
    standing, browser
):
    page = browser.opens(f"{standing.url}/tablet/rehearsal")
    assert page.evaluate("Intl.DateTimeFormat().resolvedOptions().timeZone") != SITE
    page.evaluate(ENROLLED, SITE)
    page.reload()
    Rehearsal(page, "steady")
    expect(page.locator(".place small:visible")).to_have_text("Case")
    expect(page.locator("#case")).to_contain_text("decision to pace")
    told = json.dumps(page.evaluate(ROWS))
    assert set(re.findall(r'"zone": "([^"]+)"', told)) == {SITE}


@pytest.mark.parametrize("size", [(1280, 800), (1024, 768), (390, 844), (640, 400)])
def test_a_rehearsal_hides_nothing_and_its_debrief_is_in_sight_on_finish(room, size):
    page, _ = room
    page.evaluate("location.hash = '#/'")
    expect(page.locator("#cases")).to_be_visible()
    page.set_viewport_size({"width": size[0], "height": size[1]})
    run = Rehearsal(page, "steady")
    record = page.url.split("#/case/")[1].split("/")[0]
    goes = f"(part) => {{ location.hash = `#/case/{record}/${{part}}`; }}"
    page.evaluate(goes, "advance")
    run.taps("guide-intracardiac_ecg")
    run.reads_depth(15, "high_ra")
    found = looked_at(page)
    page.evaluate(goes, "capture")
    run.reads_output("5")
    expect(page.locator("#kept .kept-key")).to_be_visible()
    found += looked_at(page)
    page.evaluate(goes, "finish")
    debrief = page.locator("[data-act=debrief]")
    expect(debrief).to_be_in_viewport(ratio=1)
    debrief.click()
    expect(page.locator(".debrief")).to_be_visible()
    page.set_viewport_size({"width": 1280, "height": 800})
    assert found == []


def looked_at(page):
    """What is cut, covered or runs into another on a live screen."""
    cut = [one for one in clipped(page) if "out of panel" not in one]
    return cut + covered(page) + wider_than_screen(page) + crossing(page, "#panel")
