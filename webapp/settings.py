"""What a site chooses: read once at start, refused with a clear word when wrong."""

from __future__ import annotations

import ipaddress
import os
import secrets
import tomllib
from dataclasses import dataclass, field, fields
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

SETTINGS_FILE = "wiremark.toml"
SECRET_FILE = "secret.key"  # noqa: S105 - a file name
DATABASE_FILE = "wiremark.db"
# One request takes 16 MiB, and a photo has one to itself.
LARGEST_PHOTO_MIB = 15
# By what names a browser on the same machine asks for it; headers.py adds [::1].
OWN_NAMES = ("localhost", "127.0.0.1")
# The least and the most of each number; the widest that still makes sense, our choice.
RANGES = {
    "port": (0, 65535),
    "lock_after_idle_min": (1, 60),
    "lock_after_idle_running_min": (1, 240),
    "keep_readable_h": (1, 168),
    "keep_bytes_d": (1, 90),
    "running_case_h": (1, 24),
    "person_grant_h": (1, 24),
    "sign_within_h": (0, 8760),
    "sign_in_tries": (3, 20),
    "sign_in_window_min": (5, 1440),
    "photo_max_mib": (1, LARGEST_PHOTO_MIB),
}
# When a tablet locks, and how long it keeps what it holds.
TOLD_TABLETS = (
    *("lock_after_idle_min", "lock_after_idle_running_min", "lock_shows_numbers"),
    *("keep_readable_h", "keep_bytes_d", "running_case_h"),
)


class UnusableSettings(ValueError):
    """A setting is unknown, of the wrong kind or out of range."""


@dataclass(frozen=True, slots=True)
class Settings:
    """A site's choices. `home` holds the database, the keys and the settings file.

    `cpt_enabled`: None, or {by, role, on, licence_reference} (coding needs it);
    `sign_within_h`: after so many hours a signature asks why it is late, 0 never;
    `policy`: overrides of clinical limits by key, as exact decimal text;
    `generator_maximum_ma`: the highest output of this site's generators, above which
    no lowest output is taken; `photo_max_mib`: the largest photo taken, in MiB;
    `lock_shows_numbers`: a locked tablet goes on showing the four numbers of a running
    case, without a name;
    `hosts`: the names it is asked for by beside those of this machine;
    `trusted_proxy`: the address of the one TLS proxy in front, "" for none.
    """

    home: Path
    hospital: str = "Hospital name not set"
    facility: str = ""
    zone: str = "UTC"
    paper: str = "A4"
    host: str = "127.0.0.1"
    port: int = 8321
    cpt_enabled: dict[str, str] | None = None
    require_edition: bool = False
    pacing_code_policy: str = ""
    lock_after_idle_min: int = 5
    lock_after_idle_running_min: int = 30
    lock_shows_numbers: bool = True
    keep_readable_h: int = 12
    keep_bytes_d: int = 7
    person_grant_h: int = 12
    running_case_h: int = 2
    photo_max_mib: int = 12
    generator_maximum_ma: str = "25"
    sign_within_h: int = 0
    sign_in_tries: int = 5
    sign_in_window_min: int = 15
    secure_cookies: bool = False
    hosts: list[str] = field(default_factory=list)
    trusted_proxy: str = ""
    policy: dict[str, str] = field(default_factory=dict)

    @property
    def database(self) -> Path:
        """Return the path of the one database file."""
        return self.home / DATABASE_FILE

    @property
    def is_https(self) -> bool:
        """Return whether browsers reach this site by TLS only."""
        return self.secure_cookies or bool(self.trusted_proxy)

    @property
    def of_tablets(self) -> dict[str, int]:
        """Return what every tablet is told to keep to, by the names of the settings."""
        return {name: getattr(self, name) for name in TOLD_TABLETS}

    @property
    def names(self) -> list[str]:
        """Return every name or address a request may be for, without a port."""
        listening = [] if self.host in ("", "0.0.0.0", "::") else [self.host]  # noqa: S104
        return [*OWN_NAMES, *listening, *(name.lower() for name in self.hosts)]


def load(home: Path | str | None = None) -> Settings:
    """Read the settings of a home folder, made with safe modes if it is missing.

    `home` defaults to $WIREMARK_HOME, else ./instance. Raises UnusableSettings.
    """
    folder = Path(home or os.environ.get("WIREMARK_HOME") or "instance").absolute()
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    file = folder / SETTINGS_FILE
    given: dict[str, Any] = {}
    if file.exists():
        try:
            given = tomllib.loads(file.read_text(encoding="utf-8"))
        except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
            raise UnusableSettings(f"{SETTINGS_FILE}: {error}") from error
    return _checked(folder, given)


def secret(settings: Settings) -> str:
    """Return the secret that signs sessions, made at the first start."""
    file = settings.home / SECRET_FILE
    if not file.exists():
        # A folder made by hand before the first start may be open to others.
        settings.home.chmod(0o700)
        made = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(made, "w", encoding="ascii") as out:
            out.write(secrets.token_hex(32))
    return file.read_text(encoding="ascii")


def _checked(home: Path, given: dict[str, Any]) -> Settings:
    known = {f.name: f for f in fields(Settings) if f.name != "home"}
    for name, value in given.items():
        if name not in known:
            raise UnusableSettings(f"{SETTINGS_FILE}: no setting is called {name}")
        default = getattr(Settings(home), name)
        kind = dict if default is None else type(default)
        if not isinstance(value, kind) or (kind is int and isinstance(value, bool)):
            raise UnusableSettings(
                f"{SETTINGS_FILE}: {name} takes a value of kind {kind.__name__}"
            )
    settings = Settings(home, **given)
    if settings.paper not in ("A4", "Letter"):
        raise UnusableSettings("paper is A4 or Letter")
    for name, (least, most) in RANGES.items():
        if not least <= getattr(settings, name) <= most:
            raise UnusableSettings(f"{name} is {least} to {most}")
    _check_places(settings)
    try:
        ZoneInfo(settings.zone)
    except (ZoneInfoNotFoundError, ValueError) as error:
        raise UnusableSettings(f"zone {settings.zone!r} is not an IANA zone") from error
    return settings


def _check_places(settings: Settings) -> None:
    """Raise UnusableSettings: a host is no name, or the proxy no address."""
    for name in settings.hosts:
        # A mistyped name would shut everybody out with a riddle.
        if (
            not isinstance(name, str)
            or not name
            or set(name) & set("/:*@ ")
            or name[0] == "."
        ):
            raise UnusableSettings(
                f"hosts: {name!r} is no host name; give it without scheme and port"
            )
    if settings.trusted_proxy:
        try:
            ipaddress.ip_address(settings.trusted_proxy)
        except ValueError as error:
            raise UnusableSettings(
                f"trusted_proxy {settings.trusted_proxy!r} is not an IP address"
            ) from error
