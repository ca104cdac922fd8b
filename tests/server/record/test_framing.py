"""The bytes of one request: written, read back, and cut off anywhere."""

import json

import pytest

from webapp.record.framing import (
    MOST_BYTES,
    Opened,
    Tip,
    TooMuch,
    UnreadablePush,
    encode_push,
    read_push,
)
from webapp.record.log import Head

# Fixed: the names of the cases are made of them, and every worker must name them alike.
LOG = "01a20000-0000-7000-8000-00000000000a"
RECORD = "01a20000-0000-7000-8000-00000000000b"
HEAD = {
    "v": 1,
    "catalogue": 3,
    "now": "2031-11-24T10:41:07.123Z",
    "logs": [{"log": LOG, "tip": 9}],
    "wraps": [],
    "entries": [{"header": "1\nå\n", "sealed": 3}, {"header": 7, "sealed": 2}],
    "open": [{"record": RECORD, "since": 4, "tips": [{"log": LOG, "seq": 9}]}],
    "head": {"position": 2, "chain": "ab" * 32},
    "pull_all": True,
}
RAW = encode_push(HEAD, [b"one", b"tw"])


def test_a_request_begins_with_the_length_of_its_head_in_four_bytes():
    length = int.from_bytes(RAW[:4], "big")
    assert json.loads(RAW[4 : 4 + length]) == HEAD
    assert RAW[4 + length :] == b"onetw"


def test_a_request_is_read_as_it_was_written():
    push = read_push(RAW)
    assert [item.sealed for item in push.items] == [b"one", b"tw"]
    assert [item.header for item in push.items] == ["1\nå\n".encode(), None]
    assert push.logs == (Tip(LOG, 9),)
    assert push.open == (Opened(RECORD, 4, (Tip(LOG, 9),)),)
    assert push.head == Head(2, "ab" * 32)
    assert push.catalogue == 3
    assert push.pull_all is True


def test_what_is_left_out_has_a_meaning():
    push = read_push(encode_push({"v": 1}, []))
    assert (push.items, push.logs, push.wraps, push.open) == ((), (), (), ())
    assert (push.head, push.pull_all, push.catalogue) == (None, False, 0)


def test_a_request_cut_off_anywhere_is_not_taken_for_a_whole_one():
    for length in range(len(RAW)):
        with pytest.raises(UnreadablePush):
            read_push(RAW[:length])


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"v": 2}, "v"),
        ({"v": True}, "v"),
        ({"catalogue": "1"}, "catalogue"),
        ({"entries": {}}, "entries"),
        ({"entries": [7]}, "entries"),
        ({"entries": [{"header": "", "sealed": True}]}, "entries.sealed"),
        ({"entries": [{"header": "", "sealed": -1}]}, "entries.sealed"),
        ({"entries": [{"header": "", "sealed": 99}]}, "entries.sealed"),
        ({"entries": []}, "entries"),
        ({"logs": [{"log": "x", "tip": 1}]}, "logs.log"),
        ({"logs": [{"log": LOG, "tip": 2**53}]}, "logs.tip"),
        ({"open": [{"record": RECORD, "since": 1.0}]}, "open.since"),
        ({"open": [{"record": RECORD, "tips": [{"log": LOG}]}]}, "open.tips.seq"),
        ({"head": []}, "head"),
        ({"head": {"position": 1, "chain": "AB" * 32}}, "head.chain"),
        ({"head": {"position": -1, "chain": "ab" * 32}}, "head.position"),
    ],
    ids=str,
)
def test_what_is_not_of_the_form_is_named(change, field):
    with pytest.raises(UnreadablePush) as caught:
        read_push(encode_push({**HEAD, **change}, [b"one", b"tw"]))
    assert caught.value.field == field


@pytest.mark.parametrize(
    "wrap",
    [
        *(None, 7, "x", [], {}, {"key": LOG}),
        {
            "key": "x",
            "record": RECORD,
            "log": LOG,
            "server_key": LOG,
            "epk": "",
            "nonce": "",
            "wrapped": "",
        },
    ],
    ids=str,
)
def test_a_wrap_that_cannot_be_read_holds_up_nothing(wrap):
    push = read_push(encode_push({**HEAD, "wraps": [wrap]}, [b"one", b"tw"]))
    assert push.wraps == ()
    assert len(push.items) == 2


def test_more_than_a_request_takes_is_too_much():
    with pytest.raises(TooMuch):
        read_push(b"\0" * (MOST_BYTES + 1))
    entries = [{"header": "", "sealed": 0}] * 501
    with pytest.raises(TooMuch):
        read_push(encode_push({**HEAD, "entries": entries}, []))
