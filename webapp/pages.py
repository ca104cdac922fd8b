"""What every page does with what it is given: the one place where values are shown."""

from __future__ import annotations

from typing import Any

from flask import Flask
from markupsafe import Markup, escape

from webapp.apart import apart
from webapp.say import SAY, say_apart


def register(app: Flask) -> None:
    """Give pages our words, and keep each value from turning those beside it round."""
    app.jinja_env.globals.update(say=say_apart, SAY=SAY)
    app.jinja_env.filters["as_is"] = as_is
    app.jinja_env.finalize = _shown


def as_is(value: object) -> Markup:
    """Return a value, escaped, without any sign added.

    For what is sent or copied again: a box's content, the value behind a key.
    """
    return escape(value)


def _shown(value: Any) -> Any:
    return apart(value) if type(value) is str else value
