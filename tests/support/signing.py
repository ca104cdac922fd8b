"""Signing at the desk, as a person does it: read the page, then send its form."""

from __future__ import annotations

import re

from tests.support.cast import PASSWORD, Actor


def form_of(page: str) -> dict[str, str]:
    """Return what the signing page says was read."""
    digest = re.search(r'name="digest" value="([0-9a-f]{64})"', page)
    upto = re.search(r'name="upto" value="(\d+)"', page)
    assert digest
    assert upto
    return {"digest": digest.group(1), "upto": upto.group(1)}


def adds(signer: Actor, record: str, **changes: str | list[str]):
    """Read the page of what may be added after signing, and add an addendum."""
    page = f"/records/{record}/added"
    read = re.search(r'name="digest" value="([0-9a-f]{64})"', signer.opens(page).text)
    assert read
    fields = {"digest": read.group(1), "kind": "addendum", "text": "An addendum."}
    return signer.posts(page, **{**fields, "password": PASSWORD, **changes})


def signs(signer: Actor, record: str, **changes: str):
    """Read the signing page of a record and sign what it shows."""
    page = f"/records/{record}/sign"
    read = form_of(signer.opens(page).text)
    fields = {**read, "agree": "yes", "password": PASSWORD, **changes}
    return signer.posts(page, **fields)
