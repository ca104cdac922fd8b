"""What is said where outcome, endings and rows do not agree."""

CLINICAL_OUTCOME: dict[str, str] = {
    "clinical.remark.outcome_no_capture": "Outcome capturing; last said: no capture",
    "clinical.remark.outcome_captures": "Outcome not capturing; last said: captures",
    "clinical.remark.outcome_paced": "Outcome not paced; pacing delivered is yes",
    "clinical.remark.outcome_wire_in": "Outcome wire not in; depth or settings left",
    "clinical.remark.outcome_begun": "Outcome not started; readings are recorded",
    "clinical.remark.outcome_no_rhythm": "Outcome own rhythm back; last said: none",
    "clinical.remark.outcome_alive": "Outcome died; other condition on leaving",
    "clinical.remark.ending_not_event": "Ending and what happened do not agree",
    "clinical.remark.ending_still_in": "Ending with the wire in; time out is said",
    "clinical.remark.ending_no_rhythm": "Ending rhythm back; last said: none",
    "clinical.remark.replaced_unsaid": "Replaced: by which wire is not said",
    "clinical.remark.replaced_early": "Out before the next wire was said to capture",
    "clinical.remark.after_out": "Entries of this wire after it was out",
    "clinical.remark.wires_mixed": "Reading of one wire, test of another",
}
