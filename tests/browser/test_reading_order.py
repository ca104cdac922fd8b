"""A name that turns the reading order leaves the words beside it where they are."""

from __future__ import annotations

import pytest

from tests.support.cast import PASSWORD

# The second begins an isolate and does not end it; the last ends one it did not begin.
NAMES = ["\u202eabcdef", "ab\u2067\u202ecd", "ab\u2069\u202ecd"]
# Where the first sign of one text and the last of another stand, in the same line.
PLACES = """(line, [first, last]) => {
  const signs = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
  const at = [];
  while (signs.nextNode()) {
    const { currentNode: node } = signs;
    for (let n = 0; n < node.length; n += 1) at.push([node, n]);
  }
  const whole = at.map(([node, n]) => node.data[n]).join("");
  return [first, last].map((text) => {
    const found = whole.lastIndexOf(text);
    if (found < 0) throw new Error(`${text} is not in ${whole}`);
    const boxes = Array.from(text, (_, n) => {
      const range = document.createRange();
      const [node, place] = at[found + n];
      range.setStart(node, place);
      range.setEnd(node, place + 1);
      return range.getBoundingClientRect();
    }).filter(({ width }) => width > 0);
    return { left: Math.min(...boxes.map((b) => b.left)), right: Math.max(...boxes.map((b) => b.right)) };
  });
}"""
# The same line as it would be without what keeps the name in.
BARE = r"""(line) => {
  const texts = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    texts.currentNode.data = texts.currentNode.data.replace(/[\u2068]|(?<!b)\u2069/g, "");
  }
}"""


def is_before(line, one: str, other: str) -> bool:
    first, last = line.evaluate(PLACES, [one, other])
    return first["right"] <= last["left"] + 0.5


@pytest.mark.parametrize("name", NAMES, ids=ascii)
def test_who_said_something_at_the_desk_turns_nothing_beside_it(
    live, cast, browser, name
):
    tablet = cast.tablet()
    tablet.who = {"person": None, "name": name, "role": "assistant"}
    record = tablet.opens()
    tablet.sets(record, "patient.family_name", "Testname")
    tablet.syncs()
    page = browser.opens(f"{live.url}/records/{record}/entries")
    page.get_by_label("Sign-in name").fill(cast.signer.person.login)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.goto(f"{live.url}/records/{record}#patient.family_name")
    line = page.locator(".said").first
    line.wait_for()
    page.evaluate("document.fonts.ready")
    assert is_before(line, name, "assistant")
    line.evaluate(BARE)
    assert not is_before(line, name, "assistant")


@pytest.mark.parametrize("name", NAMES, ids=ascii)
def test_a_name_on_the_tablet_turns_nothing_beside_it(page, name):
    page.evaluate(
        """async (name) => {
      const { el } = await import("/static/js/form/dom.js");
      const { say, setWords } = await import("/static/js/form/say.js");
      setWords({ by: "{name}, assistant" });
      document.body ??= document.createElement("body");
      document.body.replaceChildren(
        el("p", { id: "say" }, say("by", { name })),
        el("p", { id: "el" }, el("span", {}, name), ", assistant"),
      );
    }""",
        name,
    )
    for where in ("#say", "#el"):
        line = page.locator(where)
        assert is_before(line, name, "assistant")
        line.evaluate(BARE)
        assert not is_before(line, name, "assistant")
