"""What is said about the kit: sheath, wire, balloon volume, dilator."""

_AIR = "Air only; carbon dioxide where a shunt is known."

CLINICAL_KIT: dict[str, str] = {
    "clinical.remark.balloon_over_limit": (
        "{volume} mL in the balloon, above {bound} mL"
    ),
    "clinical.more.balloon_over_limit": _AIR,
    "clinical.remark.balloon_over_stated": (
        "{volume} mL in the balloon, stated {bound} mL"
    ),
    "clinical.more.balloon_over_stated": _AIR,
    "clinical.remark.balloon_volume": "Balloon of {volume} mL, above {bound} mL",
    "clinical.more.balloon_volume": _AIR,
    "clinical.remark.dilator_before_proof": "Dilator in, no venous proof before it",
    "clinical.asks.venous_proof": "Policy asks: venous proof comes before dilating.",
    "clinical.remark.kit_does_not_pass": (
        "{wire} Fr wire does not pass {sheath} Fr sheath"
    ),
    "clinical.remark.kit_fits": "{wire} Fr wire passes a {sheath} Fr sheath",
    "clinical.remark.kit_leaks": ("{wire} Fr in {sheath} Fr: may leak round the wire"),
    "clinical.remark.vasopressor_no_side_port": "Vasopressor here, no side port",
    "clinical.asks.side_port": "Policy asks: side port or another line.",
}
