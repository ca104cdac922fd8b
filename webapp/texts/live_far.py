"""What the far view says: the second screen, or the turned tablet."""

LIVE_FAR: dict[str, str] = {
    "far.at_least": "at least",
    "far.back": "To the case",
    "far.blank": "No case is shown here.",
    "far.called": "Dial called",
    "far.clock": "Time of day",
    "far.depth": "Depth",
    "far.elsewhere": "not read at the hub",
    "far.last_entry": "last entry {age}",
    "far.last_now": "last entry just now",
    "far.nameless": "no name",
    "far.not_tested": "not tested",
    "far.numbers": "Depth, output, threshold, margin",
    "far.open": "Far view",
    "far.own_window": "Own window",
    "far.start": "Cases",
    "far.title": "Far view",
}
