"""Every field of the record, declared once, as data."""

from __future__ import annotations

from webapp.catalogue.lookup import Catalogue
from webapp.catalogue.parts import (
    advance,
    approach,
    capture,
    checks,
    consent,
    desk,
    finish,
    handover,
    indication,
    patient,
    removal,
)

CATALOGUE = Catalogue(
    version=5,
    parts=(
        patient.PART,
        indication.PART,
        consent.PART,
        approach.PART,
        advance.PART,
        capture.PART,
        finish.PART,
        handover.PART,
        checks.PART,
        removal.PART,
    ),
    top=desk.TOP,
    remark=desk.REMARK,
)
