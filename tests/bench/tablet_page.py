"""What is asked of the page while it is measured, as scripts that run inside it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from playwright.sync_api import Page

# Before the page's own scripts: when a transaction that wrote entries was complete.
WATCH = """(() => {
  const begin = IDBDatabase.prototype.transaction;
  window.bench = { committed: 0 };
  IDBDatabase.prototype.transaction = function (...given) {
    const tx = begin.apply(this, given);
    if (tx.mode === "readwrite" && [...tx.objectStoreNames].includes("entries"))
      tx.addEventListener("complete", () => { bench.committed = performance.now(); });
    return tx;
  };
  // After the frame in which what stands now is painted.
  window.bench.painted = (then) => requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => then(performance.now());
    port2.postMessage(null);
  });
})()"""
# Answer and "not known" in turn: the field's state tells that the screen says it.
_ARM = """(path) => {
  const root = document.querySelector(
    `.part:not([hidden]) .field[data-path$="${path}"]`);
  const kept = document.querySelector("#kept");
  const before = root.dataset.state;
  const isAnswered = before === "ok";
  const to = root.querySelector(isAnswered
    ? "input[value='not_known']" : ".field-controls input:not(:checked)").parentElement;
  to.scrollIntoView({ block: "center", behavior: "instant" });
  delete kept.dataset.state;
  bench.committed = 0;
  bench.taken = new Promise((done) => {
    let [tapped, said, drawn] = [0, 0, 0];
    addEventListener("pointerup", (event) => { tapped = event.timeStamp; },
      { once: true, capture: true });
    const end = () => {
      if (!said || !drawn || !bench.committed) return;
      watch.disconnect();
      const [committed, kept] = [bench.committed - tapped, said - tapped];
      done({ committed, kept, drawn: drawn - tapped });
    };
    let isAsked = false;
    const watch = new MutationObserver(() => {
      if (!said && kept.dataset.state === "kept") said = performance.now();
      if (!isAsked && root.dataset.state !== before) {
        isAsked = true;
        bench.painted((ms) => { drawn = ms; end(); });
      }
      end();
    });
    watch.observe(root, { attributes: true, attributeFilter: ["data-state"] });
    watch.observe(kept, { attributes: true, attributeFilter: ["data-state"] });
  });
  const box = to.getBoundingClientRect();
  return [box.x + box.width / 2, box.y + box.height / 2];
}"""
# After the page began to load: when the case is painted and its control listens, and
# when that control, tapped at once, was answered by a receipt.
_STARTED = """async (path) => {
  const find = () => document.querySelector("#case:not([hidden]):not([inert])") &&
    document.querySelector(
      `.part:not([hidden]) .field[data-path$="${path}"][data-state]`);
  const frame = () => new Promise(requestAnimationFrame);
  while (!find()) await frame();
  const usable = await new Promise(bench.painted);
  const kept = document.querySelector("#kept");
  const isAnswered = find().dataset.state === "ok";
  find().querySelector(isAnswered
    ? "input[value='not_known']" : ".field-controls input:not(:checked)").click();
  while (kept.dataset.state !== "kept") await frame();
  return { usable, answered: await new Promise(bench.painted) };
}"""
# From the tap on a case that this page has not opened yet, to the frame that shows it.
_OPENED = """async (record) => {
  const began = performance.now();
  location.hash = `#/case/${record}/patient`;
  const isThere = () =>
    document.querySelector("#case:not([inert]) #rail a")?.hash.includes(record);
  while (!isThere()) await new Promise(requestAnimationFrame);
  return (await new Promise(bench.painted)) - began;
}"""
# The log alone, as in shared measurements of the store: database, keys, entries, fold.
_READ = """async (record) => {
  const { openStore } = await import("/static/js/log/store.js");
  const { loadCatalogue } = await import("/static/js/sync/catalogue.js");
  const { version: catalogue } = await loadCatalogue();
  const began = performance.now();
  const store = await openStore({ catalogue });
  const { order } = await store.fold(record);
  const ms = performance.now() - began;
  store.close();
  return { ms, entries: order.length };
}"""


# What else the machine does shows in a loop that does nothing else.
_CONTROL = """() => {
  const began = performance.now();
  let x = 0;
  for (let n = 0; n < 3e6; n++) x = (x * 31 + n) | 0;
  return performance.now() - began + (x & 0);
}"""


@dataclass(frozen=True, slots=True)
class Tap:
    """One tap, in ms from the pointer's going up: on the disk, receipt, frame."""

    committed: float
    kept: float
    drawn: float


def tap(page: Page, path: str) -> Tap:
    """Tap the choice of a field that is not chosen now, and wait until all is drawn."""
    x, y = page.evaluate(_ARM, path)
    page.mouse.click(x, y)
    told: dict[str, Any] = page.evaluate("bench.taken")
    return Tap(**told)


@dataclass(frozen=True, slots=True)
class Start:
    """One load of the page, in ms from its beginning: case usable, control answered."""

    usable: float
    answered: float


def started(page: Page, path: str) -> Start:
    """Wait until the loading page shows its case, tap its control, and wait for it."""
    return Start(**page.evaluate(_STARTED, path))


def opened_ms(page: Page, record: str) -> float:
    """Go to another case; return what it took until it was painted."""
    took: float = page.evaluate(_OPENED, record)
    return took


def read_ms(page: Page, record: str, entries: int) -> float:
    """Open the log and fold a record in a bare page; return what it took."""
    told = page.evaluate(_READ, record)
    assert told["entries"] >= entries, told
    took: float = told["ms"]
    return took


def control_ms(page: Page) -> float:
    """Run a loop of fixed length in the page; return what it took."""
    took: float = page.evaluate(_CONTROL)
    return took
