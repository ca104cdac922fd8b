"""A running server takes up what `wiremark codes load` put there, without a restart."""

import http.cookiejar
import json
import urllib.parse
import urllib.request

import pytest

from tests.support.cast import CODER, PASSWORD
from tests.support.html import Page
from tests.support.order_files import loads
from webapp.views.code_facts import RULINGS_FILE, TABLES_FOLDER

MARK = "FY2032 not loaded"
TITLE = "Atrioventricular block, complete. ICD-10-CM FY2032."

RETIRED = """
[[ruling]]
rule = "dx-avb-3"
by = "T. Kode-Example, CCS"
on = 2031-01-01
verdict = "retire"
"""


@pytest.fixture
def visit(cast, live):
    """Return what opens a page of the real server, signed in as the coder."""
    assert cast.coder
    jar = http.cookiejar.CookieJar()
    browser = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(jar))

    def opens(path, fields=None):
        body = urllib.parse.urlencode(fields).encode() if fields else None
        asked = urllib.request.Request(live.url + path, body, {"Accept": "text/html"})
        with browser.open(asked, timeout=60) as answer:
            return answer.read().decode()

    [token] = [
        tag["value"]
        for tag in Page(opens("/sign-in")).tags
        if tag.get("name") == "csrf_token"
    ]
    told = {"login": CODER.login, "password": PASSWORD, "csrf_token": token}
    opens("/sign-in", told)
    return opens


def test_a_loaded_edition_serves_the_next_page_of_a_running_server(
    app, site, monkeypatch, visit, unserved, order_file
):
    assert MARK in visit(f"/coding/{unserved}")
    loads(app, site, monkeypatch, order_file)
    page = visit(f"/coding/{unserved}")
    assert MARK not in page
    assert TITLE in page


def test_what_nothing_changed_is_not_read_again(app, coder, unserved):
    coder.opens(f"/coding/{unserved}")
    made = app.extensions["coding_judge"]
    coder.opens(f"/coding/{unserved}")
    assert app.extensions["coding_judge"] is made


def test_a_taken_away_edition_serves_no_more(
    app, site, monkeypatch, coder, unserved, order_file
):
    loads(app, site, monkeypatch, order_file)
    assert MARK not in coder.opens(f"/coding/{unserved}").text
    [kept] = (site.home / TABLES_FOLDER).iterdir()
    kept.unlink()
    assert MARK in coder.opens(f"/coding/{unserved}").text


def test_a_spoilt_table_leaves_the_editions_that_were_in_use(
    app, site, monkeypatch, coder, unserved, order_file, caplog
):
    loads(app, site, monkeypatch, order_file)
    coder.opens(f"/coding/{unserved}")
    [kept] = (site.home / TABLES_FOLDER).iterdir()
    told = json.loads(kept.read_text(encoding="utf-8"))
    told["billable"]["I442"] = "Something else"
    kept.write_text(json.dumps(told), encoding="utf-8")
    assert TITLE in coder.opens(f"/coding/{unserved}").text
    assert "sha256 is not that of the codes" in caplog.text


def test_a_ruling_put_there_meanwhile_is_followed(site, coder, unserved):
    assert "dx-avb-3" in coder.opens(f"/coding/{unserved}").text
    ruling = (
        '[[ruling]]\nrule = "dx-avb-3"\nby = "T. Kode-Example, CCS"\non = 2031-01-01'
    )
    told = f'{ruling}\nverdict = "retire"\n'
    (site.home / RULINGS_FILE).write_text(told, encoding="utf-8")
    assert "dx-avb-3" not in coder.opens(f"/coding/{unserved}").text


def test_a_load_leaves_no_half_written_file(
    app, site, monkeypatch, unserved, order_file
):
    for _ in range(2):
        loads(app, site, monkeypatch, order_file)
    names = [file.name for file in (site.home / TABLES_FOLDER).iterdir()]
    assert names == ["icd-10-cm-fy2032.json"]
