"""Made-up records of up to four logs whose entries name one another freely."""

from __future__ import annotations

from random import Random
from typing import Any

from tests.support.streams import AT, filled

IDS = [f"01890000-0000-7000-8000-{n:012d}" for n in range(40)]
LOGS = [f"01890000-0000-7000-8000-00000000000{n}" for n in "abc"] + ["desk"]
RECORDS = [f"01890000-0000-7000-8000-0000000f000{n}" for n in range(6)]
# Entries that nobody has, and texts that are no entry.
NOBODY = ("01890000-0000-7000-8000-999999999999", "", "x", "__proto__")
VALUES: tuple[Any, ...] = (
    "yes",
    "no",
    {"as": "1,5", "n": "1.5", "unit": "mA"},
    {"as": "1.50", "n": "1.5", "unit": "mA"},
    {"as": "1.5", "n": "1.5", "unit": ""},
    {"as": "abc", "unit": "mA"},
    {"as": "ab", "unit": "mA"},
    {"unit": "mA"},
    {"as": None, "unit": "mA"},
    {"as": "second day", "certainty": "unreadable"},
    {"as": "third day", "certainty": "unreadable"},
    {"absent": "not_known"},
    {"absent": "not_done", "because": "no time"},
    {"as": "3.2.54", "date": "1954-02-03"},
    {"as": "1954-02-03", "date": "1954-02-03"},
    ["latex", {"other": "Søn <b>"}],
    [{"other": "Søn <b>"}, "latex"],
    ["latex", "latex"],
    ["latex"],
    [["b", "a"], ["a", "b"]],
    [["a", "b"], ["b", "a"]],
    [1, True, "1", None, 0, False],
    [False, 0, None, "1", True, 1],
    {"strokes": [[[1, 2]], [[3, 4]]]},
    {"strokes": [[[3, 4]], [[1, 2]]]},
    [],
    {},
    None,
    True,
    1,
    False,
    0,
    {"__proto__": {"as": "x"}, "constructor": [1, True]},
    {"note": "\u2028\U0001f6d1é\u00e9\x00", "n": 9007199254740991},
)
UTCS = (
    "2031-11-24T10:00:00.000Z",
    "2031-11-24T10:00:00.001Z",
    "2031-11-24T10:00:00Z",
    "2031-11-24T09:00:00.000Z",
    "2031-11-24T11:00:00.000Z",
    "1969-12-31T23:59:59.999Z",
    "1970-01-01T00:00:00.000Z",
    "2031-02-30T10:00:00.000Z",
    "2031-11-24T24:00:00.000Z",
    "2031-11-24T10:00:00.000+01:00",
    "2031-11-24",
    "24 Nov 2031 10:41",
    "",
)
SKEWS = (0, 0, 0, None, 1, -3_600_000, 3_600_000, True, 10**15, 10**15 + 1, 2**53 - 1)
ODD_STRIKES = (None, [], "x", {"strikes": {"toString": 1}}, {"strikes": None})
ROWS = ("wires", "capture.threshold_test", "joined_to", "rulings", "erasures")
DESK = ("joined_to", "rulings", "erasures")


class Made:
    """One record. `entries`: those that count; `set_aside`: ids of those that do not.

    Whoever writes has seen everything, so that set-aside entries are named as often
    as any.
    """

    def __init__(self, seed: int) -> None:
        self.random = Random(seed)
        self.set_aside: list[str] = []
        self.entries: list[dict[str, Any]] = []
        self._written: list[dict[str, Any]] = []
        self._seqs = dict.fromkeys(LOGS, 0)
        count = self.random.randint(1, 24)
        self._ids = self.random.sample(IDS, count)
        for entry_id in self._ids:
            self._writes(entry_id)
        for entry in self._written:
            if self.random.random() < 0.12:
                self.set_aside.append(entry["id"])
            else:
                self.entries.append(entry)

    def shuffled(self) -> list[dict[str, Any]]:
        """Return the entries in another order, some of them twice or more often."""
        again = self.random.choices(self.entries or [], k=len(self.entries) // 2)
        mixed = self.entries + again
        self.random.shuffle(mixed)
        return mixed

    def _writes(self, entry_id: str) -> None:
        said = self._says()
        is_desk = said["path"] in DESK and self.random.random() < 0.9
        log = "desk" if is_desk else self.random.choice(LOGS)
        self._seqs[log] += self.random.choice((1, 1, 2))
        utc, skew = self.random.choice(UTCS), self.random.choice(SKEWS)
        short = {
            **said,
            "at": {**AT, "utc": utc, "skew_ms": skew},
        }
        place = {"id": entry_id, "log": log, "seq": self._seqs[log]}
        self._written.append(filled({**place, **short}))

    def _says(self) -> dict[str, Any]:
        make = self.random.choice(
            (self._answers, self._answers, self._adds, self._strikes, self._strikes)
        )
        return make()

    def _answers(self) -> dict[str, Any]:
        wire = self._some_id()
        path = self.random.choice(
            (
                *("patient.weight", "patient.weight", "patient.allergies"),
                *(f"wires/{wire}/approach.site", "__proto__", "remarks.a b\u00e9"),
                "joined_to",
            )
        )
        seen = [self._some_id() for _ in range(self.random.choice((0, 0, 1, 1, 2, 3)))]
        if self.random.random() < 0.4:
            seen += [e["id"] for e in self._written if e["body"]["path"] == path]
        # Few different ones on one path, so that equal answers meet.
        few = VALUES[2:7] if path == "patient.weight" else VALUES[13:19]
        value = self.random.choice(few if self.random.random() < 0.5 else VALUES)
        return {"path": path, "op": "set", "value": value, "seen": seen}

    def _adds(self) -> dict[str, Any]:
        path = self.random.choice(ROWS)
        named, shell = self._some_id(), {}
        if path == "erasures" and self._written and self.random.random() < 0.8:
            erased = self.random.choice(self._written)
            named, shell = erased["id"], shell_of(erased["body"])
        value: Any = {
            "wires": {"name": self.random.choice(("Wire 1", "Wire 2"))},
            "capture.threshold_test": {"of": named, "kind": "full"},
            "joined_to": {"record": self.random.choice((*RECORDS, *NOBODY))},
            "rulings": {"entry": named, "ruling": "counted", "because": ""},
            "erasures": {"entry": named, "reason": "another patient", **shell},
        }[path]
        if self.random.random() < 0.1:
            value = self.random.choice(VALUES)
        return {"path": path, "op": "add", "value": value}

    def _strikes(self) -> dict[str, Any]:
        """Strike a row or a strike, as a rule one of the same path."""
        rows = [e for e in self._written if e["body"]["op"] != "set"]
        if rows and self.random.random() < 0.85:
            named = self.random.choice(rows)
            path, target = named["body"]["path"], named["id"]
        else:
            path, target = self.random.choice(ROWS), self._some_id()
        value: Any = {"strikes": target}
        if self.random.random() < 0.5:
            value["reason"] = self.random.choice(("why", None))
        if self.random.random() < 0.08:
            value = self.random.choice(ODD_STRIKES)
        return {"path": path, "op": "strike", "value": value}

    def _some_id(self) -> str:
        return self.random.choice((*self._ids, *self._ids, *NOBODY))


def shell_of(body: dict[str, Any]) -> dict[str, Any]:
    """Return what the desk keeps of an entry it erases: whom it named, and where."""
    value = body["value"]
    struck = value.get("strikes") if isinstance(value, dict) else None
    named = {"seen": " ".join(body["seen"]), "strikes": struck}
    return {"path": body["path"], "op": body["op"], **named}
