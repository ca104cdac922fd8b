"""How long a record stays on a tablet, by rule: no clock but the server's decides."""

from __future__ import annotations

import pytest

from tests.support import node

HOUR_MS, DAY_MS = 3_600_000, 86_400_000
SITE = {"keep_readable_h": 12, "keep_bytes_d": 7, "running_case_h": 2}
STAY = {"touched_ms": 0, "sealed_ms": None, "removed_ms": None}
SEALED = {**STAY, "sealed_ms": 12 * HOUR_MS}
REMOVED = {**SEALED, "removed_ms": 7 * DAY_MS}
FACTS = {
    **{"now_ms": 0, "site": SITE, "isRevoked": False, "isOpen": False},
    **{"isAsked": False, "isOnlyHere": False, "isSealable": True, "isAside": False},
}
LATE = {"now_ms": 400 * DAY_MS}
ONLY_HERE = {"isOnlyHere": True}
REVOKED = {"isRevoked": True}


@pytest.mark.parametrize(
    ("stay", "changes", "act"),
    [
        (STAY, {"now_ms": 12 * HOUR_MS - 1}, "stay"),
        (STAY, {"now_ms": 12 * HOUR_MS}, "seal"),
        (SEALED, {"now_ms": 13 * HOUR_MS}, "stay"),
        (SEALED, {"now_ms": 7 * DAY_MS}, "remove"),
        (STAY, {"now_ms": 7 * DAY_MS}, "remove"),
        (STAY, {**LATE, "isOpen": True}, "stay"),
        (STAY, {**LATE, **ONLY_HERE}, "stay"),
        (SEALED, {**LATE, **ONLY_HERE}, "stay"),
        (STAY, {**REVOKED, "isOpen": True}, "stay"),
        (STAY, REVOKED, "remove"),
        (STAY, {**REVOKED, **ONLY_HERE}, "seal"),
        (STAY, {**REVOKED, **ONLY_HERE, "isSealable": False}, "stay"),
        (SEALED, {**REVOKED, **ONLY_HERE}, "stay"),
        (STAY, {**REVOKED, "isAside": True}, "seal"),
        (SEALED, {**REVOKED, "isAside": True}, "stay"),
        (SEALED, {**REVOKED, **LATE, "isAside": True}, "remove"),
        (STAY, {"now_ms": 7 * DAY_MS, "isAside": True}, "remove"),
        (SEALED, {"now_ms": 13 * HOUR_MS, "isAsked": True}, "remove"),
        (SEALED, {"isAsked": True, **ONLY_HERE}, "stay"),
        (REMOVED, {"now_ms": 14 * DAY_MS - 1}, "stay"),
        (REMOVED, {"now_ms": 14 * DAY_MS}, "forget"),
        (STAY, {"now_ms": -DAY_MS}, "stay"),
        # Neither a running case nor a readable one goes for the days being fewer.
        (STAY, {"now_ms": 2 * HOUR_MS, "site": {**SITE, "keep_readable_h": 1}}, "seal"),
        (STAY, {"now_ms": HOUR_MS, "site": {**SITE, "keep_readable_h": 1}}, "stay"),
        (STAY, {"now_ms": DAY_MS, "site": {**SITE, "keep_bytes_d": 1}}, "remove"),
        (
            STAY,
            {
                "now_ms": DAY_MS,
                "site": {**SITE, "keep_bytes_d": 1, "keep_readable_h": 48},
            },
            "stay",
        ),
    ],
)
def test_what_is_done_with_a_record(stay, changes, act):
    asked = [[stay, {**FACTS, **changes}]]
    assert node.call("log/stay.js", "nextAct", asked) == [act]


@pytest.mark.parametrize(
    ("before", "now_ms", "seen", "after"),
    [
        (None, 5, {"isTouched": False}, {**STAY, "touched_ms": 5}),
        (STAY, HOUR_MS, {"isTouched": False}, STAY),
        (STAY, HOUR_MS, {"isTouched": True}, {**STAY, "touched_ms": HOUR_MS}),
        (STAY, 59_999, {"isTouched": True}, STAY),
        # A server clock that was put back makes nothing older, and holds nothing up.
        ({**STAY, "touched_ms": DAY_MS}, 5, {}, {**STAY, "touched_ms": 5}),
        (SEALED, 5, {}, {**STAY, "sealed_ms": 5}),
        (REMOVED, 8 * DAY_MS, {}, REMOVED),
        (REMOVED, 8 * DAY_MS, {"isHere": True}, {**STAY, "touched_ms": 8 * DAY_MS}),
    ],
)
def test_a_stay_begins_with_the_last_touch_by_the_servers_clock(
    before, now_ms, seen, after
):
    seen = {"isTouched": False, "isHere": False, **seen}
    assert node.call("log/stay.js", "stayAfter", [[before, now_ms, seen]]) == [after]
