"""What is found about laboratory values; worded as in `webapp/texts/clinical.py`."""

CLINICAL_LABS: dict[str, str] = {
    "clinical.remark.impossible_height": "Height {typed} {unit}: cannot be, not used",
    "clinical.remark.impossible_inr": "INR {typed}: cannot be, not used",
    "clinical.remark.impossible_magnesium": (
        "Magnesium {typed} {unit}: cannot be, not used"
    ),
    "clinical.remark.impossible_ph": "pH {typed}: cannot be, not used",
    "clinical.remark.impossible_platelets": (
        "Platelets {typed} {unit}: cannot be, not used"
    ),
    "clinical.remark.impossible_potassium": (
        "Potassium {typed} {unit}: cannot be, not used"
    ),
    "clinical.remark.impossible_temperature": ("Temperature {typed} {unit}: cannot be"),
    "clinical.remark.impossible_weight": "Weight {typed} {unit}: cannot be, not used",
    "clinical.remark.magnesium_mg_dl": "Magnesium {typed} mmol/L: mg/dL meant?",
    "clinical.remark.magnesium_unit": "Magnesium {typed} without unit: which?",
    "clinical.remark.potassium_is_high": ("Potassium {typed} mmol/L: capture may fail"),
    "clinical.more.potassium_is_high": (
        "The threshold may be raised and capture may fail until potassium falls. Policy"
        " asks: both treated at the same time."
    ),
    "clinical.remark.potassium_is_low": "Potassium {typed} mmol/L: low",
    "clinical.remark.potassium_mg_dl": "Potassium {typed} mmol/L: mg/dL meant?",
    "clinical.remark.potassium_mmol_l": "Potassium {typed} mg/dL: mmol/L meant?",
    "clinical.remark.potassium_unit": "Potassium {typed} without unit: which?",
    "clinical.remark.temperature_cel": "Temperature {typed} °F: degrees C meant?",
    "clinical.remark.temperature_degf": "Temperature {typed} °C: degrees F meant?",
    "clinical.remark.temperature_unit": "Temperature {typed} without unit: degrees F?",
}
