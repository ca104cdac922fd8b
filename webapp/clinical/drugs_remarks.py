"""What is found about drugs: local anaesthetic, atropine, infusions, blood thinners."""

from __future__ import annotations

from webapp.clinical.anaesthetic_remarks import anaesthetic_remarks
from webapp.clinical.atropine import atropine_remarks
from webapp.clinical.found import Found
from webapp.clinical.infusions import infusion_remarks
from webapp.clinical.thinners import thinner_remarks
from webapp.clinical.told import Told


def drugs_remarks(told: Told) -> list[Found]:
    """Return the remarks on everything given, and on what thins the blood."""
    return [
        *thinner_remarks(told),
        *atropine_remarks(told),
        *infusion_remarks(told),
        *anaesthetic_remarks(told),
    ]
