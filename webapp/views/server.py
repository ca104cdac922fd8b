"""The administrator's page about the server's log and its copies."""

from __future__ import annotations

from flask import Blueprint, render_template

from webapp.app_db import get_db, settings
from webapp.keep.copies import copied_upto, last_backup
from webapp.record.records import listed
from webapp.record.whole_log import entries_since, whole_log
from webapp.views.desk_auth import requires

bp = Blueprint("server", __name__)


@bp.get("/server")
@requires("administrator")
def index() -> str:
    """Show where the log ends, who saw it further, and what is missing from it."""
    db, home = get_db(), settings().home
    upto = copied_upto(home, db)
    return render_template(
        "server/index.html",
        log=whole_log(db),
        backup=last_backup(home),
        upto=upto,
        uncopied=entries_since(db, upto),
        names={row.id: row.who for row in listed(db)},
        home=home,
    )
