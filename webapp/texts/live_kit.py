"""What stands at the kit: size keys, cross-section, whether the wire passes."""

LIVE_KIT: dict[str, str] = {
    "bring.key": "What to fetch",
    "bring.note": "This hospital's list, by kind of case. Local protocol decides.",
    "bring.title": "What to fetch",
    "kit.drawn": (
        "Cross-section to scale: sheath {sheath} mm inside, wire {wire} mm across"
    ),
    "kit.fit": "Wire in sheath, to scale",
    "kit.introducer": "Introducer",
    "kit.sizes": "{name}: common sizes",
    "kit.millimetre": "1 mm",
    "kit.not_said": "not said",
    "kit.none": "No size is said yet.",
    "kit.one_missing": "The other size is not said yet.",
    "kit.sheath_mm": "sheath {mm} mm",
    "kit.size_named": "{label} {fr} Fr",
    "kit.wire": "Pacing wire",
    "kit.wire_mm": "wire {mm} mm",
}
