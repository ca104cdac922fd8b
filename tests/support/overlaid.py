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
# Joined keys share their rim; what is scrolled out of its place is not there.
_MEETING = """(where) => {
  const root = document.querySelector(where);
  const shown = (node) => {
    let { left, right, top, bottom } = node.getBoundingClientRect();
    for (let up = node.parentElement; up; up = up.parentElement) {
      if (getComputedStyle(up).overflowY === "visible") continue;
      const place = up.getBoundingClientRect();
      [top, bottom] = [Math.max(top, place.top), Math.min(bottom, place.bottom)];
    }
    return { left, right, top, bottom };
  };
  const seen = (one) => one.checkVisibility({ visibilityProperty: true }) && one.getBoundingClientRect().width > 1;
  const all = [...root.querySelectorAll("button, a[href], .num > [aria-hidden]")].filter(seen).map((node) => ({
    node, box: shown(node), said: (node.dataset.act ?? node.textContent).trim().slice(0, 40),
  }));
  const meets = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 2.5 &&
    Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 2.5;
  return all.flatMap((one, at) => all.slice(at + 1)
    .filter(({ node, box }) => !one.node.contains(node) && !node.contains(one.node) && meets(one.box, box))
    .map((other) => `${one.said} over ${other.said}`));
}"""
_OUT_OF_SIGHT = """(needed) => {
  const isIn = (box, place) => box.top >= place.top - 1 && box.bottom <= place.bottom + 1 &&
    box.left >= place.left - 1 && box.right <= place.right + 1;
  const isSeen = (node) => {
    const box = node.getBoundingClientRect();
    if (!node.checkVisibility({ visibilityProperty: true }) || box.width < 1 || box.height < 1) return false;
    for (let up = node.parentElement; up; up = up.parentElement) {
      if (getComputedStyle(up).overflowY !== "visible" && !isIn(box, up.getBoundingClientRect())) return false;
    }
    const bar = document.querySelector("#panel").contains(node) ? document.querySelector(".remark-bar").getBoundingClientRect().top : innerHeight;
    return isIn(box, { top: 0, left: 0, right: innerWidth, bottom: bar });
  };
  return needed.flatMap((where) => {
    const all = [...document.querySelectorAll(where)];
    return all.length ? all.filter((one) => !isSeen(one)).map((one) => `${one.dataset.act ?? where} out of sight`) : [`no ${where}`];
  });
}"""


def meeting(page: Page, where: str) -> list[str]:
    """Pairs of keys and large numbers within `where` whose boxes meet."""
    return list(page.evaluate(_MEETING, where))


def out_of_sight(page: Page, needed: list[str]) -> list[str]:
    """What of the selectors' nodes is not there, or not whole on the screen as it stands.

    What belongs to the panel is to end above the remark.
    """
    return list(page.evaluate(_OUT_OF_SIGHT, needed))


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
