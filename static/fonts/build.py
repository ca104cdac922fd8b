"""Build the Wiremark Sans files beside this script from Fira Sans Condensed.

Run with Python, fonttools 4.68.0 and brotli 1.2.1, and one argument: the folder
that holds FiraSansCondensed-Regular.ttf and FiraSansCondensed-Bold.ttf of version
4.203, as packed in PyPI `fontpkg-fira-sans-condensed` 4.203. Licence: OFL.txt.

What differs from the source, and why:
- zero is slashed and all digits have one width without asking for a feature,
  because the PDF writer and many a label know no OpenType features;
- ligatures are gone, so that text taken out of a note is the text put in;
- every typographic space and hyphen has a glyph, so that none prints as a box;
- the TTF, for paper only, has no kerning or other layout tables: the PDF writer
  reads none;
- scripts: Latin, Greek, Cyrillic; hints and small capitals are left out for size;
- the name, since the source's makers reserve theirs.

The same input gives the same bytes: no clock is read.
"""

from __future__ import annotations

import hashlib
import sys
from pathlib import Path
from typing import Any

from fontTools import subset
from fontTools.ttLib import TTFont

HERE = Path(__file__).resolve().parent
FAMILY = "Wiremark Sans"
VERSION = "1.000"
SOURCES = {
    "Regular": "c67609f14fc9d328442bfffcc31988b0f76e5575cf460fcc1f3dd8e4912fe257",
    "Bold": "b9371052e58ec5b709153dd0fffc60b5205b4d3435cf957c2522705b31b0dbcc",
}
NAMES = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine",
)  # fmt: skip
DIGITS = {
    code: f"{name}.tf" + (".zero" if name == "zero" else "")
    for code, name in enumerate(NAMES, start=0x30)
}
SPACES = (*range(0x2000, 0x200B), 0x202F, 0x205F)
HYPHENS = (0x2010, 0x2011)
ALIASES = {**dict.fromkeys(SPACES, "space"), **dict.fromkeys(HYPHENS, "hyphen")}
# Latin with Vietnamese, combining marks, Greek, Cyrillic, punctuation, raised and
# lowered figures, currency, letterlike, fractions, arrows, mathematics, shapes.
RANGES = (
    (0x20, 0x7E), (0xA0, 0x24F), (0x2B0, 0x2FF), (0x300, 0x36F), (0x370, 0x3FF),
    (0x400, 0x52F), (0x1E00, 0x1EFF), (0x2000, 0x206F), (0x2070, 0x209F),
    (0x20A0, 0x20BF), (0x2100, 0x218F), (0x2190, 0x21FF), (0x2200, 0x22FF),
    (0x25A0, 0x25FF),
)  # fmt: skip


def main(folder: Path) -> None:
    """Write two TTF and two WOFF2 files. Raises SystemExit: on another source."""
    for style, expected in SOURCES.items():
        source = folder / f"FiraSansCondensed-{style}.ttf"
        if hashlib.sha256(source.read_bytes()).hexdigest() != expected:
            raise SystemExit(f"{source.name} is not the file this script was made for")
        font = TTFont(source, recalcTimestamp=False)
        remap(font)
        keep_only(font)
        rename(font, style)
        stem = HERE / f"wiremark-sans-{style.lower()}"
        font.flavor = "woff2"
        font.save(stem.with_suffix(".woff2"), reorderTables=True)
        font.flavor = None
        for table in ("GPOS", "GSUB", "GDEF"):
            del font[table]
        font.save(stem.with_suffix(".ttf"), reorderTables=True)


def remap(font: TTFont) -> None:
    """Point plain digits at tabular figures, the zero at the slashed one."""
    for table in font["cmap"].tables:
        if table.isUnicode():
            added = {k: v for k, v in ALIASES.items() if k not in table.cmap}
            table.cmap.update({**DIGITS, **added})


def keep_only(font: TTFont) -> None:
    """Drop every glyph, feature and table that neither screen nor paper needs."""
    options: Any = subset.Options()
    options.hinting = False
    options.layout_features = ["kern", "mark", "mkmk", "ccmp", "locl"]
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    options.notdef_outline = True
    options.drop_tables += ["DSIG", "FFTM"]
    subsetter = subset.Subsetter(options)
    subsetter.populate(
        unicodes=[code for low, high in RANGES for code in range(low, high + 1)]
    )
    subsetter.subset(font)


def rename(font: TTFont, style: str) -> None:
    """Give the family its own name; copyright and licence stay as they were."""
    full = FAMILY if style == "Regular" else f"{FAMILY} {style}"
    script = f"{FAMILY.replace(' ', '')}-{style}"
    names = {
        1: FAMILY,
        2: style,
        3: f"{VERSION};{script}",
        4: full,
        5: f"Version {VERSION}; from Fira Sans Condensed 4.203",
        6: script,
    }
    for number, text in names.items():
        font["name"].setName(text, number, 3, 1, 0x409)
    font["name"].names = [n for n in font["name"].names if n.platformID == 3]
    font["head"].fontRevision = float(VERSION)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
