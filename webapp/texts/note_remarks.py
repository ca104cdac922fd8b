"""What the note says of remarks: the section, and the heaviest on page 1."""

NOTE_REMARKS: dict[str, str] = {
    "note.remark": "Remark: {name}",
    "note.remark_answer": "{answer} ({who}, entry {n}).",
    "note.remark_line": "{word}: {finding}",
    "note.remark_not_answered": "Not answered.",
    "note.remark_of_wire": "{line} ({wire})",
    "note.remark_put_right": "Put right since.",
    "note.remark_rests": "Rests on entries {places}.",
    "note.remark_rests_one": "Rests on entry {places}.",
    "note.remarks": "Remarks",
    "note.remarks_head": (
        "Computed from the entries of this record by limits version {version}, those of"
        " weight Look now and Look again. {decides}"
    ),
    "note.remarks_in_full": "In full on page {page}.",
    "note.remarks_more": "And {n} more on page {page}.",
    "note.remarks_none": (
        "Computed from the entries of this record by limits version {version}: none of"
        " weight Look now or Look again. {decides}"
    ),
    "note.remarks_not_answered": "Remarks not answered",
}
