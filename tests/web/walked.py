"""Every page there is, found by following the links from the shelf; a new one is found too."""

from __future__ import annotations

import html
import re
from collections import deque
from urllib.parse import parse_qsl, urlsplit

from starlette.testclient import TestClient

LINKS = re.compile(r'<a\b[^>]*?href="([^"#]*)')
#: What only says of which leaf, or who looks: the page is built the same.
SAME_PAGE = {"leaf", "who"}


def kind_of(address: str) -> tuple[str, ...]:
    """Return what kind of page an address leads to: pages of one kind are built alike."""
    split = urlsplit(address)
    path = re.sub(r"^/job/[^/]+", "/job", split.path)
    path = re.sub(r"/\d+(?=/|$)", "/number", path)
    path = re.sub(r"/(left|right)(?=/|$)", "/side", path)
    path = re.sub(r"^/figures/.*", "/figures/one", path)
    asked = {name for name, _ in parse_qsl(split.query)} - SAME_PAGE
    if "part" in asked:
        # A part that was touched is shown alike on every page under a stage.
        path = "/".join(path.split("/")[:3])
    return path, *sorted(asked)


def pages_of(client: TestClient, slug: str) -> list[str]:
    """Return an address of each kind of page, of one job and of what belongs to none."""
    found: dict[tuple[str, ...], str] = {}
    seen: set[tuple[str, ...]] = set()
    waiting = deque(["/", "/enter", "/phone", f"/job/{slug}"])
    while waiting:
        address = waiting.popleft()
        kind = kind_of(address)
        if kind in seen or (address.startswith("/job/") and address.split("/")[2] != slug):
            continue
        seen.add(kind)
        answer = client.get(address)
        assert answer.status_code == 200, f"{address}: {answer.status_code}"
        if "html" not in answer.headers["content-type"]:
            continue
        found[kind] = address
        waiting.extend(html.unescape(link) for link in LINKS.findall(answer.text) if link)
    return list(found.values())
