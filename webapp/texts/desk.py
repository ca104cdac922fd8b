"""What the desk says: records, one record, signing."""

DESK: dict[str, str] = {
    "remarks.all": "Remarks",
    "remarks.answer": "Answer this remark",
    "remarks.answer_again": "Answer it again",
    "remarks.answered": "Answered",
    "remarks.as_at": "As at {time}.",
    "remarks.as_entered": "As entered {time}.",
    "remarks.because": "{answer}, because {because}",
    "remarks.because_label": "Because (may stay empty)",
    "remarks.by": "by {name}, {when}",
    "remarks.computed": (
        "Computed from what was recorded, by limits version {version}."
    ),
    "remarks.fits_n": "Fits: {n}",
    "remarks.gone": (
        "What that remark rested on is not in this record. Nothing was changed."
    ),
    "remarks.n_open": "{n} not answered",
    "remarks.none": "No remark was computed from what was recorded.",
    "remarks.none_heavier": "None of weight Look now or Look again.",
    "remarks.not_answered": "not answered",
    "remarks.open_before": "Remarks not answered: {n}",
    "remarks.put_right": "put right since",
    "remarks.put_right_line": "Put right since.",
    "review.add_row": "Add a row",
    "review.all": "All",
    "review.all_entries": "All entries",
    "review.answer_it": "Answer",
    "review.back": "Back",
    "review.back_to_record": "Back to the record",
    "review.before_you_sign": "Before you sign",
    "review.body_gone": "Erased, or never readable",
    "review.born_absent": "birth date {words}",
    "review.born_not_asked": "birth date not asked",
    "review.coding_desk": "Coding desk",
    "review.col.counts": "Counts",
    "review.col.field": "Field",
    "review.col.late": "Late",
    "review.col.log": "Log and place",
    "review.col.open": "Open",
    "review.col.operator": "Operator",
    "review.col.outcome": "Outcome",
    "review.col.position": "Position",
    "review.col.said_by": "Said by",
    "review.col.state": "State",
    "review.col.aside": "Not counted",
    "review.col.two": "Two answers",
    "review.col.value": "Value",
    "review.col.when": "First entry",
    "review.col.who": "Who",
    "review.complete": "complete",
    "review.correct": "Correct",
    "review.because": "because {words}",
    "review.correct_because": "Why it is corrected or settled so",
    "review.late": "after the signature",
    "review.correction_note": (
        "What stood before stays in the record, with who said it and when."
    ),
    "review.counted": "counted",
    "review.counts_since": "{word}, ruled again at position {position}",
    "review.depth": "Depth at hub",
    "review.entered_by": "entered by {name}",
    "review.erased_word": "erased",
    "review.erased": "Erased what stood at position {position}: {reason}",
    "review.filter": "Which records",
    "review.history": "Who and when",
    "review.history_of": "{label}: every entry",
    "review.how.none": "nobody named",
    "review.how.typed": "name as typed",
    "review.keep": "Keep",
    "review.keep_after_all": "Keep after all",
    "review.keys": "Keys: n next open, p the one before, t time ruler, / search.",
    "review.n_entries": "entries: {n}",
    "review.n_late": "{n} late",
    "review.n_open": "{n} open",
    "review.no_such_answer": (
        "That is not an answer this field takes. Nothing was changed."
    ),
    "review.no_such_field": "There is no such field. Nothing was changed.",
    "review.no_times": "No clock time is in this record yet.",
    "review.nobody": "nobody named",
    "review.none": "No record has reached the server yet.",
    "review.none_found": "No record fits.",
    "review.not_asked_n": "Not asked, and not needed yet: {n}",
    "review.note_draft": "Note as it stands, not signed (PDF)",
    "review.note_signed": "Signed note (PDF)",
    "review.nothing_open": "No question is open.",
    "review.nothing_yet": "nothing yet",
    "review.now_says": "Says now: {words}",
    "review.number": "no. {number}",
    "review.number_not_asked": "record number not asked",
    "review.on_server": "On the server",
    "review.or": "or",
    "review.other": "other",
    "review.other_moments": "Not drawn, told in the parts below: {n}.",
    "review.output": "Output",
    "review.parts": "Parts of the record",
    "review.places": "Places",
    "review.question.impossible": (
        "Impossible as typed: kept, shown, never computed with."
    ),
    "review.question.not_asked": "The note needs this.",
    "review.question.two_answers": "Two answers: which one stands?",
    "review.reason": "reason, if any",
    "review.records": "Records",
    "review.ruled.counted": "The entry at position {position} counts from now on.",
    "review.ruled.set_aside": (
        "The entry at position {position} was read anew and stays set aside. {because}"
    ),
    "review.search": "Search",
    "review.search_label": "Number or name",
    "review.see_entry": "See the entry",
    "review.aside": "Sent, and not counted",
    "review.aside.conflict": "conflict",
    "review.aside.refused": "refused",
    "review.aside.set_aside": "set aside",
    "review.aside.unread": "what it says cannot be read",
    "review.aside_help": (
        "None of it stands in the record or in the note: where it should, answer the"
        " field below. What was refused is kept on its tablet only."
    ),
    "review.aside_n": "Sent, and not counted: {n}",
    "review.lost_desk": (
        "Written at the desk at place {seq} and lost by this server, as {tablet} tells."
        " Do it again."
    ),
    "review.lost_n": "Known to tablets and missing here: {n}",
    "review.lost_tablet": (
        "Place {seq} of a tablet's log, as {tablet} tells. It comes back when that"
        " tablet sends again."
    ),
    "review.not_copied": "not yet copied off this machine",
    "review.signed_by": "Signed by {name}, {when}",
    "review.sign": "Sign",
    "review.sign_fixes": (
        "Signing fixes what is here, entries: {n}, under one digest. What is open"
        " prints as not recorded. Later facts become an addendum."
    ),
    "review.sign_n_open": "Sign, {n} named as open",
    "review.sign_out": "Sign out",
    "review.skip": "To the record",
    "review.state.not_signed": "Not signed",
    "review.state.signed": "Signed",
    "review.strike": "Strike: entered in error",
    "review.strike_entry": "strike",
    "review.strikes": "Strikes what stands at position {position}.",
    "review.struck_by": "entered in error, struck by {name}",
    "review.server": "Server's log",
    "review.tablets": "Tablets",
    "review.timeline": "The case on one time ruler",
    "review.timeline_words": (
        "Moments along the top, depth below, output under it, then skin pacing and"
        " drugs as bars; every value also stands in the parts."
    ),
    "review.too_long": (
        "Too long: an entry takes {kib} KiB, some 60,000 letters. Nothing was changed:"
        " shorten the text, or tell the rest in another field."
    ),
    "review.was_erased": "Erased: {reason}",
    "review.undelivered": ("{tablet}, last heard {when}: entries not arrived: {n}."),
    "review.unreadable": "unreadable",
    "review.why.impossible": "impossible as typed",
    "review.why.not_asked": "not asked",
    "review.why.two_answers": "two answers",
    "sign.after": (
        "After signing nothing here changes. Later entries stand beside the note as"
        " late until an addendum takes them up."
    ),
    "sign.changed": (
        "The record changed while you read it. New entries: {n}. Read, then sign."
    ),
    "sign.digest": "Entries you sign: {n}. Their digest:",
    "sign.disagree": "Agree to the statement to sign.",
    "sign.never": "never heard",
    "sign.no_tablets": "No tablet has this record open.",
    "sign.nothing_new": "Every entry is signed already.",
    "sign.late_label": "More than {hours} h have passed. Why is it signed late?",
    "sign.late_missing": "Say why it is signed late.",
    "sign.opened_note": "the note as it prints, {when}",
    "sign.opened_record": "the record, {when}",
    "sign.signed_already": "{name} signed exactly this; your signature joins it.",
    "sign.password": "Password of {name}",
    "sign.prints_open": "Questions that print as not recorded: {n}",
    "sign.reason_label": "Entries are still on a tablet. Why sign now?",
    "sign.reason_missing": "Entries are still on a tablet: say why you sign now.",
    "sign.remarks_free": "A remark keeps nobody from signing.",
    "sign.remarks_open": "Remarks that stand and that nobody answered: {n}",
    "sign.row_changed": "a row was added, struck or changed since",
    "sign.see_note": "See the note as it will print",
    "sign.sign": "Sign",
    "sign.statement": (
        "I reviewed and corrected these entries; they reflect my work. What others"
        " observed stays theirs; I have read it."
    ),
    "sign.tablet_line": "{tablet}, last heard {when}: entries not arrived: {n}",
    "sign.tablets": "Tablets that have this record",
    "sign.title": "Sign the record",
    "sign.wrong_password": "The password does not fit. Nothing was signed.",
    "state.impossible": "impossible as typed",
    "state.not_asked": "not asked",
    "sketch.by_hand": "{label}, drawn by hand",
    "timeline.about": "about: {label}",
    "timeline.dose_absent": "{drug}, dose {dose}",
    "timeline.drug_not_named": "Drug not named",
    "timeline.drugs": "Drugs",
    "timeline.open": "A bar without an end line: no stop was told, or it was later.",
    "timeline.skin_pacing": "Skin pacing",
}
