"""What a look at a page finds: overflow, cut text, small targets, axe's findings."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from tests.support.bedside import Bedside

AXE = Path(__file__).parents[1] / "js/node_modules/axe-core/axe.min.js"
_SEEN = """
  const seen = (node) => {
    const box = node.getBoundingClientRect();
    return box.width > 1 && box.height > 1 &&
      node.checkVisibility({ visibilityProperty: true, opacityProperty: false });
  };
  const name = (node) => `${node.tagName.toLowerCase()}.${node.className.baseVal ?? node.className}` +
    `: ${(node.textContent ?? "").trim().slice(0, 40)}`;
"""
_WIDER = f"""() => {{ {_SEEN}
  const width = document.documentElement.clientWidth;
  const found = document.documentElement.scrollWidth > width ? ["the page"] : [];
  for (const node of document.querySelectorAll("body *")) {{
    if (!seen(node) || node.closest(".spoken, svg")) continue;
    const box = node.getBoundingClientRect();
    if (box.right > width + 1 || box.left < -1) found.push(name(node));
  }}
  return found;
}}"""
# Text is cut when its box is smaller than its words and does not scroll.
_CLIPPED = f"""() => {{ {_SEEN}
  const found = [];
  for (const node of document.querySelectorAll("body *")) {{
    if (!seen(node) || node.closest(".spoken, svg, .stand-note, option")) continue;
    const style = getComputedStyle(node);
    const own = [...node.childNodes].some((c) => c.nodeType === 3 && c.textContent.trim());
    if (style.overflow !== "visible" && !/auto|scroll/.test(style.overflow + style.overflowX + style.overflowY)) {{
      if (own && (node.scrollWidth > node.clientWidth + 1 || node.scrollHeight > node.clientHeight + 1)) found.push(name(node));
    }}
    if (!own) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const words = range.getBoundingClientRect();
    for (let up = node; up && up !== document.body; up = up.parentElement) {{
      if (!up.matches(".strip, .stand, .kept, .rail, .key, .choice, .panel, .place")) continue;
      const box = up.getBoundingClientRect();
      const room = 1.5;
      if (words.left < box.left - room || words.right > box.right + room ||
          words.top < box.top - room || words.bottom > box.bottom + room) {{
        found.push(`${{name(node)}} out of ${{up.className}}`);
        break;
      }}
    }}
  }}
  return found;
}}"""
_SMALL = f"""(least) => {{ {_SEEN}
  const found = [];
  for (const node of document.querySelectorAll("button, a[href], select, .choice, input.input, textarea, summary")) {{
    if (!seen(node)) continue;
    const box = node.getBoundingClientRect();
    if (box.height < least - 0.5 || box.width < Math.min(least, 44) - 0.5) found.push(`${{name(node)}} ${{box.width}}x${{box.height}}`);
  }}
  return found;
}}"""
_UNLABELLED = f"""() => {{ {_SEEN}
  const found = [];
  for (const box of document.querySelectorAll(".part:not([hidden]) input:not([type=hidden]), .part:not([hidden]) textarea, .part:not([hidden]) select, .part:not([hidden]) canvas")) {{
    if (!seen(box)) continue;
    const named = box.getAttribute("aria-label") || box.closest("label")?.textContent.trim() ||
      document.getElementById(box.getAttribute("aria-labelledby"))?.textContent.trim();
    if (!named) found.push(box.name);
  }}
  return found;
}}"""


def wider_than_screen(page: Page) -> list[str]:
    """What sticks out at the left or right of the screen."""
    return list(page.evaluate(_WIDER))


def clipped(page: Page) -> list[str]:
    """Texts cut by their own box or running out of the frame around them."""
    return list(page.evaluate(_CLIPPED))


def small_targets(page: Page, least_px: int) -> list[str]:
    """What is to be tapped and smaller than `least_px`."""
    return list(page.evaluate(_SMALL, least_px))


def unlabelled(page: Page) -> list[str]:
    """Controls without a name for a screen reader."""
    return list(page.evaluate(_UNLABELLED))


def audit(bedside: Bedside) -> list[str]:
    """axe-core's serious and critical findings, with the first place of each.

    axe tries inline styles of its own, which the page's policy refuses: what the
    console tells meanwhile is not the page's.

    Source: axe-core, version pinned in tests/js/package.json; rules of WCAG 2.2.
    """
    page = bedside.page
    bedside.is_audited = True
    if not page.evaluate("typeof window.axe === 'object'"):
        page.evaluate(AXE.read_text(encoding="utf-8"))
    told: dict[str, Any] = page.evaluate(
        "() => window.axe.run(document, { resultTypes: ['violations'] })"
    )
    return [
        f"{v['id']}: {v['nodes'][0]['html'][:160]} ({len(v['nodes'])})"
        for v in told["violations"]
        if v["impact"] in ("serious", "critical")
    ]
