"""Read a rendered page: its tags, and what a browser would send from it."""

from __future__ import annotations

from html.parser import HTMLParser

VOID = ("area", "br", "col", "hr", "img", "input", "link", "meta", "source", "wbr")


class Tag(dict[str, str]):
    """One opening tag as its attributes; `text` is what stands directly inside."""

    def __init__(
        self, name: str, attributes: dict[str, str], path: tuple[str, ...]
    ) -> None:
        super().__init__(attributes)
        self.name, self.path, self.text = name, path, ""
        self.parent: Tag | None = None

    @property
    def attributes(self) -> dict[str, str]:
        """Return the attributes, for a message."""
        return dict(self)

    def has_class(self, *names: str) -> bool:
        """Tell whether the tag has any of these classes."""
        return bool(set(self.get("class", "").split()) & set(names))

    def is_inside(self, name: str) -> bool:
        """Tell whether a tag of this name is open around it."""
        return name in self.path


class Page(HTMLParser):
    """A page, parsed. Raises AssertionError: when tags do not nest."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.html = html
        self.tags: list[Tag] = []
        self._open: list[Tag] = []
        self.feed(html)
        self.close()
        assert not self._open, [tag.name for tag in self._open]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep the tag, and stay inside it unless it is a void one."""
        path = tuple(t.name for t in self._open)
        made = Tag(tag, {name: value or "" for name, value in attrs}, path)
        made.parent = self._open[-1] if self._open else None
        self.tags.append(made)
        if tag not in VOID:
            self._open.append(made)

    def handle_endtag(self, tag: str) -> None:
        """Leave the tag."""
        assert self._open, f"</{tag}> closes nothing"
        assert self._open[-1].name == tag, f"</{tag}> closes {self._open[-1].name}"
        self._open.pop()

    def handle_data(self, data: str) -> None:
        """Add text to the tag it stands in."""
        if self._open:
            self._open[-1].text += data

    def controls(self) -> dict[str, list[str]]:
        """Return what a browser would send of this page's controls, untouched."""
        sent: dict[str, list[str]] = {}
        for tag in self.tags:
            if "name" in tag and (value := self._sent(tag)) is not None:
                sent.setdefault(tag["name"], []).append(value)
        return sent

    def _sent(self, tag: Tag) -> str | None:
        if tag.name == "textarea":
            # HTML drops one newline right after the opening tag.
            return tag.text.removeprefix("\n")
        if tag.name == "select":
            options = [t for t in self.tags if t.parent is tag]
            chosen = [t["value"] for t in options if "selected" in t]
            return chosen[0] if chosen else options[0]["value"]
        if tag.name != "input" or tag.get("type") == "file":
            return None
        if tag.get("type") in ("radio", "checkbox") and "checked" not in tag:
            return None
        return tag.get("value", "on")
