"""What a newer server does with what an older one left: in the background, at start.

Nobody waits for it: an old fold is still a true one, and what is set aside is kept.
"""

from __future__ import annotations

import logging
import threading

from sqlite_utils import Database

from webapp.db import connect
from webapp.record import log, rulings
from webapp.record.keyring import Keyring
from webapp.record.records import has_stale, refresh_stale
from webapp.settings import Settings

_LOG = logging.getLogger(__name__)


def begin(site: Settings, db: Database, keyring: Keyring) -> threading.Thread | None:
    """Start catching up, if there is anything; return the thread that does it."""
    if not has_stale(db) and not log.set_aside(db, limit=1):
        return None
    thread = threading.Thread(target=_catch_up, args=(site, keyring), daemon=True)
    thread.start()
    return thread


def _catch_up(site: Settings, keyring: Keyring) -> None:
    db = connect(site.database)
    try:
        refresh_stale(db)
        rulings.reconsider(db, keyring)
    except Exception:
        # The next start tries again; until then nothing is lost, only older.
        _LOG.exception("not caught up with what an older server left")
    finally:
        db.conn.close()
