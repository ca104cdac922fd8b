"""What is said about how deep a wire lies: bands, limits, loops, rings, the tick."""

CLINICAL_DEPTH: dict[str, str] = {
    "clinical.remark.depth_fits": "Depth fits; place not proven",
    "clinical.more.depth_fits": (
        "The band is derived from pulmonary artery catheters."
    ),
    "clinical.remark.too_deep_coil": "{depth} cm: coil, loop or too deep?",
    "clinical.more.too_deep_coil": (
        "No capture and no RV pattern in this pass, or resistance. The limit is derived"
        " from pulmonary artery catheters."
    ),
    "clinical.remark.deeper_than_usual": "{depth} cm: deeper than usual",
    "clinical.more.deeper_than_usual": (
        "The limit is derived from pulmonary artery catheters."
    ),
    "clinical.remark.coil": "{advance} cm in the same chamber: loop?",
    "clinical.more.coil": (
        "The distance is taken from pulmonary artery catheters that had coiled."
    ),
    "clinical.remark.resistance": "Resistance, or cannot be moved",
    "clinical.remark.rings_disagree": (
        "{rings} rings, {out} cm out: {by_rings}; called {depth} cm"
    ),
    "clinical.asks.coil": (
        "Policy asks: stop, balloon down, then pull back to where it last changed; do"
        " not force."
    ),
    "clinical.asks.image_deep": "Policy asks: image.",
    "clinical.asks.stop_film": "Policy asks: stop, do not pull, film.",
    "clinical.depth.band.before_ra": "before the atrium",
    "clinical.depth.band.ra": "right atrium",
    "clinical.depth.band.rv": "RV inflow or body",
    "clinical.depth.band.rv_apex": "RV apex, stable capture",
    "clinical.tick": "Start of atrium by height, {cm} cm: {formula}.",
    "clinical.tick.adult_neck": (
        "height ÷ 10, Peres 1990; right in about 74 %, 62.5 % if BMI > 35"
    ),
    "clinical.tick.adult_subclavian": (
        "height ÷ 10 − 2, Peres 1990; right in about 74 %, 62.5 % if BMI > 35"
    ),
    "clinical.tick.child_short": "height ÷ 10 − 1, Andropoulos 2001, from memory",
    "clinical.tick.child_tall": "height ÷ 10 − 2, Andropoulos 2001, from memory",
}
