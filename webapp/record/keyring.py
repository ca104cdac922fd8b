"""The server's private keys: files beside the database, never in it."""

from __future__ import annotations

import base64
import os
from dataclasses import dataclass
from pathlib import Path

from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric import ec

from webapp.record.entry import is_uuid7, uuid7
from webapp.record.seal import make_server_key, public_spki

FOLDER = "keys"


@dataclass(frozen=True, slots=True)
class ServerKey:
    """One key pair; `spki` is the public half as DER."""

    id: str
    private: ec.EllipticCurvePrivateKey
    spki: bytes

    def public(self) -> dict[str, str]:
        """Return what a tablet is given."""
        return {"id": self.id, "spki": base64.b64encode(self.spki).decode()}


class Keyring:
    """Every key the server ever had; old ones stay, so old seals open."""

    def __init__(self, home: Path) -> None:
        self._folder = home / FOLDER
        self._keys: dict[str, ServerKey] = {}

    def current(self) -> ServerKey:
        """Return the newest key, made at the first call."""
        self._folder.mkdir(mode=0o700, exist_ok=True)
        known = self._known() or [self._make()]
        found = self.get(known[-1])
        if found is None:
            raise FileNotFoundError(f"server key {known[-1]} went away")
        return found

    def get(self, key_id: str) -> ServerKey | None:
        """Return the key with this id, or None. A key never changes."""
        if key_id not in self._keys and is_uuid7(key_id):
            file = self._folder / f"{key_id}.pem"
            if file.exists():
                private = serialization.load_pem_private_key(file.read_bytes(), None)
                if not isinstance(private, ec.EllipticCurvePrivateKey):
                    raise ValueError(f"server key {key_id} is of another kind")
                self._keys[key_id] = ServerKey(key_id, private, public_spki(private))
        return self._keys.get(key_id)

    def _known(self) -> list[str]:
        """Return the ids of the keys in the folder, the newest last."""
        names = sorted(f.stem for f in self._folder.glob("*.pem"))
        return [name for name in names if is_uuid7(name)]

    def _make(self) -> str:
        key_id = uuid7()
        newest = max(self._known(), default="")
        if key_id <= newest:
            # In the same millisecond, or after a clock that was put back: still newest.
            key_id = uuid7(int(newest[:8] + newest[9:13], 16) + 1)
        pem = make_server_key().private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.NoEncryption(),
        )
        file = self._folder / f"{key_id}.pem"
        made = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(made, "wb") as out:
            out.write(pem)
        return key_id
