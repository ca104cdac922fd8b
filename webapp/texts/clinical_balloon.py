"""What is said about the balloon; no sentence pulls a wire before it is down."""

CLINICAL_BALLOON: dict[str, str] = {
    "clinical.remark.balloon_near_sheath": (
        "Balloon up at {depth} cm: clear of the sheath?"
    ),
    "clinical.more.balloon_near_sheath": "The sheath is {length} cm long.",
    "clinical.remark.balloon_no_air_back": "No air back from the balloon",
    "clinical.remark.balloon_still_up": "Balloon still marked up: was it down?",
    "clinical.more.balloon_still_up": (
        "Was it down when you pulled back from {before} to {depth} cm?"
    ),
    "clinical.remark.balloon_up_at_end": "Balloon last marked up",
    "clinical.asks.balloon_at_end": (
        "Policy asks: balloon fully down, or what is left in it; syringe off or locked."
    ),
    "clinical.asks.change_catheter": (
        "Policy asks: stop inflating, change the catheter."
    ),
}
