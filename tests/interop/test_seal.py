"""What Chromium seals Python opens, and back; one flipped bit is found."""

from __future__ import annotations

import base64
import hashlib

import pytest
from cryptography.hazmat.primitives.ciphers.aead import AESGCM

from webapp.record.entry import uuid7
from webapp.record.seal import (
    CannotOpen,
    make_server_key,
    open_sealed,
    public_spki,
    seal,
    unwrap_key,
    wrap_from_json,
)

HEADER = "1\nid\nrecord\nlog\n17\nkey\n"
BODY = "34 cm, RV-kontakt, Søn 山田 \U0001f469"
KEY = bytes(range(32))

SEAL = """async ([key, header, body]) => {
  const { seal, sealingKey } = await import("/static/js/log/seal.js");
  const { fromBase64, base64, utf8 } = await import("/static/js/log/bytes.js");
  const sealed = await seal(await sealingKey(fromBase64(key)), header, utf8(body));
  return base64(sealed);
}"""
OPEN = """async ([key, header, sealed]) => {
  const { open, sealingKey } = await import("/static/js/log/seal.js");
  const { fromBase64, fromUtf8 } = await import("/static/js/log/bytes.js");
  const sealing = await sealingKey(fromBase64(key));
  return fromUtf8(await open(sealing, header, fromBase64(sealed)));
}"""
# Opens the given bytes once for each bit, that bit flipped; returns what opened.
OPEN_FLIPPED = """async ([key, header, sealed]) => {
  const { open, sealingKey } = await import("/static/js/log/seal.js");
  const { fromBase64 } = await import("/static/js/log/bytes.js");
  const sealing = await sealingKey(fromBase64(key));
  const opened = [];
  for (let bit = 0; bit < fromBase64(sealed).length * 8; bit++) {
    const bytes = fromBase64(sealed);
    bytes[bit >> 3] ^= 1 << (bit & 7);
    await open(sealing, header, bytes).then(() => opened.push(bit), () => {});
  }
  return opened;
}"""
WRAP = """async ([names, raw, server]) => {
  const { wrapForServer } = await import("/static/js/log/seal.js");
  const { fromBase64 } = await import("/static/js/log/bytes.js");
  return wrapForServer(names, fromBase64(raw), server);
}"""
WRAP_FOR_TABLET = """async ([under, id, raw]) => {
  const seals = await import("/static/js/log/seal.js");
  const { base64, fromBase64 } = await import("/static/js/log/bytes.js");
  const key = await seals.sealingKey(fromBase64(under));
  const wrap = await seals.wrapForTablet(key, id, fromBase64(raw));
  const back = base64(await seals.unwrapForTablet(key, id, wrap));
  return { nonce: base64(wrap.nonce), wrapped: base64(wrap.wrapped), back };
}"""
DATA_KEY = """async (name) => {
  const { openStore } = await import("/static/js/log/store.js");
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const { base64 } = await import("/static/js/log/bytes.js");
  const store = await openStore({ name });
  const author = { person: null, name: "Test-Mira FJORDHOLM", role: "assistant" };
  await store.append(store.newRecord(), { path: "patient.weight", value: "x", author });
  const base = await openBase({ name });
  const [row, keys] = await base.transact(["wraps", "keys"], "readonly", async (tx) => [
    await result(tx.objectStore("wraps").get("tablet")),
    await result(tx.objectStore("keys").getAll()),
  ]);
  store.close();
  const text = (bytes) => base64(bytes);
  return {
    ...row, salt: text(row.salt), nonce: text(row.nonce), wrapped: text(row.wrapped),
    key: keys[0].key,
    key_nonce: text(keys[0].wrap_tablet.nonce),
    key_wrapped: text(keys[0].wrap_tablet.wrapped),
  };
}"""


def b64(raw: bytes) -> str:
    return base64.b64encode(raw).decode()


def unb64(text: str) -> bytes:
    return base64.b64decode(text, validate=True)


def test_python_opens_what_chromium_sealed(page):
    sealed = unb64(page.evaluate(SEAL, [b64(KEY), HEADER, BODY]))
    assert open_sealed(KEY, HEADER.encode(), sealed).decode() == BODY


def test_chromium_opens_what_python_sealed(page):
    sealed = seal(KEY, HEADER.encode(), BODY.encode())
    assert page.evaluate(OPEN, [b64(KEY), HEADER, b64(sealed)]) == BODY


def test_chromium_never_uses_a_nonce_twice(page):
    seals = [page.evaluate(SEAL, [b64(KEY), HEADER, BODY]) for _ in range(20)]
    assert len({unb64(sealed)[:12] for sealed in seals}) == 20


def test_python_finds_every_flipped_bit_of_what_chromium_sealed(page):
    sealed = unb64(page.evaluate(SEAL, [b64(KEY), HEADER, BODY]))
    for bit in range(len(sealed) * 8):
        flipped = bytearray(sealed)
        flipped[bit >> 3] ^= 1 << (bit & 7)
        with pytest.raises(CannotOpen):
            open_sealed(KEY, HEADER.encode(), bytes(flipped))


def test_chromium_finds_every_flipped_bit_of_what_python_sealed(page):
    sealed = seal(KEY, HEADER.encode(), b"34 cm")
    assert page.evaluate(OPEN_FLIPPED, [b64(KEY), HEADER, b64(sealed)]) == []


def test_python_finds_a_changed_header_of_what_chromium_sealed(page):
    sealed = unb64(page.evaluate(SEAL, [b64(KEY), HEADER, BODY]))
    for at in range(len(HEADER)):
        changed = bytearray(HEADER.encode())
        changed[at] ^= 1
        with pytest.raises(CannotOpen):
            open_sealed(KEY, bytes(changed), sealed)


def test_chromium_opens_the_published_gcm_vector(page):
    """McGrew and Viega, The Galois/Counter Mode of Operation, test case 15."""
    key = bytes.fromhex("feffe9928665731c6d6a8f9467308308" * 2)
    nonce = bytes.fromhex("cafebabefacedbaddecaf888")
    plain = bytes.fromhex(
        "d9313225f88406e5a55909c5aff5269a86a7a9531534f7da2e4c303d8a318a72"
        "1c3c0c95956809532fcf0e2449a6b525b16aedf5aa0de657ba637b391aafd255"
    )
    sealed = bytes.fromhex(
        "522dc1f099567d07f47f37a32a84427d643a8cdcbfe5c0c97598a2bd2555d1aa"
        "8cb08e48590dbb3da7b08b1056828838c5f61e6393ba7a0abcc9f662898015ad"
        "b094dac5d93471bdec1a502270e3cc6c"
    )
    script = OPEN.replace("fromUtf8(await", "base64(await").replace(
        "fromUtf8 }", "base64 }"
    )
    opened = page.evaluate(script, [b64(key), "", b64(nonce + sealed)])
    assert unb64(opened) == plain


def test_the_server_unwraps_a_key_that_chromium_wrapped(page):
    private, server_id = make_server_key(), uuid7()
    names = {"key": uuid7(), "record": uuid7(), "log": uuid7()}
    server = {"id": server_id, "spki": b64(public_spki(private))}
    wrap = page.evaluate(WRAP, [names, b64(KEY), server])
    assert {name: wrap[name] for name in names} == names
    assert wrap["server_key"] == server_id
    assert unwrap_key(wrap_from_json(wrap), private) == KEY


@pytest.mark.parametrize("changed", ["key", "server_key", "epk", "nonce", "wrapped"])
def test_a_wrap_with_one_part_changed_does_not_open(page, changed):
    private = make_server_key()
    names = {"key": uuid7(), "record": uuid7(), "log": uuid7()}
    server = {"id": uuid7(), "spki": b64(public_spki(private))}
    wrap = page.evaluate(WRAP, [names, b64(KEY), server])
    if changed in ("key", "server_key"):
        wrap[changed] = uuid7()
    else:
        raw = bytearray(unb64(wrap[changed]))
        raw[-1] ^= 1
        wrap[changed] = b64(bytes(raw))
    with pytest.raises(CannotOpen):
        unwrap_key(wrap_from_json(wrap), private)


def test_a_wrap_for_one_server_key_does_not_open_with_another(page):
    names = {"key": uuid7(), "record": uuid7(), "log": uuid7()}
    server = {"id": uuid7(), "spki": b64(public_spki(make_server_key()))}
    wrap = page.evaluate(WRAP, [names, b64(KEY), server])
    with pytest.raises(CannotOpen):
        unwrap_key(wrap_from_json(wrap), make_server_key())


def test_a_wrap_under_the_data_key_is_aes_gcm_over_the_key_id(page):
    under, key_id = bytes(reversed(range(32))), uuid7()
    wrap = page.evaluate(WRAP_FOR_TABLET, [b64(under), key_id, b64(KEY)])
    assert unb64(wrap["back"]) == KEY
    nonce, wrapped = unb64(wrap["nonce"]), unb64(wrap["wrapped"])
    assert AESGCM(under).decrypt(nonce, wrapped, key_id.encode()) == KEY


def test_the_data_key_of_a_tablet_without_a_lock_opens_as_its_row_says(page):
    row = page.evaluate(DATA_KEY, "data-key")
    assert (row["who"], row["how"]) == ("tablet", "none")
    assert (row["kdf"], row["rounds"]) == ("PBKDF2-SHA-256", 1)
    under = hashlib.pbkdf2_hmac("sha256", b"", unb64(row["salt"]), row["rounds"])
    data_key = AESGCM(under).decrypt(
        unb64(row["nonce"]), unb64(row["wrapped"]), b"tablet"
    )
    assert len(data_key) == 32
    key = AESGCM(data_key).decrypt(
        unb64(row["key_nonce"]), unb64(row["key_wrapped"]), row["key"].encode()
    )
    assert len(key) == 32
