"""Keys and settings, copied to a folder of their own."""

import os
import stat

import pytest

from webapp.keep.keys_apart import CannotCopyKeys, bring_keys, copy_keys
from webapp.record.keyring import Keyring


def mode(path):
    return stat.S_IMODE(path.stat().st_mode)


def test_only_their_owner_reads_copied_keys(run, app, site, tmp_path):
    done = run("backup-keys", tmp_path / "keys")
    assert done.exit_code == 0, done.output
    assert "another place than" in done.output
    assert mode(tmp_path / "keys") == 0o700
    names = sorted(os.listdir(tmp_path / "keys"))
    assert names == [f"{Keyring(site.home).current().id}.pem", "wiremark.toml"]
    assert {mode(tmp_path / "keys" / name) for name in names} == {0o600}


def test_keys_go_with_a_backup_into_a_folder_of_their_own(run, app, site, tmp_path):
    done = run("backup", tmp_path / "one.db", "--keys", tmp_path / "keys")
    assert done.exit_code == 0, done.output
    assert "copied to" in done.output
    assert len(os.listdir(tmp_path / "keys")) == 2


def test_copying_again_adds_new_keys_and_changes_none(app, site, tmp_path):
    copy_keys(site.home, tmp_path / "keys")
    before = {f.name: f.read_bytes() for f in (tmp_path / "keys").iterdir()}
    (site.home / "keys" / "0199c0de-0000-7000-8000-000000000001.pem").write_bytes(b"x")
    assert len(copy_keys(site.home, tmp_path / "keys")) == 3
    after = {f.name: f.read_bytes() for f in (tmp_path / "keys").iterdir()}
    assert len(after) == 3
    assert before.items() <= after.items()


def test_a_key_is_never_replaced_by_another(app, site, tmp_path):
    copy_keys(site.home, tmp_path / "keys")
    name = f"{Keyring(site.home).current().id}.pem"
    (tmp_path / "keys" / name).write_bytes(b"another")
    with pytest.raises(CannotCopyKeys, match="another key"):
        copy_keys(site.home, tmp_path / "keys")
    with pytest.raises(CannotCopyKeys, match="another key"):
        bring_keys(tmp_path / "keys", site.home)
    assert (site.home / "keys" / name).read_bytes() != b"another"


def test_a_folder_that_cannot_be_made_is_told(run, app, site, tmp_path):
    done = run("backup-keys", site.home / "wiremark.toml")
    assert (done.exit_code, "could not be written" in done.output) == (1, True)
    none = run("restore", tmp_path / "one.db", "--keys", tmp_path)
    assert (none.exit_code, "no server key" in none.output) == (1, True)
