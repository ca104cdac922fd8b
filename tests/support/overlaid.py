"""What lies over a text: another text, or the plate that forced colours put under one."""

from __future__ import annotations

from playwright.sync_api import Page

# Ink is the middle of a line's box: ascenders and descenders of large figures are empty.
_TEXTS = """
  const texts = (root) => {
    const found = [];
    const walk = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
    for (let text = walk.nextNode(); text; text = walk.nextNode()) {
      const node = text.parentElement;
      if (!text.textContent.trim() || node.closest(".spoken, .skip, svg, [hidden], option")) continue;
      if (!node.checkVisibility({ visibilityProperty: true })) continue;
      const range = document.createRange();
      range.selectNodeContents(text);
      for (const box of range.getClientRects()) {
        if (box.width > 1 && seen(node, box)) found.push({ node, box, ink: inkOf(box), said: text.textContent.trim().slice(0, 40) });
      }
    }
    return found;
  };
  const inkOf = ({ left, right, top, bottom, height }) =>
    ({ left, right, top: top + height * 0.24, bottom: bottom - height * 0.22 });
  const seen = (node, box) => {
    for (let up = node; up; up = up.parentElement) {
      if (getComputedStyle(up).overflowY === "visible") continue;
      const place = up.getBoundingClientRect();
      if (box.top + box.height / 2 < place.top || box.top + box.height / 2 > place.bottom) return false;
    }
    const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
    return !top || node.contains(top) || top.contains(node) || !top.closest(".cap-over, .sheet");
  };
  const meets = (a, b, room) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > room &&
    Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > room;
"""
_CROSSING = f"""(where) => {{ {_TEXTS}
  const all = texts(document.querySelector(where));
  return all.flatMap((one, at) => all.slice(at + 1).filter((other) => meets(one.ink, other.ink, 3))
    .map((other) => `${{one.said}} / ${{other.said}}`));
}}"""
_PLATED = f"""(where) => {{ {_TEXTS}
  const paint = document.createElement("canvas").getContext("2d");
  const rgb = (colour) => {{
    paint.fillStyle = colour;
    paint.fillRect(0, 0, 1, 1);
    return [...paint.getImageData(0, 0, 1, 1).data].slice(0, 3).join();
  }};
  const own = (one) => getComputedStyle(one.node).forcedColorAdjust === "none";
  const all = texts(document.querySelector(where));
  const onItself = all.filter((one) => !own(one) && rgb(getComputedStyle(one.node).color) === rgb("Canvas"))
    .map((one) => `${{one.said}} in the colour of its plate`);
  const covered = all.flatMap((one, at) => all.slice(at + 1)
    .filter((other) => !own(other) && meets(one.ink, other.box, 2))
    .map((other) => `${{one.said}} under the plate of ${{other.said}}`));
  return [...onItself, ...covered];
}}"""


def crossing(page: Page, where: str) -> list[str]:
    """Pairs of texts within `where` whose ink meets."""
    return list(page.evaluate(_CROSSING, where))


def plated(page: Page, where: str) -> list[str]:
    """Texts within `where` that forced colours hide.

    A browser that is told to force colours lays a plate in the ground's colour under
    each text whose element does not opt out: a text in that colour is gone, and a large
    text hides the line it reaches into. Source: CSS Color Adjustment Module Level 1,
    section 3.1, and what Chromium draws.
    """
    return list(page.evaluate(_PLATED, where))
