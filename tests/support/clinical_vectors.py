"""The worked examples of what is computed, by file, as `fixtures/vectors/` has them."""

from __future__ import annotations

import json
from functools import lru_cache
from pathlib import Path
from typing import Any

VECTORS = Path(__file__).resolve().parents[2] / "fixtures" / "vectors"


@lru_cache(maxsize=1)
def worked() -> dict[str, list[dict[str, Any]]]:
    """Return the examples that name a function; the catalogue's own files have none."""
    found = {}
    for file in sorted(VECTORS.glob("*.json")):
        cases = json.loads(file.read_text(encoding="utf-8")).get("cases", [])
        if cases and all("function" in case for case in cases):
            found[file.stem] = cases
    return found


def agrees(found: Any, expected: Any) -> bool:
    """Tell whether all that is expected is found; other keys of an object are free."""
    if isinstance(expected, dict) and isinstance(found, dict):
        found = {**found, **found.get("remark", {})}
        codes = [r["code"] for r in found.get("remarks", [])]
        weights = [r["weight"] for r in found.get("remarks", [])]
        told = {**found, "remark_codes": codes, "weights": weights}
        return all(k in told and agrees(told[k], v) for k, v in expected.items())
    if isinstance(expected, list) and isinstance(found, list):
        pairs = zip(found, expected, strict=False)
        return len(found) == len(expected) and all(agrees(f, e) for f, e in pairs)
    return bool(found == expected)
