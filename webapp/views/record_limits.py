"""The limits that one record is computed by, for every page and paper about it."""

from __future__ import annotations

from webapp.app_db import get_db, limits
from webapp.clinical.policy import Policy
from webapp.record import pinned_limits


def began_with(record: str) -> Policy:
    """Return the limits a record began with; those in use for one that is not here."""
    return pinned_limits.limits_of(get_db(), record, limits())
