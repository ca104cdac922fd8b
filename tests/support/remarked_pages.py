"""Where remarks stand on a desk page: in which line, in which order, with which form."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from tests.support.html import Page, Tag


@dataclass
class Shown:
    """One remark beside its field. `line`: id of the line; `sends`: its form, or {}."""

    line: str
    weight: str
    code: str
    text: str
    sends: dict[str, str] = field(default_factory=dict)
    has_open_reason: bool = False


def beside_fields(html: str) -> list[Shown]:
    """Return every remark that stands in a field's line, in the order of the page."""
    page = Page(html)
    return [_shown(page, t) for t in page.tags if t.has_class("remarked")]


def in_list(html: str) -> list[tuple[str, str, str]]:
    """Return the list's remarks: weight, words, and the line they link to."""
    page = Page(html)
    return [
        (tag["data-weight"], words(page, tag), link["href"].removeprefix("#"))
        for tag in page.tags
        if tag.has_class("remark-listed")
        for link in _within(page, tag)
        if link.name == "a"
    ]


def words(page: Page, tag: Tag) -> str:
    """Return the text of a tag and of all inside it, spaces as one."""
    texts = [tag.text, *(one.text for one in _within(page, tag))]
    return " ".join(" ".join(texts).split())


def _shown(page: Page, tag: Tag) -> Shown:
    inside = list(_within(page, tag))
    fields = [t for t in inside if t.name == "input"]
    sends = {t["name"]: t.get("value", "") for t in fields}
    reasons = [t for t in fields if t["name"] == "because"]
    is_open = bool(reasons) and not reasons[0].is_inside("details")
    line = next(t for t in _around(tag) if t.has_class("line"))
    told = words(page, tag)
    return Shown(line["id"], tag["data-weight"], tag["data-code"], told, sends, is_open)


def _within(page: Page, tag: Tag) -> Iterator[Tag]:
    return (one for one in page.tags if any(t is tag for t in _around(one)))


def _around(tag: Tag) -> Iterator[Tag]:
    while tag.parent is not None:
        tag = tag.parent
        yield tag
