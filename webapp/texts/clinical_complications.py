"""What is found about complications; worded as in `webapp/texts/clinical.py`."""

_LISTED = "Pads, defibrillator and the shift in shape belong to it."

CLINICAL_COMPLICATIONS: dict[str, str] = {
    "clinical.asks.ultrasound_perforation": (
        "Policy asks: ultrasound, for perforation and tamponade."
    ),
    "clinical.more.perforation_pressure": _LISTED,
    "clinical.more.perforation_shape": _LISTED,
    "clinical.more.perforation_threshold": _LISTED,
    "clinical.remark.cause_blank": "Complication: cause not stated",
    "clinical.remark.cause_unnamed": "Complication: cause stated, not by whom",
    "clinical.remark.perforation_pressure": (
        "Pain or twitch, pressure low: perforation?"
    ),
    "clinical.remark.perforation_shape": "Pain or twitch, shape changed: perforation?",
    "clinical.remark.perforation_threshold": (
        "Pain or twitch, threshold up: perforation?"
    ),
}
