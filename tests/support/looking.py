"""What a look at a page finds: overflow, cut text, small targets, axe's findings."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from playwright.sync_api import Page, expect

from tests.support.bedside import Bedside

SIZES = {"tablet": (1280, 800), "upright": (800, 1280), "phone": (390, 844)}
# Tablets held across that are narrower than the first, the lowest with a browser's bars.
SMALL_SIZES = {
    "1024": (1024, 768),
    "1112": (1112, 834),
    "1180": (1180, 820),
    "1000": (1000, 740),
}
PARTS = (
    "patient",
    "indication",
    "consent",
    "approach",
    "advance",
    "capture",
    "finish",
    "handover",
    "checks",
    "removal",
)
LONG = (
    "Test-Wilhelmina-Alexandra-Konstantina ALDERMERE-HOLLINWATER-MERROWDALE-SEDGEFORD"
)
# Who is read from afar, or tapped with a wire in the other hand.
LIVE = ("advance", "capture", "checks")
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
    if (!seen(node) || node.closest(".spoken, .skip, svg")) continue;
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
    const texts = [...node.childNodes].filter((child) => child.nodeType === 3 && child.textContent.trim());
    const range = document.createRange();
    range.setStart(texts[0], 0);
    range.setEnd(texts.at(-1), texts.at(-1).length);
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
    if (box.height < least - 0.5 || box.width < least - 0.5) found.push(`${{name(node)}} ${{box.width}}x${{box.height}}`);
  }}
  return found;
}}"""
# The middle of a key inside the part of its page that is in sight is the key's own.
_COVERED = f"""() => {{ {_SEEN}
  const found = [];
  for (const node of document.querySelectorAll("button, a[href], select, .choice, input.input, textarea, summary")) {{
    if (!seen(node) || node.closest("[inert], .spoken") || getComputedStyle(node).visibility === "hidden") continue;
    const box = node.getBoundingClientRect();
    const [x, y] = [box.left + box.width / 2, box.top + box.height / 2];
    let isInSight = x >= 0 && y >= 0 && x < innerWidth && y < innerHeight;
    for (let up = node.parentElement; up && isInSight; up = up.parentElement) {{
      if (!/auto|scroll|hidden/.test(getComputedStyle(up).overflowY)) continue;
      const place = up.getBoundingClientRect();
      isInSight = y > place.top && y < place.bottom && x > place.left && x < place.right;
    }}
    const top = isInSight ? document.elementFromPoint(x, y) : null;
    if (top && !node.contains(top) && !top.contains(node) && !top.closest(".part-head, .more, .paper-keys, .desk-strip, .coding-drawer")) {{
      found.push(`${{name(node)}} under ${{name(top)}}`);
    }}
  }}
  return found;
}}"""
_FAINT = f"""() => {{ {_SEEN}
  const paint = document.createElement("canvas").getContext("2d", {{ willReadFrequently: true }});
  const rgba = (colour) => {{
    paint.clearRect(0, 0, 1, 1);
    paint.fillStyle = colour;
    paint.fillRect(0, 0, 1, 1);
    return [...paint.getImageData(0, 0, 1, 1).data];
  }};
  const known = new Map();
  const channels = (colour) => known.get(colour) ?? (known.set(colour, rgba(colour)), known.get(colour));
  const linear = (part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4);
  const light = ([r, g, b]) => 0.2126 * linear(r / 255) + 0.7152 * linear(g / 255) + 0.0722 * linear(b / 255);
  const ratio = (one, other) => {{
    const [low, high] = [light(channels(one)), light(channels(other))].sort((a, b) => a - b);
    return (high + 0.05) / (low + 0.05);
  }};
  const ground = (node) => {{
    for (let up = node; up; up = up.parentElement) {{
      const {{ backgroundColor }} = getComputedStyle(up);
      // A system's highlight lets a fifth of what is below through.
      if (channels(backgroundColor)[3] >= 200) return backgroundColor;
    }}
    return "rgb(255, 255, 255)";
  }};
  const isDim = document.documentElement.dataset.theme === "dim";
  const live = ".panel-number, .panel-word, .stand-cell b, .who-name, .fact-value b, .kept-said b, .choice > span, .remark b, .stop";
  const found = [];
  for (const node of document.querySelectorAll("body *")) {{
    if (!seen(node) || node.closest(".spoken, svg, option, [inert]")) continue;
    const style = getComputedStyle(node);
    const isText = [...node.childNodes].some((child) => child.nodeType === 3 && child.textContent.trim());
    if (isText) {{
      const isLive = node.closest(live) && !node.closest(".num-unit, .stop-count, .quiet, .absence-key");
      const least = isLive && !isDim ? 7 : 4.5;
      const has = ratio(style.color, ground(node));
      if (has < least - 0.05) found.push(`${{name(node)}} ${{has.toFixed(1)}}`);
    }}
    if (node.matches(".key, .choice") && node.parentElement && parseFloat(style.borderTopWidth)) {{
      const around = ground(node.parentElement);
      const has = Math.max(ratio(style.borderTopColor, around), ratio(ground(node), around));
      if (has < 2.95) found.push(`edge of ${{name(node)}} ${{has.toFixed(1)}}`);
    }}
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


def covered(page: Page) -> list[str]:
    """What is to be tapped and lies under something else, at its middle."""
    return list(page.evaluate(_COVERED))


def faint(page: Page) -> list[str]:
    """Texts and key edges with less contrast than they need, measured as drawn.

    Source: ux.md rule 12 and section 8 of the project: live text 7:1, other text
    4.5:1, the edge of a key 3:1; of the formula WCAG 2.2.
    """
    return list(page.evaluate(_FAINT))


def audit(bedside: Bedside) -> list[str]:
    """axe-core's serious and critical findings on a page of the tablet.

    axe tries inline styles of its own, which the page's policy refuses: what the
    console tells meanwhile is not the page's.
    """
    bedside.is_audited = True
    return findings(bedside.page)


def findings(page: Page) -> list[str]:
    """axe-core's serious and critical findings, with the first place of each.

    Source: axe-core, version pinned in tests/js/package.json; rules of WCAG 2.2.
    """
    if not page.evaluate("typeof window.axe === 'object'"):
        page.evaluate(AXE.read_text(encoding="utf-8"))
    told: dict[str, Any] = page.evaluate(
        "() => window.axe.run({ exclude: ['.part[hidden]'] }, { preload: false,"
        " resultTypes: ['violations'], selectors: false })"
    )
    return [
        f"{v['id']}: {v['nodes'][0]['html'][:160]} ({len(v['nodes'])})"
        for v in told["violations"]
        if v["impact"] in ("serious", "critical")
    ]


def tells(case: Bedside) -> None:
    """Enter what the numbers, the rulers and the rows are drawn from."""
    case.types("Family name", LONG)
    case.types("Record number", "00417220")
    case.types("Date of birth", "3.2.54")
    case.types("Height", "340")
    case.gives_no_answer("Encounter number", "not done", "no band on the arm")
    case.goes_to("Indication")
    case.picks("Main rhythm", "Complete AV block")
    case.adds("Pads")
    case.picks("State", "Connected, pacing mode ready")
    case.keeps_row()
    case.goes_to("Advance")
    for cm in ("27", "34"):
        case.page.get_by_role("button", name="Depth reading", exact=True).click()
        case.types("Depth", cm)
        case.picks("Result", "RV contact (ST up)")
        case.keeps_row()
    case.goes_to("Capture")
    case.page.get_by_role("button", name="Threshold test", exact=True).click()
    case.picks("Kind of test", "Full test")
    case.keeps_row()
    for output, result in (
        ("10", "Captures"),
        ("2.0", "Captures"),
        ("1.2", "Captures"),
        ("1.0", "No capture"),
    ):
        case.page.get_by_role("button", name="Add: Output reading").first.click()
        case.types("Dial called", output)
        case.picks("Result", result)
        case.keeps_row()


def opens(case: Bedside) -> None:
    """Open the told case again if another test left it."""
    if "#/case/" not in case.page.url:
        case.page.locator(".cases-row a").first.click()
        expect(case.page.locator("#case")).to_be_visible()


def shows(case: Bedside, part: str, theme: str = "night") -> None:
    """Open a part by its address, in a theme."""
    case.page.evaluate(
        "([part, theme]) => { location.hash = location.hash.replace("
        "/(case\\/[^/]+)\\/.*/, `$1/${part}`);"
        " document.documentElement.dataset.theme = theme; }",
        [part, theme],
    )
    case.shows_fields(part)
    expect(case.page.locator(f"#part-{part}")).to_be_visible()
