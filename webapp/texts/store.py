"""What a tablet says of its entries, its store and the server."""

STORE: dict[str, str] = {
    "enrol.code": "Code",
    "enrol.done": "{tablet} is enrolled at {hospital}.",
    "enrol.failed": "The server failed. Try again.",
    "enrol.heading": "Enrol this tablet",
    "enrol.hint": (
        "Eight letters and figures, given by the administrator, good for a day."
    ),
    "enrol.is_now": "This tablet is {tablet} at {hospital}.",
    "enrol.key": "Enrol",
    "enrol.missing": "Type the code first.",
    "enrol.revoked": "This tablet was revoked. It needs another code.",
    "enrol.slow": "Too many tries from here. Wait some minutes.",
    "enrol.start": "Go to the cases",
    "enrol.unreachable": "No answer from the server. Enrolling needs it once.",
    "enrol.wrong": "This code is unknown, used or too old.",
    "shell.description": "The bedside record for temporary pacing wires.",
    "shell.name": "Wiremark",
    "shell.not_ready": "Not ready without network: {have} of {want} files here.",
    "shell.not_yet": "Not ready without network yet.",
    "shell.ready": "Ready without network.",
    "shell.update_waiting": "A newer form waits.",
    "sign_in.failed": "The server failed. Try again.",
    "sign_in.slow": "Too many tries. Wait some minutes.",
    "sign_in.unreachable": "No answer from the server. Signing in needs it.",
    "sign_in.revoked": "This tablet was revoked: nobody signs in on it.",
    "sign_in.wrong": (
        "Name and password do not go together, or there were too many tries: then wait"
        " some minutes."
    ),
    "store.absent": (
        "This browser cannot keep entries: its storage is off, full or private. "
        "Open Wiremark in a normal window of the tablet's browser."
    ),
    "store.blocked": (
        "Another Wiremark window is older. Close it, and this one goes on."
    ),
    "store.failed": "The tablet's storage failed.",
    "store.full": "The tablet's storage is full.",
    "store.too_large": "Too large for one entry.",
    "strip.all_sent": "On the server, {count} of {total} entries",
    "strip.battery_low": "All kept here; battery at {percent} %",
    "strip.clock_off": "All kept here; clock {minutes} min off the server's",
    "strip.conflict": "{count} not taken: {because} Kept here",
    "strip.conflict_short": "{count} not taken. Kept here",
    "strip.shut": (
        "{count} entries made before the browser ended cannot be read here; they are"
        " kept, and sent"
    ),
    "strip.shut_one": (
        "1 entry made before the browser ended cannot be read here; it is kept, and"
        " sent"
    ),
    "strip.damaged": "{count} entries cannot be read any more",
    "strip.lost": (
        "The server lost {count} entries of others. What was here stays readable"
    ),
    "strip.lost_one": (
        "The server lost one entry of others. If it was here, it stays readable"
    ),
    "strip.no_entries": "On this tablet, no entries",
    "strip.none_sent": "On this tablet, {total} entries, none sent yet",
    "strip.not_enrolled": "Not enrolled: entries stay on this tablet",
    "strip.not_ours": "Something answers, but not our server. All kept here",
    "strip.not_persistent": "This browser may clear its storage when space runs out",
    "strip.older_form": (
        "This tablet has an older form. It keeps everything; "
        "update when the case is over."
    ),
    "strip.part_sent": "On this tablet, {unsent} of {total} entries not sent yet",
    "strip.photos_here": "{count} photos on this tablet only",
    "strip.photos_here_one": "One photo on this tablet only",
    "strip.refused": "{count} refused: {because} Kept here",
    "strip.refused_short": "{count} refused. Kept here",
    "strip.revoked": "This tablet was revoked: what it sends does not count",
    "strip.server_fault": "The server fails. All kept here",
    "strip.set_aside": "{count} set aside: {because} Kept here",
    "strip.set_aside_short": "{count} set aside. Kept here",
    "strip.storage_low": "All kept here; {free_mb} MB left on this tablet",
    "strip.unauthorised": "The server does not know this tablet: enrol it again",
    "strip.went_back": "The server went back to an older state; sending again",
}
