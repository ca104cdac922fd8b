"""Whatever was answered at the bedside, every page about it opens, and says it."""

from random import Random

import pytest

from tests.support.any_answers import answers_anything
from webapp.record import records
from webapp.record.open_record import open_record

DESK = ("", "/sign", "/entries", "/note.pdf")


@pytest.mark.parametrize("seed", range(3))
def test_every_page_about_a_record_of_any_answers_opens(cast, tablet, db, seed):
    record = tablet.opens()
    answers_anything(tablet, record, Random(seed))
    tablet.syncs()
    assert set(tablet.set_aside.values()) == set()
    assert len(open_record(db, record).counted) == len(tablet.own) > 100
    assert records.one_listed(db, record).set_aside == 0
    cast.signer.signs_in()
    for page in DESK:
        answer = cast.signer.opens(f"/records/{record}{page}")
        assert answer.status_code == 200, page
        assert b"<b>\xc3\x93'Brien" not in answer.data, page
    cast.coder.signs_in()
    for page in ("/coding", f"/coding/{record}"):
        answer = cast.coder.opens(page)
        assert answer.status_code == 200, page
        assert b"<b>\xc3\x93'Brien" not in answer.data, page
