"""What stands in the memory of a page, and of the workers that serve it."""

from __future__ import annotations

import json
from typing import Any

from playwright.sync_api import CDPSession, Page

from tests.support.browser import wait_until

_TAKE = "HeapProfiler.takeHeapSnapshot"
_CHUNK = "HeapProfiler.addHeapSnapshotChunk"


def heap_of(page: Page) -> str:
    """Return a page's heap snapshot, in which every string stands as it is."""
    session = page.context.new_cdp_session(page)
    chunks: list[str] = []
    session.on(_CHUNK, lambda told: chunks.append(told["chunk"]))
    session.send(_TAKE)
    session.detach()
    return _plain(chunks)


def heaps_of_workers(page: Page) -> list[str]:
    """Return the heap snapshot of each worker that a page has, its service worker's too."""
    session = page.context.new_cdp_session(page)
    workers: list[str] = []
    session.on(
        "Target.attachedToTarget", lambda told: workers.append(told["sessionId"])
    )
    attach = {"autoAttach": True, "waitForDebuggerOnStart": False, "flatten": False}
    session.send("Target.setAutoAttach", attach)
    wait_until(page, "true")
    found = [_heap_of_worker(session, page, worker) for worker in workers]
    session.detach()
    return found


def _heap_of_worker(session: CDPSession, page: Page, worker: str) -> str:
    chunks: list[str] = []
    done: list[bool] = []

    def hear(told: dict[str, Any]) -> None:
        if told["sessionId"] != worker:
            return
        message = json.loads(told["message"])
        if message.get("method") == _CHUNK:
            chunks.append(message["params"]["chunk"])
        done.extend([True] if message.get("id") == 1 else [])

    session.on("Target.receivedMessageFromTarget", hear)
    take = {"id": 1, "method": _TAKE, "params": {}}
    message = {"sessionId": worker, "message": json.dumps(take)}
    session.send("Target.sendMessageToTarget", message)
    while not done:
        # Its events come while something is asked.
        page.evaluate("new Promise((next) => setTimeout(next, 20))")
    return _plain(chunks)


def _plain(chunks: list[str]) -> str:
    """The snapshot is JSON: a sign beyond ASCII may stand escaped in it."""
    return "\n".join(json.loads("".join(chunks))["strings"])
