"""The wheel, in an empty folder far from the checkout, serves."""

import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def installed(tmp_path_factory):
    """A folder into which the wheel, and nothing else of ours, was unpacked."""
    folder = tmp_path_factory.mktemp("wheel")
    pip = [sys.executable, "-m", "pip", "--disable-pip-version-check", "--quiet"]
    build = [*pip, "wheel", "--no-deps", "--no-build-isolation", "-w", str(folder)]
    subprocess.run([*build, str(ROOT)], check=True, capture_output=True)
    (wheel,) = folder.glob("wiremark-*.whl")
    target = folder / "site"
    install = [*pip, "install", "--no-deps", "--target", str(target), str(wheel)]
    subprocess.run(install, check=True, capture_output=True)
    return target


def free_port():
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return asked.getsockname()[1]


def status_once_up(url, limit_s=180):
    """Ask until somebody answers; the demo is filled before it listens."""
    end = time.monotonic() + limit_s
    while True:
        try:
            with urllib.request.urlopen(url, timeout=limit_s) as answer:
                return answer.status
        except urllib.error.HTTPError as error:
            error.close()
            return error.code
        except OSError:
            if time.monotonic() > end:
                raise


def run(installed, home, *words):
    code = "import webapp.cli as c; print(c.__file__, flush=True); c.main()"
    return [sys.executable, "-c", code, *words], {
        "PYTHONPATH": str(installed),
        "WIREMARK_HOME": str(home),
        "PATH": "/usr/bin:/bin",
    }


def test_an_installed_wheel_makes_the_demo_and_serves_every_surface(
    installed, tmp_path
):
    port = free_port()
    words = ("demo", "--home", str(tmp_path / "demo"), "--port", str(port))
    command, env = run(installed, tmp_path, *words)
    process = subprocess.Popen(
        command, env=env, cwd=tmp_path, stdout=subprocess.PIPE, text=True
    )
    try:
        assert process.stdout.readline().startswith(str(installed))
        for path in ("/sign-in", "/tablet/", "/sw.js", "/catalogue.json"):
            assert status_once_up(f"http://127.0.0.1:{port}{path}") == 200
    finally:
        process.terminate()
        process.wait(timeout=20)
        process.stdout.close()


def test_the_wheel_holds_every_case_of_the_demo(installed):
    shipped, ours = installed / "webapp" / "demo_streams", ROOT / "fixtures" / "demo"
    found = {f.relative_to(shipped) for f in shipped.rglob("*.json")}
    assert found == {f.relative_to(ours) for f in ours.rglob("*.json")}
    assert found
