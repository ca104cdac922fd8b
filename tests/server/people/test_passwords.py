"""Passwords: slow to guess, the same however they were typed."""

import pytest

from webapp.people.passwords import hash_password, is_acceptable, is_password


def test_a_password_is_kept_as_scrypt_with_its_own_salt():
    one, two = hash_password("kelp and copper 7"), hash_password("kelp and copper 7")
    # RFC 7914, section 2: N a power of two, block size 8, parallelization 1.
    assert one.startswith("scrypt:32768:8:1$")
    assert one != two
    assert is_password(one, "kelp and copper 7")
    assert not is_password(one, "kelp and copper 8")


def test_a_letter_of_two_signs_is_the_same_letter_as_one_sign():
    kept = hash_password("caf\u00e9 und kelp")
    assert is_password(kept, "cafe\u0301 und kelp")


def test_nobody_has_no_password():
    assert not is_password(None, "nobody has this password")


@pytest.mark.parametrize(
    ("password", "accepted"),
    [
        ("a" * 11, False),
        ("a" * 12, True),
        ("correct horse battery", True),
        ("a" * 256, True),
        ("a" * 257, False),
        ("", False),
    ],
)
def test_length_is_all_that_is_asked_of_a_password(password, accepted):
    assert is_acceptable(password) is accepted
