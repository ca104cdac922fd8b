"""What a note is made from. Plain data, so that it travels to the worker process."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal

from webapp.record.case import Case

FactKind = Literal["diagnosis", "procedure", "separate", "not_recorded"]
Paper = Literal["A4", "Letter"]


@dataclass(frozen=True, slots=True)
class CodeFact:
    """One coded fact, already evaluated; a candidate, never a claim.

    `words`: the provider's or the field's own words; `code`: "" where there is
    none to print; `edition`: of the code table; `confirmed`: for the date of
    service; `evidence`: entry ids.
    """

    kind: FactKind
    words: str
    code: str = ""
    edition: str = ""
    confirmed: bool = False
    stated_by: str = ""
    evidence: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Attestation:
    """A signature. `method`: how the person proved who they are, in words.

    `late_because`: reason for signing after the policy's time, else "";
    `undelivered_because`: reason for signing while a tablet held entries back.
    """

    name: str
    credential: str
    role: str
    signed_at: datetime
    zone: str
    method: str
    statement: str
    late_because: str = ""
    undelivered_because: str = ""
    sections_opened: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Digests:
    """What is fixed: digest over `entries` entries; versions they were read by."""

    content: str
    entries: int
    catalogue: int
    policy: str


@dataclass(frozen=True, slots=True)
class Head:
    """The server log's head when the note was made: outsiders witness it."""

    position: int
    chain: str


@dataclass(frozen=True, slots=True)
class Held:
    """A tablet with this record open; `missing`: entries announced, not delivered."""

    tablet: str
    last_seen: str
    missing: int


@dataclass(frozen=True, slots=True)
class NotePhoto:
    """What stands for a photo on paper: a JPEG, or in words why there is none."""

    words: str
    jpeg: bytes | None = None


@dataclass(frozen=True, slots=True)
class NoteInput:
    """Everything one note says; the same input gives the same bytes.

    `printed_at`: when it was made, aware of its zone; `zone`: the hospital's;
    `attestation` None makes a draft, marked "Not signed" on every page;
    `cosigned`: the supervisor's own signature, apart from the author's;
    `limits`: version of the policy the record began with, `policy` its rows as
    written, "" for the shipped ones; `record`: its id, which stands for a patient
    without a name;
    `photos`: by the entry that names each and by its sealed name.
    """

    case: Case
    attestation: Attestation | None
    head: Head
    digests: Digests
    code_facts: tuple[CodeFact, ...]
    hospital: str
    zone: str
    printed_at: datetime
    limits: str
    policy: str = ""
    undelivered: tuple[Held, ...] = ()
    cosigned: tuple[Attestation, ...] = ()
    paper: Paper = "A4"
    code_head: tuple[str, ...] = field(default=())
    record: str = ""
    photos: Mapping[tuple[str, str], NotePhoto] = field(default_factory=dict)
