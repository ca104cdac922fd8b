"""Photos in the full note: each where its value stands, or in words why it is not."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from webapp.note.blocks import Block, Photo
from webapp.note.model import NotePhoto
from webapp.record.case import Case
from webapp.record.photo_named import Named, by_place
from webapp.say import say


@dataclass(frozen=True, slots=True)
class Photographed:
    """The photos of a record. `named`: by place; `shown`: by entry and sealed name."""

    named: Mapping[str, list[Named]]
    shown: Mapping[tuple[str, str], NotePhoto]


def photographed(
    case: Case, shown: Mapping[tuple[str, str], NotePhoto]
) -> Photographed:
    """Return what a record's entries name, with what there is to show of each."""
    return Photographed(by_place(case), shown)


def photo_block(photos: Photographed, one: Named, who: str) -> Block:
    """Return one photo as it is printed; who entered it, as the value itself says."""
    held = photos.shown.get((one.entry, one.sealed))
    if held is None:
        held = NotePhoto(say("note.photo_awaited"))
    caption = one.caption or say("note.photo_uncaptioned")
    return Photo(one.label, caption, who, one.sha256, held.words, held.jpeg)


def blocks_at(photos: Photographed, place: str, who: str) -> list[Block]:
    """Return the photos beside a field, by its path, or in a row, by its id."""
    return [
        photo_block(photos, one, who)
        for one in photos.named.get(place, ())
        if not one.is_struck
    ]
