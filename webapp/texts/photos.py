"""What is said about photos: not taken, not shown, still on their tablet."""

PHOTOS: dict[str, str] = {
    "note.photo_awaited": (
        "The picture had not reached the server when this was printed."
    ),
    "note.photo_cannot": "The photo is kept, and cannot be shown: {because}.",
    "note.photo_on": "It is still on {tablet}.",
    "note.photo_uncaptioned": "No words were given with it.",
    "photo.alt_named": "Photo: {caption}",
    "photo.awaited": "photo still on {tablet}",
    "photo.awaited_somewhere": "photo not on this server, and no tablet says it has it",
    "photo.cannot": "photo kept, cannot be shown: {because}",
    "photo.cannot.broken": "it is damaged, or no whole picture",
    "photo.cannot.differs": "its bytes are not those that the entry names",
    "photo.cannot.empty": "it is empty",
    "photo.cannot.erased": "it was erased",
    "photo.cannot.kind": "it is no JPEG, PNG or WebP picture",
    "photo.cannot.pixels": "it has too many pixels to be opened safely",
    "photo.cannot.record": "it belongs to another record",
    "photo.cannot.scans": "it is made of too many layers to be opened safely",
    "photo.cannot.seal": "this server could not open its seal",
    "photo.full_size": "full size",
    "photo.gone": "photo erased; its digest and the reason stay",
    "photo.here": "{width} × {height} pixels, came {when}",
    "photo.late": "came after the note was signed",
    "photo.original": "SHA-256 of the original {sha256}",
    "photo.plain": "Photo",
    "photo.refused.damaged": (
        "Damaged on the way: the bytes are not those it is named by."
    ),
    "photo.refused.revoked": (
        "The tablet was revoked, and no entry on the server names this photo."
    ),
    "photo.refused.taken": "Another photo has this name on the server.",
    "photo.remark.size": "the entry tells another size",
    "photo.remark.type": "the entry calls it another kind of picture",
    "photo.struck": "photo of a row entered in error",
    "photo.too_large": (
        "Larger than the {mib} MiB that this hospital's server takes for one photo."
    ),
    "sign.photos_awaited": (
        "Photos not on the server yet: {n}. The note names each by its digest, and does"
        " not change when they come."
    ),
    "storage.photo_damaged": "Damaged on this tablet: its bytes do not fit its name.",
    "storage.photo_key_gone": "Its key is not on this tablet any more.",
    "storage.photos": "Photos not taken by the server",
    "strip.photos_refused": "{count} photos not taken: {because} Kept here",
    "strip.photos_refused_short": "{count} photos not taken. Kept here",
}
