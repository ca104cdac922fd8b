"""A site that takes whatever is sent, and a record that a signer reads."""

import pytest

from tests.support.malformed import Ward
from tests.support.order_files import order_file_in
from tests.support.replies import NAME
from tests.support.signing import signs


@pytest.fixture(scope="module")
def ward(tmp_path_factory):
    """One site for all examples of a file."""
    found = Ward(tmp_path_factory.mktemp("ward"))
    yield found
    found.close()


@pytest.fixture
def read_record(tablet, cast):
    """A record of one name on the server, and a signer who is signed in."""
    opened = tablet.opens()
    tablet.sets(opened, NAME, "ALDERMERE")
    tablet.syncs()
    cast.signer.signs_in()
    return opened


@pytest.fixture
def signer(cast):
    """One who reviews and signs, signed in."""
    cast.signer.signs_in()
    return cast.signer


@pytest.fixture
def coder(cast):
    """One who codes, signed in."""
    cast.coder.signs_in()
    return cast.coder


@pytest.fixture
def unserved(tablet, signer):
    """A signed record whose date lies in a year that no table shipped serves."""
    made = tablet.opens()
    tablet.sets(made, "indication.main_rhythm", "complete_av_block")
    tablet.sets(
        made, "approach.first_puncture", {"day": "2031-11-24", "certainty": "day"}
    )
    tablet.syncs()
    signs(signer, made)
    return made


@pytest.fixture
def order_file(tmp_path):
    """A file of titles of that year, in the official layout."""
    return order_file_in(tmp_path)
