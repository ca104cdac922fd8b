"""Any answer to a field of the catalogue, half of its numbers at a limit of the policy."""

from __future__ import annotations

import ast
import re
from decimal import Decimal
from functools import lru_cache
from pathlib import Path
from random import Random
from typing import Any

from webapp.catalogue.model import Field
from webapp.clinical import policy

CLINICAL = Path(policy.__file__).parent
ABSENT = ("not_known", "not_asked", "not_done")
TEXTS = ("0.1 to 20 by 0.1", "1 to 20 by 0.5", "0.1 to 1 by 0.1, 1 to 20 by 1", "x", "")
_PLAIN = re.compile(r"-?[0-9]+(\.[0-9]+)?")


@lru_cache(maxsize=1)
def words_of_the_code() -> tuple[str, ...]:
    """Return the short texts that what is computed looks for."""
    found = {
        node.value
        for file in sorted(CLINICAL.glob("*.py"))
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and 0 < len(node.value) <= 24
    }
    return tuple(sorted(found))


@lru_cache(maxsize=1)
def limits_by_unit() -> dict[str, tuple[Decimal, ...]]:
    """Return the shipped limits, their multiples among them, by unit."""
    found: dict[str, list[Decimal]] = {}
    for row in policy.load().rows.values():
        for text in row.values:
            if row.unit and _PLAIN.fullmatch(text):
                found.setdefault(row.unit, []).append(Decimal(text))
    return {unit: tuple(told) for unit, told in found.items()}


class Answers:
    """A source of answers, the same for the same chance."""

    def __init__(self, chance: Random) -> None:
        self.chance = chance

    def answer(self, field: Field, utc: str) -> Any:
        """Return one answer to a field that is no group; `utc`: about when."""
        if self.chance.random() < 0.04:
            return {"absent": self.chance.choice(ABSENT)}
        if field.kind == "qty":
            return self.quantity(field)
        if field.kind in ("one", "many"):
            return self._picked(field)
        if field.kind == "yn":
            return self.chance.choice(("yes", "no"))
        if field.kind == "moment":
            return self._moment(utc)
        if field.kind == "date":
            return self._date()
        if field.kind in ("text", "prose"):
            return self._text()
        return {"person": None, "name": "E. Tarn-Example", "role": "operator"}

    def quantity(self, field: Field) -> dict[str, Any]:
        """Return a number on the field's steps; sometimes a bound, a range, none."""
        unit = self.chance.choice((field.unit, field.unit, *field.units))
        text = _text(self._number(field, unit))
        roll = self.chance.random()
        if roll < 0.80:
            return {"as": text, "n": text, "unit": unit}
        if roll < 0.86:
            sign = self.chance.choice((">", "<", ">=", "<="))
            return {"as": f"{sign}{text}", "cmp": sign, "n": text, "unit": unit}
        if roll < 0.91:
            high = _text(self._number(field, unit))
            low, high = sorted((text, high), key=Decimal)
            return {"as": f"{low}-{high}", "low": low, "high": high, "unit": unit}
        if roll < 0.95:
            special = self.chance.choice(("maximum", "low", "high"))
            return {"as": special, "special": special, "unit": unit}
        if roll < 0.98:
            return {"as": text, "n": text, "unit": ""}
        return {"as": "abc", "unit": unit}

    def _number(self, field: Field, unit: str) -> Decimal:
        step, chance = Decimal(field.step or "1"), self.chance
        beside = chance.choice((-1, 0, 0, 1)) * step
        limits = limits_by_unit().get(unit, ())
        if limits and chance.random() < 0.5:
            return max(Decimal(0), chance.choice(limits) + beside)
        hard, soft = field.hard, field.soft or field.hard
        if hard is None or soft is None:
            return chance.randint(0, 40) * step
        if chance.random() < 0.06:
            return Decimal(chance.choice((hard.low, hard.high))) + beside
        low = Decimal(soft.low)
        steps = int(min(Decimal(soft.high) - low, 400 * step) // step)
        return low + chance.randint(0, max(steps, 0)) * step

    def _picked(self, field: Field) -> Any:
        known = field.choices or ()
        several = 1 if field.kind == "one" else self.chance.randint(1, 3)
        told = [
            {choice.code: self._text()}
            if choice.takes_text and self.chance.random() < 0.5
            else choice.code
            for choice in self.chance.sample(known, min(several, len(known)))
        ]
        return told if field.kind == "many" else told[0]

    def _text(self) -> str:
        return self.chance.choice((*TEXTS, self.chance.choice(words_of_the_code())))

    def _moment(self, utc: str) -> dict[str, Any]:
        roll = self.chance.random()
        if roll < 0.06:
            return {"day": utc[:10], "certainty": "day"}
        if roll < 0.1:
            return {"as": "second day", "certainty": "unreadable"}
        return {
            "utc": utc,
            "zone": "Europe/Oslo",
            "offset_min": 60,
            "certainty": self.chance.choice(("exact", "exact", "about")),
            "clock": self.chance.choice(("tablet", "tablet", "wall")),
        }

    def _date(self) -> dict[str, Any]:
        """Return a birth date, often within a day of where an age begins."""
        year = 2031 - self.chance.choice((0, 1, 12, 14, 17, 18, 19, 21, 40, 70, 90))
        day = f"{year}-11-{self.chance.choice((23, 24, 25))}"
        return {"as": day, "date": day}


def _text(value: Decimal) -> str:
    text = format(value, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text
