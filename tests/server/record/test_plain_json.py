"""The quick reader of bodies against the strict one: it says the same, or nothing."""

from __future__ import annotations

import json
from random import Random

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.support.hostile import LINES, OTHERS
from tests.support.malformed import ANYTHING, NASTY
from webapp.record.entry import read_strictly
from webapp.record.plain_json import NotPlain, read_plain

LARGEST = 2**53 - 1
PLAIN = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-LARGEST, LARGEST)
    | st.text()
    | st.sampled_from((*LINES, *OTHERS)),
    lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner),
    max_leaves=30,
)


def written(value):
    """Return the bytes that a tablet and this server write."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode()


def is_same(one, other):
    """Return whether two values are the same, and of the same types at every place."""
    return one == other and repr(one) == repr(other)


@settings(deadline=None)
@given(PLAIN)
def test_what_is_read_as_plain_is_what_the_strict_reader_reads(value):
    raw = written(value)
    try:
        found = read_plain(raw)
    except NotPlain:
        # A long number is sound, and left to the other.
        assert is_same(read_strictly(raw), value)
    else:
        assert is_same(found, value)
        assert is_same(found, read_strictly(raw))


@settings(deadline=None)
@given(ANYTHING | NASTY, st.booleans(), st.sampled_from((None, 0, 1)))
def test_nothing_the_strict_reader_refuses_is_plain(value, is_ascii, indent):
    text = json.dumps(value, ensure_ascii=is_ascii, indent=indent)
    holds_both_or_neither(text.encode("utf-8", "surrogatepass"))


@settings(deadline=None)
@given(PLAIN, st.randoms(use_true_random=False))
def test_bytes_spoilt_on_the_way_are_never_read_as_something_else(value, random):
    raw = bytearray(written(value))
    for _ in range(random.randint(1, 3)):
        at = random.randrange(len(raw) + 1)
        raw[at : at + random.randint(0, 2)] = some_bytes(random)
    holds_both_or_neither(bytes(raw))


def some_bytes(random: Random) -> bytes:
    """Return one or two bytes that mean something in JSON, or none at all."""
    return bytes(random.choices(b'"\\{}[]:,0159.eE-+ \n\x00u\xc3\xed\xff', k=2))


def holds_both_or_neither(raw: bytes) -> None:
    """Fail when bytes are plain and the strict reader says otherwise."""
    try:
        found = read_plain(raw)
    except NotPlain:
        return
    assert is_same(found, read_strictly(raw))


@pytest.mark.parametrize(
    "raw",
    [
        b'{"a":1,"a":1}',
        b'{"a":{"b":1,"b":2}}',
        b'{"a":1.5}',
        b'{"a":1e3}',
        b'{"a":1e400}',
        b'{"a":NaN}',
        b'{"a":-Infinity}',
        b'{"a":9007199254740992}',
        b'{"a":-9007199254740992}',
        b'{"a":' + b"9" * 400 + b"}",
        b'{"a":-0}',
        b'{"a":"\\ud800"}',
        b'{"a":"\xed\xa0\x80"}',
        b'{"a":"\\/"}',
        b'{"a": 1}',
        b' {"a":1}',
        b'{"a":1} ',
        b'{"a":1}{',
        b'\xef\xbb\xbf{"a":1}',
        b'{"a":' + b"[" * 200 + b"]" * 200 + b"}",
        b"[" * 9999,
        b"",
        b"\xff",
    ],
    ids=lambda raw: ascii(raw[:30]),
)
def test_other_bytes_are_left_to_the_strict_reader(raw):
    with pytest.raises(NotPlain):
        read_plain(raw)


def test_a_usual_body_is_plain():
    raw = b'{"path":"a.b","value":{"as":"5","n":-12},"seen":["x"],"who":null}'
    assert read_plain(raw) == json.loads(raw)


@settings(deadline=None)
@given(PLAIN)
def test_a_reply_is_written_as_it_always_was(value):
    assert msgspec.json.encode(value) == written(value)
