"""A site that takes whatever is sent, one for each file of such requests."""

import pytest

from tests.support.malformed import Ward


@pytest.fixture(scope="module")
def ward(tmp_path_factory):
    """One site for all examples of a file."""
    found = Ward(tmp_path_factory.mktemp("ward"))
    yield found
    found.close()
