"""A tablet of the demo: enrolled by a code, it seals and sends as every tablet does."""

from __future__ import annotations

import base64
import json
from collections.abc import Sequence
from dataclasses import dataclass, replace

from flask import Flask
from flask.testing import FlaskClient

from webapp.app_db import get_db
from webapp.catalogue import CATALOGUE
from webapp.people import tablets
from webapp.record.entry import sha256_hex
from webapp.record.framing import encode_push
from webapp.record.photo import SealedPhoto
from webapp.record.streams import Stream
from webapp.record.writer import Draft, SealedEntry, Writer

BATCH = 200


@dataclass(frozen=True, slots=True)
class Photographed:
    """A picture, and the entry that names it once it is sealed.

    `original`: the bytes of a PNG; `draft`: its value is all but the digests.
    """

    tablet: str
    record: str
    original: bytes
    draft: Draft

    def named(self, photo: SealedPhoto) -> Draft:
        """Return the entry with the digests of the original and of its seal."""
        told = {
            **self.draft.value,
            "sha256": sha256_hex(self.original),
            "sealed": photo.sealed,
            "type": "image/png",
            "size": len(self.original),
        }
        return replace(self.draft, value=told)


@dataclass(frozen=True, slots=True)
class Tablet:
    """An enrolled tablet with one log of its own."""

    client: FlaskClient
    token: str
    writer: Writer

    @classmethod
    def enrolled(cls, app: Flask, name: str) -> Tablet:
        """Enrol as a person would: by a one-time code."""
        with app.app_context():
            _, code = tablets.add(get_db(), name)
        client = app.test_client()
        told = client.post("/tablet/enrol", json={"code": code}).get_json()
        key = told["server_key"]
        writer = Writer(key["id"], base64.b64decode(key["spki"]))
        return cls(client, told["token"], writer)

    def sends(self, case: Stream) -> None:
        """Seal a case and send it, some entries at a time.

        Raises RuntimeError: when an entry does not count.
        """
        entries = [self.writer.write(case.record, draft) for draft in case.drafts]
        for start in range(0, len(entries), BATCH):
            now = case.drafts[-1].at["utc"]
            self._push(case.record, now, entries[start : start + BATCH])

    def photographs(self, taken: Photographed) -> None:
        """Send a photo and the entry that names it. Raises RuntimeError: as above."""
        photo = self.writer.seal_photo(taken.record, taken.original)
        draft = taken.named(photo)
        entry = self.writer.write(taken.record, draft)
        self._push(taken.record, draft.at["utc"], [entry])
        answer = self.client.post(
            "/sync/photo",
            data=photo.encode(),
            headers=self._headers(),
            content_type="application/wiremark-photo",
        )
        if answer.get_json().get("answer") != "kept":
            raise RuntimeError(answer.text)

    def _push(self, record: str, now: str, batch: Sequence[SealedEntry]) -> None:
        tip = {"log": self.writer.log, "tip": self.writer.tip}
        tips = [{"log": self.writer.log, "seq": self.writer.tip}]
        head = {
            "v": 1,
            "catalogue": CATALOGUE.version,
            "now": now,
            "logs": [tip],
            "wraps": [wrap.as_json() for wrap in self.writer.wraps_of(batch)],
            "entries": [entry.as_json() for entry in batch],
            "open": [{"record": record, "since": 0, "tips": tips}],
            "head": None,
            "pull_all": False,
        }
        answer = self.client.post(
            "/sync",
            data=encode_push(head, [entry.sealed for entry in batch]),
            headers=self._headers(),
            content_type="application/wiremark-sync",
        )
        told = answer.get_json().get("answers") or [{}]
        lost = [one for one in told if one.get("counts") != "counted"]
        if lost:
            raise RuntimeError(f"{record}: {json.dumps(lost)[:2000]}")

    def _headers(self) -> dict[str, str]:
        return {"Authorization": f"Bearer {self.token}"}
