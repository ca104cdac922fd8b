"""Files carried inside the PDF: what a program reads, exactly as recorded."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from reportlab.pdfbase import pdfdoc


@dataclass(frozen=True, slots=True)
class Attached:
    """One file. `name` is plain ASCII; `mime` e.g. "application/json"."""

    name: str
    mime: str
    words: str
    data: bytes


def attach(canvas: Any, files: tuple[Attached, ...], made_at: datetime) -> None:
    """Put the files into the document's name tree of embedded files.

    Source: ISO 32000-1 7.11.4 (embedded file streams) and 7.7.4 (name tree).
    """
    document = canvas._doc
    names: list[object] = []
    for file in sorted(files, key=lambda f: f.name):
        stream = pdfdoc.PDFStream(
            dictionary=pdfdoc.PDFDictionary(
                {
                    "Type": pdfdoc.PDFName("EmbeddedFile"),
                    "Subtype": pdfdoc.PDFName(file.mime.replace("/", "#2F")),
                    "Params": pdfdoc.PDFDictionary(
                        {
                            "Size": len(file.data),
                            "ModDate": pdfdoc.PDFString(_pdf_date(made_at)),
                        }
                    ),
                }
            ),
            content=file.data,
            filters=[pdfdoc.PDFZCompress],
        )
        reference = document.Reference(stream)
        specification = pdfdoc.PDFDictionary(
            {
                "Type": pdfdoc.PDFName("Filespec"),
                "F": pdfdoc.PDFString(file.name),
                "UF": pdfdoc.PDFString(file.name),
                "Desc": pdfdoc.PDFString(file.words),
                "EF": pdfdoc.PDFDictionary({"F": reference, "UF": reference}),
            }
        )
        names += [pdfdoc.PDFString(file.name), document.Reference(specification)]
    tree = pdfdoc.PDFDictionary({"Names": pdfdoc.PDFArray(names)})
    document.Catalog.Names = pdfdoc.PDFDictionary({"EmbeddedFiles": tree})


def _pdf_date(moment: datetime) -> str:
    offset = f"{moment:%z}"
    return f"D:{moment:%Y%m%d%H%M%S}{offset[:3]}'{offset[3:5]}'"
