"""What is found around the procedure: refusal, barrier, sedation, passes, arrest."""

from __future__ import annotations

from webapp.clinical.barrier import barrier_remarks
from webapp.clinical.blind_pacing import blind_pacing_remarks
from webapp.clinical.found import Found
from webapp.clinical.passes import passes_remarks
from webapp.clinical.refusal import refusal_remarks
from webapp.clinical.sedation import sedation_remarks
from webapp.clinical.told import Told


def around_remarks(told: Told) -> list[Found]:
    """Return the remarks on the case around the procedure."""
    return [
        *refusal_remarks(told),
        *barrier_remarks(told),
        *sedation_remarks(told),
        *passes_remarks(told),
        *blind_pacing_remarks(told),
    ]
