"""Rules are data: their shape, their paths, and three records for each."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from tests.support.records import record_names, site_of, small_record
from webapp.catalogue import CATALOGUE
from webapp.catalogue.lookup import DERIVED
from webapp.coding.conditions import leaves, paths_in
from webapp.coding.engine import judge
from webapp.coding.findings import Finding
from webapp.coding.grounds import ROW, VIEW, Grounds
from webapp.coding.questions import load_questions
from webapp.coding.rules import (
    CODERS_OWN,
    VIEWS,
    Rule,
    UnusableRule,
    load_rules,
    read_rule,
)
from webapp.coding.site import CPT_ENABLED, IMAGING_CODES, SITE, SiteCoding
from webapp.coding.tables import load_tables
from webapp.coding.worked_out import CHILDREN, HOME

RULES = load_rules()
TABLES = load_tables()
IN_WINDOW = date(2026, 5, 14)
EVERY = pytest.mark.parametrize("rule", RULES, ids=[rule.id for rule in RULES])


def confirmed(rules: tuple[Rule, ...]) -> tuple[Rule, ...]:
    """Return the rules as a named coder confirmed them, memory rules too."""
    return tuple(replace(rule, confirmed_by="A. Coder-Example, CCS") for rule in rules)


def judged(name: str, rules: tuple[Rule, ...] | None = None) -> tuple[Finding, ...]:
    """Return what the rules say of a small record, claim numbers enabled."""
    switches = frozenset([CPT_ENABLED, IMAGING_CODES])
    site = SiteCoding("", "America/New_York", switches, site_of(name))
    case = small_record(name).case
    grounds = Grounds(case, TABLES, site, VIEWS, IN_WINDOW, frozenset(VIEWS))
    return judge(rules or confirmed(RULES), grounds)


def states(name: str, rule: Rule) -> set[str]:
    """Return the states a rule gives a record in the rule's first view."""
    return {
        finding.state
        for finding in judged(name)
        if finding.rule.id == rule.id and finding.view == rule.views[0]
    }


# What rules read beside the answers of the catalogue.
BESIDE = {VIEW, *DERIVED, *HOME}
BESIDE |= {f"{group}.{c}" for group, own in CHILDREN.items() for c in own}


def real_path(rule: Rule, path: str) -> str:
    """Return where a rule's path stands in the catalogue, or what it is beside it."""
    for group in CHILDREN:
        if path.startswith(f"{group}.") and path not in BESIDE:
            return path.replace(group, HOME[group], 1)
    if not path.startswith(ROW):
        return path
    child = path.removeprefix(ROW)
    worked_out = f"{rule.for_each}.{child}"
    if worked_out in BESIDE:
        return worked_out
    return f"{HOME.get(rule.for_each, rule.for_each)}.{child}"


@EVERY
def test_every_path_a_rule_reads_is_in_the_catalogue(rule):
    for condition in rule.conditions:
        for path in (real_path(rule, p) for p in paths_in(condition)):
            if path in BESIDE or path.startswith(SITE):
                continue
            group, _, child = path.rpartition(".")
            parent = CATALOGUE.field(group)
            known = CATALOGUE.field(path) or (parent and parent.child(child))
            assert known, f"{rule.id} reads {path}"


@EVERY
def test_every_answer_a_rule_waits_for_is_a_choice_of_its_field(rule):
    for test in (leaf for c in rule.conditions for leaf in leaves(c)):
        if "field" not in test or test["field"] == VIEW:
            continue
        path = real_path(rule, test["field"])
        group, _, child = path.rpartition(".")
        parent = CATALOGUE.field(group)
        field = CATALOGUE.field(path) or (parent.child(child) if parent else None)
        if field is None or field.kind not in ("one", "many", "yn"):
            continue
        wanted = test.get("in", [test["is"]] if "is" in test else [])
        codes = {c.code for c in field.choices} or {"yes", "no"}
        assert set(wanted) <= codes, f"{rule.id}: {path}"


@EVERY
def test_a_rule_per_wire_reads_nothing_of_another_wire(rule):
    if rule.for_each == "wires":
        return
    for condition in rule.conditions:
        for path in paths_in(condition):
            field = CATALOGUE.field(path)
            assert field is None or not field.per_wire, f"{rule.id} reads {path}"


@EVERY
def test_the_first_record_fires_the_rule(rule):
    # A rule without a code of its own never offers one: its best is the question.
    assert states(rule.fixtures[0], rule) == {"candidate" if rule.code else "missing"}


@EVERY
def test_the_second_record_almost_fires_it(rule):
    found = states(rule.fixtures[1], rule)
    assert found == {"missing"} if rule.code else "candidate" not in found


@EVERY
def test_the_third_record_is_refused(rule):
    assert states(rule.fixtures[2], rule) <= {"not_offered"}


@EVERY
def test_no_memory_rule_is_offered_before_a_named_coder_confirmed_it(rule):
    if rule.basis != "M":
        assert rule.confirmed_by
        return
    found = [f for f in judged(rule.fixtures[0], RULES) if f.rule.id == rule.id]
    assert {f.state for f in found} == {"not_offered"}
    assert {f.because for f in found} == {"rule to be checked by a named coder"}


@EVERY
def test_every_question_a_rule_asks_exists(rule):
    assert set(rule.asks) <= set(load_questions())
    asked = {need.ask for need in rule.needs} - {"", CODERS_OWN}
    assert asked <= set(rule.asks)


def test_every_small_record_is_used_by_a_rule_or_a_test():
    named = {name for rule in RULES for name in rule.fixtures}
    bases = {"wire-base", "stemi-no-site"}
    source = open_tests()
    loose = [n for n in record_names() if n not in named | bases]
    assert [name for name in loose if f'"{name}"' not in source] == []


def open_tests() -> str:
    folder = Path(__file__).parent
    return "".join(f.read_text(encoding="utf-8") for f in folder.glob("test_*.py"))


def test_a_rule_comes_after_the_rules_it_looks_at():
    place = {rule.id: n for n, rule in enumerate(RULES)}
    for rule in RULES:
        for exclusion in rule.excludes:
            if exclusion.rule:
                assert place[exclusion.rule] < place[rule.id]


GOOD = {
    "id": "dx-test",
    "says": "test",
    "system": "ICD-10-CM",
    "code": "I44.2",
    "views": ["professional"],
    "edition": "FY2026-Apr",
    "basis": "V",
    "source": "a source",
    "confirmed_by": "as shipped",
    "applies": [{"field": "indication.main_rhythm", "has": True}],
    "fixtures": ["a", "b", "c"],
}


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"colour": "red"}, "no key is called colour"),
        ({"system": "ICD-9"}, "no system is called ICD-9"),
        ({"basis": "X"}, "basis"),
        ({"views": ["payer"]}, "views"),
        ({"applies": []}, "applies"),
        ({"applies": [{"field": "a", "like": "b"}]}, "dx-test"),
        ({"applies": [{"rows": "a", "where": {"nothing": 1}}]}, "dx-test"),
        ({"code": ""}, "nothing between"),
        ({"source": ""}, "source"),
        ({"explain": True}, "because"),
        ({"explain_when": {"field": "a", "has": True}}, "because"),
        ({"explain_when": {"field": "a", "like": "b"}, "because": "c"}, "dx-test"),
        ({"system": "modifier", "modifiers": ["ask:53"]}, "nothing between"),
        ({"system": "modifier", "code": ""}, "nothing between"),
        ({"confirmed_by": ""}, "confirmed_by"),
        ({"fixtures": ["a"]}, "fixtures"),
        ({"excludes": [{"rule": "dx-other", "state": "x", "because": "y"}]}, "state"),
        ({"excludes": [{"rule": "dx-other", "state": "missing"}]}, "because"),
    ],
    ids=lambda value: "-".join(value) if isinstance(value, dict) else "",
)
def test_a_rule_of_another_shape_is_refused_by_name(change, word):
    with pytest.raises(UnusableRule, match=re.escape(word)) as refused:
        read_rule({**GOOD, **change}, "2026.1")
    assert "dx-test" in str(refused.value)


def test_rules_that_exclude_each_other_are_refused(tmp_path):
    lines = ['rule_edition = "1"']
    for one, other in (("a", "b"), ("b", "a")):
        lines.append(
            f'[[rule]]\nid = "{one}"\nsays = "s"\nsystem = "ICD-10-CM"\n'
            'code = "I44.2"\nviews = ["professional"]\nedition = "e"\n'
            'basis = "V"\nsource = "s"\n'
            'confirmed_by = "c"\napplies = [{ field = "x", has = true }]\n'
            f'excludes = [{{ rule = "{other}", state = "missing", because = "y" }}]\n'
            'fixtures = ["a", "b", "c"]'
        )
    (tmp_path / "r.toml").write_text("\n".join(lines), encoding="utf-8")
    with pytest.raises(UnusableRule, match="exclude each other"):
        load_rules(tmp_path)


def test_a_rule_that_stands_twice_is_refused(tmp_path):
    one = (
        '[[rule]]\nid = "a"\nsays = "s"\nsystem = "ICD-10-CM"\ncode = "I44.2"\n'
        'views = ["professional"]\nedition = "e"\nbasis = "V"\nsource = "s"\n'
        'confirmed_by = "c"\napplies = [{ field = "x", has = true }]\n'
        'fixtures = ["a", "b", "c"]\n'
    )
    text = 'rule_edition = "1"\n' + one + one
    (tmp_path / "r.toml").write_text(text, encoding="utf-8")
    with pytest.raises(UnusableRule, match="stands twice"):
        load_rules(tmp_path)
