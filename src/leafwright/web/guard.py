"""What stands before every request: host and origin, size, depth and time, session, headers."""

from __future__ import annotations

import asyncio
import ipaddress
import re
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from leafwright.web.door import COOKIE, Allowance, Door

#: Largest body of an ordinary request, and of an import or a whole job file [bytes].
MOST_BYTES = 300_000
MOST_IMPORTED = 16_000_000
#: And of JSON, in which a job's text may stand with each letter written out.
MOST_JSON = 4_000_000
#: How long a body may take to come in [s].
MOST_SECONDS = 30.0
#: How deep JSON may nest, and how many brackets and texts it may have.
MOST_DEPTH, MOST_VALUES = 40, 20_000
LOOPBACK_NAMES = ("127.0.0.1", "localhost", "::1")
SAFE_METHODS = ("GET", "HEAD", "OPTIONS")

CONTENT_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)

HEADERS = {
    "Content-Security-Policy": CONTENT_POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}


#: A text of JSON, even one that does not end, or a bracket outside of all.
_BRACKETS = re.compile(rb'"(?:[^"\\]|\\.)*+(?:"|\\?\Z)|[\[\]{}]', re.DOTALL)


@dataclass(frozen=True, slots=True)
class RefusedError(Exception):
    """A request that may not go on: the status and the words of the answer."""

    status: int
    words: str


class Guard:
    """The middleware that lets a request through, or says why not."""

    def __init__(
        self,
        app: ASGIApp,
        *,
        hosts: Iterable[str] = LOOPBACK_NAMES,
        door: Door | None = None,
        most_seconds: float = MOST_SECONDS,
        clock: Callable[[], float] = time.monotonic,
    ):
        """Stand before ``app``; ``door`` is there where other machines may come in."""
        self.app = app
        self.hosts = frozenset(hosts)
        self.door = door
        self.most_seconds = most_seconds
        self.requests = Allowance(burst=240, each_second=40, clock=clock)
        self.codes = Allowance(burst=6, each_second=0.1, clock=clock)
        self.all_codes = Allowance(burst=30, each_second=0.2, clock=clock)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            return

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers[name] = value
                headers.setdefault("Cache-Control", "no-store")
            await send(message)

        try:
            answer = self._turned_away(scope)
            if answer is None:
                body = await self._body(scope, receive)
                await self.app(scope, _again(body, receive), send_with_headers)
                return
        except RefusedError as refused:
            answer = PlainTextResponse(refused.words + "\n", refused.status)
        await answer(scope, receive, send_with_headers)

    def _turned_away(self, scope: Scope) -> Response | None:
        """Return the answer to a request that may not go on, or None."""
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        if _name(host) not in self.hosts:
            raise RefusedError(421, "No such host here; use the address that was printed.")
        if scope["method"] not in SAFE_METHODS:
            self._refuse_foreign(scope, headers, host)
        client = scope["client"][0] if scope.get("client") else ""
        if is_loopback(client):
            return None
        if self.door is None:
            raise RefusedError(403, "Only this machine is served; start with --lan for others.")
        if not self.requests.takes(client):
            raise RefusedError(429, "Too many requests at once; wait a few seconds.")
        path = scope["path"]
        if path == "/enter":
            if scope["method"] == "POST" and not (
                self.codes.takes(client) and self.all_codes.takes("everybody")
            ):
                raise RefusedError(429, "Too many codes were tried; wait a minute.")
            return None
        if path.startswith("/static/") or self.door.knows(_cookie(headers)):
            return None
        if path.startswith("/api") or scope["method"] not in SAFE_METHODS:
            raise RefusedError(401, "This device is not known; open the page and type the code.")
        return RedirectResponse("/enter", 303)

    def _refuse_foreign(self, scope: Scope, headers: Headers, host: str) -> None:
        """Refuse a change that another site asks for."""
        origin = headers.get("origin")
        if origin is not None and origin != f"{scope['scheme']}://{host}":
            raise RefusedError(403, "Another page asked for this; nothing was changed.")
        if origin is None and headers.get("sec-fetch-site", "none") not in ("same-origin", "none"):
            raise RefusedError(403, "Another page asked for this; nothing was changed.")

    async def _body(self, scope: Scope, receive: Receive) -> bytes:
        """Return the whole body, or refuse one that is too large, too slow or too deep."""
        path = scope["path"]
        large = path == "/import" or path.endswith("/file")
        most = MOST_IMPORTED if large else MOST_BYTES
        if path.startswith("/api/"):
            most = MOST_JSON
        headers = Headers(scope=scope)
        said = headers.get("content-length", "0")
        if not said.isdecimal() or len(said) > 12 or int(said) > most:
            raise RefusedError(413, f"That is too large; at most {most // 1000:,} kB are taken.")
        parts: list[bytes] = []
        size = 0
        try:
            async with asyncio.timeout(self.most_seconds):
                more = True
                while more:
                    message = await receive()
                    if message["type"] == "http.disconnect":
                        raise RefusedError(400, "The sender went away.")
                    part = message.get("body", b"")
                    size += len(part)
                    if size > most:
                        words = f"That is too large; at most {most // 1000:,} kB are taken."
                        raise RefusedError(413, words)
                    parts.append(part)
                    more = message.get("more_body", False)
        except TimeoutError:
            raise RefusedError(408, "That took too long to come in; try again.") from None
        body = b"".join(parts)
        if "json" in headers.get("content-type", "") and depth(body) > MOST_DEPTH:
            words = f"That nests deeper than {MOST_DEPTH} levels, or holds thousands of values."
            raise RefusedError(400, words)
        return body


def _again(body: bytes, receive: Receive) -> Receive:
    """Return a receiver that hands out a body which was read already, then what really comes."""
    given = False

    async def receive_again() -> Message:
        nonlocal given
        if given:
            return await receive()
        given = True
        return {"type": "http.request", "body": body, "more_body": False}

    return receive_again


def depth(body: bytes) -> int:
    """Return how deep brackets nest in JSON, to one more than may be; those in texts do not count.

    What has more brackets and texts than any request is taken for as deep without being gone
    through: nobody else is served meanwhile.
    """
    deepest = level = 0
    for number, found in enumerate(_BRACKETS.finditer(body)):
        if number == MOST_VALUES:
            return MOST_DEPTH + 1
        sign = found[0]
        if sign in b"[{":
            level += 1
            deepest = max(deepest, level)
            if deepest > MOST_DEPTH:
                break
        elif sign in b"]}":
            level -= 1
    return deepest


def _name(host: str) -> str:
    """Return the name in a Host header, without its port and brackets."""
    if host.startswith("["):
        return host[1:].partition("]")[0]
    return host.rpartition(":")[0] or host


def is_loopback(client: str) -> bool:
    """Return whether an address is this machine's own."""
    try:
        return ipaddress.ip_address(client).is_loopback
    except ValueError:
        return False


def _cookie(headers: Headers) -> str:
    try:
        jar = SimpleCookie(headers.get("cookie", ""))
    except CookieError:
        return ""
    return jar[COOKIE].value if COOKIE in jar else ""
