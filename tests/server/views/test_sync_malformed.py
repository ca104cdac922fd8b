"""Whatever bytes come as a request to `/sync`: an answer, nothing half kept."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.malformed import AN_EXAMPLE, PROMISED, SHARES, sized
from webapp.record.framing import MOST_BYTES

SHARE = SHARES["bytes"]


def test_the_files_of_such_requests_send_what_is_promised():
    assert sum(SHARES.values()) == PROMISED


@sized(SHARE // 2)
@given(st.lists(st.binary(max_size=200), min_size=5, max_size=5))
def test_any_bytes_are_answered(ward, many):
    for raw in many:
        ward.posts(raw)
        ward.posts(len(raw).to_bytes(4, "big") + raw)


@sized(SHARE // 2)
@given(st.data())
def test_a_request_damaged_on_the_way_is_answered(ward, data):
    good = ward.tablet.request(ward.tablet.own[:2], open=[])
    place = st.integers(0, len(good) - 1)
    how = st.sampled_from(["change", "cut", "drop", "repeat"])
    harm = st.tuples(how, place, st.integers(0, 255))
    for harms in data.draw(
        st.lists(st.lists(harm, min_size=1, max_size=3), min_size=10, max_size=10)
    ):
        ward.posts(damaged(good, harms))


def damaged(good, harms):
    found = bytearray(good)
    for how, at, byte in harms:
        if how == "change":
            found[at : at + 1] = bytes([byte])
        elif how == "cut":
            del found[at + 1 :]
        elif how == "drop":
            del found[at : at + 1]
        else:
            found[at:at] = found[at : at + 20]
    return bytes(found)


def test_all_of_this_file_s_share_was_sent(ward):
    assert SHARE % AN_EXAMPLE == 0
    assert ward.posted >= SHARE


@pytest.mark.parametrize(
    "raw",
    [
        b"",
        b"\0\0\0",
        b"\xff\xff\xff\xff",
        b"\0\0\0\0",
        b"\0\0\0\2{}",
        b"\0\0\0\4null",
        b"\0\0\0\7" + b'{"v":2}',
        b"\0\0\0\x0a" + b'{"v":true}',
        b"\0\0\0\7" + b'{"v":1}' + b"left over",
        (200_000).to_bytes(4, "big") + b"[" * 200_000,
        (5010).to_bytes(4, "big") + b'{"v":1,"a":' + b"9" * 4998 + b"}",
    ],
    ids=[
        *("nothing", "cut", "length without a head", "no head", "no version"),
        *("null", "version 2", "version true", "left over", "too deep", "long number"),
    ],
)
def test_a_frame_that_cannot_be_read_names_what_is_wrong(ward, raw):
    reply = ward.posts(raw)
    assert reply.status == 400
    (problem,) = reply.json["errors"]
    assert problem["code"] == "shape"
    assert problem["message"].startswith("Expected: ")


def test_lists_longer_than_any_tablet_has_are_too_large(ward):
    many = [{"log": ward.tablet.writer.log, "tip": 1}] * 5001
    assert len(ward.tablet.request(logs=many)) < MOST_BYTES
    assert ward.posts(ward.tablet.request(logs=many)).status == 413
