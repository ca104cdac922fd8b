"""A server run from a copy of the product, of which newer versions can be published."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

from playwright.sync_api import Page

from tests.support.server import ROOT, LiveServer

# A file of the list that no page asks for by itself.
SPARE = "/static/js/pages/desk.js"
READY = """(await (await import("/static/js/sw-bridge.js")).readiness()).ready"""
READINESS = """async () => (await import("/static/js/sw-bridge.js")).readiness()"""
REGISTERED = "(await navigator.serviceWorker.getRegistration('/tablet/'))"
# All that any cache of this origin holds.
CACHED = """async () => {
  const found = [];
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      const { status, type, redirected, headers } = await cache.match(request);
      found.push({ name, path: new URL(request.url).pathname, status, type, redirected,
        of: headers.get("content-type") });
    }
  }
  return found;
}"""
# A page that knows what it is told: `apply` fetches the newer version.
WATCH_UPDATE = """async () => {
  const { startShell } = await import("/static/js/sw-bridge.js");
  window.told = [];
  await startShell({
    onReady: (readiness) => window.told.push(readiness),
    onUpdate: (apply) => { window.apply = apply; },
  });
}"""
# The bytes of the spare file in every cache.
SPARES = f"""async () => {{
  const texts = [];
  for (const name of await caches.keys())
    texts.push(await (await (await caches.open(name)).match("{SPARE}"))?.text());
  return texts;
}}"""


def copied(home: Path, root: Path) -> LiveServer:
    """Return a server of this home that runs from a copy of the product."""
    for name in ("webapp", "static", "migrations"):
        ignored = shutil.ignore_patterns("__pycache__")
        shutil.copytree(ROOT / name, root / name, ignore=ignored)
    return LiveServer(home, root)


def publish(server: LiveServer, mark: str) -> None:
    """Publish a version in which one module differs."""
    file = Path(server.root) / "static" / "js" / "pages" / "desk.js"
    file.write_text(f"// {mark}\n", encoding="utf-8")


def looks_for_update(page: Page) -> None:
    """Let the browser ask for a newer worker, as it does at each start."""
    page.evaluate(f"async () => {REGISTERED}.update().catch((error) => String(error))")


def listed(page: Page) -> list[str]:
    """Return what the server's worker is to keep."""
    script = page.evaluate("async () => (await fetch('/sw.js')).text()")
    found = re.search(r"const SHELL = (\[.*?\]);", script, re.DOTALL)
    assert found
    return list(json.loads(found.group(1).replace(",\n]", "\n]")))
