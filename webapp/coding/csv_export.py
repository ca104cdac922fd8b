"""Write the coder's file: UTF-8, comma, CRLF, one row a candidate or decided code."""

from __future__ import annotations

import csv
import hashlib
import io
from collections.abc import Iterable, Mapping, Sequence

from webapp.coding.columns import COLUMNS, NAMES, Column

BOM = b"\xef\xbb\xbf"
# A spreadsheet takes a cell that begins like this for a formula; the wide forms too.
FORMULA_STARTS = tuple("=+-@\t\r\n＝＋－＠")
Row = Mapping[str, str]


class CannotExport(ValueError):
    """A cell is not of its column; nothing was written. Names record and column."""

    def __init__(self, row: Row, column: Column) -> None:
        self.record, self.cell = row["record_id"], row[column.name][:40]
        self.column, self.wanted = column.name, column.type
        super().__init__(
            f"{self.record} line {row['line']}: {self.column} is {self.cell!r},"
            f" expected {self.wanted}"
        )


def codes_csv(rows: Iterable[Row]) -> bytes:
    """Return the whole file of these rows, header first; without a byte-order mark.

    `rows`: every column but row_sha256, which is added here. Raises CannotExport:
    when a cell is not what its column holds.
    """
    lines = [as_line(NAMES), *(_row(row) for row in rows)]
    return "".join(f"{line}\r\n" for line in lines).encode()


def columns_csv() -> bytes:
    """Return the file that lies beside it: number, name and type of each column."""
    lines = [as_line(("number", "column", "type"))]
    for number, column in enumerate(COLUMNS, start=1):
        lines.append(as_line((str(number), column.name, column.type)))
    return "".join(f"{line}\r\n" for line in lines).encode()


def as_line(cells: Sequence[str]) -> str:
    """Return one line by RFC 4180, without its line end."""
    out = io.StringIO()
    # The writer quotes a cell for the letters of its own line end, so it is CRLF.
    csv.writer(out, lineterminator="\r\n").writerow(cells)
    return out.getvalue().removesuffix("\r\n")


def guarded(text: str) -> str:
    """Return free text that no spreadsheet takes for a formula."""
    readable = text.encode("utf-8", "replace").decode()
    return f"'{readable}" if readable.startswith(FORMULA_STARTS) else readable


def row_sha256(cells: Sequence[str]) -> str:
    """Return the digest of columns 1 to 42 as they are written."""
    return hashlib.sha256(as_line(cells).encode()).hexdigest()


def _row(row: Row) -> str:
    cells: list[str] = []
    for column in COLUMNS[:-1]:
        cell = row[column.name]
        if column.refuses(cell):
            raise CannotExport(row, column)
        cells.append(guarded(cell) if column.is_free_text else cell)
    return as_line((*cells, row_sha256(cells)))
