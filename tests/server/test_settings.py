"""A site's choices: what is refused, with which word, and what is kept from others."""

import stat

import pytest

from webapp.app import create_app
from webapp.app_db import close_held
from webapp.settings import RANGES, UnusableSettings, load


def chosen(tmp_path, line):
    (tmp_path / "wiremark.toml").write_text(line, encoding="utf-8")
    return load(tmp_path)


def mode(path):
    return stat.S_IMODE(path.stat().st_mode)


@pytest.mark.parametrize(("name", "bounds"), RANGES.items(), ids=RANGES)
def test_a_number_out_of_range_is_refused_by_name(tmp_path, name, bounds):
    least, most = bounds
    for good in bounds:
        assert getattr(chosen(tmp_path, f"{name} = {good}"), name) == good
    for bad in (least - 1, most + 1):
        with pytest.raises(UnusableSettings, match=f"{name} is {least} to {most}"):
            chosen(tmp_path, f"{name} = {bad}")


@pytest.mark.parametrize(
    "name", ["https://a.example", "a.example:8443", "a.example/x", "", "a b", "*"]
)
def test_a_host_is_a_name_without_scheme_and_port(tmp_path, name):
    with pytest.raises(UnusableSettings, match="is no host name"):
        chosen(tmp_path, f'hosts = ["{name}"]')


@pytest.mark.parametrize("proxy", ["proxy.example", "*", "127.0.0.1:80", "10.0.0.0/8"])
def test_the_trusted_proxy_is_one_address(tmp_path, proxy):
    with pytest.raises(UnusableSettings, match="is not an IP address"):
        chosen(tmp_path, f'trusted_proxy = "{proxy}"')


def test_listening_everywhere_is_not_a_name(tmp_path):
    assert "0.0.0.0" not in chosen(tmp_path, 'host = "0.0.0.0"').names  # noqa: S104
    assert "192.0.2.7" in chosen(tmp_path, 'host = "192.0.2.7"').names


def test_a_folder_made_at_the_first_start_is_nobody_elses(tmp_path):
    home = tmp_path / "new" / "home"
    create_app(load(home))
    close_held()
    assert mode(home) == 0o700


def test_secrets_are_for_the_owner_only_in_a_folder_that_was_open(tmp_path):
    tmp_path.chmod(0o755)
    create_app(load(tmp_path))
    close_held()
    assert mode(tmp_path) == 0o700
    assert mode(tmp_path / "keys") == 0o700
    secrets = [tmp_path / "secret.key", *(tmp_path / "keys").iterdir()]
    assert len(secrets) == 2
    assert {mode(file) for file in secrets} == {0o600}


def test_the_secret_is_made_once_and_differs_between_sites(tmp_path):
    def secret_of(home):
        found = create_app(load(home)).config["SECRET_KEY"]
        close_held()
        return found

    first = secret_of(tmp_path / "one")
    assert secret_of(tmp_path / "one") == first
    assert secret_of(tmp_path / "two") != first
    assert len(bytes.fromhex(first)) == 32
