"""`wiremark people` and `wiremark tablets`, as an administrator runs them."""

import pytest

from tests.support.cast import PASSWORD
from webapp.cli import main
from webapp.people import accounts, tablets


@pytest.fixture
def run(app, site, monkeypatch):
    monkeypatch.setenv("WIREMARK_HOME", str(site.home))
    runner = app.test_cli_runner()

    def wiremark(*words, keys=""):
        return runner.invoke(main, list(words), input=keys)

    return wiremark


ADD = ("people", "add", "test-ines", "--name", "Test-Ines ALDERMERE")


def test_a_person_is_added_with_several_roles_and_may_sign_in(run, db):
    done = run(
        *ADD, "--role", "operator", "--role", "supervisor", "--npi", "1234567893",
        keys=f"{PASSWORD}\n{PASSWORD}\n",
    )  # fmt: skip
    assert done.exit_code == 0, done.output
    person = accounts.verified(db, "test-ines", PASSWORD)
    assert person.roles == ("operator", "supervisor")
    assert PASSWORD not in done.output


def test_what_is_wrong_with_a_person_is_said_and_nothing_is_kept(run, db):
    done = run(*ADD, "--role", "nurse", "--npi", "1", "--password", "short")
    assert done.exit_code == 1
    assert "NPI takes ten digits" in done.output
    assert "password takes 12" in done.output
    assert accounts.people(db) == []


def test_an_unknown_role_is_refused_with_those_there_are(run):
    done = run(*ADD, "--role", "pilot", "--password", PASSWORD)
    assert done.exit_code == 2
    assert "'operator'" in done.output


def test_the_list_shows_who_there_is_and_who_left(run, db):
    run(*ADD, "--role", "nurse", "--password", PASSWORD)
    assert "deactivated" not in run("people", "list").output
    assert run("people", "deactivate", "test-ines").exit_code == 0
    shown = run("people", "list").output.strip().split("\t")
    assert shown[:2] == ["test-ines", "Test-Ines ALDERMERE"]
    assert shown[-1] == "deactivated"
    assert run("people", "reactivate", "test-ines").exit_code == 0
    assert accounts.verified(db, "test-ines", PASSWORD) is not None


def test_a_person_gets_a_new_password(run, db):
    run(*ADD, "--role", "nurse", "--password", PASSWORD)
    new = "basalt and rope 11"
    assert run("people", "password", "test-ines", "--password", new).exit_code == 0
    assert accounts.verified(db, "test-ines", new) is not None
    short = run("people", "password", "test-ines", "--password", "short")
    assert short.exit_code == 1


@pytest.mark.parametrize("verb", ["deactivate", "reactivate", "password"])
def test_nobody_of_that_name_is_said_so(run, verb):
    words = ["--password", PASSWORD] if verb == "password" else []
    done = run("people", verb, "nobody", *words)
    assert done.exit_code == 1
    assert "nobody" in done.output


def test_a_tablet_is_added_and_its_code_alone_is_printed_to_output(run, db):
    done = run("tablets", "add", "tablet 2")
    assert done.exit_code == 0
    code = done.stdout.strip()
    assert len(code) == 8
    assert tablets.redeem(db, code) is not None


def test_a_tablet_is_listed_revoked_and_let_in_again(run, db):
    run("tablets", "add", "tablet 2")
    assert "waiting" in run("tablets", "list").output
    assert run("tablets", "revoke", "tablet 2").exit_code == 0
    assert "revoked" in run("tablets", "list").output
    code = run("tablets", "renew", "tablet 2").stdout.strip()
    assert tablets.redeem(db, code) is not None
    assert "enrolled" in run("tablets", "list").output


@pytest.mark.parametrize("verb", ["revoke", "renew"])
def test_no_tablet_of_that_name_is_said_so(run, verb):
    done = run("tablets", verb, "tablet 9")
    assert done.exit_code == 1
    assert "tablet 9" in done.output


def test_a_tablets_name_is_taken_once(run):
    run("tablets", "add", "tablet 2")
    done = run("tablets", "add", "tablet 2")
    assert done.exit_code == 1
    assert "already called" in done.output
