"""Official yearly order files, made of a few codes, and loaded as at a site."""

from __future__ import annotations

from pathlib import Path

from webapp.cli import main

# Layout: order number 1-5, code 7-13, flag 15, short title 17-76, long title 78-.
TITLES = {
    "I442": "Atrioventricular block, complete",
    "R001": "Bradycardia, unspecified",
}
DAYS = ("--from", "2031-10-01", "--to", "2032-09-30")
FY2032 = ("--system", "ICD-10-CM", "--edition", "FY2032", *DAYS)


def order_file_in(folder: Path) -> Path:
    """Write an order file of the year 2032 into a folder; return it."""
    lines = [
        f"{number:05d} {code:<7} 1 {title[:60]:<60} {title}\r\n"
        for number, (code, title) in enumerate(TITLES.items(), start=1)
    ]
    file = folder / "icd10cm_order_2032.txt"
    file.write_text("".join(lines), encoding="latin-1", newline="")
    return file


def loads(app, site, monkeypatch, order_file: Path) -> None:
    """Load it with the product's own command."""
    monkeypatch.setenv("WIREMARK_HOME", str(site.home))
    words = ["codes", "load", str(order_file), *FY2032]
    done = app.test_cli_runner().invoke(main, words)
    assert done.exit_code == 0, done.output
