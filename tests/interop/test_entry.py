"""Header, body, digest, ids and frames are the same bytes in Chromium and Python."""

from __future__ import annotations

import base64
import json

import pytest

from webapp.record.entry import (
    BODY_KEYS,
    Header,
    decode_body,
    decode_header,
    digest,
    is_uuid7,
    sha256_hex,
    uuid7,
)
from webapp.record.framing import read_push

# RFC 9562, appendix A.6: Example of a UUIDv7 Value.
RFC_9562_A6 = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"
RFC_9562_A6_MS = 1645557742000
RFC_9562_A6_RANDOM = bytes.fromhex("7cc398c4dc0c0c07398f")

STRINGS = [
    "Łukasz Żółć",
    "محمد",
    "山田太郎",
    "e\u0301",
    "👨‍👩‍👧",
    "<b>Ó'Brien & Søn</b>",
    'a"b\\c',
    "a\r\nb\tc",
    "\u0000\u001b\u2028\ufeff",
    "x" * 3000,
    "",
    "   ",
]
BODY = {
    "path": "patient.family_name",
    "op": "set",
    "value": {"as": "1,5", "n": "1.5", "unit": "mA", "list": [1, True, None]},
    "seen": [],
    "at": {
        "utc": "2031-11-24T10:41:07.123Z",
        "zone": "Europe/Oslo",
        "offset_min": 60,
        "skew_ms": None,
    },
    "author": {"person": None, "name": "Test-Mira FJORDHOLM", "role": "assistant"},
    "entered_by": {"person": None, "name": "Test-Mira FJORDHOLM", "role": "assistant"},
    "called_by": None,
    "source": "seen",
    "how": "typed",
    "salt": "00" * 16,
}

ENCODE = """async ([header, body]) => {
  const entry = await import("/static/js/log/entry.js");
  const { base64 } = await import("/static/js/log/bytes.js");
  const text = entry.encodeHeader(header);
  const bytes = entry.encodeBody(body);
  return { header: text, body: base64(bytes), digest: await entry.digest(text, bytes) };
}"""
REFUSED = """async (value) => {
  const entry = await import("/static/js/log/entry.js");
  const given = value === "NaN" ? NaN : value === "undefined" ? undefined : value;
  try { entry.encodeBody({ value: { n: given } }); return null; }
  catch (error) { return error.constructor.name; }
}"""
UUID = """async ([ms, random]) => {
  const { uuid7 } = await import("/static/js/log/uuid.js");
  return uuid7(ms, Uint8Array.from(random));
}"""
FRAME = """async ([head, sealed]) => {
  const { framed } = await import("/static/js/sync/exchange.js");
  const { base64, fromBase64 } = await import("/static/js/log/bytes.js");
  const bodies = sealed.map(fromBase64);
  return base64(framed({ head, sealed: bodies, rows: [], more: false }));
}"""


def names() -> dict[str, object]:
    ids = {name: uuid7() for name in ("id", "record", "log", "key")}
    return {**ids, "seq": 17}


def test_the_header_made_in_chromium_is_the_one_made_in_python(page):
    given = names()
    made = page.evaluate(ENCODE, [given, BODY])["header"]
    assert made.encode() == Header(1, **given).encode()
    assert decode_header(made.encode()).seq == 17


@pytest.mark.parametrize("text", STRINGS, ids=lambda text: repr(text[:12]))
def test_python_reads_from_a_body_made_in_chromium_exactly_what_was_given(page, text):
    given = {**BODY, "value": text, "path": f"remarks.{text[:20]}x"}
    raw = base64.b64decode(page.evaluate(ENCODE, [names(), given])["body"])
    assert decode_body(raw) == given


def test_a_body_made_in_chromium_has_its_keys_in_the_fixed_order(page):
    shuffled = dict(reversed(BODY.items()))
    raw = base64.b64decode(page.evaluate(ENCODE, [names(), shuffled])["body"])
    assert tuple(json.loads(raw)) == BODY_KEYS


def test_the_digest_made_in_chromium_is_the_one_made_in_python(page):
    made = page.evaluate(ENCODE, [names(), BODY])
    body = base64.b64decode(made["body"])
    assert made["digest"] == digest(made["header"].encode(), sha256_hex(body))


def test_half_a_character_becomes_the_replacement_character(page):
    given = {**BODY, "value": "a\ud800b"}
    raw = base64.b64decode(page.evaluate(ENCODE, [names(), given])["body"])
    assert decode_body(raw)["value"] == "a\ufffdb"


@pytest.mark.parametrize("value", [1.5, 2**53, -(2**53), "NaN", "undefined"])
def test_no_number_but_a_whole_one_below_two_to_the_53_gets_into_a_body(page, value):
    assert page.evaluate(REFUSED, value) == "UnfitValue"


def test_chromium_makes_the_uuid_of_the_standard(page):
    made = page.evaluate(UUID, [RFC_9562_A6_MS, list(RFC_9562_A6_RANDOM)])
    assert made == RFC_9562_A6


def test_python_makes_the_uuid_of_the_standard():
    assert uuid7(RFC_9562_A6_MS, RFC_9562_A6_RANDOM) == RFC_9562_A6


def test_version_and_variant_stand_whatever_the_random_bytes_are(page):
    for byte in (0x00, 0xFF):
        made = page.evaluate(UUID, [RFC_9562_A6_MS, [byte] * 10])
        assert is_uuid7(made)
        assert made == uuid7(RFC_9562_A6_MS, bytes([byte] * 10))


def test_the_server_reads_a_request_framed_in_chromium(page):
    header = Header(1, **names()).encode().decode()
    sealed = [b"\x00\xff" * 20, b"second"]
    head = {
        "v": 1,
        "catalogue": 3,
        "logs": [{"log": uuid7(), "tip": 2}],
        "wraps": [],
        "entries": [{"header": header, "sealed": len(part)} for part in sealed],
        "open": [{"record": uuid7(), "since": 4, "tips": [{"log": uuid7(), "seq": 2}]}],
        "head": None,
        "pull_all": False,
    }
    encoded = [base64.b64encode(part).decode() for part in sealed]
    push = read_push(base64.b64decode(page.evaluate(FRAME, [head, encoded])))
    assert [item.sealed for item in push.items] == sealed
    assert [item.header for item in push.items] == [header.encode()] * 2
    assert (push.catalogue, push.open[0].since) == (3, 4)
