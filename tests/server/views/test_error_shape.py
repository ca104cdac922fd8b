"""Every failure under an API address is JSON of one shape, and echoes nothing."""

import pytest

from tests.support.hostile import LINES
from tests.support.signing import signs
from webapp.views import sync

ECHO = "<script>echo</script>"


def fails(client, method: str, path: str, **how):
    return getattr(client, method)(path, **how)


@pytest.mark.parametrize(
    ("method", "path", "how", "status"),
    [
        ("post", "/sync", {}, 401),
        ("get", "/sync", {}, 405),
        ("put", "/sync", {"data": ECHO}, 405),
        ("get", f"/sync/{ECHO}", {}, 404),
        ("post", "/tablet/person", {"data": ECHO}, 401),
        ("post", "/tablet/enrol", {"data": ECHO}, 400),
        ("get", "/no/such/place", {}, 404),
    ],
    ids=lambda value: str(value) if not isinstance(value, dict) else "",
)
def test_a_program_is_told_in_json(client, method, path, how, status):
    answer = fails(client, method, path, headers={"Accept": "*/*"}, **how)
    assert answer.status_code == status
    assert answer.mimetype == "application/json"
    assert answer.json["ok"] is False
    assert answer.json["status"] == status
    assert set(answer.json) == {"ok", "error", "errors", "status"}
    assert "echo" not in answer.text


def test_a_fault_of_the_server_is_json_without_its_trace(app, tablet, monkeypatch):
    def breaks(*_: object) -> None:
        raise ZeroDivisionError("inner words")

    app.config["TESTING"] = False
    app.config["PROPAGATE_EXCEPTIONS"] = False
    monkeypatch.setattr(sync, "receive", breaks)
    reply = tablet.posts(tablet.request())
    assert (reply.status, reply.json["status"]) == (500, 500)
    assert "inner words" not in str(reply.json)
    assert "Traceback" not in str(reply.json)


@pytest.mark.parametrize("name", LINES, ids=ascii)
def test_no_file_is_named_after_a_person(cast, tablet, name):
    record = tablet.opens()
    tablet.sets(record, "patient.family_name", name)
    tablet.syncs()
    cast.signer.signs_in()
    answer = cast.signer.opens(f"/records/{record}/note.pdf")
    told = answer.headers["Content-Disposition"]
    assert answer.status_code == 200
    assert told == f'inline; filename="wiremark-{record[:8]}-note-not-signed.pdf"'


def test_a_signed_note_and_a_csv_are_named_after_the_record(cast, tablet):
    record = tablet.opens()
    tablet.sets(record, "patient.family_name", LINES[0])
    tablet.syncs()
    cast.signer.signs_in()
    signs(cast.signer, record)
    note = cast.signer.opens(f"/records/{record}/note.pdf")
    cast.coder.signs_in()
    codes = cast.coder.opens(f"/records/{record}/codes.csv")
    names = [a.headers["Content-Disposition"].split("=")[1] for a in (note, codes)]
    assert names == [
        f'"wiremark-{record[:8]}-note-1.pdf"',
        f'"wiremark-codes-{record[-12:]}-E0001.csv"',
    ]
