"""Passwords: what is accepted, how they are kept, how they are compared."""

from __future__ import annotations

import unicodedata

from werkzeug.security import check_password_hash, generate_password_hash

# NIST SP 800-63B (rev. 3) section 5.1.1.2 asks for at least 8 and for passphrases of
# at least 64 to be taken; 12 is our own choice for an account that signs.
SHORTEST = 12
LONGEST = 256

# Compared with when there is no such account, so that both answers take as long.
_NOBODY = generate_password_hash("nobody has this password")


def is_acceptable(password: str) -> bool:
    """Return whether a password may be chosen."""
    return SHORTEST <= len(_normal(password)) <= LONGEST


def hash_password(password: str) -> str:
    """Return the scrypt hash to keep, with its own salt and cost in it."""
    return generate_password_hash(_normal(password))


def is_password(kept: str | None, password: str) -> bool:
    """Return whether `password` made the hash `kept`.

    `kept`: None for no account; the same work is done, and the answer is False.
    """
    if len(password) > LONGEST:
        return False
    right = check_password_hash(kept or _NOBODY, _normal(password))
    return right and kept is not None


def _normal(password: str) -> str:
    # One letter may be typed as one sign or two, by another keyboard.
    return unicodedata.normalize("NFKC", password)
