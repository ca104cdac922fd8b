"""Cases told in files, sent by the Python tablet as a real one would."""

from __future__ import annotations

from pathlib import Path

from tests.support.tablet import Tablet
from webapp.record.streams import read_stream

FIXTURES = Path(__file__).parents[2] / "fixtures"


def sends_case(tablet: Tablet, name: str) -> str:
    """Send `fixtures/<name>.json` through /sync; return the record's id."""
    stream = read_stream(FIXTURES / f"{name}.json")
    tablet.opens(stream.record)
    tablet.own += [tablet.writer.write(stream.record, d) for d in stream.drafts]
    tablet.syncs()
    assert not tablet.set_aside
    return stream.record
