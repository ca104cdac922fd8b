"""The server's private keys and settings: copied apart from the database."""

from __future__ import annotations

from pathlib import Path

from webapp.keep.files import write_whole
from webapp.record.keyring import FOLDER
from webapp.say import say
from webapp.settings import SETTINGS_FILE


class CannotCopyKeys(Exception):
    """The keys were not copied, or not all; the text says why."""


def copy_keys(home: Path, folder: Path) -> list[str]:
    """Copy every key and the settings into a private folder; return their names.

    Raises CannotCopyKeys: when a key of the same name there is another, or nothing
    can be written.
    """
    sources = [*sorted((home / FOLDER).glob("*.pem")), home / SETTINGS_FILE]
    found = [source for source in sources if source.exists()]
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        for source in found:
            _put(source, folder / source.name)
    except OSError as error:
        because = error.strerror or str(error)
        raise CannotCopyKeys(
            say("keep.not_written", file=folder, because=because)
        ) from error
    return [source.name for source in found]


def bring_keys(folder: Path, home: Path) -> list[str]:
    """Put the keys of such a folder beside the database; return their names.

    Settings are brought only where there are none. Raises CannotCopyKeys.
    """
    found = sorted(folder.glob("*.pem"))
    if not found:
        raise CannotCopyKeys(say("keep.no_keys_there", folder=folder))
    (home / FOLDER).mkdir(mode=0o700, exist_ok=True)
    for source in found:
        _put(source, home / FOLDER / source.name)
    settings = folder / SETTINGS_FILE
    if settings.exists() and not (home / SETTINGS_FILE).exists():
        _put(settings, home / SETTINGS_FILE)
        found.append(settings)
    return [source.name for source in found]


def missing_keys(home: Path, known: list[str]) -> list[str]:
    """Return which of these server keys have no file beside the database."""
    return [name for name in known if not (home / FOLDER / f"{name}.pem").exists()]


def _put(source: Path, target: Path) -> None:
    raw = source.read_bytes()
    is_key = source.suffix == ".pem"
    if is_key and target.exists() and target.read_bytes() != raw:
        raise CannotCopyKeys(say("keep.other_key", file=target))
    write_whole(target, raw)
