"""Taps on the live screens, measured in the page: tap to the frame that answers it."""

from __future__ import annotations

from playwright.sync_api import Page

from tests.support.browser import wait_until

# A hand does not tap within a tremble: the page takes no second tap before.
_STILL = "performance.now() - (window.bench.last ?? -1000) > 450"
# Every shift of what stands on the page, also those a tap made.
WATCH_SHIFTS = """(() => {
  window.bench ??= {};
  window.bench.shifts = [];
  new PerformanceObserver((list) => {
    for (const { value } of list.getEntries()) window.bench.shifts.push(value);
  }).observe({ type: "layout-shift", buffered: true });
})()"""
# The page's policy forbids to make code of text in the page itself.
_ARM = """([selector, nth]) => {
  const key = document.querySelectorAll(selector)[nth];
  key.scrollIntoView({ block: "nearest", behavior: "instant" });
  const isAnswered = () => (ANSWERED);
  bench.taken = new Promise((done) => {
    let tapped = 0;
    addEventListener("pointerup", (event) => { tapped = event.timeStamp; },
      { once: true, capture: true });
    const watch = new MutationObserver(() => {
      if (!tapped || !isAnswered()) return;
      watch.disconnect();
      bench.painted((ms) => { bench.last = ms; done(ms - tapped); });
    });
    watch.observe(document.body, { subtree: true, childList: true, attributes: true });
  });
  const box = key.getBoundingClientRect();
  return [box.x + box.width / 2, box.y + box.height / 2];
}"""


def answered_ms(page: Page, selector: str, nth: int, answered: str) -> float:
    """Tap the nth such key; return what it took until its answer was painted.

    `answered`: an expression that holds once the screen shows it. By its place, as the
    lens may be centred anew between two taps.
    """
    wait_until(page, _STILL)
    x, y = page.evaluate(_ARM.replace("ANSWERED", answered), [selector, nth])
    page.mouse.click(x, y)
    took: float = page.evaluate("bench.taken")
    return took


def shifted(page: Page) -> float:
    """Return the sum of all layout shifts since the last asking."""
    total: float = page.evaluate(
        "bench.shifts.splice(0).reduce((sum, one) => sum + one, 0)"
    )
    return total
