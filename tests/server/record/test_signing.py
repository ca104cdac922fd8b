"""What a signature covers. The digest is worked out again by hand here."""

import hashlib

from webapp.record.entry import Header
from webapp.record.log import LoggedEntry
from webapp.record.signing import content_digest, covered, late


def logged(position, entry_id, ruling="counted"):
    header = Header(1, entry_id, "r", "l", position, "-")
    digest = hashlib.sha256(entry_id.encode()).hexdigest()
    return LoggedEntry(
        position, header, b"{}", "opened", digest, "", "", ruling, "", 0, "2"
    )


def test_the_digest_is_the_hash_of_named_lines_in_order():
    text = "wiremark content 1\n7\nv4\nI reviewed.\naa\nbb\n"
    by_hand = hashlib.sha256(text.encode()).hexdigest()
    assert content_digest(("bb", "aa"), 7, "v4", "I reviewed.") == by_hand


def test_the_digest_changes_with_each_thing_it_is_about():
    base = content_digest(("aa",), 7, "v4", "I reviewed.")
    others = {
        content_digest(("ab",), 7, "v4", "I reviewed."),
        content_digest(("aa",), 8, "v4", "I reviewed."),
        content_digest(("aa",), 7, "v5", "I reviewed."),
        content_digest(("aa",), 7, "v4", "I reviewed"),
        content_digest(("aa", "bb"), 7, "v4", "I reviewed."),
    }
    assert base not in others
    assert len(others) == 5


def test_a_signature_covers_what_counts_and_names_what_does_not():
    entries = (logged(1, "a"), logged(2, "b", "set_aside"), logged(3, "signature"))
    now = covered(entries, {"signature"})
    assert (now.ids, now.upto, now.left_out) == (("a",), 3, ("b",))


def test_what_came_after_and_what_was_released_is_late():
    signed = {"covered_upto": "3", "left_out": "b"}
    entries = (
        logged(1, "a"),
        logged(2, "b"),
        logged(3, "c"),
        logged(4, "signature"),
        logged(5, "d"),
    )
    names = [e.header.id for e in late(entries, {"signature"}, signed)]
    assert names == ["b", "d"]
