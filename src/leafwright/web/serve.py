"""The server on this machine: address, code and browser, for `leafwright serve` and `demo`."""

from __future__ import annotations

import contextlib
import gc
import logging
import os
import secrets
import socket
import sys
import tempfile
import threading
import time
import webbrowser
from collections.abc import Callable
from importlib import resources
from pathlib import Path

import segno
import uvicorn

from leafwright.fault import place_of_fault
from leafwright.job.store import Store
from leafwright.web.app import create_app
from leafwright.web.line import MOST, Line

PORT = 8420
#: How many ports are tried after the first where none was asked for.
TRIES = 20


def key_file() -> Path:
    """Return where the key that sessions are signed with is kept, so that a restart keeps them."""
    state = os.environ.get("XDG_STATE_HOME") or str(Path.home() / ".local" / "state")
    return Path(state) / "leafwright" / "session-key"


def session_key(file: Path) -> bytes:
    """Return the key in a file that only its owner reads; it is made where it is missing.

    Where it cannot be kept, it lasts for this run.
    """
    with contextlib.suppress(OSError):
        found = file.read_bytes()
        if len(found) == 32:
            return found
    key = secrets.token_bytes(32)
    with contextlib.suppress(OSError):
        file.parent.mkdir(parents=True, exist_ok=True)
        handle = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(handle, "wb") as out:
            out.write(key)
    return key


def own_address() -> str | None:
    """Return this machine's address on its network, or None where it has none; nothing is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # An address for documentation: choosing a route to it sends no packet.
            probe.connect(("192.0.2.1", 9))
        except OSError:
            return None
        address: str = probe.getsockname()[0]
    return None if address.startswith("127.") else address


def listening(host: str, port: int | None) -> socket.socket:
    """Return a socket that listens: on the port that was asked for, or on the first that is free.

    Raises:
        OSError: the port is taken, or no port was free.
    """
    ports = [port] if port is not None else list(range(PORT, PORT + TRIES))
    for number, tried in enumerate(ports, start=1):
        made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            made.bind((host, tried))
            made.listen(128)
        except OSError:
            made.close()
            if number == len(ports):
                raise
        else:
            return made
    raise OSError("no port was free")


def _in_short(record: logging.LogRecord) -> bool:
    """Tell a fault that was logged in one line: whoever reads it is no programmer."""
    if record.exc_info and record.exc_info[1] is not None:
        told = place_of_fault(record.exc_info[1])
        record.msg, record.args = f"A fault of Leafwright: {told}. Please report it.", ()
        record.exc_info = record.exc_text = None
    return True


def server_of(app: object, *, log_level: str = "warning") -> uvicorn.Server:
    """Return a server that logs no addresses and believes nobody's word on where they come from."""
    logging.getLogger("uvicorn.error").addFilter(_in_short)
    return uvicorn.Server(
        uvicorn.Config(
            app,  # type: ignore[arg-type]
            http=Line,
            log_level=log_level,
            access_log=False,
            lifespan="off",
            proxy_headers=False,
            server_header=False,
            limit_concurrency=MOST,
            timeout_keep_alive=10,
            timeout_graceful_shutdown=3,
        )
    )


def settle() -> None:
    """Take what is loaded by now out of what is searched for waste: it stays until the end.

    Most objects of the process are its modules. A full search of them takes as long as an edit,
    and would come in the middle of one.
    """
    gc.collect()
    gc.freeze()


def serve(
    folder: Path,
    *,
    lan: bool = False,
    port: int | None = None,
    browser: bool = True,
    say: Callable[[str], None] = print,
) -> None:
    """Serve a folder of jobs until it is stopped.

    Args:
        folder: the shelf of jobs.
        lan: whether other devices on the network may come in, each with a code.
        port: the port, or None for the first that is free from `PORT` on.
        browser: whether to open the page.
        say: told where it is served, and each new code.

    Raises:
        OSError: the folder or the port cannot be used.
    """
    address = own_address() if lan else None
    if lan and address is None:
        say("This machine is on no network; only this machine is served.")
    listener = listening("0.0.0.0" if address else "127.0.0.1", port)
    number = listener.getsockname()[1]
    here = f"http://127.0.0.1:{number}"
    there = f"http://{address}:{number}" if address else ""

    def announce(code: str) -> None:
        say(f"\nFor the next device: {there}  code {code}")
        segno.make(f"{there}/enter#{code}", error="m").terminal(out=sys.stdout, compact=True)

    app = create_app(
        Store(folder),
        lan_secret=session_key(key_file()) if address else None,
        hosts=(address,) if address else (),
        announce=announce,
        addresses=(there,) if there else (),
    )
    say(f"The jobs in {folder.resolve()} are at {here}")
    if address:
        say("Other devices on this network may come in, each with a code that lets in one.")
        say("What passes is not encrypted: use a network that you trust.")
        announce(app.state.site.door.code)
    say("Stop with Ctrl-C.")
    server = server_of(app)
    settle()
    if browser:
        threading.Thread(target=_open, args=(server, here), daemon=True).start()
    with contextlib.suppress(KeyboardInterrupt):
        server.run(sockets=[listener])
    say("\nStopped; what was saved is on disk.")


def _open(server: uvicorn.Server, address: str) -> None:
    while not server.started:
        time.sleep(0.05)
    webbrowser.open(address)


def demo_folder() -> Path:
    """Return a new folder with the demo job in it; it is left there when the server stops."""
    folder = Path(tempfile.mkdtemp(prefix="leafwright-demo-"))
    text = resources.files("leafwright.web").joinpath("demo.toml").read_text(encoding="utf-8")
    Store(folder).new("Boathouse doors", text)
    return folder
