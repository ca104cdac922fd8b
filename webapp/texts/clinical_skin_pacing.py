"""What is found about skin pacing; worded as in `webapp/texts/clinical.py`."""

CLINICAL_SKIN_PACING: dict[str, str] = {
    "clinical.asks.pads_standby": "Policy asks: pads to standby, leave them on.",
    "clinical.asks.second_sign": (
        "Policy asks: a second sign, by pleth, arterial line or ultrasound."
    ),
    "clinical.remark.capture_under_pads": "Capture said while pads pace: whose beat?",
    "clinical.remark.pads_off_while_pacing": (
        "Skin pacing open, pads said not connected"
    ),
    "clinical.remark.pulse_may_twitch": "A pulse under pads may be muscle twitch",
    "clinical.remark.skin_readings_disagree": (
        "Skin pacing: readings of capture disagree"
    ),
    "clinical.remark.standby_not_told": "Capture proven, nothing told of pads",
    "clinical.remark.standby_off": "Capture proven, pads not on standby",
}
