"""What is added after signing, and a record that was withdrawn: words for both."""

ADDED: dict[str, str] = {
    "added.as_text": "What is added",
    "added.because": "Why",
    "added.changed": (
        "The record changed while you read it. Late entries now: {n}. Read, then add."
    ),
    "added.digest": "Late entries shown here: {n}. Their digest as you read it:",
    "added.entered": "Entered",
    "added.file_subject": "Added to a signed procedure note",
    "added.file_title": "Temporary transvenous pacing wire: added after signing",
    "added.footer": "Made {printed}. Fixed under digest {digest} … {decides}",
    "added.help.addendum": "New: it happened, or became known, after the signature.",
    "added.help.correction": (
        "What the note says was wrong. What it said stays in it; the paper shows both."
    ),
    "added.help.late_entry": "Known at the time, written later.",
    "added.help.patient_amendment": "The patient asked for it; say what was decided.",
    "added.help.withdrawal": (
        "The whole record is withdrawn, as when it was another patient's. It is kept,"
        " and opened only with a reason."
    ),
    "added.identity_now": "Named now",
    "added.identity_then": "Named in the signed note",
    "added.kind": "What it is",
    "added.kept_note": (
        "The signed note stays as it was. This stands beside it, and names it."
    ),
    "added.kind_missing": "Say which kind it is.",
    "added.late": "Late entries it takes up",
    "added.late_label": "Entry of {label}",
    "added.no_late": "No late entry stands beside the note.",
    "added.not_signed": "Nothing is signed yet: answer or correct the field itself.",
    "added.note_digest": "Digest of the signed note",
    "added.note_version": "Added to version",
    "added.now": "Is",
    "added.nothing": "Write what is added, or take up a late entry.",
    "added.number": "{kind} {number}",
    "added.open": "Open",
    "added.open_because": "Why you open it",
    "added.open_because_missing": "Say why you open a withdrawn record.",
    "added.open_title": "Withdrawn",
    "added.open_words": (
        "This record was withdrawn by {name}, {when}. It is kept. Who opens it, and"
        " why, is written down."
    ),
    "added.paper": "{kind} {number} (PDF)",
    "added.settled": "Added under digest {digest} …",
    "added.said_on": "{name}, {when}",
    "added.sign": "Sign and add",
    "added.signed": "Signed: {name}",
    "added.statement": (
        "What I write here is true to the best of my knowledge. What was signed or"
        " entered before is left as it was."
    ),
    "added.struck": "entered in error: {reason}",
    "added.struck_bare": "entered in error",
    "added.take_up": "Take up",
    "added.title": "Add after signing",
    "added.was": "Was",
    "added.when": "When it happened",
    "added.withdrawn": "This record was withdrawn. Nothing is added to it.",
    "added.withdraw": "Withdraw the record",
    "added.withdrawal_because": "Say why it is withdrawn.",
    "added.wrong_password": "The password does not fit. Nothing was added.",
    "review.state.addended": "Signed, added to",
    "review.state.withdrawn": "Withdrawn",
}
