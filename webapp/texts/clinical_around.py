"""What is found around the procedure; worded as in `webapp/texts/clinical.py`."""

CLINICAL_AROUND: dict[str, str] = {
    "clinical.asks.change_operator_or_site": (
        "Policy asks: another operator, or another site?"
    ),
    "clinical.asks.replace_line": (
        "Policy asks: replace or re-site, at the latest {hours} h after placing."
    ),
    "clinical.remark.barrier_not_full": "Barrier not full: line for {hours} h at most",
    "clinical.remark.barrier_overdue": "Barrier not full: line in for {elapsed}",
    "clinical.remark.blind_pacing": "Blind pacing in asystole: yield is low",
    "clinical.remark.chlorhexidine_preterm": "Chlorhexidine on a preterm infant",
    "clinical.remark.chlorhexidine_young": "Chlorhexidine on a very young infant",
    "clinical.more.chlorhexidine_young": "Younger than two months.",
    "clinical.remark.passes_many": "{count} failed passes by one operator",
    "clinical.remark.refusal_known": "Known refusal: no emergency exception",
    "clinical.remark.refusal_stands": "Refused, yet begun: a capable refusal stands",
    "clinical.remark.sedation_unobserved": "Sedation: {elapsed} without observation",
}
