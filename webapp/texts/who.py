"""Who a case is about, who is at the tablet, and what a wristband says of it."""

WHO: dict[str, str] = {
    "band.another": "Another patient",
    "band.another_begin": "begin a case with this band; this one stays as it is",
    "band.another_open": "open the case that has this band; this one stays as it is",
    "band.begin": "Begin a case",
    "band.begin_more": "with this number, by wristband",
    "band.correct": "Correct this record",
    "band.correct_more": "its number becomes the scanned one; the old one is kept",
    "band.different": "Different wristband",
    "band.elsewhere": "This wristband is in another case",
    "band.leave": "Leave it",
    "band.leave_more": "nothing is changed",
    "band.new": "A wristband of no case on this tablet",
    "band.no_case": "no case on this tablet has it",
    "band.no_band": (
        "A code like this stands on drugs or blood bags, not on a wristband. Nothing"
        " was changed."
    ),
    "band.not_changed": "Nothing was changed. Whose wristband is it?",
    "band.read": "by scan",
    "band.scanned": "Scanned",
    "band.this_case": "This case",
    "who.about": "about {age}",
    "who.at": "At this tablet",
    "who.at_named": "entering {name}: change who is here",
    "who.author": "Whose observation",
    "who.band_read": "band read",
    "who.born": "{date}",
    "who.called": "Called out by",
    "who.case": "Case",
    "who.done": "These from now on",
    "who.entering": "entering",
    "who.how_known": "How it is known",
    "who.how_known_hint": (
        "Seen: output and depth rows are stamped with the time they are kept."
    ),
    "who.leave": "Leave it",
    "who.name_of": "{label}: name",
    "who.nameless": "NAME NOT KNOWN",
    "who.no_band": "no band yet",
    "who.nobody_called": "nobody",
    "who.nobody_yet": "Nobody named",
    "who.note": "A claim, written beside each entry. No proof is asked here.",
    "who.number": "no. {number}",
    "who.read_settings": (
        "Settings carry the name of the person who read them. "
        "What was read stays until somebody is named."
    ),
    "who.role_of": "{label}: role",
    "who.same": "the same",
    "who.source.copied": "copied",
    "who.source.device": "device",
    "who.source.seen": "seen",
    "who.source.told": "told",
    "who.title": "Who is here",
    "who.years": "{years} y",
}
