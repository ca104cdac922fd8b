"""Conditions as rules use them: words beside them, single tests, paths read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from webapp.catalogue.when import holds, paths_read

# A word beside a condition, for people; never part of what is tested.
WORDS = ("missing", "because", "ask")


class UnreadableCondition(ValueError):
    """A condition is not of the one language."""


def bare(condition: Mapping[str, Any]) -> dict[str, Any]:
    """Return the condition without the words beside it."""
    return {key: value for key, value in condition.items() if key not in WORDS}


def check_condition(condition: Any) -> None:
    """Raise UnreadableCondition: when `when` would refuse it on any record."""
    if not isinstance(condition, Mapping):
        raise UnreadableCondition(f"{condition!r} is not a condition")
    try:
        # One empty row, so that what stands inside `where` is read as well.
        holds(
            bare(condition), lambda _: {"values": [], "ids": [], "rows": [{"id": ""}]}
        )
    except ValueError as error:
        raise UnreadableCondition(str(error)) from error


def paths_in(condition: Mapping[str, Any]) -> Iterator[str]:
    """Yield every path a condition reads, a row's child as `group.child`."""
    for path in paths_read(bare(condition)):
        yield path.replace(".row.", ".")


def leaves(condition: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    """Yield the single tests that speak for a condition; none under a `not`."""
    if "field" in condition or "rows" in condition:
        yield bare(condition)
    for key in ("all", "any"):
        for part in condition.get(key, ()):
            yield from leaves(part)
