"""A site that takes whatever is sent, and a record that a signer reads."""

import pytest

from tests.support.malformed import Ward
from tests.support.replies import NAME


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
