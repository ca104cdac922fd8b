"""What is compared at the end, when the network is good and all have said everything."""

from __future__ import annotations

from collections import Counter
from contextlib import closing
from typing import Any

from tests.support.simulated_tablet import SimulatedTablet
from tests.support.simulated_truth import Truth
from webapp.db import connect, writing
from webapp.people import tablets as tablet_list
from webapp.record import log, lost, not_kept, records
from webapp.record.entry import (
    DESK_LOG,
    GENESIS_CHAIN,
    Header,
    chain,
    decode_body,
    digest,
    sha256_hex,
)
from webapp.record.erase import ERASURES
from webapp.record.fold import Opened, fold
from webapp.record.log import LoggedEntry
from webapp.record.open_record import open_record
from webapp.record.verify import breaks


def problems_at_the_end(truth: Truth, tablets: list[SimulatedTablet]) -> list[str]:
    """Return everything that is not as it must be; nothing is written."""
    for tablet in tablets:
        truth.sees(tablet.disk.rows.values())
    db = connect(truth.database)
    with closing(db.conn):
        logged = [e for r in log.record_ids(db) for e in log.entries_of(db, r)]
        return [
            *truth.problems,
            *_on_the_server(truth, tablets, logged),
            *_chain(db),
            *_folds(db, truth, tablets, logged),
            *_lists(db, {e.header.record for e in logged}),
            *_announced(db, truth, tablets),
            *_lost(db, truth, tablets),
            *_not_kept(db, truth),
            *(f"verify: {one.where} {one.what}" for one in breaks(db)),
        ]


def _on_the_server(
    truth: Truth, tablets: list[SimulatedTablet], logged: list[LoggedEntry]
) -> list[str]:
    """Each entry that anybody kept: there once, with its own bytes."""
    found: list[str] = []
    erased = {named for one in logged if (named := _erased_by(one))}
    there = Counter(e.header.id for e in logged)
    kept = {row.entry.header.id for t in tablets for row in t.disk.rows.values()}
    for entry in sorted(kept | truth.on_server):
        if there[entry] != 1:
            found.append(f"{entry} is on the server {there[entry]} times")
    bodies = Counter(e.body for e in logged if e.body is not None)
    found += [f"these bytes stand twice: {b!r}" for b, n in bodies.items() if n > 1]
    for one in logged:
        found += _altered(truth, one, one.header.id in erased, one.header.id in kept)
    for tablet in tablets:
        found += [f"{tablet.name} says unsent: {r}" for r in _unsent(tablet)]
    return found


def _altered(
    truth: Truth, one: LoggedEntry, is_erased: bool, is_held: bool
) -> list[str]:
    header = one.header
    if header.log == DESK_LOG:
        is_right = truth.desk.get(header.id) == one.body
        return [] if is_right else [f"the desk never wrote {one}"]
    written = truth.written.get(header.id)
    if written is None or header not in written.headers:
        return [f"no tablet wrote this: {one}"]
    if (one.body is None and is_erased) or _is_all_that_came(one, is_held):
        return []
    if one.body != written.body:
        return [f"this is not what was written: {one}"]
    if (one.ruling == "counted") != written.is_legal:
        return [f"{header.id} is {one.ruling}: {one.because}"]
    return []


def _is_all_that_came(one: LoggedEntry, is_held: bool) -> bool:
    """Damaged bytes stay, set aside, when no tablet has the good ones any more."""
    return not is_held and (one.form, one.ruling) == ("sealed", "set_aside")


def _erased_by(one: LoggedEntry) -> str | None:
    """Return the id of the entry that this one of the desk erases, or None."""
    if one.header.log != DESK_LOG or one.body is None:
        return None
    body = decode_body(one.body)
    return str(body["value"]["entry"]) if body["path"] == ERASURES else None


def _unsent(tablet: SimulatedTablet) -> list[str]:
    rulings = tablet.disk.rulings
    bad = [i for i, r in rulings.items() if r.answer in ("refused", "conflict")]
    rows = [row.entry.header.id for row in tablet.disk.unsent()]
    return sorted({*bad, *(entry for entry in rows if entry not in rulings)})


def _chain(db: Any) -> list[str]:
    """Each digest is that of the bytes as they came, and each chain holds the next."""
    last = GENESIS_CHAIN
    rows = db.conn.execute(
        "SELECT e.position, v, id, record, log, seq, key, body_sha256, digest, chain,"
        " bytes FROM entry e LEFT JOIN body b ON b.position = e.position"
        " ORDER BY e.position"
    )
    for number, (position, *header, body_sha256, told, chained, raw) in enumerate(
        rows, 1
    ):
        sha256 = body_sha256 if raw is None else sha256_hex(raw)
        last = chain(last, digest(Header(*header).encode(), sha256))
        if (position, sha256, chained) != (number, body_sha256, last):
            return [f"the chain breaks at {position}: {told}"]
    return []


def _folds(
    db: Any, truth: Truth, tablets: list[SimulatedTablet], logged: list[LoggedEntry]
) -> list[str]:
    """The server's fold is that of the union; each tablet's is the server's."""
    found: list[str] = []
    for record in sorted({e.header.record for e in logged}):
        opened = open_record(db, record)
        here = opened.case.fold if opened is not None else None
        own = [e for e in logged if e.header.record == record]
        union = [o for o in (_opened(truth, one) for one in own) if o is not None]
        if here != fold(union):
            found.append(f"the server folds {record} unlike the union")
        for tablet in tablets:
            if record in tablet.disk.records and tablet.shows(record) != fold(
                [*union, *_only_there(tablet, record, own)]
            ):
                found.append(f"{tablet.name} shows {record} unlike the server")
    return found


def _opened(truth: Truth, one: LoggedEntry) -> Opened | None:
    """Return an entry as it was written, if it is one that counts."""
    header = one.header
    written = truth.written.get(header.id)
    if (
        one.form != "opened"
        or one.body is None
        or (written is not None and not written.is_legal)
    ):
        return None
    raw = written.body if written is not None else truth.desk.get(header.id)
    if raw is None:
        return None
    return Opened(header.id, header.log, header.seq, decode_body(raw))


def _only_there(
    tablet: SimulatedTablet, record: str, own: list[LoggedEntry]
) -> list[Opened]:
    """Return what a tablet read of others and the server lost for good."""
    here = {one.header.id for one in own}
    pulled = tablet.disk.pulled.get(record, {})
    return [p.opened for i, p in pulled.items() if i not in here and p.opened]


def _lists(db: Any, found: set[str]) -> list[str]:
    """Whoever opens the list reads what the log says now."""
    records.listed(db)
    stored = {record: records.one_listed(db, record) for record in found}
    with writing(db):
        records.refresh(db, found)
    fresh = {record: records.one_listed(db, record) for record in found}
    return [f"the list is stale of {r}" for r in sorted(found) if stored[r] != fresh[r]]


def _lost(db: Any, truth: Truth, tablets: list[SimulatedTablet]) -> list[str]:
    """What the server lost for good and a tablet still holds is named, no more."""
    told = {one.entry for one in lost.missing(db)}
    held = {i for t in tablets for of in t.disk.pulled.values() for i in of}
    gone = held - truth.on_server
    never = told - set(truth.written) - set(truth.desk)
    return [
        *(f"{entry} is lost, and nobody says so" for entry in sorted(gone - told)),
        *(f"{entry} is called lost, and never was" for entry in sorted(never)),
        *(f"{entry} is called lost, and is there" for entry in told & truth.on_server),
    ]


def _not_kept(db: Any, truth: Truth) -> list[str]:
    """Nothing waits to be seen at the desk that is in the record all the same."""
    waiting = [one.entry for one in not_kept.shown(db)]
    return [f"{i} is shown as not kept" for i in waiting if i in truth.on_server]


def _announced(db: Any, truth: Truth, tablets: list[SimulatedTablet]) -> list[str]:
    """Nobody is waited for: what was announced is there, or gone with a disk."""
    kept = {row.entry.header.id for t in tablets for row in t.disk.rows.values()}
    gone = set(truth.written) - truth.on_server - kept
    lost_of = Counter(h.log for i in gone for h in truth.written[i].headers)
    logs = db.conn.execute("SELECT tablet, log FROM tablet_log").fetchall()
    found: list[str] = []
    for one in tablet_list.tablets(db):
        own = sum(lost_of[log] for tablet, log in logs if tablet == one.tablet.id)
        if one.undelivered > own:
            found.append(f"{one.tablet.name} is said to hold back {one.undelivered}")
    return found
