"""A policy as text, so that a record can be read by the limits it began with."""

from __future__ import annotations

import hashlib
import json
from dataclasses import asdict
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from webapp.clinical.policy import Policy, exported, load
from webapp.clinical.policy_rows import Row


def written(policy: Policy) -> str:
    """Return all rows of a policy as JSON: the same policy gives the same text."""
    rows = {key: asdict(row) for key, row in policy.rows.items()}
    told = {"version": policy.version, "rows": rows}
    return json.dumps(told, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def named(text: str) -> str:
    """Return the name of a policy as it was written: its SHA-256, 64 hex digits."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def handed_out(policy: Policy, text: str = "") -> dict[str, Any]:
    """Return a policy as a tablet gets it, under its name: `digest`.

    `text`: as it was written, when that was by an older server with fewer rows.
    """
    return {**exported(policy), "digest": named(text or written(policy))}


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
