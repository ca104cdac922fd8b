"""Every limit is read somewhere, or it is said here why nothing reads it."""

from __future__ import annotations

from pathlib import Path

from webapp.clinical.policy import load

WEBAPP = Path(__file__).resolve().parents[3] / "webapp"
# Files that hold or check limits, whatever they mean.
HOLDS = ("policy_rows.py", "limits.py")
IN_PARTS = "named in parts, by the agent's preparation: webapp/clinical/anaesthetic.py"
SHOWN = "no remark rests on it; shown on /limits: "
UNREAD: dict[str, str] = {
    "lidocaine_adrenaline_cap_mg": IN_PARTS,
    "lidocaine_adrenaline_mg_per_kg": IN_PARTS,
    "lidocaine_plain_cap_mg": IN_PARTS,
    "lidocaine_plain_mg_per_kg": IN_PARTS,
    "look_again_clean_case_max": "a bound for tests, clinical 24: test_demo_remarks.py",
    "stalled_readings": "rehearsal only, clinical 4: live, rule 3(b) speaks",
    "removal_watch_min": SHOWN + "after removal nothing is ever due, clinical 22",
    "removal_watch_h": SHOWN + "after removal nothing is ever due, clinical 22",
    "own_rhythm_test_lowest_rate": SHOWN + "how to test, clinical 6",
    "rate_below_own_per_min": SHOWN + "how to test sensing, clinical 9",
    "torsades_overdrive_range_per_min": SHOWN + "the usual range, clinical 12",
    "guidelines_shown": SHOWN + "a list of guidelines, clinical 24",
}


def unread() -> set[str]:
    """Return the keys that stand in no module but those that hold them."""
    sources = [
        path.read_text(encoding="utf-8")
        for path in WEBAPP.rglob("*.py")
        if path.name not in HOLDS and "texts" not in path.parts
    ]
    everything = "\n".join(sources)
    # A family is read by its first word: "deep_limit_cm." and the site.
    return {key for key in load().rows if f'"{key.split(".")[0]}' not in everything}


def test_every_limit_is_read_or_named_here_with_its_reason() -> None:
    assert unread() == set(UNREAD)
