"""What a passphrase makes of the tablet's data key, opened and made on both sides."""

from __future__ import annotations

import base64
import hashlib
import math
import os
import unicodedata
from collections import Counter

import pytest
from cryptography.hazmat.primitives.ciphers.aead import AESGCM

from tests.support import node
from webapp.record.seal import open_sealed

PERSON = {"person": "p-1", "name": "Test-Mira FJORDHOLM", "role": "assistant"}
UNLISTED = {"person": None, "name": "Zoë Test-Example", "role": ""}
WORDS = "copper violin meadow lantern"
ROUNDS = 600_000
WRONG = {"refused": "WrongPassphrase", "say": "lock.wrong"}


def b64(raw: bytes) -> str:
    return base64.b64encode(raw).decode()


def unb64(text: str) -> bytes:
    return base64.b64decode(text, validate=True)


def derived(passphrase: str, row) -> bytes:
    plain = " ".join(unicodedata.normalize("NFKC", passphrase).split())
    salt = unb64(row["salt"])
    return hashlib.pbkdf2_hmac("sha256", plain.encode(), salt, row["rounds"], 32)


def wrapped(key: bytes, who: str, passphrase: str, rounds: int = ROUNDS):
    """Return a row as a tablet keeps it, made here."""
    row = {"who": who, "person": PERSON, "how": "passphrase", "kdf": "PBKDF2-SHA-256"}
    row |= {"rounds": rounds, "salt": b64(os.urandom(16))}
    nonce = os.urandom(12)
    under = AESGCM(derived(passphrase, row))
    sealed = under.encrypt(nonce, key, f"wrap\n{who}\n".encode())
    return row | {"nonce": b64(nonce), "wrapped": b64(sealed)}


def opens(*cases):
    return node.call("./wraps.mjs", "opened", [list(case) for case in cases])


def makes(*cases):
    return node.call("./wraps.mjs", "made", [list(case) for case in cases])


def test_python_opens_the_wrap_that_a_tablet_made():
    for person, made in zip(
        (PERSON, UNLISTED),
        makes((PERSON, WORDS), (UNLISTED, "Ångström  på  ﬂøyte 4")),
        strict=True,
    ):
        row = made["wrap"]
        words = WORDS if person is PERSON else "Ångström på fløyte 4"
        assert (row["kdf"], row["rounds"]) == ("PBKDF2-SHA-256", ROUNDS)
        assert len(unb64(row["salt"])) == 16
        key = AESGCM(derived(words, row)).decrypt(
            unb64(row["nonce"]), unb64(row["wrapped"]), f"wrap\n{row['who']}\n".encode()
        )
        assert b64(key) == made["raw"]


def test_a_tablet_opens_the_wrap_that_python_made_and_cannot_read_the_key_back():
    key = os.urandom(32)
    [told] = opens((wrapped(key, "person p-1", WORDS), WORDS, None))
    assert told["exported"] is False
    assert open_sealed(key, b"about", unb64(told["sealed"])) == b"34 cm"


def test_more_rounds_told_by_a_row_are_used():
    key = os.urandom(32)
    [told] = opens((wrapped(key, "person p-1", WORDS, ROUNDS + 1), WORDS, None))
    assert open_sealed(key, b"about", unb64(told["sealed"])) == b"34 cm"


@pytest.mark.parametrize(
    ("typed", "is_taken"),
    [
        (f"  {WORDS} ", True),
        ("copper\tviolin  meadow lantern", True),
        ("Copper violin meadow lantern", False),
        ("copper violin meadow", False),
        ("", False),
    ],
)
def test_blanks_may_be_typed_in_any_number_and_nothing_else_differs(typed, is_taken):
    [told] = opens((wrapped(bytes(32), "person p-1", WORDS, 1000), typed, None))
    assert (told != WRONG) is is_taken


@pytest.mark.parametrize("changed", ["who", "salt", "nonce", "wrapped", "rounds"])
def test_a_wrap_with_one_part_changed_does_not_open(changed):
    row = wrapped(bytes(32), "person p-1", WORDS, 1000)
    if changed == "who":
        row["who"] = "person p-2"
    elif changed == "rounds":
        row["rounds"] += 1
    else:
        raw = bytearray(unb64(row[changed]))
        raw[-1] ^= 1
        row[changed] = b64(bytes(raw))
    assert opens((row, WORDS, None)) == [WRONG]


def test_a_closed_row_is_opened_by_no_empty_passphrase_and_proves_only_its_own_key():
    one, other = makes((PERSON, WORDS), (PERSON, WORDS))
    closed = one["closed"]
    assert (closed["who"], closed["how"], closed["rounds"]) == ("tablet", "closed", 1)
    # What a page of before the lock does with the row of this name.
    under = hashlib.pbkdf2_hmac("sha256", b"", unb64(closed["salt"]), 1)
    with pytest.raises(Exception):  # noqa: B017, PT011 - any refusal will do
        AESGCM(under).decrypt(
            unb64(closed["nonce"]), unb64(closed["wrapped"]), b"tablet"
        )
    told = opens((one["wrap"], WORDS, closed), (other["wrap"], WORDS, closed))
    assert [answer["fits"] for answer in told] == [True, False]


def test_no_salt_nonce_or_key_comes_twice():
    made = makes(*[(PERSON, WORDS)] * 4)
    for part in ("salt", "nonce", "wrapped"):
        assert len({one["wrap"][part] for one in made}) == 4
    assert len({one["raw"] for one in made}) == 4


def test_the_words_are_plain_and_as_many_as_is_said():
    [told] = node.call("./wraps.mjs", "drawn", [[1]])
    words = told["words"]
    assert len(set(words)) == len(words) == told["count"] >= 1024
    assert all(w.isascii() and w.islower() and w.isalpha() for w in words)
    assert all(3 <= len(w) <= 7 for w in words)
    assert math.floor(4 * math.log2(len(words))) == 41
    assert told["years"] == len(words) ** 4 // (2 * 1000 * 31_557_600) >= 40


def test_each_word_is_as_likely_as_any_other():
    [told] = node.call("./wraps.mjs", "drawn", [[40_000]])
    counts = Counter(word for four in told["drawn"] for word in four.split(" "))
    assert all(len(four.split(" ")) == 4 for four in told["drawn"])
    expected = 160_000 / told["count"]
    spread = sum((counts[w] - expected) ** 2 / expected for w in told["words"])
    free = told["count"] - 1
    # Chi-squared within six standard deviations: chance alone never leaves them.
    assert abs(spread - free) < 6 * math.sqrt(2 * free)
