"""A gigabyte is sent to a real server: it is refused early, whatever it says of its size."""

from __future__ import annotations

import resource
import select
import socket
import sys

import pytest

from leafwright.web.guard import MOST_IMPORTED
from tests.web.running import Running

GIGABYTE = 1_000_000_000
PIECE = b"x" * 65_536
FORM = "Content-Type: multipart/form-data; boundary=b"
#: In what the system counts the most memory that was held [bytes].
COUNTED_IN = 1 if sys.platform == "darwin" else 1024
#: What sockets on both sides may hold beside what the server took.
BUFFERED = 16_000_000


def answer_to(port: int, headers: str, *, chunked: bool) -> tuple[bytes, int]:
    """Send a gigabyte, made as it goes, until there is an answer; return it and what was sent."""
    told = f"POST /import HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n{headers}\r\n\r\n"
    size = f"{len(PIECE):x}\r\n".encode()
    sent = 0
    with socket.create_connection(("127.0.0.1", port), timeout=60) as line:
        line.sendall(told.encode())
        while sent < GIGABYTE:
            if select.select([line], [], [], 0)[0]:
                break
            try:
                line.sendall(size + PIECE + b"\r\n" if chunked else PIECE)
            except OSError:
                break
            sent += len(PIECE)
        try:
            return line.recv(65_536), sent
        except OSError:
            return b"", sent


@pytest.mark.parametrize(
    ("headers", "most"),
    [
        (f"Content-Length: {GIGABYTE}", 0),
        ("Transfer-Encoding: chunked", MOST_IMPORTED),
        (
            "Transfer-Encoding: chunked\r\nContent-Type: multipart/form-data; boundary=b",
            MOST_IMPORTED,
        ),
    ],
)
def test_a_gigabyte_is_refused_before_it_has_come_in(
    running: Running, headers: str, most: int
) -> None:
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    answer, sent = answer_to(running.port, headers, chunked="chunked" in headers)
    grown = COUNTED_IN * (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before)
    assert answer.startswith(b"HTTP/1.1 413 ")
    assert sent < most + BUFFERED
    # It is held at most twice: as it came in, and put together.
    assert grown < 3 * MOST_IMPORTED
    # The server is there for the next one.
    with socket.create_connection(("127.0.0.1", running.port), timeout=60) as line:
        line.sendall(b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n")
        assert line.recv(100).startswith(b"HTTP/1.1 200 ")
