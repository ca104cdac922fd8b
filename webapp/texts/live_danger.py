"""What the keys say that are in reach of every part, and the card they open."""

LIVE_DANGER: dict[str, str] = {
    "danger.arrest": "Arrest",
    "danger.back_after": "pulse back after {age}",
    "danger.capture_back": "Capture back",
    "danger.card_again": "Card: capture lost",
    "danger.card_close": "Close",
    "danger.card_of": "The hospital's own card. It sets nothing.",
    "danger.keys": "What went wrong",
    "danger.lost": "Capture lost",
    "danger.lost_label": "Not a test",
    "danger.lost_words": "capture lost",
    "danger.no_pulse": "no pulse",
    "danger.no_pulse_since": "Arrest, no pulse",
    "danger.not_a_test": "not a test",
    "danger.pulse_back": "Pulse back",
    "danger.what_brought": "What brought it back",
}
