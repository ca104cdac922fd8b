"""Words of rehearsals: a scripted patient, and what the debrief says."""

from __future__ import annotations

LIVE_REHEARSAL = {
    "start.rehearsal": "Rehearsal: no patient",
    "start.rehearsal_more": "Three scripted patients; nothing leaves this tablet",
    "rehearsal.word": "REHEARSAL · no patient",
    "rehearsal.word_short": "REHEARSAL",
    "rehearsal.never_sent": "Rehearsal: nothing of it is ever sent",
    "rehearsal.you": "You, rehearsing",
    "rehearsal.how": (
        "Advance, then Capture, as with a patient. The scripted monitor at the foot "
        "shows what the depth or output called would show; there is no generator, "
        "call any output. The debrief is on Finish."
    ),
    "rehearsal.leave": "Leave the rehearsal",
    "rehearsal.leave_more": "Back to the cases of patients",
    "rehearsal.alias.steady": "Rehearsal 1",
    "rehearsal.about.steady": "An own rhythm, one way in",
    "rehearsal.alias.wrong_way": "Rehearsal 2",
    "rehearsal.about.wrong_way": "The wire takes another way first",
    "rehearsal.alias.lost": "Rehearsal 3",
    "rehearsal.about.lost": "No own rhythm, and a surprise",
    "rehearsal.monitor": "Scripted monitor",
    "rehearsal.own_rate": "own rhythm {rate} /min",
    "rehearsal.no_own": "no own rhythm",
    "rehearsal.debrief": "Debrief",
    "rehearsal.times": "Times from the start",
    "rehearsal.time.contact_s": "first contact",
    "rehearsal.time.capture_s": "first capture",
    "rehearsal.time.end_s": "last entry",
    "rehearsal.never": "not reached",
    "rehearsal.threshold_title": "Threshold",
    "rehearsal.threshold": "found {told} mA; the script holds {hidden} mA",
    "rehearsal.no_threshold": "not found; the script holds {hidden} mA",
    "rehearsal.readings": "Readings: {same} of {count} as the script shows them",
    "rehearsal.read.depth": "{n} cm",
    "rehearsal.read.output": "{n} mA",
    "rehearsal.same": "as scripted",
    "rehearsal.other": "the script shows: {hidden}",
    "rehearsal.missed": "Not entered: {count}",
    "rehearsal.done": "Entered: {count}",
    "rehearsal.asked.p_waves": "P waves asked",
    "rehearsal.asked.balloon_down": "Balloon down at the end",
    "rehearsal.asked.wiring": "Wiring asked",
    "rehearsal.asked.own_rhythm": "Own rhythm asked",
    "rehearsal.asked.pads": "Pads asked",
    "rehearsal.asked.read_back": "Generator read back",
    "rehearsal.asked.runs": "Runs of the heart entered",
    "rehearsal.asked.capture_lost": "Capture lost entered",
    "rehearsal.asked.tested_again": "Tested again after capture was lost",
    "rehearsal.caution": (
        "Scripted figures, made up. A rehearsal is not training by your hospital; "
        "local protocol and the treating clinician decide."
    ),
}
