"""What a signature covers, and what stands in the way of one."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import Any

from sqlite_utils import Database

from webapp.catalogue.lookup import ADDENDA, ATTESTATIONS
from webapp.record.log import LoggedEntry

# Written about the record, not part of what it says of the patient.
ABOUT = (ATTESTATIONS, ADDENDA)


@dataclass(frozen=True, slots=True)
class Undelivered:
    """A tablet that has this record open. `missing`: entries announced, not here."""

    tablet: str
    name: str
    last_seen_at: str
    missing: int


@dataclass(frozen=True, slots=True)
class Covered:
    """The entries one signature is about.

    `digests`: entry digests in position order; `upto`: last position read;
    `left_out`: ids up to there that do not count.
    """

    digests: tuple[str, ...]
    ids: tuple[str, ...]
    upto: int
    left_out: tuple[str, ...]


def covered(logged: tuple[LoggedEntry, ...], about: set[str]) -> Covered:
    """Return what a signature given now would cover.

    `about`: ids of attestations and addenda, which no signature covers.
    """
    counted = [e for e in logged if e.ruling == "counted" and e.header.id not in about]
    left_out = [e.header.id for e in logged if e.ruling != "counted"]
    return Covered(
        tuple(e.digest for e in counted),
        tuple(e.header.id for e in counted),
        logged[-1].position if logged else 0,
        tuple(left_out),
    )


def content_digest(
    digests: tuple[str, ...], catalogue: int, policy: str, statement: str
) -> str:
    """Return the digest a person reads before signing and that is signed.

    SHA-256 over a first line, the catalogue's and the policy's version, the
    statement, and the sorted entry digests, a line each.
    """
    lines = ["wiremark content 1", str(catalogue), policy, statement, *sorted(digests)]
    return hashlib.sha256("".join(f"{line}\n" for line in lines).encode()).hexdigest()


def late(
    logged: tuple[LoggedEntry, ...], about: set[str], attestation: dict[str, Any]
) -> list[LoggedEntry]:
    """Return the counted entries that an attestation does not cover."""
    upto = int(attestation.get("covered_upto", 0))
    left_out = set(attestation.get("left_out", "").split())
    return [
        e
        for e in logged
        if e.ruling == "counted"
        and e.header.id not in about
        and (e.position > upto or e.header.id in left_out)
    ]


def undelivered(db: Database, record: str) -> list[Undelivered]:
    """Return the tablets that have this record, and what each still holds back."""
    rows = db.conn.execute(
        "SELECT t.id, t.name, coalesce(t.last_seen_at, ''),"
        " sum(max(0, a.tip - (SELECT count(*) FROM entry e"
        "   WHERE e.log = a.log AND e.seq <= a.tip)))"
        " FROM announced a JOIN tablet t ON t.id = a.tablet"
        " WHERE a.record = ? GROUP BY t.id ORDER BY t.name",
        (record,),
    )
    return [Undelivered(*row) for row in rows]
