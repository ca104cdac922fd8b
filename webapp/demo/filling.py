"""Fill the hospital: cases from tablets, signatures and codes from the desk."""

from __future__ import annotations

from flask import Flask

from webapp.demo.desk import Browser
from webapp.demo.site import PASSWORD
from webapp.demo.tablets import Tablet
from webapp.demo.vein import photo_of
from webapp.paths import demo_folder
from webapp.record.streams import Stream, read_stream
from webapp.say import say

# Whose entries of a later day stand apart, in a folder of their own.
LATER = "later"
HANDED_OUT, ADDENDED, SIGNED = "1-clean-emergency", "3-complication", "4-planned"


def fill(app: Flask) -> None:
    """Send every case, sign some, send what came after, add to one.

    Raises RuntimeError: when a server of this version does not take one of them.
    """
    tablets: dict[str, Tablet] = {}
    records = {one.name: _send(app, tablets, one) for one in cases()}
    photo = photo_of(records[SIGNED])
    tablets[photo.tablet].photographs(photo)
    operator, supervisor = (
        Browser(app, "tarn", PASSWORD),
        Browser(app, "fell", PASSWORD),
    )
    for name in (HANDED_OUT, ADDENDED, SIGNED):
        operator.signs(records[name])
    supervisor.signs(records[HANDED_OUT])
    Browser(app, "rill", PASSWORD).hands_out(records[HANDED_OUT])
    for one in cases(LATER):
        _send(app, tablets, one)
    supervisor.adds(records[ADDENDED], "addendum", say("demo.addendum"))


def cases(folder: str = "") -> list[Stream]:
    """Return the demo's cases in the order of their file names."""
    files = sorted((demo_folder() / folder).glob("*.json"))
    return [read_stream(file) for file in files]


def _send(app: Flask, tablets: dict[str, Tablet], case: Stream) -> str:
    """Send a case from the tablet it was entered on; return its record."""
    if case.tablet not in tablets:
        tablets[case.tablet] = Tablet.enrolled(app, case.tablet)
    tablets[case.tablet].sends(case)
    return case.record
