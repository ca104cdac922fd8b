"""Read the yearly order files as the publisher issues them, into a table.

Layout, fixed width, one code a line: order number 1-5, code 7-13, billable flag 15,
short title 17-76, long title from 78. Codes stand there without their dot.
"""

from __future__ import annotations

from datetime import date

from webapp.coding.tables import Table, UnusableTable, digest

LICENCE = "United States government work"
DOTTED = ("ICD-10-CM",)


def read_order_file(
    raw: bytes, system: str, edition: str, valid: tuple[date, date], source: str
) -> Table:
    """Make a table of an order file's bytes.

    `valid`: first and last day the edition serves; `source`: the file's name.
    Raises UnusableTable: naming the first line that is not of the layout.
    """
    billable: dict[str, str] = {}
    headers: dict[str, str] = {}
    # The files are Latin-1: a few titles carry accented names.
    for number, line in enumerate(raw.decode("latin-1").splitlines(), start=1):
        if not line.strip():
            continue
        code, flag, title = line[6:13].strip(), line[14:15], line[77:].strip()
        if flag not in ("0", "1") or not line[:5].isdigit() or not (code and title):
            raise UnusableTable(f"line {number} is not a line of an order file")
        home = billable if flag == "1" else headers
        home[_dotted(code) if system in DOTTED else code] = title
    if not billable:
        raise UnusableTable("the file holds no code that may be claimed")
    sha256 = digest(billable, headers)
    return Table(system, edition, *valid, source, LICENCE, sha256, billable, headers)


def as_json(table: Table) -> dict[str, object]:
    """Return a table as the content of a site's table file."""
    return {
        "system": table.system,
        "edition": table.edition,
        "valid_from": table.valid_from.isoformat(),
        "valid_to": table.valid_to.isoformat(),
        "source": table.source,
        "licence": table.licence,
        "sha256": table.sha256,
        "billable": dict(table.billable),
        "headers": dict(table.headers),
    }


def _dotted(code: str) -> str:
    return code if len(code) <= 3 else f"{code[:3]}.{code[3:]}"
