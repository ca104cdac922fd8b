"""What is said where a patient is handed over or moved, and a wire taken out."""

CLINICAL_HANDING: dict[str, str] = {
    "clinical.remark.handover_rate": "Rate left at {sent}, read {read} /min",
    "clinical.remark.handover_output": "Output left at {sent}, read {read} {unit}",
    "clinical.remark.handover_left_maximum": (
        "Output left at maximum, read {read} {unit}"
    ),
    "clinical.remark.handover_read_maximum": (
        "Output left at {sent} {unit}, read maximum"
    ),
    "clinical.remark.handover_sensitivity": "Sensing left at {sent}, read {read} mV",
    "clinical.remark.handover_mode": "Mode left at {sent}, read {read}",
    "clinical.remark.handover_asynchronous": "Sensing left at {sent} mV, read as none",
    "clinical.remark.handover_sensing": "Left asynchronous, {read} mV read",
    "clinical.remark.handover_depth": "Depth left at {sent}, read {read} cm",
    "clinical.remark.handover_open": "Handed over: no receiver yet",
    "clinical.remark.transfer_without_pads": "Own rhythm not reliable: pads not ready",
    "clinical.more.transfer_without_pads": (
        "Transfer with no own rhythm to rely on, or one not tested."
    ),
    "clinical.asks.pads_connected": "Policy asks: pads connected, pacing mode ready.",
    "clinical.remark.transfer_moved": "Depth {before} to {after} cm on the way",
    "clinical.remark.removal_dependent": "Own rhythm not reliable as it comes out",
    "clinical.asks.own_rhythm_first": (
        "Policy asks: own rhythm with pacing turned down, pads connected, ready."
    ),
    "clinical.remark.removal_balloon_up": "Balloon still up before it comes out",
    "clinical.remark.removal_balloon_some_left": (
        "Balloon not fully down before it comes out"
    ),
    "clinical.asks.balloon_then_out": (
        "Policy asks: balloon fully down, syringe drawn back empty, then withdraw."
    ),
    "clinical.remark.removal_balloon_not_down": "Wire out, balloon not fully down",
    "clinical.remark.removal_balloon_unsaid": "Wire out: was the balloon down?",
    "clinical.remark.removal_syringe": "Syringe not drawn back empty",
    "clinical.remark.removal_resistance": "Resistance as it came out",
    "clinical.asks.stop_and_film": "Policy asks: stop, film.",
    "clinical.remark.removal_tip_missing": "Tip not complete",
    "clinical.remark.removal_electrodes_missing": "Electrodes not complete",
    "clinical.remark.removal_length_missing": "Length not complete",
    "clinical.remark.removal_not_completed": "Not out yet: knot or entrapment",
    "clinical.asks.removal_elsewhere": (
        "Policy asks: site, operators and day of what took it out."
    ),
}
