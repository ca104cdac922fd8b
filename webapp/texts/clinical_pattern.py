"""What is said about patterns on the way, and before the valve is crossed."""

CLINICAL_PATTERN: dict[str, str] = {
    "clinical.remark.cold_cel": "Temperature {temperature} °C: severe hypothermia",
    "clinical.remark.cold_degf": "Temperature {temperature} °F: severe hypothermia",
    "clinical.remark.cold_said": "Severe hypothermia said",
    "clinical.more.cold_cel": "The heart is irritable when cold: VF.",
    "clinical.more.cold_degf": "The heart is irritable when cold: VF.",
    "clinical.more.cold_said": "The heart is irritable when cold: VF.",
    "clinical.remark.contact": "Contact pattern at {depth} cm.",
    "clinical.more.contact": (
        "Not proof of place: check capture, paced 12-lead, film or ultrasound."
    ),
    "clinical.remark.contact_lost": "Contact pattern before, none now",
    "clinical.remark.filter_femoral": "Vena cava filter, femoral way in",
    "clinical.remark.fresh_leads": "Permanent leads {days} d old",
    "clinical.remark.ivc": "P upright and everything smaller: IVC?",
    "clinical.remark.left_bundle": "Left bundle branch block, pads not ready",
    "clinical.remark.left_bundle_not_known": (
        "Left bundle block not known, pads not ready"
    ),
    "clinical.more.left_bundle": (
        "A wire may block the right bundle too: 3 % of 279 catheterisations (Crit Care"
        " Med 1989;17:1)."
    ),
    "clinical.more.left_bundle_not_known": (
        "A wire may block the right bundle too: 3 % of 279 catheterisations (Crit Care"
        " Med 1989;17:1)."
    ),
    "clinical.remark.mechanical_tricuspid": "Mechanical tricuspid valve in the way",
    "clinical.more.mechanical_tricuspid": "A wire may be caught in it, or damage it.",
    "clinical.remark.outflow": "Outflow or PA pattern: past the ventricle?",
    "clinical.remark.p_waves_contradict": (
        "Atrial pattern read, P waves said to be none"
    ),
    "clinical.remark.st_in_atrium": "ST shift: atrial or coronary sinus contact?",
    "clinical.remark.st_large": "ST {mv} mV, above {limit} mV",
    "clinical.more.st_large": "The figure is from permanent leads.",
    "clinical.remark.tricuspid_repair": "Tricuspid bioprosthesis, repair or clip",
    "clinical.remark.vt": "VT with the wire in the heart",
    "clinical.remark.vf": "VF with the wire in the heart",
    "clinical.remark.vt_or_vf": "VT or VF with the wire in the heart",
    "clinical.remark.vt_vf_no_pulse": "VT or VF, no pulse",
    "clinical.asks.atrium": (
        "Policy asks: balloon down, then pull back to the atrium."
    ),
    "clinical.asks.crossing_avoided": "Policy asks: crossing avoided.",
    "clinical.asks.pads_before_crossing": (
        "Policy asks: pads connected and ready before crossing."
    ),
    "clinical.asks.rv": "Policy asks: balloon down, then pull back to the RV.",
    "clinical.asks.vt_vf": (
        "Policy asks: balloon down, then pull back into the atrium; defibrillate if"
        " sustained."
    ),
}
