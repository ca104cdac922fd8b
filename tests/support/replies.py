"""Short words for what a request changed, and for what its reply said."""

NAME = "patient.family_name"
DECISION = {
    "name": "decision",
    "moment": {
        "utc": "2031-11-24T10:41:00.000Z",
        "zone": "Europe/Oslo",
        "offset_min": 60,
        "certainty": "exact",
        "clock": "tablet",
    },
}


def everything(db):
    """Return all that one exchange may change for the record, as it stands."""
    tables = (
        "SELECT * FROM entry",
        "SELECT * FROM body",
        "SELECT * FROM ruling",
        "SELECT * FROM record",
    )
    return [[tuple(row) for row in db.conn.execute(table)] for table in tables]


def answers(reply):
    """Return what became of each entry: the answer, whether it counts, and why not."""
    return [(a["answer"], a["counts"], a["because"]) for a in reply["answers"]]
