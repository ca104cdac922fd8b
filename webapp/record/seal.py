"""Open and make sealed bodies, and the wraps that carry their keys.

AES-256-GCM with the header as associated data; keys wrapped for the server by
P-256 ECDH and HKDF-SHA-256 (NIST SP 800-38D, SP 800-56A, RFC 5869).
"""

from __future__ import annotations

import base64
import binascii
import secrets
from dataclasses import dataclass
from typing import Any

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.hkdf import HKDF

NONCE_BYTES = 12
KEY_BYTES = 32
TAG_BYTES = 16
_INFO = b"wiremark wrap 1\n"


class CannotOpen(ValueError):
    """The seal, or the wrap of its key, does not open."""


@dataclass(frozen=True, slots=True)
class Wrap:
    """A sealing key, wrapped for one server key. Bytes are raw, not base64."""

    key: str
    record: str
    log: str
    server_key: str
    epk: bytes
    nonce: bytes
    wrapped: bytes

    def as_json(self) -> dict[str, str]:
        """Return the wrap as it travels in /sync."""
        return {
            "key": self.key,
            "record": self.record,
            "log": self.log,
            "server_key": self.server_key,
            "epk": base64.b64encode(self.epk).decode(),
            "nonce": base64.b64encode(self.nonce).decode(),
            "wrapped": base64.b64encode(self.wrapped).decode(),
        }


def wrap_from_json(given: dict[str, Any]) -> Wrap:
    """Read a wrap. Raises CannotOpen: when a part is missing or not base64."""
    try:
        names = [str(given[n]) for n in ("key", "record", "log", "server_key")]
        parts = [
            base64.b64decode(given[n], validate=True)
            for n in ("epk", "nonce", "wrapped")
        ]
    except (KeyError, TypeError, ValueError, binascii.Error) as error:
        raise CannotOpen("a wrap is incomplete") from error
    return Wrap(*names, *parts)  # type: ignore[arg-type]  # four str, three bytes


def seal(key: bytes, header: bytes, body: bytes, nonce: bytes | None = None) -> bytes:
    """Seal a body; returns nonce ‖ ciphertext ‖ tag. A nonce is never given twice."""
    fresh = secrets.token_bytes(NONCE_BYTES) if nonce is None else nonce
    return fresh + AESGCM(key).encrypt(fresh, body, header)


def open_sealed(key: bytes, header: bytes, sealed: bytes) -> bytes:
    """Return the body. Raises CannotOpen: when one bit of anything differs."""
    return Opener(key).open(header, sealed)


class Opener:
    """Opens what one key sealed; made once for a key, it is quicker for the second.

    A key of another length opens nothing.
    """

    def __init__(self, key: bytes) -> None:
        self._cipher = AESGCM(key) if len(key) == KEY_BYTES else None

    def open(self, header: bytes, sealed: bytes) -> bytes:
        """Return the body. Raises CannotOpen: when one bit of anything differs."""
        if self._cipher is None or len(sealed) < NONCE_BYTES + TAG_BYTES:
            raise CannotOpen("no key, or sealed bytes that are too short")
        nonce, rest = sealed[:NONCE_BYTES], sealed[NONCE_BYTES:]
        try:
            return self._cipher.decrypt(nonce, rest, header)
        except InvalidTag as error:
            raise CannotOpen("the seal does not fit its header or key") from error


def wrap_key(
    key_id: str,
    key: bytes,
    record: str,
    log: str,
    server_key_id: str,
    server_spki: bytes,
) -> Wrap:
    """Wrap a sealing key for the server's public key (DER SubjectPublicKeyInfo)."""
    public = serialization.load_der_public_key(server_spki)
    if not isinstance(public, ec.EllipticCurvePublicKey):
        raise CannotOpen("the server key is not an elliptic-curve key")
    ephemeral = ec.generate_private_key(ec.SECP256R1())
    shared = ephemeral.exchange(ec.ECDH(), public)
    nonce = secrets.token_bytes(NONCE_BYTES)
    wrapped = AESGCM(_wrapping_key(shared, server_key_id, key_id)).encrypt(
        nonce, key, key_id.encode()
    )
    epk = ephemeral.public_key().public_bytes(
        serialization.Encoding.X962, serialization.PublicFormat.UncompressedPoint
    )
    return Wrap(key_id, record, log, server_key_id, epk, nonce, wrapped)


def unwrap_key(wrap: Wrap, private: ec.EllipticCurvePrivateKey) -> bytes:
    """Return the sealing key. Raises CannotOpen: when it is not for this key."""
    try:
        point = ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), wrap.epk)
        shared = private.exchange(ec.ECDH(), point)
        wrapping = _wrapping_key(shared, wrap.server_key, wrap.key)
        key = AESGCM(wrapping).decrypt(wrap.nonce, wrap.wrapped, wrap.key.encode())
    except (ValueError, InvalidTag) as error:
        raise CannotOpen("the key's wrap does not open") from error
    if len(key) != KEY_BYTES:
        raise CannotOpen("the wrapped key has another length")
    return key


def make_server_key() -> ec.EllipticCurvePrivateKey:
    """Make a P-256 private key for the server."""
    return ec.generate_private_key(ec.SECP256R1())


def public_spki(private: ec.EllipticCurvePrivateKey) -> bytes:
    """Return the public half as DER SubjectPublicKeyInfo."""
    return private.public_key().public_bytes(
        serialization.Encoding.DER, serialization.PublicFormat.SubjectPublicKeyInfo
    )


def _wrapping_key(shared: bytes, server_key_id: str, key_id: str) -> bytes:
    info = _INFO + server_key_id.encode() + b"\n" + key_id.encode()
    return HKDF(hashes.SHA256(), KEY_BYTES, salt=b"", info=info).derive(shared)
