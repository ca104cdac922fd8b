"""Whatever JSON heads a request to `/sync`: an answer, nothing half kept."""

from hypothesis import given
from hypothesis import strategies as st

from tests.support.malformed import (
    ANYTHING,
    SHARES,
    changed,
    put_together,
    sized,
    taken_apart,
)

SHARE = SHARES["head"]
HEAD_KEYS = (
    *("v", "catalogue", "now", "logs", "wraps", "entries", "open", "head", "pull_all"),
    *("holds", "extra"),
)


def whole(ward):
    """A request that uses every key of the head."""
    tablet = ward.tablet
    holds = [entry.header.encode().decode() for entry in ward.other.own]
    tips = [{"log": tablet.writer.log, "seq": tablet.writer.tip}]
    opened = [
        {"record": ward.record, "since": 0, "tips": tips, "holds": holds},
        {"record": ward.theirs, "since": 1, "tips": [], "holds": holds},
    ]
    return taken_apart(tablet.request(tablet.own[:2], open=opened))


@sized(SHARE // 5)
@given(st.data())
def test_any_json_in_place_of_any_part_of_the_head_is_answered(ward, data):
    head, sealed = whole(ward)
    keys = st.sampled_from(HEAD_KEYS)
    for key, value in data.draw(
        st.lists(st.tuples(keys, ANYTHING), min_size=10, max_size=10)
    ):
        ward.posts(put_together({**head, key: value}, sealed))


@sized(SHARE // 5 * 4)
@given(st.data())
def test_any_json_anywhere_inside_the_head_is_answered(ward, data):
    head, sealed = whole(ward)
    for told in data.draw(st.lists(changed(head), min_size=10, max_size=10)):
        ward.posts(put_together(told, sealed))


def test_all_of_this_file_s_share_was_sent(ward):
    assert ward.posted >= SHARE
