"""Who signed, what was fixed, and what outsiders can check it against."""

from __future__ import annotations

from webapp.note.blocks import Block, Heading, Line, Prose, Said
from webapp.note.model import Attestation, Digests, Head, Held, NoteInput
from webapp.note.times import full_words
from webapp.say import say


def signed_words(note: NoteInput) -> str:
    """Return what the box on every page says of a signed note; "" for a draft."""
    if note.attestation is None:
        return ""
    names = [note.attestation.name, *(other.name for other in note.cosigned)]
    return say("note.signed_by", name=" + ".join(names))


def attestation_blocks(note: NoteInput) -> list[Block]:
    """Return signatures, digests and the head of the server's log."""
    blocks: list[Block] = [Heading(say("note.signing"), 1)]
    if note.attestation is None:
        blocks.append(Prose(say("note.not_signed_words")))
    else:
        blocks += signature_blocks(note.attestation, say("note.signature"))
    for other in note.cosigned:
        blocks += signature_blocks(other, say("note.cosignature"))
    blocks += _held(note.undelivered)
    return [*blocks, *_digests(note)]


def signature_blocks(signed: Attestation, title: str) -> list[Block]:
    """Return who signed, in which role, when and how, and what they stated."""
    name = signed.name
    if signed.credential:
        name = say("words.person_credential", name=name, credential=signed.credential)
    lines = [
        (say("note.signed_name"), name),
        (say("note.signed_role"), signed.role),
        (say("note.signed_at"), full_words(signed.signed_at, signed.zone)),
        (say("note.signed_method"), signed.method),
        (say("note.signed_late"), signed.late_because),
        (say("note.signed_undelivered"), signed.undelivered_because),
        (say("note.signed_sections"), ", ".join(signed.sections_opened)),
    ]
    told: list[Block] = [_line(label, words) for label, words in lines if words]
    return [Heading(title), *told, Prose(signed.statement)]


def _held(held: tuple[Held, ...]) -> list[Block]:
    """Return the tablets that had not handed over all they announced."""
    if not held:
        return []
    lines: list[Block] = [
        _line(h.tablet, say("note.held", n=h.missing, last=h.last_seen or "–"))
        for h in held
    ]
    return [Heading(say("note.held_back")), *lines]


def _digests(note: NoteInput) -> list[Block]:
    return [Heading(say("note.fixed_by")), *digest_lines(note.digests, note.head)]


def digest_lines(digests: Digests, head: Head) -> list[Block]:
    """Return what fixes a paper, and what outsiders can hold it against."""
    return [
        _line(say("note.digest_content"), grouped(digests.content)),
        _line(say("note.digest_entries"), str(digests.entries)),
        _line(say("note.head_position"), str(head.position)),
        _line(say("note.head_chain"), grouped(head.chain)),
        _line(say("note.catalogue_version"), str(digests.catalogue)),
        _line(say("note.limits_version"), digests.policy),
        Prose(say("note.digest_words"), quiet=True),
    ]


def grouped(digest: str) -> str:
    """Return a digest in groups of eight, so that a person can compare it."""
    return " ".join(digest[n : n + 8] for n in range(0, len(digest), 8))


def _line(label: str, words: str) -> Line:
    return Line(label, (Said(words),))
