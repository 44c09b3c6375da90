"""The application: one store of jobs, its pages and its JSON interface, behind the guard."""

from __future__ import annotations

import errno
from collections.abc import Callable, Iterable
from datetime import date, datetime

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.responses import JSONResponse, Response

from leafwright.fault import place_of_fault
from leafwright.job.store import Store, StoreError
from leafwright.web import api, edits, figured, lists, pages
from leafwright.web.assets import KINDS, asset, stamp
from leafwright.web.door import Door
from leafwright.web.guard import LOOPBACK_NAMES, MOST_SECONDS, Guard
from leafwright.web.planned import BusyError, Plans
from leafwright.web.site import MissingError, Site, from_the_shelf, is_live, page


def _today() -> date:
    return datetime.now().astimezone().date()


def create_app(
    store: Store,
    *,
    lan_secret: bytes | None = None,
    hosts: Iterable[str] = (),
    announce: Callable[[str], None] = lambda code: None,
    addresses: tuple[str, ...] = (),
    today: Callable[[], date] = _today,
    most_seconds: float = MOST_SECONDS,
) -> FastAPI:
    """Return the application that serves a store of jobs.

    Args:
        store: where the jobs are kept.
        lan_secret: the key that sessions are signed with; None serves this machine only.
        hosts: names and addresses that it answers to, beside those of this machine itself.
        announce: told every new code by which a device may come in.
        addresses: where other devices find it, to be shown to the maker.
        today: the day that answers' expiry dates are held against.
        most_seconds: how long a request may take to come in [s].
    """
    door = Door(lan_secret, announce=announce) if lan_secret is not None else None
    site = Site(store, Plans(today), door, addresses=addresses)
    app = FastAPI(
        title="Leafwright",
        version=api.VERSION,
        description="Jobs, their plans in SI, and their logs, as the page itself uses them.",
        openapi_url="/api/openapi.json",
        docs_url=None,
        redoc_url=None,
    )
    app.state.site = site
    app.include_router(api.router(site))
    app.include_router(lists.router(site))
    app.include_router(edits.router(site))
    app.include_router(figured.router(today))
    app.include_router(pages.router(site))
    app.add_api_route("/static/{version}/{name}", _static, include_in_schema=False)
    app.add_exception_handler(StoreError, _told(409))
    app.add_exception_handler(MissingError, _told(404))
    app.add_exception_handler(BusyError, _busy)
    app.add_exception_handler(OSError, _disk)
    app.add_exception_handler(HTTPException, _http)
    app.add_exception_handler(RequestValidationError, _invalid)
    app.add_exception_handler(Exception, _fault)
    app.add_middleware(GZipMiddleware, minimum_size=800, compresslevel=5)
    app.add_middleware(Guard, hosts=(*LOOPBACK_NAMES, *hosts), door=door, most_seconds=most_seconds)
    return app


def _static(version: str, name: str) -> Response:
    content = asset(name)
    kind = KINDS.get(name[name.rfind(".") :] if "." in name else "")
    if content is None or kind is None:
        return Response("no such file\n", 404, media_type="text/plain")
    kept = "public, max-age=31536000, immutable" if version == stamp() else "no-cache"
    return Response(content, media_type=kind, headers={"Cache-Control": kept})


def _answer(request: Request, status: int, words: str, *, history: str = "") -> Response:
    if request.url.path.startswith("/api"):
        return JSONResponse({"detail": words}, status)
    missing = status == 404
    return page("said.html", status, words=words, good=False, history=history, missing=missing)


def _told(status: int) -> Callable[[Request, Exception], Response]:
    def handler(request: Request, error: Exception) -> Response:
        cause = error.__cause__
        if isinstance(cause, OSError) and cause.errno in (errno.ENOSPC, errno.EDQUOT):
            return _disk(request, cause)
        code = 404 if isinstance(error, StoreError) and request.method == "GET" else status
        if isinstance(cause, OSError):
            code = 500
        store = request.app.state.site.store
        return _answer(request, code, from_the_shelf(store, error), history=_history(request))

    return handler


def _history(request: Request) -> str:
    """Return where the versions of the job that was asked for are, if there are any."""
    slug = request.path_params.get("slug", "")
    try:
        kept = request.app.state.site.store.versions(slug)
    except StoreError:
        return ""
    return f"/job/{slug}/history" if kept else ""


def _disk(request: Request, error: Exception) -> Response:
    full = isinstance(error, OSError) and error.errno in (errno.ENOSPC, errno.EDQUOT)
    where = from_the_shelf(request.app.state.site.store, error)
    words = (
        "The disk is full: this was not saved. What was saved before is as it was. Make room, "
        "then save again; what you typed is still in the page."
        if full
        else f"The disk could not be read or written ({where}); what was saved before is as it was."
    )
    return _answer(request, 507 if full else 500, words)


def _busy(request: Request, error: Exception) -> Response:
    answer = _answer(request, 503, str(error))
    answer.headers["Retry-After"] = "5"
    if request.method == "GET" and not is_live(request):
        answer.headers["Refresh"] = "5"
    return answer


def _http(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 500
    detail = error.detail if isinstance(error, HTTPException) else ""
    words = {"Not Found": "There is no such page here."}
    words |= {"Method Not Allowed": "That is not done this way."}
    return _answer(request, status, words.get(str(detail), str(detail)))


def _invalid(request: Request, error: Exception) -> Response:
    told = []
    if isinstance(error, RequestValidationError):
        for one in error.errors():
            place = ".".join(str(part) for part in one.get("loc", ()))
            told.append(f"{place}: {one.get('msg', 'not valid')}")
    return JSONResponse({"detail": "; ".join(told)}, 422)


def _fault(request: Request, error: Exception) -> Response:
    words = (
        f"This is a fault of Leafwright, not of your job: {place_of_fault(error)}. Your files are "
        "as they were. Please report it with the job file."
    )
    return _answer(request, 500, words)
