"""Whatever a well-sealed body says: kept, ruled on, folded, and nothing fails."""

import json

from hypothesis import given
from hypothesis import strategies as st

from tests.support.malformed import JSON, NASTY, SHARES, WIRE, changed, sized
from webapp.catalogue import CATALOGUE
from webapp.catalogue.kinds import parse
from webapp.catalogue.lookup import NEVER_FROM_A_TABLET
from webapp.record.entry import decode_body, encode_body

SHARE = SHARES["bodies"]
PATHS = [
    *(template.replace("*", WIRE) for template, _ in CATALOGUE.paths()),
    *NEVER_FROM_A_TABLET,
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
OPS = st.sampled_from(["set", "add", "strike"])


def text_of(value):
    return json.dumps(value).replace('"@deep@"', "[" * 900 + "]" * 900).encode()


def kept(ward, raw):
    reply = ward.posts(ward.fresh(raw))
    if len(raw) < 60_000:
        assert [a["answer"] for a in reply.json["answers"]] == ["kept"]
    return reply.json["answers"]


@sized(SHARE // 5 * 2)
@given(st.data())
def test_a_well_sealed_body_may_say_anything(ward, data):
    body = decode_body(ward.tablet.own[1].body)
    for told in data.draw(st.lists(changed(body), min_size=10, max_size=10)):
        kept(ward, text_of(told))


@sized(SHARE // 5 * 2)
@given(
    st.lists(
        st.tuples(st.sampled_from(PATHS), OPS, JSON | NEARLY | NASTY),
        min_size=10,
        max_size=10,
    )
)
def test_any_value_under_any_path_is_kept_and_folded(ward, many):
    body = decode_body(ward.tablet.own[0].body)
    for path, op, value in many:
        kept(ward, text_of({**body, "path": path, "op": op, "value": value}))


@sized(SHARE // 5)
@given(st.data())
def test_whatever_a_person_types_is_kept_and_counts(ward, data):
    body = decode_body(ward.tablet.own[0].body)
    typed = st.tuples(st.sampled_from(FIELDS), st.text(max_size=40), st.integers(0, 9))
    for path, text, choice in data.draw(st.lists(typed, min_size=10, max_size=10)):
        field = CATALOGUE.field(path)
        units = ["", *field.units]
        value = parse(field, text, units[choice % len(units)])
        if value is None:
            kept(ward, text.encode())
            continue
        (told,) = kept(ward, encode_body({**body, "path": path, "value": value}))
        assert told["counts"] == "counted"


def test_all_of_this_file_s_share_was_sent(ward):
    assert ward.posted >= SHARE
