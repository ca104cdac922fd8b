"""What is found about the wire's place; worded as in `webapp/texts/clinical.py`."""

CLINICAL_PLACE: dict[str, str] = {
    "clinical.asks.image": "Policy asks: film or ultrasound.",
    "clinical.asks.image_anyway": "Policy asks: image anyway.",
    "clinical.more.right_bundle_image": (
        "The published rule is not met, or an axis, a transition or S in I is missing."
    ),
    "clinical.more.right_bundle_meets": (
        "Meets the published rule for a right ventricular position; image anyway."
    ),
    "clinical.remark.capture_no_beat": "Electrical capture, no beat beside the ECG",
    "clinical.remark.right_bundle_image": "Right-bundle look: needs imaging",
    "clinical.remark.right_bundle_meets": "Right-bundle look meets the RV rule",
    "clinical.remark.twitch_at": "Twitch at {output} mA: perforation?",
    "clinical.remark.twitch_low": "Twitch at a low output: perforation?",
    "clinical.remark.twitch_output": "Twitch: at which output?",
}
