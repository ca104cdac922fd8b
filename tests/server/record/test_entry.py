"""The entry's bytes, against the standards they are built from."""

import hashlib
import json

import pytest

from webapp.record.entry import (
    GENESIS_CHAIN,
    Header,
    UnreadableBody,
    UnreadableHeader,
    chain,
    decode_body,
    decode_header,
    digest,
    encode_body,
    is_uuid7,
    uuid7,
)

ID = "01890000-0000-7000-8000-000000000001"
RECORD = "01890000-0000-7000-8000-000000000002"
LOG = "01890000-0000-7000-8000-000000000003"
KEY = "01890000-0000-7000-8000-000000000004"
HEADER = Header(1, ID, RECORD, LOG, 17, KEY)
NURSE = {"person": None, "name": "K. Ouse-Example", "role": "nurse"}
BODY = {
    "path": "patient.family_name",
    "op": "set",
    "value": "Ó'Brien & Søn",
    "seen": [],
    "at": {"utc": "2031-11-24T10:41:07.123Z", "zone": "Europe/Oslo", "offset_min": 60},
    "author": NURSE,
    "entered_by": NURSE,
    "called_by": None,
    "source": "told",
    "how": "typed",
    "salt": "00" * 16,
}


def test_a_uuid7_is_the_worked_example_of_rfc_9562():
    # RFC 9562, appendix A.6: 017F22E2-79B0-7CC3-98C4-DC0C0C07398F.
    random = bytes.fromhex("0cc3") + bytes.fromhex("18c4dc0c0c07398f")
    assert uuid7(0x017F22E279B0, random) == "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"


def test_a_uuid7_made_later_sorts_later():
    assert uuid7(1000) < uuid7(1001)
    assert is_uuid7(uuid7())


def test_a_header_is_six_lines_in_fixed_order():
    assert HEADER.encode() == f"1\n{ID}\n{RECORD}\n{LOG}\n17\n{KEY}\n".encode()


def test_a_header_is_read_back_as_written():
    assert decode_header(HEADER.encode()) == HEADER


@pytest.mark.parametrize(
    "raw",
    [
        b"",
        b"1\n",
        HEADER.encode() + b"\n",
        HEADER.encode().rstrip(b"\n"),
        HEADER.encode().replace(b"\n17\n", b"\n0\n"),
        HEADER.encode().replace(b"\n17\n", b"\n017\n"),
        HEADER.encode().replace(b"\n17\n", b"\n-1\n"),
        HEADER.encode().replace(b"\n17\n", b"\n9007199254740992\n"),
        HEADER.encode().replace(b"-7000-", b"-4000-"),
        HEADER.encode().upper().replace(b"0189", b"A189"),
        HEADER.encode().replace(b"1\n", b"0\n", 1),
        b"\xff" + HEADER.encode(),
    ],
)
def test_a_header_of_another_form_is_unreadable(raw):
    with pytest.raises(UnreadableHeader):
        decode_header(raw)


def test_the_digest_is_the_hash_of_header_and_hash_of_body():
    body = encode_body(BODY)
    by_hand = hashlib.sha256(HEADER.encode() + hashlib.sha256(body).digest())
    body_sha256 = hashlib.sha256(body).hexdigest()
    assert digest(HEADER.encode(), body_sha256) == by_hand.hexdigest()


def test_the_chain_starts_from_thirty_two_zero_bytes():
    one = "ab" * 32
    by_hand = hashlib.sha256(bytes(32) + bytes.fromhex(one)).hexdigest()
    assert chain(GENESIS_CHAIN, one) == by_hand


def test_a_body_keeps_its_text_and_its_key_order():
    raw = encode_body(BODY)
    assert list(json.loads(raw)) == list(BODY)
    assert "Ó'Brien & Søn".encode() in raw
    assert decode_body(raw) == BODY


@pytest.mark.parametrize(
    ("name", "raw"),
    [
        ("a fraction", b'"value":1.5'),
        ("an exponent", b'"value":1e3'),
        ("not a number", b'"value":NaN'),
        ("2^53", b'"value":9007199254740992'),
        ("minus 2^53", b'"value":-9007199254740992'),
        ("infinity", b'"value":-Infinity'),
        ("a key twice", b'"value":1,"value":2'),
        ("a key too many", b'"value":1,"more":2'),
        ("an unknown op", b'"value":1,"op":"delete"'),
    ],
    ids=lambda v: v if isinstance(v, str) else "",
)
def test_a_body_with_something_else_is_unreadable(name, raw):
    given = encode_body({**BODY, "value": 0}).replace(b'"value":0', raw)
    with pytest.raises(UnreadableBody):
        decode_body(given)


def test_a_body_may_hold_the_largest_exact_integer():
    raw = encode_body({**BODY, "value": 2**53 - 1})
    assert decode_body(raw)["value"] == 2**53 - 1


@pytest.mark.parametrize("raw", [b"", b"[]", b"null", b"{", b"\xff\xfe", b"[" * 9999])
def test_bytes_that_are_no_object_are_an_unreadable_body(raw):
    with pytest.raises(UnreadableBody):
        decode_body(raw)
