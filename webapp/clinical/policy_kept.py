"""A policy as text, so that a record can be read by the limits it began with."""

from __future__ import annotations

import json
from dataclasses import asdict
from functools import lru_cache
from types import MappingProxyType

from webapp.clinical.policy import Policy, load
from webapp.clinical.policy_rows import Row


def written(policy: Policy) -> str:
    """Return all rows of a policy as JSON: the same policy gives the same text."""
    rows = {key: asdict(row) for key, row in policy.rows.items()}
    told = {"version": policy.version, "rows": rows}
    return json.dumps(told, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


# A limit of ours: a site has few policies in a year.
MOST_KEPT = 32


@lru_cache(maxsize=MOST_KEPT)
def read_back(text: str) -> Policy:
    """Return a policy as it was written. Nothing is checked anew: it was in force.

    A limit that nobody had when it was written is the shipped one.
    """
    told = json.loads(text)
    kept = {
        key: Row(**{**row, "values": tuple(row["values"])})
        for key, row in told["rows"].items()
    }
    return Policy(told["version"], MappingProxyType({**load().rows, **kept}))
