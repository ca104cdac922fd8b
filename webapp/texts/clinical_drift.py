"""What is said after the procedure: what is due, a threshold that rises, a move."""

CLINICAL_DRIFT: dict[str, str] = {
    "clinical.remark.drift_projected": (
        "Margin {margin} by the next test, below {floor}"
    ),
    "clinical.more.drift_projected": (
        "Worked out from the thresholds in this position: median of their slopes."
    ),
    "clinical.remark.drift_risen": "Threshold {first} to {last} mA in this position",
    "clinical.remark.depth_moved": "Depth {before} to {after} cm: moved",
    "clinical.remark.due_look_check": "Look-check due {late} ago",
    "clinical.remark.due_threshold": "Threshold test due {late} ago",
    "clinical.asks.threshold_by": "Policy asks: tested by {roles} only.",
    "clinical.remark.due_need_review": "Wire in for {hours} h: still needed?",
    "clinical.more.due_need_review": (
        "Infection: 20 % of wires in for over 48 h, 4 % of shorter ones (Betts 2003)."
    ),
    "clinical.remark.due_infection": "Wire in for over {hours} h: site looked at?",
    "clinical.more.due_infection": (
        "Infection: 20 % of wires in for over 48 h, 4 % of shorter ones (Betts 2003)."
    ),
    "clinical.remark.due_dwell": "Wire in for {days} d",
    "clinical.more.due_dwell": (
        "Policy asks: balloon fully down first, then changed by a new puncture, or out."
    ),
    "clinical.due.look_check": "Look-check",
    "clinical.due.threshold": "Threshold test",
    "clinical.due.need_review": "Still needed?",
    "clinical.due.infection": "Site looked at",
    "clinical.due.dwell": "Wire changed or out",
}
