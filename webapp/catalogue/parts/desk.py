"""What belongs to no part: wires, named moments, remarks, and the desk's entries."""

from __future__ import annotations

from webapp.catalogue.choices import CHAMBERS
from webapp.catalogue.declare import (
    OTHER,
    group,
    moment,
    one,
    person,
    pick,
    prose,
    text,
)
from webapp.catalogue.model import Choice

WIRES = group(
    "wires",
    "Wires",
    "",
    text("name", "Name"),
    one("chamber", "Chamber", CHAMBERS),
    moment("when", "When"),
    stamped=False,
)

MOMENTS = group(
    "moments",
    "Moments",
    "",
    one(
        "name",
        "Moment",
        (
            *pick(
                decision="Decision to pace",
                senior_called="Senior called",
                cardiology_called="Cardiology called",
                surgeon_called="Surgeon called",
                kit_opened="Kit opened",
                operator_changed="Operator changed",
                left_for_film="Left for film or scan",
                came_back="Came back",
                first_capture="First capture",
                finished="Case finished",
                opened_again="Opened again",
            ),
            Choice("turned", "Turned in bed", since=5),
            OTHER,
        ),
    ),
    moment("moment", "When"),
    stamped=False,
)

JOINED_TO = group(
    "joined_to",
    "Joined to",
    "",
    text("record", "Record"),
    prose("because", "Because"),
    stamped=False,
)

ATTESTATIONS = group(
    "attestations",
    "Signature",
    "",
    person("by", "Signed by"),
    moment("moment", "Signed at"),
    one(
        "meaning",
        "Meaning",
        pick(
            operator="Operator",
            supervisor="Supervisor",
            author="Author of own entries",
            withdrawal="Withdrawal",
        ),
    ),
    prose("statement", "Statement"),
    text("method", "Method"),
    text("zone", "Zone"),
    text("content_digest", "Content digest"),
    text("note_version", "Version of the note"),
    text("pdf_sha256", "Digest of the note"),
    prose("sections_opened", "Sections opened since the last change"),
    prose("late_because", "Signed late because"),
    prose("undelivered_because", "Signed with entries not yet here because"),
    text("head_position", "Entries on the server"),
    text("head_chain", "Head of the server's log"),
    text("catalogue_version", "Catalogue version"),
    text("limits_version", "Limits version"),
    text("covered_upto", "Read up to position"),
    prose("left_out", "Entries set aside at that time"),
)

ADDENDA = group(
    "addenda",
    "Added after signing",
    "",
    one(
        "kind",
        "Kind",
        pick(
            late_entry="Late entry",
            addendum="Addendum",
            correction="Correction",
            patient_amendment="Amendment asked for by the patient",
            answer="Answer to a question",
            withdrawal="Withdrawal",
        ),
    ),
    prose("text", "Text"),
    moment("happened_at", "Happened at"),
    text("path", "Which field"),
    prose("old_value", "Was"),
    prose("new_value", "Is"),
    prose("because", "Because"),
    prose("question", "Question"),
    person("by", "Written by"),
    moment("moment", "Written at"),
    prose("statement", "Statement", since=3),
    text("method", "Method", since=3),
    text("zone", "Zone", since=3),
    text("number", "Number", since=3),
    text("note_version", "Version of the note", since=3),
    text("note_sha256", "Digest of the note", since=3),
    prose("takes_up", "Late entries it takes up", since=3),
    text("content_digest", "Content digest", since=3),
    text("pdf_sha256", "Digest of the paper", since=3),
    text("head_position", "Entries on the server", since=3),
    text("head_chain", "Head of the server's log", since=3),
    text("catalogue_version", "Catalogue version", since=3),
    text("limits_version", "Limits version", since=3),
)

SETTLEMENTS = group(
    "settlements",
    "Settled at signing",
    "",
    text("path", "Which field"),
    text("question", "Which question"),
    prose("entries", "Which entries"),
    prose("because", "Because"),
)

RULINGS = group(
    "rulings",
    "Ruled on again",
    "",
    text("entry", "Entry"),
    one(
        "ruling",
        "Ruling",
        pick(counted="Counts from now on", set_aside="Still set aside"),
    ),
    prose("because", "Because"),
    text("digest", "Digest"),
    stamped=False,
)

ERASURES = group(
    "erasures",
    "Erased",
    "",
    text("entry", "Entry"),
    prose("reason", "Reason"),
    text("path", "Which field"),
    text("op", "What it did"),
    prose("seen", "Which answers it replaced"),
    text("strikes", "Which row it struck"),
    stamped=False,
)

# Under remarks.<name of the remark>.
REMARK = group(
    "remarks",
    "Remark",
    "",
    one(
        "answer",
        "Answer",
        pick(seen_otherwise="Seen, chose otherwise", seen="Seen, done as asked"),
    ),
    prose("because", "Because"),
    text("evidence", "Entries it was about", max_length=4000),
)

TOP = (WIRES, MOMENTS, JOINED_TO, ATTESTATIONS, ADDENDA, SETTLEMENTS, RULINGS, ERASURES)
