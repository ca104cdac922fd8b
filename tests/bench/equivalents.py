"""Changes that no input can tell from the code: each named, with the reason.

They stand in `equivalent.toml` beside this file, one table each: `module`, `line` (its
text), `was`, `now` and `why`. One that no longer survives is stale, and fails.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path

FILE = Path(__file__).with_name("equivalent.toml")
_NAMES = {"module", "line", "was", "now", "why"}


@dataclass(frozen=True, slots=True)
class Spot:
    """One change by what it is, wherever its line stands now.

    `module`: without ending; of a limit "policy.toml", and its key as `line`.
    """

    module: str
    line: str
    was: str
    now: str

    def __str__(self) -> str:
        return f"{self.module}: {self.line}: {self.was}  ->  {self.now}"


def named(file: Path, modules: Collection[str]) -> Counter[Spot]:
    """Return what is named of these modules. Raises ValueError: for one without why."""
    told = tomllib.loads(file.read_text(encoding="utf-8")).get("equivalent", [])
    found: Counter[Spot] = Counter()
    for one in told:
        if set(one) != _NAMES or not all(str(text).strip() for text in one.values()):
            raise ValueError(f"{file.name}: {one} does not tell {sorted(_NAMES)}")
        if one["module"] in modules:
            found[Spot(one["module"], one["line"], one["was"], one["now"])] += 1
    return found


@dataclass(frozen=True, slots=True)
class Outcome:
    """`survived`: what no example notices and nobody named; `stale`: named for nothing;
    `excused`: how many survive as named.
    """

    survived: list[Spot]
    stale: list[Spot]
    excused: int


def outcome(unnoticed: Counter[Spot], told: Counter[Spot]) -> Outcome:
    """Return what unnoticed changes come to, beside those that are named."""
    survived, stale = unnoticed - told, told - unnoticed
    excused = (unnoticed & told).total()
    return Outcome(list(survived.elements()), list(stale.elements()), excused)
