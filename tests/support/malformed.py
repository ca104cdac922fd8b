"""Requests to `/sync` that no tablet of ours would send, and a site that takes them."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st

from tests.support.cast import Cast
from tests.support.replies import DECISION, NAME
from webapp.app import create_app
from webapp.app_db import close_held, get_db
from webapp.db import connect
from webapp.record import log
from webapp.record.entry import chain, uuid7
from webapp.settings import Settings

# How many requests each file sends; together they are what is promised.
SHARES = {"bytes": 5_000, "head": 5_000, "bodies": 5_000, "entries": 5_000}
PROMISED = 20_000
AN_EXAMPLE = 10
DEEP = "@deep@"
WIRE = "0199c0de-0000-7000-8000-000000000001"
ANY_TEXT = st.text(st.characters(codec=None, exclude_categories=()), max_size=20)
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | ANY_TEXT,
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(ANY_TEXT, inner, max_size=4)
    ),
    max_leaves=12,
)
# What has broken other servers: sizes at a limit, signs no encoding has, wrong kinds.
NASTY = st.sampled_from(
    [
        *(None, True, False, 0, -1, 1, 1.0, 0.5, 1e308, float("nan"), float("inf")),
        *(2**53 - 1, 2**53, 2**63 - 1, 2**63, 2**64, -(2**63) - 1, 10**400),
        *("", " ", "0", "1", "null", "\0", "\ud800", "\udfff\ud800", "é", "e\u0301"),
        *("x" * 70_000, "\x1b[2J", "\u202e", "'; DROP TABLE entry;--", "../../x"),
        *(WIRE, WIRE.upper(), WIRE[:-1], WIRE + "\n", "desk", "-"),
        *([], {}, [[]], [{}], {"": ""}, [None] * 600, [WIRE] * 50, DEEP),
    ]
)
ANYTHING = NASTY | JSON


def sized(share: int) -> settings:
    """Return the settings of a test that sends `share` requests, the same each run."""
    return settings(
        max_examples=share // AN_EXAMPLE,
        derandomize=True,
        database=None,
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )


class Ward:
    """One site for all examples: what one leaves behind, the next meets."""

    def __init__(self, home: Path) -> None:
        self.app = create_app(Settings(home=home, zone="Europe/Oslo"))
        self.app.config["TESTING"] = False
        self.app.config["PROPAGATE_EXCEPTIONS"] = False
        self.db = connect(home / "wiremark.db")
        cast = Cast(self.app, self.db)
        self.tablet, self.other = cast.tablet(), cast.tablet()
        self.record = self.tablet.opens()
        self.tablet.sets(self.record, NAME, "ALDERMERE")
        self.tablet.adds(self.record, "moments", DECISION)
        self.tablet.syncs()
        self.theirs = self.other.opens()
        self.other.sets(self.theirs, NAME, "STRANDLUND")
        self.other.syncs()
        self.posted = 0
        with self.app.app_context():
            # What a power cut leaves is tried elsewhere; here it would only take time.
            get_db().conn.execute("PRAGMA synchronous = OFF")

    def close(self) -> None:
        """Let go of the database."""
        self.db.conn.close()
        close_held()

    def posts(self, body: bytes) -> Any:
        """Send a request; hold what came of it against what was answered."""
        self.posted += 1
        before, version = log.head(self.db).position, self._version()
        reply = self.tablet.posts(body)
        assert reply.status in (200, 400, 413), reply
        assert reply.json["ok"] is (reply.status == 200)
        if reply.status == 200:
            self._holds_what_it_says(reply.json, before)
        else:
            # Nobody has committed anything since.
            assert self._version() == version
            assert reply.json["error"]
        return reply

    def fresh(self, raw: bytes) -> bytes:
        """Return a request with these bytes, well sealed, alone in a new record."""
        record = uuid7()
        entry = self.tablet.writer.write_body(record, uuid7(), raw)
        opened = [{"record": record, "since": 0, "tips": []}]
        return self.tablet.request([entry], open=opened)

    def _version(self) -> int:
        return int(self.db.conn.execute("PRAGMA data_version").fetchone()[0])

    def _holds_what_it_says(self, told: dict[str, Any], before: int) -> None:
        rows = self.db.conn.execute(
            "SELECT e.position, e.id, e.log, e.record, e.digest, e.chain, r.ruling,"
            " d.folded_to FROM entry e LEFT JOIN ruling r ON r.position = e.position"
            " LEFT JOIN record d ON d.id = e.record"
            " WHERE e.position > ? ORDER BY e.position",
            (before,),
        ).fetchall()
        link = log.chain_at(self.db, before)
        last = {row["record"]: row["position"] for row in rows}
        for row in rows:
            link = chain(link, row["digest"])
            assert (row["chain"], row["folded_to"]) == (link, last[row["record"]])
        kept = {
            (a["position"], a["id"], a["counts"])
            for a in told["answers"]
            if a["answer"] == "kept" and a["position"] > before
        }
        sent = [row for row in rows if row["log"] != "desk"]
        assert {(r["position"], r["id"], r["ruling"]) for r in sent} == kept
        assert told["head"]["position"] == before + len(rows)
        for one in told["answers"]:
            if one["answer"] in ("conflict", "refused"):
                assert (one["counts"], one["position"]) == (None, None)
                assert one["because"]


def taken_apart(raw: bytes) -> tuple[dict[str, Any], bytes]:
    """Return a request's head and the bytes behind it."""
    length = int.from_bytes(raw[:4], "big")
    return json.loads(raw[4 : 4 + length]), raw[4 + length :]


def put_together(head: Any, sealed: bytes) -> bytes:
    """Return a request with this head, whatever it is, before these bytes."""
    text = json.dumps(head)
    text = text.replace(f'"{DEEP}"', "[" * 5_000 + "]" * 5_000)
    raw = text.encode()
    return len(raw).to_bytes(4, "big") + raw + sealed


def places(value: Any, at: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Return the way to every value inside a JSON value, itself included."""
    yield at
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from places(inner, (*at, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from places(inner, (*at, number))


@st.composite
def changed(draw: Callable[..., Any], value: Any, most: int = 2) -> Any:
    """Draw a JSON value with one or more of its inner values changed or taken out."""
    found = copy.deepcopy(value)
    for _ in range(draw(st.integers(1, most))):
        at = draw(st.sampled_from(list(places(found))[1:] or [()]))
        if not at:
            return draw(ANYTHING)
        holder = found
        for key in at[:-1]:
            holder = holder[key]
        how = draw(st.sampled_from(["change", "change", "take out", "double"]))
        if how == "take out":
            del holder[at[-1]]
        elif how == "double" and isinstance(holder, list):
            holder.append(copy.deepcopy(holder[at[-1]]))
        else:
            # A copy: the next change may be made inside it, and the drawn one is
            # every example's.
            holder[at[-1]] = copy.deepcopy(draw(ANYTHING))
    return found
