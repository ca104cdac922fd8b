"""What holds for every record, whatever was entered, by whom and in which order.

Source of each property: clinical sections 1, 8 and 27 (fixtures/sources.md).
"""

from __future__ import annotations

import re
from dataclasses import asdict
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from tests.support.clinical_calls import policy_of
from tests.support.clinical_drawn_records import WIRES, Drawn
from webapp.clinical import policy
from webapp.clinical.case_remarks import case_remarks
from webapp.clinical.exact import number
from webapp.clinical.left_at import dial_in_use
from webapp.clinical.readings import threshold_summary
from webapp.record.fold import fold

SHIPPED = policy.load()
SETTINGS = ("dial_left_at", "output_reading", "sensing_reading", "depth_reading")
seeds = st.integers(0, 2**32)


@given(seeds, st.randoms(use_true_random=False))
def test_the_order_of_arrival_changes_no_remark(seed: int, chance: Any) -> None:
    entries = Drawn(seed).entries()
    mixed = chance.sample(entries, len(entries))
    first, again = (case_remarks(fold(told), SHIPPED) for told in (entries, mixed))
    assert [asdict(one) for one in first] == [asdict(one) for one in again]


@given(seeds)
def test_no_output_asked_is_above_the_dial_of_the_generator_in_use(seed: int) -> None:
    given_ = Drawn(seed).record()
    for wire in WIRES:
        asked = threshold_summary(given_["fold"], wire, policy_of(given_)).asks
        output = number(asked.output) if asked else None
        dial, _ = dial_in_use(given_["fold"], wire)
        assert output is None or output <= dial.highest


@given(seeds)
def test_what_is_said_to_a_remark_is_written_at_no_setting(seed: int) -> None:
    given_ = Drawn(seed).record()
    for found in case_remarks(given_["fold"], policy_of(given_)):
        assert re.fullmatch(r"[a-z][a-z_]*", found.name)
        assert not any(name in found.name for name in SETTINGS)
