"""A site's rulings on rules: the later one stands, nothing is edited."""

from __future__ import annotations

from datetime import date

import pytest

from webapp.coding.rules import load_rules
from webapp.coding.site import (
    SiteCoding,
    UnusableSiteCoding,
    as_ruled,
    read_rulings,
)

TEXT = """
[[ruling]]
rule = "dx-junctional"
by = "A. Coder-Example, CCS"
on = 2031-03-01
verdict = "confirm"

[[ruling]]
rule = "dx-sinus-arrest"
by = "A. Coder-Example, CCS"
on = 2031-02-01
verdict = "confirm"

[[ruling]]
rule = "dx-sinus-arrest"
by = "B. Coder-Example, CPC"
on = 2031-04-01
verdict = "retire"
"""


def test_a_named_coder_confirms_a_rule_from_memory():
    site = SiteCoding(rulings=read_rulings(TEXT))
    ruled = {rule.id: rule for rule in as_ruled(load_rules(), site)}
    assert ruled["dx-junctional"].confirmed_by == "A. Coder-Example, CCS"
    assert ruled["dx-junctional"].confirmed_on == date(2031, 3, 1)


def test_the_later_ruling_stands():
    site = SiteCoding(rulings=read_rulings(TEXT))
    assert "dx-sinus-arrest" not in {r.id for r in as_ruled(load_rules(), site)}


def test_without_rulings_the_rules_stand_as_shipped():
    assert as_ruled(load_rules(), SiteCoding()) == load_rules()


@pytest.mark.parametrize(
    "text",
    [
        "[[ruling]]\nrule = 'a'\nby = 'b'\non = 2031-01-01\nverdict = 'maybe'",
        "[[ruling]]\nrule = 'a'\nby = ''\non = 2031-01-01\nverdict = 'confirm'",
        "[[ruling]]\nrule = 'a'\nby = 'b'\non = 'soon'\nverdict = 'confirm'",
        "[[ruling]]\nrule = 'a'\nby = 'b'\nverdict = 'confirm'",
        "something else",
        "",
    ],
    ids=["verdict", "nobody", "date", "no date", "not toml", "no ruling"],
)
def test_a_ruling_that_lacks_a_word_is_refused(text):
    with pytest.raises(UnusableSiteCoding):
        read_rulings(text)
