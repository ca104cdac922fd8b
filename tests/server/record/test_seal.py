"""Seals and wraps, against published vectors and against every flipped bit."""

import pytest

from webapp.record.seal import (
    CannotOpen,
    make_server_key,
    open_sealed,
    public_spki,
    seal,
    unwrap_key,
    wrap_from_json,
    wrap_key,
)

KEY_ID = "01890000-0000-7000-8000-000000000004"
SERVER_KEY_ID = "01890000-0000-7000-8000-000000000005"

# McGrew and Viega, The Galois/Counter Mode of Operation (GCM), test case 16.
GCM_KEY = bytes.fromhex("feffe9928665731c6d6a8f9467308308" * 2)
GCM_NONCE = bytes.fromhex("cafebabefacedbaddecaf888")
GCM_PLAIN = bytes.fromhex(
    "d9313225f88406e5a55909c5aff5269a86a7a9531534f7da2e4c303d8a318a72"
    "1c3c0c95956809532fcf0e2449a6b525b16aedf5aa0de657ba637b39"
)
GCM_DATA = bytes.fromhex("feedfacedeadbeeffeedfacedeadbeefabaddad2")
GCM_SEALED = bytes.fromhex(
    "522dc1f099567d07f47f37a32a84427d643a8cdcbfe5c0c97598a2bd2555d1aa"
    "8cb08e48590dbb3da7b08b1056828838c5f61e6393ba7a0abcc9f662"
    "76fc6ece0f4e1768cddf8853bb2d551b"
)


def test_a_seal_is_the_published_gcm_vector_behind_its_nonce():
    assert seal(GCM_KEY, GCM_DATA, GCM_PLAIN, GCM_NONCE) == GCM_NONCE + GCM_SEALED


def test_a_seal_opens_to_the_same_bytes():
    sealed = seal(GCM_KEY, b"header", "Søn 山田".encode())
    assert open_sealed(GCM_KEY, b"header", sealed) == "Søn 山田".encode()


def test_two_seals_of_one_body_never_share_a_nonce():
    seals = {seal(GCM_KEY, b"h", b"b")[:12] for _ in range(2000)}
    assert len(seals) == 2000


def test_every_flipped_bit_of_a_seal_is_found():
    sealed = seal(GCM_KEY, b"header", b"34 cm")
    for place in range(len(sealed) * 8):
        broken = bytearray(sealed)
        broken[place // 8] ^= 1 << place % 8
        with pytest.raises(CannotOpen):
            open_sealed(GCM_KEY, b"header", bytes(broken))


def test_a_seal_under_another_header_does_not_open():
    with pytest.raises(CannotOpen):
        open_sealed(GCM_KEY, b"other", seal(GCM_KEY, b"header", b"34 cm"))


@pytest.mark.parametrize("sealed", [b"", b"short", bytes(27)])
def test_bytes_too_short_to_be_a_seal_do_not_open(sealed):
    with pytest.raises(CannotOpen):
        open_sealed(GCM_KEY, b"header", sealed)


@pytest.mark.parametrize("key", [b"", b"short", GCM_KEY[1:]])
def test_what_is_no_key_opens_nothing(key):
    with pytest.raises(CannotOpen):
        open_sealed(key, b"header", seal(GCM_KEY, b"header", b"34 cm"))


def test_a_wrapped_key_opens_only_with_its_server_key():
    private, stranger = make_server_key(), make_server_key()
    wrap = wrap_key(
        KEY_ID, bytes(range(32)), "r", "l", SERVER_KEY_ID, public_spki(private)
    )
    assert unwrap_key(wrap, private) == bytes(range(32))
    with pytest.raises(CannotOpen):
        unwrap_key(wrap, stranger)


def test_a_wrap_travels_as_json_and_comes_back():
    private = make_server_key()
    wrap = wrap_key(KEY_ID, bytes(32), "r", "l", SERVER_KEY_ID, public_spki(private))
    assert wrap_from_json(wrap.as_json()) == wrap


@pytest.mark.parametrize("name", ["key", "record", "log", "server_key", "epk", "nonce"])
def test_a_wrap_without_a_part_is_refused(name):
    private = make_server_key()
    wrap = wrap_key(KEY_ID, bytes(32), "r", "l", SERVER_KEY_ID, public_spki(private))
    given = wrap.as_json()
    del given[name]
    with pytest.raises(CannotOpen):
        wrap_from_json(given)


def test_a_wrap_of_another_key_id_does_not_open():
    private = make_server_key()
    given = wrap_key(
        KEY_ID, bytes(32), "r", "l", SERVER_KEY_ID, public_spki(private)
    ).as_json()
    given["key"] = SERVER_KEY_ID
    with pytest.raises(CannotOpen):
        unwrap_key(wrap_from_json(given), private)
