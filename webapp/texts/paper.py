"""What the paper copy says that a tablet prints or shows without network."""

PAPER: dict[str, str] = {
    "paper.also": "Also in this case",
    "paper.as_at": "As at {time}. Read the generator.",
    "paper.at_hub": "at sheath hub",
    "paper.by_hand": "Added by hand after this was printed",
    "paper.by_hand_who": "time · what · who",
    "paper.close": "Close",
    "paper.depth": "Depth",
    "paper.elsewhere": "not read at the hub",
    "paper.hint": (
        "Nothing here asks a network. Where there is no printer, copy it by hand."
    ),
    "paper.impossible": "impossible as told",
    "paper.key": "Paper copy",
    "paper.moments": "Moments",
    "paper.not_counted": "Does not count: {because}",
    "paper.not_signed": "Not signed; shown and printed from {tablet} at {time}.",
    "paper.not_the_note": (
        "Not the signed note; shown and printed from {tablet} at {time}."
    ),
    "paper.not_taken": "Not taken by the server, kept here: {count} entries.",
    "paper.number": "{label} {number}",
    "paper.of_row": "of {row}",
    "paper.on_server": "On the server when it last answered: all {total} entries.",
    "paper.page_of": "page {page} of {pages}",
    "paper.photo": "{words}, kept on the tablet as {name}",
    "paper.print": "Print",
    "paper.record": "record {record}",
    "paper.standing": "Standing now",
    "paper.this_tablet": "a tablet not enrolled",
    "paper.title": "Paper copy of the case as this tablet holds it",
    "paper.unfinished": "Begun and not yet kept",
    "paper.unsent": "Not yet on the server: {unsent} of {total} entries.",
    "paper.what_is_left_out": (
        "Questions that nobody asked and nothing needs are left out."
    ),
}
