"""Every word a person reads, in one place; the tablet gets the same catalogue."""

from __future__ import annotations

from webapp.apart import apart
from webapp.texts.added import ADDED
from webapp.texts.bedside import BEDSIDE
from webapp.texts.clinical import CLINICAL
from webapp.texts.clinical_around import CLINICAL_AROUND
from webapp.texts.clinical_balloon import CLINICAL_BALLOON
from webapp.texts.clinical_complications import CLINICAL_COMPLICATIONS
from webapp.texts.clinical_depth import CLINICAL_DEPTH
from webapp.texts.clinical_drift import CLINICAL_DRIFT
from webapp.texts.clinical_drugs import CLINICAL_DRUGS
from webapp.texts.clinical_electrical import CLINICAL_ELECTRICAL
from webapp.texts.clinical_handing import CLINICAL_HANDING
from webapp.texts.clinical_kit import CLINICAL_KIT
from webapp.texts.clinical_labs import CLINICAL_LABS
from webapp.texts.clinical_outcome import CLINICAL_OUTCOME
from webapp.texts.clinical_pattern import CLINICAL_PATTERN
from webapp.texts.clinical_place import CLINICAL_PLACE
from webapp.texts.clinical_rate import CLINICAL_RATE
from webapp.texts.clinical_settings import CLINICAL_SETTINGS
from webapp.texts.clinical_skin_pacing import CLINICAL_SKIN_PACING
from webapp.texts.coding import CODING
from webapp.texts.demo import DEMO
from webapp.texts.desk import DESK
from webapp.texts.forms import FORMS
from webapp.texts.keep import KEEP
from webapp.texts.kinds import KINDS
from webapp.texts.limits import LIMITS
from webapp.texts.live_advance import LIVE_ADVANCE
from webapp.texts.live_capture import LIVE_CAPTURE
from webapp.texts.live_danger import LIVE_DANGER
from webapp.texts.live_far import LIVE_FAR
from webapp.texts.live_kit import LIVE_KIT
from webapp.texts.live_rehearsal import LIVE_REHEARSAL
from webapp.texts.live_spoken import LIVE_SPOKEN
from webapp.texts.live_switch import LIVE_SWITCH
from webapp.texts.lock import LOCK
from webapp.texts.note import NOTE
from webapp.texts.note_remarks import NOTE_REMARKS
from webapp.texts.paper import PAPER
from webapp.texts.people import PEOPLE
from webapp.texts.photos import PHOTOS
from webapp.texts.server import SERVER
from webapp.texts.store import STORE
from webapp.texts.style import STYLE
from webapp.texts.verify import VERIFY
from webapp.texts.who import WHO

SAY: dict[str, str] = {
    "caution.decides": "Local protocol and the treating clinician decide.",
    "caution.watches": (
        "Wiremark records and computes. It does not watch the patient."
    ),
    "error.bad_request": "The request could not be read.",
    "error.host": "This server is not called by this name here. Use the address you "
    "were given, or have the name added to hosts in wiremark.toml.",
    "error.busy": (
        "The server is busy with others. Try again in some seconds; nothing is kept"
        " twice."
    ),
    "error.disk_full": (
        "The server's disk is full. What it called kept is kept; this may not be. Tell"
        " the administrator, then try again."
    ),
    "error.unauthorized": "Sign in first.",
    "error.forbidden": "Not found, or not yours to open.",
    "error.not_found": "Not found, or not yours to open.",
    "error.method": "This address does not take that request.",
    "error.too_large": "Too large: send it in smaller pieces.",
    "error.conflict": "This has changed since you read it.",
    "error.form_expired": (
        "This page stood open too long. Load it again; nothing was changed."
    ),
    "page.typed": "What you typed was not kept. It stands here, to be copied:",
    "page.back": "Back to the first page",
    "error.server": "The server failed. What was kept is still kept.",
}

SAY.update(ADDED)
SAY.update(CLINICAL)
SAY.update(CLINICAL_BALLOON)
SAY.update(CLINICAL_DEPTH)
SAY.update(CLINICAL_KIT)
SAY.update(CLINICAL_PATTERN)
SAY.update(CLINICAL_AROUND)
SAY.update(CLINICAL_COMPLICATIONS)
SAY.update(CLINICAL_DRUGS)
SAY.update(CLINICAL_SETTINGS)
SAY.update(CLINICAL_RATE)
SAY.update(CLINICAL_DRIFT)
SAY.update(CLINICAL_LABS)
SAY.update(CLINICAL_PLACE)
SAY.update(CLINICAL_SKIN_PACING)
SAY.update(CLINICAL_HANDING)
SAY.update(CLINICAL_OUTCOME)
SAY.update(CLINICAL_ELECTRICAL)
SAY.update(CODING)
SAY.update(DEMO)
SAY.update(BEDSIDE)
SAY.update(WHO)
SAY.update(DESK)
SAY.update(FORMS)
SAY.update(KEEP)
SAY.update(KINDS)
SAY.update(LIMITS)
SAY.update(LIVE_ADVANCE)
SAY.update(LIVE_DANGER)
SAY.update(LIVE_FAR)
SAY.update(LIVE_CAPTURE)
SAY.update(LIVE_KIT)
SAY.update(LIVE_SWITCH)
SAY.update(LOCK)
SAY.update(LIVE_SPOKEN)
SAY.update(LIVE_REHEARSAL)
SAY.update(NOTE)
SAY.update(NOTE_REMARKS)
SAY.update(PAPER)
SAY.update(PEOPLE)
SAY.update(PHOTOS)
SAY.update(SERVER)
SAY.update(STORE)
SAY.update(STYLE)
SAY.update(VERIFY)


def say(key: str, **values: object) -> str:
    """Return the text under `key`, its {names} filled in. Raises KeyError."""
    return SAY[key].format(**values) if values else SAY[key]


def say_apart(key: str, **values: object) -> str:
    """Return the text for a screen: what was typed turns nothing beside it round.

    Never for paper or a file, which have no reading order to keep. Raises KeyError.
    """
    kept = {n: apart(v) if isinstance(v, str) else v for n, v in values.items()}
    return say(key, **kept)
