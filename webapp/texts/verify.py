"""What is said about a database that was walked through, whole or not."""

VERIFY: dict[str, str] = {
    "erase.desk": "What the desk wrote is never erased.",
    "erase.done": (
        "Erased. The reason stands in the record as entry {entry}. Backups made before"
        " still hold it, and so may tablets until their copy is removed."
    ),
    "erase.gone": "Its body is gone already.",
    "erase.reason": "Give a reason: it stays in the record in place of the entry.",
    "erase.unknown": "No entry has the id {entry}.",
    "verify.body": "The body is not the one that was written.",
    "verify.body_gone": "The body is gone, and no entry gives a reason.",
    "verify.body_stray": "A body stands where no entry asks for one.",
    "verify.chain": "The chain is broken here.",
    "verify.content": "What the signature covers is not what was signed.",
    "verify.digest": "The header or the digest is not the one that was written.",
    "verify.erasure": "It was erased, and no entry of the desk gives the reason.",
    "verify.first": "First break: {where}. {what}",
    "verify.found": "{where}. {what}",
    "verify.head": "It names a head that this log never had.",
    "verify.later_ruling": "A later ruling is not the one that the log tells.",
    "verify.listed": "The records list says other than the log.",
    "verify.lost": (
        "Entries known to tablets and missing here: {n}. See /server, or restore a"
        " newer backup."
    ),
    "verify.migrate": (
        "{file} is of an older version: start the server once, or restore it, then"
        " verify again."
    ),
    "verify.more": "More breaks: {n}. Name them all with --all.",
    "verify.no_file": "{file} is not there.",
    "verify.not_erased": "It is called erased, and its body is still there.",
    "verify.note": "The note's bytes are not those that were signed.",
    "verify.note_gone": "It was signed, and the note is gone.",
    "verify.note_unsigned": "No attestation belongs to this note.",
    "verify.paper": "The paper's bytes are not those that were added.",
    "verify.paper_gone": "It was added, and its paper is gone.",
    "verify.paper_unsigned": "No addendum belongs to this paper.",
    "verify.pages": "The file itself is damaged.",
    "verify.photo": "The photo's bytes are not those that arrived.",
    "verify.photo_erased": (
        "The photo was erased, and no entry of the desk in its record gives a reason."
    ),
    "verify.photo_view": "What is shown of it was not made of its bytes.",
    "verify.place": "An entry is missing in this place.",
    "verify.receipt": (
        "When it came, or whether it counted and why, is not what was decided."
    ),
    "verify.reference": "It names a row that is not there.",
    "verify.row": "The row is not the one that was written.",
    "verify.ruling": "It was ruled on twice at receipt, or no entry is there.",
    "verify.schema": "It is not as this version of Wiremark makes it.",
    "verify.server_key": (
        "This private key is not among the server's keys, or is another one."
    ),
    "verify.unfoldable": "What the entries of this record say cannot be put together.",
    "verify.unreadable": "{file} cannot be read any further: {because}.",
    "verify.whole": (
        "Whole: {entries} entries, signed notes {notes}. Head {position} {chain}."
    ),
}
