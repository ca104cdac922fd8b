"""What the electrical panel of the desk says; every number there is calculated."""

CLINICAL_ELECTRICAL: dict[str, str] = {
    "clinical.electrical.calculated": "calculated, not measured, and no threshold",
    "clinical.electrical.impedance": "Impedance of this wire {ohm} Ω, measured",
    "clinical.electrical.impedance_unusual": "usual 200 to 2000 Ω",
    "clinical.electrical.no_impedance": (
        "No impedance measured for this wire: volts and milliamps stay apart."
    ),
    "clinical.electrical.no_width": "Pulse width not said: no charge, no energy.",
    "clinical.electrical.volts": "{value} V, calculated",
    "clinical.electrical.milliamps": "{value} mA, calculated",
    "clinical.electrical.charge": "{value} µC",
    "clinical.electrical.energy": "{value} µJ",
    "clinical.electrical.rheobase": (
        "Rheobase {value} mA if the chronaxie is {chronaxie} ms"
    ),
    "clinical.electrical.chronaxie": (
        "Published chronaxies disagree, 0.3 ms and 2 ms: both are shown."
    ),
}
