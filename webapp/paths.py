"""Where the product's own files lie: in the wheel, or beside the package."""

from __future__ import annotations

from pathlib import Path

PACKAGE = Path(__file__).resolve().parent


def shipped(inside: str, beside: str) -> Path:
    """Return the folder packed into the wheel, or the one of the checkout.

    `inside`: name within the package; `beside`: name next to the package.
    Raises FileNotFoundError: when neither exists.
    """
    for place in (PACKAGE / inside, PACKAGE.parent / beside):
        if place.is_dir():
            return place
    raise FileNotFoundError(f"neither {inside} in the package nor {beside} beside it")


def static_folder() -> Path:
    """Return the folder of the files the browser gets."""
    return shipped("static", "static")


def migrations_folder() -> Path:
    """Return the folder of the database migrations."""
    return shipped("migrations", "migrations")


def demo_folder() -> Path:
    """Return the folder of the demo's entry streams."""
    return shipped("demo_streams", "fixtures/demo")
