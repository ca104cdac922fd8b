"""What the lists say that are read aloud, line by line, before something is begun."""

LIVE_SPOKEN: dict[str, str] = {
    "spoken.all": "All as read: yes",
    "spoken.all_more": "{shown} of {of} shown",
    "spoken.all_ready": "hold, or tap and confirm",
    "spoken.back": "Back",
    "spoken.close": "Close",
    "spoken.confirm": "Confirm: {count} yes",
    "spoken.done": "Every line is answered.",
    "spoken.identifiers_open": "Two identifiers: not asked",
    "spoken.key": "Read aloud",
    "spoken.key_named": "Read aloud: {title}",
    "spoken.lines": "Lines to be read aloud",
    "spoken.next": "Next line",
    "spoken.no": "no",
    "spoken.not_known": "not known",
    "spoken.place": "{place} of {of}",
    "spoken.read": "Read through",
    "spoken.read_more": "a line after the other",
    "spoken.yes": "yes",
    "spoken.yes_by": "yes: {one}, {other}",
}
