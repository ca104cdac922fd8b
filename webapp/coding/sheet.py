"""One record at the coding desk: what it is worth, and the lines it hands out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from webapp.coding.dates import Span, span_of
from webapp.coding.engine import judge
from webapp.coding.findings import Finding
from webapp.coding.grounds import Grounds
from webapp.coding.rules import DIAGNOSES, LINE_SYSTEMS, PLACE_OF_SERVICE, Rule
from webapp.coding.site import CPT_ENABLED, SiteCoding, as_ruled
from webapp.coding.stay import BY_SERVICE_DATE, views_of
from webapp.coding.tables import Tables
from webapp.record.case import Case


@dataclass(frozen=True, slots=True)
class Judge:
    """What judges every record of a site. Made once, when the site starts."""

    rules: tuple[Rule, ...]
    tables: Tables
    site: SiteCoding

    def sheet(self, case: Case, confirmed: Iterable[str] = ()) -> Sheet:
        """Return what a record gives. `confirmed`: entries a provider signed for."""
        span = span_of(case, self.site.zone)
        settled = BY_SERVICE_DATE if span.day else frozenset[str]()
        grounds = Grounds(
            case,
            self.tables,
            self.site,
            views_of(case),
            span.day,
            settled,
            frozenset(confirmed),
        )
        return Sheet(case, span, grounds.views, judge(self.rules, grounds))

    def every_rule(self) -> Judge:
        """Return the same judge with claim rules asked too, for what they miss."""
        switches = self.site.switches | {CPT_ENABLED}
        return replace(self, site=replace(self.site, switches=switches))


@dataclass(frozen=True, slots=True)
class Sheet:
    """A judged record. Nothing of it counts before the record is signed."""

    case: Case
    span: Span
    views: tuple[str, ...]
    findings: tuple[Finding, ...]

    @property
    def place_of_service(self) -> str:
        """Return the two digits that status and order moment decide, or "".

        Never from the room. Unclear stays empty: it is a question.
        """
        places = {
            f.code
            for f in self.findings
            if f.rule.system == PLACE_OF_SERVICE and f.state == "candidate"
        }
        return places.pop() if len(places) == 1 else ""

    def of_view(self, view: str) -> tuple[Finding, ...]:
        """Return one view's findings in the order of the note's parts."""
        places = {part.name: n for n, part in enumerate(self.case.catalogue.parts)}

        def in_order(finding: Finding) -> tuple[int, int]:
            part = finding.place.rpartition("/")[2].partition(".")[0]
            return (int(is_procedure(finding)), places.get(part, len(places)))

        own = [f for f in self.findings if f.view == view]
        return tuple(sorted(own, key=in_order))

    def lines_of(self, view: str) -> tuple[Finding, ...]:
        """Return one view's codes, without what only stands beside a code."""
        return tuple(f for f in self.of_view(view) if f.rule.system in LINE_SYSTEMS)


def make_judge(rules: Iterable[Rule], tables: Tables, site: SiteCoding) -> Judge:
    """Return the judge of a site: the rules as its coders ruled on them."""
    return Judge(as_ruled(rules, site), tables, site)


def is_procedure(finding: Finding) -> bool:
    """Return whether something that was done is coded, not why or what came of it."""
    return finding.rule.system != DIAGNOSES


def line_key(finding: Finding) -> str:
    """Return what makes a finding the same line in every later note."""
    return f"{finding.view}|{finding.rule.id}|{finding.subject}"


def numbered(sheet: Sheet, known: Mapping[str, int]) -> dict[str, int]:
    """Return each line's number: known ones keep theirs, new ones follow."""
    found = dict(known)
    for view in sheet.views:
        for finding in sheet.lines_of(view):
            found.setdefault(line_key(finding), len(found) + 1)
    return found
