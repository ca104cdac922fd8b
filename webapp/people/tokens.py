"""Secrets told once, and kept only as fingerprints."""

from __future__ import annotations

import hashlib
import secrets
from datetime import UTC, datetime


def new_token() -> str:
    """Return a fresh token of 256 random bits, fit for a header."""
    return secrets.token_urlsafe(32)


def fingerprint(secret: str) -> str:
    """Return what is kept of a secret: its SHA-256 in hex."""
    return hashlib.sha256(secret.encode("utf-8", "surrogatepass")).hexdigest()


def utc_text(moment: datetime) -> str:
    """Return a moment as UTC text with milliseconds, which sorts as time does."""
    at = moment.astimezone(UTC)
    return at.strftime("%Y-%m-%dT%H:%M:%S.") + f"{at.microsecond // 1000:03d}Z"
