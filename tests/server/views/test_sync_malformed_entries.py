"""Whatever headers, seals, wraps and places come: never two in a place, no failure."""

import base64
import copy
import json

from hypothesis import given
from hypothesis import strategies as st

from tests.support.malformed import (
    ANYTHING,
    SHARES,
    WIRE,
    put_together,
    sized,
    taken_apart,
)
from webapp.record.entry import uuid7
from webapp.record.framing import MOST_ENTRY_BYTES

SHARE = SHARES["entries"]
LINES = ("v", "id", "record", "log", "seq", "key")
VERSIONS = ["0", "1", "2", "9999", "10000", "-1", "1.0", "", "١", "v1"]
SEQS = ["0", "1", "2", "3", "00", "-1", "1e3", "", str(2**53), str(2**63), "٣", "1 "]
ENDS = ["", "\n", "\n\n", "\r\n", "\0", " ", "\nseventh\n"]


def values(ward):
    """What may stand in a line of a header: right here, right elsewhere, wrong."""
    own, theirs = ward.tablet.own[0].header, ward.other.own[0].header
    ids = [own.id, theirs.id, own.record, theirs.record, own.log, theirs.log, own.key]
    return [*ids, WIRE, WIRE.upper(), "desk", "-", "", "nobody", "\ud800"]


@st.composite
def headers(draw, ward, good):
    """A header of which some lines are others, in some order, with some end."""
    lines = good.split("\n")[:6]
    for name in draw(st.lists(st.sampled_from(LINES), max_size=3)):
        own = {"v": VERSIONS, "seq": SEQS}.get(name, values(ward))
        lines[LINES.index(name)] = draw(st.sampled_from(own))
    how = draw(st.sampled_from(["whole"] * 6 + ["cut", "turned"]))
    if how == "cut":
        lines = lines[: draw(st.integers(0, 5))]
    elif how == "turned":
        lines.reverse()
    return "\n".join(lines) + draw(st.sampled_from(["\n"] * 6 + ENDS))


def fresh_head(ward, count=1):
    """A request with so many new entries of a new record."""
    record = uuid7()
    body = ward.tablet.own[0].body
    write = ward.tablet.writer.write_body
    entries = [write(record, uuid7(), body) for _ in range(count)]
    return taken_apart(ward.tablet.request(entries, open=[]))


@sized(SHARE // 5)
@given(st.data())
def test_any_header_is_answered(ward, data):
    head, sealed = fresh_head(ward)
    good = head["entries"][0]["header"]
    found = st.lists(headers(ward, good) | ANYTHING, min_size=10, max_size=10)
    for header in data.draw(found):
        head["entries"][0]["header"] = header
        reply = ward.posts(put_together(head, sealed))
        assert len(reply.json.get("answers", [None])) == 1


@sized(SHARE // 5)
@given(st.data())
def test_any_sealed_bytes_of_any_size_are_answered(ward, data):
    harm = st.tuples(
        st.sampled_from(["bytes", "change", "cut", "size", "empty", "large"]),
        st.binary(max_size=60),
        st.integers(0, 10**6),
    )
    for how, raw, number in data.draw(st.lists(harm, min_size=10, max_size=10)):
        head, sealed = fresh_head(ward)
        told = {"bytes": raw, "empty": b"", "cut": sealed[: number % len(sealed)]}
        found = told.get(how, sealed)
        if how == "change":
            at = number % len(sealed)
            found = sealed[:at] + bytes([sealed[at] ^ 1]) + sealed[at + 1 :]
        if how == "large":
            found = sealed + b"x" * MOST_ENTRY_BYTES
        is_told = how != "size"
        head["entries"][0]["sealed"] = len(found) if is_told else number
        reply = ward.posts(put_together(head, found))
        if how == "large":
            assert reply.json["answers"][0]["answer"] == "refused"


@sized(SHARE // 5)
@given(st.data())
def test_any_wrap_is_answered_and_opens_nothing_it_is_not_for(ward, data):
    harm = st.tuples(
        st.sampled_from(["key", "record", "log", "server_key", "epk", "nonce"])
        | st.just("wrapped"),
        ANYTHING | st.binary(max_size=80).map(lambda b: base64.b64encode(b).decode()),
    )
    for key, value in data.draw(st.lists(harm, min_size=10, max_size=10)):
        head, sealed = fresh_head(ward)
        head["wraps"][0][key] = value
        if value == DEEP_LIST:
            head["wraps"] = value
        reply = ward.posts(put_together(head, sealed))
        if reply.status == 200:
            assert reply.json["answers"][0]["answer"] == "kept"


DEEP_LIST = [[]]


@sized(SHARE // 5)
@given(st.data())
def test_ids_and_places_told_twice_are_kept_once(ward, data):
    """Three entries of which some take the id or the place of another."""
    takes = st.tuples(st.integers(0, 2), st.integers(0, 2), st.sampled_from([1, 4]))
    for many in data.draw(
        st.lists(st.lists(takes, max_size=4), min_size=10, max_size=10)
    ):
        head, sealed = fresh_head(ward, 3)
        entries = head["entries"]
        for one, other, line in many:
            lines = entries[one]["header"].split("\n")
            lines[line] = entries[other]["header"].split("\n")[line]
            entries[one]["header"] = "\n".join(lines)
        doubled = copy.deepcopy(entries) + copy.deepcopy(entries)
        told = {**head, "entries": doubled}
        reply = ward.posts(put_together(told, sealed + sealed))
        answers = reply.json["answers"]
        assert len(answers) == 6
        kept = [a["id"] for a in answers if a["answer"] == "kept"]
        assert len(kept) == len(set(kept)) >= 1


@sized(SHARE // 5)
@given(st.data())
def test_another_tablet_s_log_is_refused_whatever_is_told_of_it(ward, data):
    theirs = ward.other.own[0].header
    held = st.lists(
        headers(ward, theirs.encode().decode()) | ANYTHING.map(json.dumps), max_size=4
    )
    for holds, seq in data.draw(
        st.lists(st.tuples(held, st.integers(1, 9)), min_size=10, max_size=10)
    ):
        head, sealed = fresh_head(ward)
        lines = head["entries"][0]["header"].split("\n")
        lines[3:5] = [theirs.log, str(seq)]
        head["entries"][0]["header"] = "\n".join(lines)
        head["open"] = [{"record": ward.theirs, "since": 0, "holds": holds}]
        head["logs"] = [{"log": theirs.log, "tip": seq}]
        reply = ward.posts(put_together(head, sealed))
        assert [a["answer"] for a in reply.json["answers"]] == ["refused"]
    rows = ward.db.conn.execute("SELECT id FROM entry WHERE log = ?", (theirs.log,))
    assert [row[0] for row in rows] == [e.header.id for e in ward.other.own]


def test_no_place_and_no_id_is_taken_twice_in_the_end(ward):
    counted = ward.db.conn.execute(
        "SELECT count(*), count(DISTINCT id), count(DISTINCT log || ' ' || seq)"
        " FROM entry"
    ).fetchone()
    assert len(set(counted)) == 1
    assert ward.posted >= SHARE
