"""Whatever comes as a request to `/sync`: an answer, nothing half kept, no failure."""

import json

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.support.cast import Cast
from tests.support.replies import DECISION, NAME
from webapp.catalogue import CATALOGUE
from webapp.catalogue.kinds import parse
from webapp.record import log
from webapp.record.entry import chain, decode_body, encode_body, uuid7
from webapp.record.framing import MOST_BYTES
from webapp.catalogue.lookup import NEVER_FROM_A_TABLET as DESK_ONLY

ANY_TEXT = st.text(st.characters(codec=None, exclude_categories=()), max_size=20)
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | ANY_TEXT,
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(ANY_TEXT, inner, max_size=4)
    ),
    max_leaves=12,
)
HEAD_KEYS = ("v", "catalogue", "now", "logs", "wraps", "entries", "open", "head")
BODY_KEYS = ("path", "op", "value", "seen", "at", "author", "called_by", "source")
WIRE = "0199c0de-0000-7000-8000-000000000001"
PATHS = [
    *(template.replace("*", WIRE) for template, _ in CATALOGUE.paths()),
    *DESK_ONLY,
    "remarks.depth",
]
FIELDS = [
    path
    for path in PATHS
    if (field := CATALOGUE.field(path))
    and field.kind in ("text", "prose", "qty", "date")
]
# Shapes near the right ones, which a writer that is a little wrong would make.
NEARLY = st.sampled_from(
    [
        {"as": "", "n": "", "unit": ""},
        {"as": "1", "n": "1e999", "unit": "mA"},
        {"as": "1", "n": "١", "unit": "mA"},
        {"as": "1", "low": "2", "high": "1", "unit": "/min"},
        {"absent": "not_known", "because": 7},
        {"absent": ["not_known"]},
        {"utc": "2031-13-45T99:99:99Z", "zone": "", "offset_min": 10**15},
        {"utc": "+275760-09-13T00:00:00Z", "zone": "X", "offset_min": -1},
        {"day": "0000-00-00", "certainty": "day"},
        {"as": "31.2.54", "date": "1954-02-31"},
        {"width": -1, "height": 0, "strokes": [[[]]]},
        {"person": "x", "name": "", "role": "", "credential": None},
        {"strikes": WIRE, "reason": 7},
        {"of": WIRE},
        [{"other": {}}],
        ["", ""],
    ]
)


@pytest.fixture(scope="module")
def ward(tmp_path_factory):
    """One site for all examples: what one leaves behind, the next meets."""
    from webapp.app import create_app
    from webapp.db import connect
    from webapp.settings import Settings

    home = tmp_path_factory.mktemp("ward")
    app = create_app(Settings(home=home, zone="Europe/Oslo"))
    app.config["TESTING"] = True
    db = connect(home / "wiremark.db")
    tablet = Cast(app, db).tablet()
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.adds(record, "moments", DECISION)
    tablet.syncs()
    yield tablet, record, db
    db.conn.close()


def check_all(db, since):
    """Every entry is chained, ruled and in the list, so nothing was half kept."""
    previous = log.chain_at(db, since)
    rows = db.conn.execute(
        "SELECT digest, chain FROM entry WHERE position > ? ORDER BY position",
        (since,),
    )
    for digest, link in rows:
        previous = chain(previous, digest)
        assert link == previous
    (unruled,) = db.conn.execute(
        "SELECT count(*) FROM entry WHERE position NOT IN (SELECT position FROM ruling)"
    ).fetchone()
    unlisted = db.conn.execute(
        "SELECT e.record FROM entry e LEFT JOIN record r ON r.id = e.record"
        " WHERE e.position > ? GROUP BY e.record"
        " HAVING r.folded_to IS NOT max(e.position)",
        (since,),
    ).fetchall()
    assert (unruled, unlisted) == (0, [])


def posts(ward, body):
    tablet, _, db = ward
    before = log.head(db).position
    reply = tablet.posts(body)
    assert reply.status in (200, 400, 413)
    assert reply.json["ok"] is (reply.status == 200)
    check_all(db, before)
    return reply


def sealed(tablet, raw):
    """A request with these bytes, well sealed, as the only entry of a new record."""
    record = uuid7()
    entry = tablet.writer.write_body(record, uuid7(), raw)
    opened = [{"record": record, "since": 0, "tips": []}]
    return tablet.request([entry], open=opened)


anything = settings(
    max_examples=500,
    deadline=None,
    suppress_health_check=[
        HealthCheck.function_scoped_fixture,
        HealthCheck.too_slow,
        HealthCheck.data_too_large,
    ],
)


@anything
@given(st.binary(max_size=300))
def test_any_bytes_are_answered(ward, raw):
    posts(ward, raw)
    posts(ward, len(raw).to_bytes(4, "big") + raw)


@anything
@given(st.data())
def test_a_request_damaged_on_the_way_is_answered(ward, data):
    tablet, _, _ = ward
    good = bytearray(tablet.request(tablet.own[:2], open=[]))
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, max(0, len(good) - 1)))
        how = data.draw(st.sampled_from(["change", "cut", "drop", "repeat"]))
        if how == "change":
            good[at : at + 1] = bytes([data.draw(st.integers(0, 255))])
        elif how == "cut":
            del good[at + 1 :]
        elif how == "drop":
            del good[at : at + 1]
        else:
            good[at:at] = good[at : at + 20]
    posts(ward, bytes(good))


@anything
@given(st.sampled_from(HEAD_KEYS), JSON)
def test_any_json_in_place_of_any_part_of_the_head_is_answered(ward, key, value):
    tablet, _, _ = ward
    posts(ward, tablet.request(**{key: value}))


@anything
@given(
    st.sampled_from(["logs", "wraps", "entries", "open"]),
    st.dictionaries(
        st.sampled_from(
            [
                *("log", "tip", "record", "since", "tips", "seq", "header", "sealed"),
                *("key", "server_key", "epk", "nonce", "wrapped"),
            ]
        ),
        JSON | st.just(WIRE) | st.integers(-1, 3),
    ),
)
def test_any_json_inside_a_list_of_the_head_is_answered(ward, key, item):
    tablet, _, _ = ward
    posts(ward, tablet.request(**{key: [item]}))


@anything
@given(st.sampled_from(BODY_KEYS), JSON)
def test_a_well_sealed_body_may_say_anything(ward, key, value):
    tablet = ward[0]
    body = {**decode_body(tablet.own[0].body), key: value}
    reply = posts(ward, sealed(tablet, json.dumps(body).encode()))
    assert [a["answer"] for a in reply.json["answers"]] == ["kept"]


@anything
@given(st.sampled_from(PATHS), st.sampled_from(["set", "add", "strike"]), JSON | NEARLY)
def test_any_value_under_any_path_is_kept_and_folded(ward, path, op, value):
    tablet = ward[0]
    body = {**decode_body(tablet.own[0].body), "path": path, "op": op, "value": value}
    reply = posts(ward, sealed(tablet, json.dumps(body).encode()))
    assert [a["answer"] for a in reply.json["answers"]] == ["kept"]


@anything
@given(st.sampled_from(FIELDS), st.text(max_size=40), st.data())
def test_whatever_a_person_types_is_kept_and_counts(ward, path, typed, data):
    field = CATALOGUE.field(path)
    unit = data.draw(st.sampled_from(["", *field.units]))
    value = parse(field, typed, unit)
    if value is None:
        return
    tablet = ward[0]
    body = {**decode_body(tablet.own[0].body), "path": path, "value": value}
    reply = posts(ward, sealed(tablet, encode_body(body)))
    assert [(a["answer"], a["counts"]) for a in reply.json["answers"]] == [
        ("kept", "counted")
    ]


@pytest.mark.parametrize(
    "raw",
    [
        b"",
        b"\0\0\0",
        b"\xff\xff\xff\xff",
        b"\0\0\0\0",
        b"\0\0\0\2{}",
        b"\0\0\0\4null",
        b"\0\0\0\7" + b'{"v":2}',
        b"\0\0\0\x0a" + b'{"v":true}',
        b"\0\0\0\7" + b'{"v":1}' + b"left over",
        (200_000).to_bytes(4, "big") + b"[" * 200_000,
        (5010).to_bytes(4, "big") + b'{"v":1,"a":' + b"9" * 4998 + b"}",
    ],
    ids=[
        *("nothing", "cut", "length without a head", "no head", "no version"),
        *("null", "version 2", "version true", "left over", "too deep", "long number"),
    ],
)
def test_a_frame_that_cannot_be_read_names_what_is_wrong(ward, raw):
    reply = posts(ward, raw)
    assert reply.status == 400
    (problem,) = reply.json["errors"]
    assert problem["code"] == "shape"
    assert problem["message"].startswith("Expected: ")


def test_lists_longer_than_any_tablet_has_are_too_large(ward):
    tablet, _, _ = ward
    many = [{"log": tablet.writer.log, "tip": 1}] * 5001
    assert len(tablet.request(logs=many)) < MOST_BYTES
    assert posts(ward, tablet.request(logs=many)).status == 413
