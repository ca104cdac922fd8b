"""The style page: there for everybody, without data, and no part of the shell."""

from webapp.catalogue import CATALOGUE
from webapp.views.style import SHOWN


def test_anybody_may_look_at_the_style_page(client):
    answer = client.get("/style")
    assert answer.status_code == 200
    assert "Every component in every state" in answer.text


def test_every_kind_of_field_is_on_the_style_page():
    paths = " ".join(SHOWN.values()).split()
    kinds = {field.kind for path in paths if (field := CATALOGUE.field(path))}
    every = {field.kind for part in CATALOGUE.parts for field in part.fields()}
    assert kinds == every


def test_the_shell_does_not_keep_the_style_page(client):
    worker = client.get("/sw.js").text
    assert "/style" not in worker
    assert "pages/style" not in worker
