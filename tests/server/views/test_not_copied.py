"""A signature says "not yet copied off this machine" until a backup holds it."""

import pytest

from tests.server.views.test_notes import form_of
from tests.support.cast import PASSWORD
from tests.support.replies import NAME
from webapp.keep.backup import back_up

WORD = "not yet copied off this machine"


@pytest.fixture
def signed(tablet, cast):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    cast.signer.signs_in()
    page = f"/records/{record}/sign"
    fields = {**form_of(cast.signer.opens(page).text), "agree": "yes"}
    assert cast.signer.posts(page, **fields, password=PASSWORD).status_code == 302
    return f"/records/{record}"


def test_the_word_stands_beside_the_signature_until_a_backup_elsewhere_has_it(
    cast, signed, site, tmp_path
):
    page = cast.signer.opens(signed).text
    assert f"Signed by {cast.signer.person.name}, " in page
    assert WORD in page
    back_up(site, tmp_path / "here.db")
    assert WORD in cast.signer.opens(signed).text
    back_up(site, tmp_path / "away.db", is_carried_off=True)
    page = cast.signer.opens(signed).text
    assert f"Signed by {cast.signer.person.name}, " in page
    assert WORD not in page


def test_a_backup_from_before_the_signature_does_not_count(
    cast, tablet, site, tmp_path
):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    back_up(site, tmp_path / "before.db", is_carried_off=True)
    cast.signer.signs_in()
    page = f"/records/{record}/sign"
    fields = {**form_of(cast.signer.opens(page).text), "agree": "yes"}
    assert cast.signer.posts(page, **fields, password=PASSWORD).status_code == 302
    assert WORD in cast.signer.opens(f"/records/{record}").text
