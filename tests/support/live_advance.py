"""Advance as it runs, by the taps of one hand."""

from playwright.sync_api import expect

from tests.support.told_here import Told

READINGS = "wires/{}/advance.depth_reading"
BOXES = """() => [...document.querySelectorAll(
  ".adv-lens .key, .adv-once .key, .adv-grid .key, .adv-side .key, #view-key .key, #rail a"
)].map((key) => { const box = key.getBoundingClientRect();
  return [box.x, box.y, box.width, box.height].map(Math.round).join(" "); })"""


class Advance:
    """The live keys of one case, by what they are for."""

    def __init__(self, case, wire):
        self.case, self.page, self.wire = case, case.page, wire
        self.readings = READINGS.format(wire)

    def key(self, act):
        return self.page.locator(f"#panel [data-act='{act}']")

    def taps(self, *acts):
        for act in acts:
            # Keys that just came into the grid are not answered yet.
            expect(self.page.locator(".adv-grid:not([data-held])")).to_have_count(1)
            self.key(act).click()

    def shows(self, depth, word):
        expect(self.page.locator(".adv-depth .num")).to_contain_text(depth)
        expect(self.page.locator(".adv-shown .panel-word")).to_have_text(word)

    def is_centred_on(self, cm):
        first = self.page.locator(".adv-lens > .key").first
        expect(first).to_have_attribute("data-act", f"depth-{cm - 2}")

    def reads(self, cm, result, word):
        self.taps(f"depth-{cm}", f"result-{result}")
        self.shows(str(cm), word)
        expect(self.page.locator(".adv-depth [data-called]")).to_have_count(0)
        self.is_centred_on(cm)

    def kept(self):
        return [
            (row["value"].get("depth", {}).get("n"), row["value"].get("result"))
            for row in self.case.rows(self.readings)
        ]

    def states(self, group, name):
        rows = self.case.rows(f"wires/{self.wire}/advance.{group}")
        return [row["value"][name] for row in rows]


def told_case(bedside, **patient):
    """A case with a wire by the right neck, its kit known, guided by the ECG within."""
    bedside.starts_now()
    record, told = bedside.record, Told()
    wire = told.adds_wire(record)
    for name, value in patient.items():
        told.sets(record, f"patient.{name}", value)
    at = f"wires/{wire}/"
    told.sets(record, f"{at}approach.site", "internal_jugular_right")
    told.sets(record, f"{at}approach.wire_ring_code", "every_10_cm")
    told.sets(record, f"{at}advance.guided_by", ["intracardiac_ecg"])
    told.put(bedside.page, record)
    bedside.reloads()
    bedside.page.evaluate("(at) => (location.hash = at)", f"#/case/{record}/advance")
    expect(bedside.page.locator("#work")).to_have_attribute("data-view", "live")
    grid = bedside.page.locator(".adv-grid")
    expect(grid).to_have_attribute("data-guide", "intracardiac_ecg")
    return Advance(bedside, bedside.rows("wires")[0]["id"])
