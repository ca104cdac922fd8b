"""Everything found in a record, heavier first: the one list all surfaces read.

An area is a function of the record alone; none writes, none blocks, none orders.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from webapp.clinical.around_remarks import around_remarks
from webapp.clinical.balloon_remarks import balloon_remarks
from webapp.clinical.capture_remarks import capture_remarks
from webapp.clinical.complications_remarks import complications_remarks
from webapp.clinical.depth_remarks import depth_remarks
from webapp.clinical.drift_remarks import drift_remarks
from webapp.clinical.drugs_remarks import drugs_remarks
from webapp.clinical.found import Found, heavier_found
from webapp.clinical.handing_remarks import handing_remarks
from webapp.clinical.kit_remarks import kit_remarks
from webapp.clinical.labs_remarks import labs_remarks
from webapp.clinical.outcome_remarks import outcome_remarks
from webapp.clinical.pattern_remarks import pattern_remarks
from webapp.clinical.place_remarks import place_remarks
from webapp.clinical.policy import Policy
from webapp.clinical.rate_remarks import rate_remarks
from webapp.clinical.sensing_area import sensing_area
from webapp.clinical.settings_remarks import settings_remarks
from webapp.clinical.skin_pacing_remarks import skin_pacing_remarks
from webapp.clinical.told import Told

# In the order of the parts: of two equally heavy, the earlier is said first.
AREAS: dict[str, Callable[[Told], list[Found]]] = {
    "labs": labs_remarks,
    "around": around_remarks,
    "drugs": drugs_remarks,
    "skin_pacing": skin_pacing_remarks,
    "kit": kit_remarks,
    "depth": depth_remarks,
    "pattern": pattern_remarks,
    "balloon": balloon_remarks,
    "capture": capture_remarks,
    "place": place_remarks,
    "complications": complications_remarks,
    "sensing": sensing_area,
    "settings": settings_remarks,
    "rate": rate_remarks,
    "drift": drift_remarks,
    "handing": handing_remarks,
    "outcome": outcome_remarks,
}


def case_remarks(
    fold: dict[str, Any], policy: Policy, *, now_ms: int | None = None
) -> tuple[Found, ...]:
    """Return every remark on a record, heavier first, each once.

    `fold`: as `record.fold` gives it; `now_ms`: Unix milliseconds, None for a record
    that is read afterwards.
    """
    told = Told(fold, policy, now_ms)
    return heavier_found(one for area in AREAS.values() for one in area(told))
