"""What is said about backups: made, refused, brought back."""

KEEP: dict[str, str] = {
    "keep.aside": (
        "The former database lies in {file}. Remove it when nobody misses anything."
    ),
    "keep.beyond_unread": (
        "It cannot be read, so what it holds beyond the backup cannot be named."
    ),
    "keep.changed": (
        "{file} was changed since it was made: its digest does not fit. Not used."
    ),
    "keep.counts": (
        "Entries {entrys}, records {records}, signed notes {notes}, photos {photos},"
        " people {persons}, tablets {tablets}."
    ),
    "keep.desk_entry": "  {path}: {author}, {at}, {who}",
    "keep.desk_lost": (
        "Written at the desk since, and on no tablet; these must be done again: {count}"
    ),
    "keep.desk_more": "  and {count} more",
    "keep.erased_again": (
        "Erased since, and readable again after this; erase again: {count}"
    ),
    "keep.go_on": "Go on?",
    "keep.head": "Head: position {position}, chain {chain}",
    "keep.head_differs": "its log does not end where its stamp says it does",
    "keep.key_missing": (
        "The server key {name} is not beside the database. What tablets sealed for it"
        " is kept and set aside until the key is back: restore with --keys."
    ),
    "keep.keys_apart": (
        "The server's private keys and the settings are not in it: keep them apart,"
        " with --keys FOLDER or `wiremark backup-keys FOLDER`. Whoever holds the keys"
        " and the backup can open every seal in it; whoever loses them cannot open"
        " what tablets still hold."
    ),
    "keep.keys_brought": "Keys and settings put beside the database: {count}",
    "keep.keys_copied": (
        "Keys and settings copied to {folder}: {count}. Keep them in another place than"
        " the backup: together they open every seal in it."
    ),
    "keep.log_breaks": "its log breaks: {what}",
    "keep.made": "Backed up to {file}, {size} bytes, and proven.",
    "keep.made_now": "A backup is being made in {file} at this moment.",
    "keep.newer": "a newer version of Wiremark made it ({names})",
    "keep.no_database": "There is no database in {home}.",
    "keep.no_file": "There is no file {file}.",
    "keep.no_folder": "There is no folder {folder}.",
    "keep.no_keys_there": "There is no server key in {folder}.",
    "keep.no_stamp": (
        "{file} is not a whole backup: its last lines are missing. It was cut short,"
        " or it is another kind of file. Not used."
    ),
    "keep.not_a_place": "{file} is no place for a backup: give the name of a new file.",
    "keep.not_written": "{file} could not be written: {because}. Nothing was changed.",
    "keep.open_elsewhere": (
        "Something has {file} open. Stop the server and every other command first."
        " Nothing was changed."
    ),
    "keep.other_key": (
        "{file} is there already and is another key. It was not replaced."
    ),
    "keep.plan": "The backup {file}, made {made_at}, is whole and proven.",
    "keep.refused": "{file} is not used: {because}.",
    "keep.restore_broke_off": (
        "A restore in {home} broke off half-way. Nothing is lost: run `wiremark"
        " restore` again, then start the server."
    ),
    "keep.restore_under_way": (
        "A restore is under way in {home}. Start when it is done."
    ),
    "keep.restored": (
        "Restored: the log ends at position {position}. Start the server; tablets find"
        " out at their next exchange and send again what they hold."
    ),
    "keep.same_disk": (
        "It lies on the same disk as the database, so signatures still read as not yet"
        " copied off this machine. Give a folder on another disk, or --carried-off when"
        " something else takes the file away."
    ),
    "keep.served": "A server works in {home}. Stop it first. Nothing was changed.",
    "keep.sessions_end": (
        "Everybody signs in again, at the desk and on tablets. Enrolment codes that"
        " were not used are void."
    ),
    "keep.limit_differs": "Limit {limit} is {here} here; {shipped} as shipped.",
    "keep.serving": "Serving on {host}, port {port}. Stop with Ctrl+C.",
    "keep.sha256": "SHA-256 of the file: {sha256}",
    "keep.some_tablet": "a tablet that is not listed",
    "keep.tablet_sends_again": (
        "From {tablet} since: {count}. It sends them again, as long as it holds them."
    ),
    "keep.there_already": "{file} is there already. Use another name, or --force.",
    "keep.undone": (
        "What was done after {made_at} is undone: new passwords, people let in or shut"
        " out, tablets enrolled or revoked. Do it again; a tablet enrolled since needs"
        " a new code, and keeps what it holds."
    ),
    "keep.unreadable": "the database in it cannot be read ({because})",
    "keep.will_be_aside": "The present database is set aside, not removed.",
}
