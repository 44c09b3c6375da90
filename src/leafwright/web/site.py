"""What all routes share: the store, the plans kept ready, and how an answer is given."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any

from fastapi import Request
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from leafwright.job.store import LogEntry, Saved, Store
from leafwright.web.assets import rendered
from leafwright.web.door import Door
from leafwright.web.planned import Planned, Plans
from leafwright.web.work import Works

#: The header by which a page's script asks for JSON with the new page in it.
LIVE = "x-leafwright"


class MissingError(Exception):
    """Something that was asked for is not there; the text says what."""


@dataclass(frozen=True, slots=True)
class Site:
    """The store with the plans of its jobs; ``door`` is there where other machines may come in."""

    store: Store
    plans: Plans
    door: Door | None
    works: Works = field(default_factory=Works)
    addresses: tuple[str, ...] = ()

    def planned(self, slug: str) -> Planned:
        """Return a job with its plan."""
        return self.plans.of(self.store.read(slug))

    def looked_at(self, slug: str) -> Planned:
        """Return a job for a page: at first what can be shown at once, and then its whole plan."""
        return self.plans.looked_at(self.store.read(slug))

    def state(self, saved: Saved) -> str:
        """Return what a page of a job rests on: its version, its log and the day."""
        said = len(self.store.log(saved.slug))
        return f"{saved.version}/{said}/{self.plans.today().isoformat()}"

    def text_of(self, slug: str, version: str) -> str | None:
        """Return the text of an earlier version of a job, or None where it is not known."""
        now = self.store.read(slug)
        if now.version == version:
            return now.text
        for kept in reversed(self.store.versions(slug)):
            if kept.version == version:
                return self.store.version_text(slug, kept.number)
        return None


def is_live(request: Request) -> bool:
    """Return whether a page's script asks."""
    return LIVE in request.headers


def page(template: str, status: int = 200, **values: Any) -> HTMLResponse:
    """Return a page as an answer."""
    return HTMLResponse(rendered(template, **values), status)


def moved(where: str) -> Response:
    """Return the answer that sends a browser on after it has posted something."""
    return RedirectResponse(where, 303)


def live_answer(html: str, saved: Saved | None, **more: Any) -> JSONResponse:
    """Return what a page's script reads: the new page, and the version that it shows."""
    status = int(more.pop("status", 200))
    version = saved.version if saved else None
    return JSONResponse({"html": html, "version": version, **more}, status)


def from_the_shelf(store: Store, error: Exception) -> str:
    """Return what an error says, with where files lie told from the shelf on.

    Whoever started the server was told where that is; a phone has no need to know it.
    """
    shelf = store.shelf
    told = str(error)
    if shelf.is_absolute() and shelf.name:
        told = told.replace(str(shelf), shelf.name)
    # What a file is called need not be text; a page is.
    return told.encode("utf-8", "replace").decode("utf-8")


def by_form(
    work: Callable[[Request, FormData], Response],
) -> Callable[[Request], Awaitable[Response]]:
    """Return an endpoint that reads a form, then works on another thread."""

    async def endpoint(request: Request) -> Response:
        async with request.form(max_files=2, max_fields=400) as form:
            return await run_in_threadpool(work, request, form)

    return endpoint


def word(form: FormData, name: str, most: int = 200) -> str:
    """Return a field of a form as text, cut to a length; nothing where it is not there."""
    value = form.get(name)
    return value.strip()[:most] if isinstance(value, str) else ""


def log_entry(
    base: str, kind: str, about: str, data: dict[str, Any], *, who: str, now: float
) -> LogEntry:
    """Return an entry for the log; what is said of the same thing on the same ground counts once.

    Args:
        base: what it was said on the ground of, as the job's version.
        kind: of the entry.
        about: what it is about.
        data: what is said of it.
        who: who says it.
        now: the moment [s], POSIX time.
    """
    said = json.dumps([base, kind, about, data], sort_keys=True, ensure_ascii=False)
    at = datetime.fromtimestamp(now, UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    number = hashlib.sha256(said.encode()).hexdigest()[:24]
    return LogEntry(f"{kind}-{number}", at, kind, about, data, who)


def tick_entry(entry: str, about: str, *, done: bool, hash: str, now: float) -> LogEntry:
    """Return a tick for the log; the same ``entry`` twice counts once."""
    at = datetime.fromtimestamp(now, UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    return LogEntry(entry, at, "tick", about, {"done": done, "hash": hash}, "")
