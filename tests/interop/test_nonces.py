"""No nonce comes twice: under one key a second use would open both bodies.

Source: NIST SP 800-38D, section 8: the nonce of AES-GCM must be unique for a key. Of 96
random bits, a million repeat one with a chance of about 6 in 10^18 (section 8.2.2).
"""

from __future__ import annotations

import json
import subprocess
from typing import Any

from tests.support.node import CHECKS
from webapp.record import seal as seals
from webapp.record.seal import KEY_BYTES, NONCE_BYTES, open_sealed, seal

MILLION = 1_000_000
KEY = bytes(KEY_BYTES)


def on_the_tablet(**asked: int) -> dict[str, Any]:
    """Seal in one node process; return what tests/js/seals.mjs counted."""
    done = subprocess.run(
        ["node", "seals.mjs"],
        cwd=CHECKS,
        input=json.dumps(asked),
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    told: dict[str, Any] = json.loads(done.stdout)
    return told


def repeated(count: int) -> int:
    """Return how many of so many seals bear a nonce that was there before."""
    nonces = {seal(KEY, b"about", b"body")[:NONCE_BYTES] for _ in range(count)}
    return count - len(nonces)


def test_no_nonce_comes_twice_in_a_million_seals_of_the_tablet():
    told = on_the_tablet(count=MILLION, ciphered=50_000)
    opened = {"opened": 10, "unlike": 0}
    expected = {"sealed": MILLION, "ciphered": 50_000, "repeated": 0, **opened}
    assert told == expected


def test_a_nonce_that_comes_again_on_the_tablet_is_found():
    told = on_the_tablet(count=2000, ciphered=500, planted=100)
    assert told["repeated"] == 2000 // 100 - 1


def test_no_nonce_comes_twice_in_a_million_seals_of_the_server():
    sealed = seal(KEY, b"about", b"body")
    assert open_sealed(KEY, b"about", sealed) == b"body"
    assert repeated(MILLION) == 0


def test_a_nonce_that_comes_again_on_the_server_is_found(monkeypatch):
    given = seals.secrets.token_bytes
    calls = iter(range(1, 10**6))

    def weak(count: int) -> bytes:
        return bytes(count) if next(calls) % 100 == 0 else given(count)

    monkeypatch.setattr(seals.secrets, "token_bytes", weak)
    assert repeated(2000) == 2000 // 100 - 1
