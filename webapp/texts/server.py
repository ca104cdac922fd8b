"""What the administrator is told of the server's log."""

SERVER: dict[str, str] = {
    "server.backup": "Backup",
    "server.backup_made": "Last made {when}, up to position {position}: {file}",
    "server.backup_none": (
        "None yet. The command for it, on the server: wiremark backup FILE, with FILE"
        " on another disk."
    ),
    "server.backup_same_disk": (
        "It lies on the same disk as the database, so it is lost with it."
    ),
    "server.chain": "Chain",
    "server.col.at": "Told",
    "server.col.because": "Because",
    "server.col.place": "Place in the log",
    "server.col.record": "Record",
    "server.col.tablet": "Tablet",
    "server.col.what": "What became of it",
    "server.copied_all": "Every entry is copied off this machine.",
    "server.desk_lost": "Written at the desk, and lost: {n}",
    "server.desk_place": "desk, place {seq}",
    "server.desk_lost_help": (
        "Signatures, addenda and answers given at the desk that tablets have read and"
        " this log no longer holds. No tablet can send them: whoever wrote them does"
        " them again. Their places stay empty."
    ),
    "server.elsewhere": "Heads that tablets saw and this log does not know",
    "server.elsewhere_help": (
        "Any one of them shows that this log went back: an older copy of the database"
        " was put in place, or this is another server's. Tablets notice it by"
        " themselves and send again what they hold. The line stays as evidence; it asks"
        " for nothing when you restored a backup yourself."
    ),
    "server.elsewhere_line": (
        "{tablet} saw position {last}, last told {when}; heads not known here: {count}"
    ),
    "server.elsewhere_none": "Every head that a tablet was told is in this log.",
    "server.entries": "Entries",
    "server.head": "Head",
    "server.head_help": (
        "Every tablet is told this position and chain at each exchange, and every"
        " signed note prints it. The command wiremark verify walks the whole log and"
        " names the first thing that does not fit."
    ),
    "server.heading": "The server's log",
    "server.homeless": "Sent, and not taken, for no record that can be opened: {n}",
    "server.homeless_help": (
        "What belongs to a record is shown on that record. These name none, or one that"
        " is not here."
    ),
    "server.no_record": "none that can be read",
    "server.not_copied": "Entries not yet copied off this machine: {n}",
    "server.nothing_missing": "No entry is known to a tablet and missing here.",
    "server.position": "Position",
    "server.record_gone": "not on this server: {record}",
    "server.tablet_lost": "Written on tablets, and missing here: {n}",
    "server.tablet_place": "log {log}, place {seq}",
    "server.tablet_lost_help": (
        "Others have read these. They come back when the tablet that wrote them sends"
        " again; if that tablet is lost or was wiped, they are told here for good."
    ),
    "server.whole": "Nothing is missing",
}
