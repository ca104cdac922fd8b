"""Capture as it runs, by the taps of one hand."""

from playwright.sync_api import expect

from tests.support.told_here import Told

RELIABLE = {
    "result": "rhythm",
    "rate": {"as": "48", "n": "48", "unit": "/min"},
    "tolerated": "yes",
}


class Live:
    """Capture of one case; every tap is counted."""

    def __init__(self, case, *rows, by="M. Sogn-Example"):
        self.case, self.page, self.taps = case, case.page, 0
        case.starts_now()
        # What is read off a generator carries the name of who read it.
        if by:
            case.is_now(by, "nurse")
        told = Told()
        for path, row in rows:
            told.adds("", path, row)
        if rows:
            told.put(case.page, case.record)
        self.opens()

    def opens(self):
        self.page.evaluate(
            "(r) => { location.hash = `#/case/${r}/capture`; }", self.case.record
        )
        to_live = self.page.locator("[data-act=view-live]")
        expect(self.page.locator("#part-capture:not([hidden])")).to_have_count(1)
        if to_live.is_visible():
            to_live.click()
        expect(self.panel).to_have_attribute("data-part", "capture live")

    @property
    def panel(self):
        return self.page.locator("#panel")

    def key(self, act):
        return self.panel.locator(f"[data-act='{act}']")

    def taps_on(self, *acts):
        for act in acts:
            self.taps += 1
            self.key(act).click()

    def taps_in_vain(self, act):
        """Tap what says of itself that it keeps nothing yet, as a finger can."""
        self.key(act).click(force=True)

    def keys_in(self, figures):
        for figure in figures:
            self.taps += 1
            self.panel.locator(f"[data-key='{figure}']").click()
        self.taps_on("pad-done")

    def keys_over(self, act, figures):
        """Open the keypad of a key, and key a number in."""
        self.taps_on(act)
        self.keys_in(figures)

    def reads(self, result):
        """Confirm the value offered, then its result; wait until it is drawn."""
        before = len(self.readings())
        self.taps_on("dial-confirm", result)
        self.case.waits_for(
            "document.querySelector('[data-act=dial-confirm]').ariaPressed === 'false'"
        )
        self.case.waits_for(
            f"""(await (async () => {{
              const {{ openStore }} = await import("/static/js/log/store.js");
              const store = await openStore();
              const fold = await store.fold("{self.case.record}");
              store.close();
              const path = Object.keys(fold.rows).find((one) => one.endsWith("capture.output_reading"));
              return (fold.rows[path] ?? []).length === {before + 1};
            }})())"""
        )
        expect(self.key("strike-last")).to_contain_text("Strike")

    def rows(self, group):
        wires = self.case.rows("wires")
        return self.case.rows(f"wires/{wires[0]['id']}/{group}") if wires else []

    def readings(self):
        return self.rows("capture.output_reading")

    def called(self):
        text = self.key("dial-confirm").locator(".spoken").inner_text()
        return text.split("\u00a0")[0]

    def offers(self, value):
        expect(self.key("dial-confirm").locator(".spoken")).to_contain_text(
            f"{value}\u00a0"
        )

    def reads_back(self, output, *others):
        for name, figures in (("output", output), *others):
            self.keys_over(f"read-{name}", figures)

    def boxes(self):
        return self.panel.locator("button:visible").evaluate_all(
            "(keys) => Object.fromEntries(keys.map((key) => { const box = key.getBoundingClientRect();"
            " return [key.dataset.act, [box.x, box.y, box.width, box.height]]; }))"
        )


def begin_reliable(bedside):
    """Begin for a patient with an own rhythm, the generator left at 10 mA."""
    live = Live(bedside, ("indication.own_rhythm", RELIABLE))
    live.reads_back("10")
    live.taps_on("keep-read")
    live.offers("6.7")
    live.taps = 0
    return live
