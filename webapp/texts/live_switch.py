"""What is said when the tablet goes from one running case to another."""

LIVE_SWITCH: dict[str, str] = {
    "switch.alike": "Look again: two cases named {name}. Compare birth date and number",
    "switch.now": "This case now",
    "switch.not": "Not this one",
    "switch.tap": "Tap to go on",
    "switch.title": "Another case",
}
