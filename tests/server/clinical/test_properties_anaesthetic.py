"""What holds for the limit of lidocaine, whoever gets it.

Source of each property: clinical sections 16 and 27 (fixtures/sources.md).
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from tests.support.clinical_told import fold_of
from webapp.clinical import policy
from webapp.clinical.anaesthetic import anaesthetic_sum
from webapp.clinical.exact import decimal, number
from webapp.clinical.told import Told

SHIPPED = policy.load()
tenths = st.integers(2, 7000).map(lambda n: Fraction(n, 10))


@given(tenths, tenths, st.sampled_from(("yes", "no")), st.booleans())
def test_more_weight_never_lowers_the_limit_of_the_anaesthetic(
    one: Fraction, other: Fraction, adrenaline: str, is_child: bool
) -> None:
    light, heavy = sorted((one, other))
    limits = [_limit(weight, adrenaline, is_child) for weight in (light, heavy)]
    assert None not in limits
    assert limits[0] <= limits[1]


@given(tenths, st.sampled_from(("yes", "no")))
def test_the_limit_of_the_anaesthetic_is_never_above_its_cap(
    weight: Fraction, adrenaline: str
) -> None:
    cap = {"yes": 500, "no": 300}[adrenaline]
    assert _limit(weight, adrenaline, is_child=False) <= cap


def _limit(weight: Fraction, adrenaline: str, is_child: bool) -> Any:
    row = {"agent": "lidocaine", "strength": "1 %", "volume": "5 mL"}
    age = "9 a" if is_child else "64 a"
    told = [
        {"path": "patient.estimated_age", "set": age},
        {"path": "patient.weight", "set": f"{decimal(weight)} kg"},
        {
            "path": "approach.local_anaesthetic",
            "add": {**row, "with_adrenaline": adrenaline},
        },
    ]
    return number(anaesthetic_sum(Told(fold_of(told), SHIPPED)).limit_mg)
