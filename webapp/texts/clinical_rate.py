"""What is said about the rate: beside the own rhythm, rapid pacing, torsades."""

CLINICAL_RATE: dict[str, str] = {
    "clinical.remark.rate_below_own": "Rate {rate}, own {own} /min: own will win",
    "clinical.remark.rapid_ventricular": "Ventricle at {rate} /min: VF risk",
    "clinical.asks.defibrillator": "Policy asks: defibrillator charged?",
    "clinical.remark.rapid_again": "{rate} /min: asked a second time, then taken",
    "clinical.remark.rapid_chamber_unsaid": "Rapid at {rate} /min: which chamber?",
    "clinical.remark.atrial_rapid": "Rapid atrial pacing: is this wire atrial?",
    "clinical.remark.torsades_rate_low": "Paced {rate} /min: torsades may come back",
    "clinical.more.torsades_rate_low": (
        "None was seen at an effective rate above the limit."
    ),
    "clinical.remark.torsades_again": "Torsades again at {rate} /min",
    "clinical.remark.torsades_again_unsaid": "Torsades again, paced rate not said",
    "clinical.asks.torsades": (
        "Policy asks: sensing checked for a long QT, a faster rate, magnesium."
    ),
}
