"""What is found about drugs; how remarks are worded: `webapp/texts/clinical.py`."""

CLINICAL_DRUGS: dict[str, str] = {
    "clinical.asks.compressible": (
        "Policy asks: ultrasound, and a site that can be pressed."
    ),
    "clinical.remark.anaesthetic_at_least": (
        "Lidocaine at least {given} of {limit} mg"
    ),
    "clinical.more.anaesthetic_at_least": (
        "A dose, a strength or a volume is not stated."
    ),
    "clinical.remark.anaesthetic_cap_only": (
        "Lidocaine {given} of {limit} mg, no weight"
    ),
    "clinical.more.anaesthetic_cap_only": (
        "Without a weight the highest dose of any adult stands here."
    ),
    "clinical.remark.anaesthetic_expect_less": (
        "Lidocaine {given} of {limit} mg: expect a lower limit"
    ),
    "clinical.more.anaesthetic_expect_less": (
        "Low output, liver disease, age above 70 y or shock: expect less than the"
        " limit."
    ),
    "clinical.remark.anaesthetic_mixed": "Agents mixed: limits add up as fractions",
    "clinical.more.anaesthetic_mixed": (
        "Lidocaine is at {fraction} of its limit; no limit worked out for the other."
    ),
    "clinical.remark.anaesthetic_needs_weight": (
        "Lidocaine {given} mg: no weight, no limit"
    ),
    "clinical.remark.anaesthetic_no_limit": "No limit worked out for this anaesthetic",
    "clinical.remark.anaesthetic_over": "Lidocaine {given} mg, over {limit} mg",
    "clinical.remark.anaesthetic_vein": "Lidocaine {given} of {limit} mg",
    "clinical.remark.anaesthetic_within": (
        "Lidocaine {given} of {limit} mg, {left} mL of {strength} % left"
    ),
    "clinical.remark.atropine_at_least": "Atropine at least {total} mg, no total",
    "clinical.more.atropine_at_least": "A dose is not stated.",
    "clinical.remark.atropine_no_total": "Atropine given, dose not stated: no total",
    "clinical.remark.atropine_single_high": (
        "Atropine {dose} mg, single dose above {high} mg"
    ),
    "clinical.remark.atropine_single_low": (
        "Atropine {dose} mg, single dose below {low} mg"
    ),
    "clinical.remark.atropine_total": "Atropine {total} mg in all, above {limit} mg",
    "clinical.remark.atropine_transplant": "Heart transplant: atropine is class 3 harm",
    "clinical.remark.infusion_adrenaline": (
        "Adrenaline {dose} {unit}; range {low}–{high}"
    ),
    "clinical.remark.infusion_dobutamine": (
        "Dobutamine {dose} {unit}; range {low}–{high}"
    ),
    "clinical.remark.infusion_dopamine": "Dopamine {dose} {unit}; range {low}–{high}",
    "clinical.remark.infusion_isoprenaline": (
        "Isoprenaline {dose} {unit}; range {low}–{high}"
    ),
    "clinical.remark.infusion_no_strength": (
        "Infusion in mL/h: concentration not stated"
    ),
    "clinical.remark.thinner_no_last_dose": "Blood thinner: last dose not known",
    "clinical.remark.thinner_not_named": "Blood thinner: which, and when last?",
    "clinical.remark.thrombolysis_later": "Thrombolysis recent: site choice",
    "clinical.more.thrombolysis_later": (
        "Its time, or the time it was entered, is later than the puncture or than now."
    ),
    "clinical.remark.thrombolysis_recent": (
        "Thrombolysis {hours} h before: site choice"
    ),
    "clinical.remark.thrombolysis_when": "Thrombolysis: not known when",
    "clinical.remark.warfarin_no_inr": "On warfarin, INR not known",
}
