"""What the page of the limits says."""

LIMITS: dict[str, str] = {
    "limits.ages.12 to 17": "12 to 17 years",
    "limits.ages.adult": "adults; silent for a child",
    "limits.ages.all": "everybody",
    "limits.ages.under 12": "under 12 years",
    "limits.ages.under 18": "under 18 years",
    "limits.as_shipped": "Every limit is as shipped.",
    "limits.card": "Action card, shown and printed as it stands",
    "limits.col.ages": "For",
    "limits.col.may_be": "May be",
    "limits.col.meaning": "Limit",
    "limits.col.source": "Where it comes from",
    "limits.col.value": "Value",
    "limits.differs": "Different from those shipped:",
    "limits.footer": "Limits and where they come from",
    "limits.group.age": "Who counts as an adult",
    "limits.group.after": "Afterwards",
    "limits.group.case": "The case around the procedure",
    "limits.group.checks": "Checks and due times",
    "limits.group.drugs": "Drugs",
    "limits.group.kit": "Kit, depth and balloon",
    "limits.group.margin": "Threshold and margin",
    "limits.group.own": "Own rhythm",
    "limits.group.sensing": "Sensing",
    "limits.group.settings": "Settings and rate",
    "limits.group.test": "Threshold test",
    "limits.group.texts": "Lists and words",
    "limits.group.way": "On the way in",
    "limits.heading": "Limits",
    "limits.intro": (
        "Every limit that remarks and the output policy asks are computed by. A record"
        " keeps the version it began with. A hospital changes values in its own"
        " settings file, within what a limit may be; meanings, units and ages stay."
    ),
    "limits.may_be": "{low} to {high}",
    "limits.now": "In use now",
    "limits.older": "This is version {version}, which records may have begun with.",
    "limits.shipped": "shipped: {value}",
    "limits.version": "Limits version {version}.",
    "limits.word.common practice": "common practice",
    "limits.word.derived": "derived",
    "limits.word.found": "found",
    "limits.word.found-2": "found in a second source",
    "limits.word.local": "the hospital's own",
    "limits.word.memory": "from memory",
    "limits.words": "How far a source carries",
    "limits.words.common practice": "widely done, no source",
    "limits.words.derived": "arithmetic or judgement from other rows",
    "limits.words.found": "read in the named source",
    "limits.words.found-2": "read in a second source that reports it",
    "limits.words.local": "chosen by this hospital",
    "limits.words.memory": (
        "not found; best value known, to be verified before it drives anything heavier"
        " than Look again"
    ),
}
