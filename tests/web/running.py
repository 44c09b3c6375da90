"""A server of a shelf on another thread, which can be stopped and started again."""

from __future__ import annotations

import threading
import time
from pathlib import Path

from leafwright.job.store import Store
from leafwright.web import create_app
from leafwright.web.serve import listening, server_of

EXAMPLES = Path(__file__).parents[2] / "examples"


class Running:
    """A shelf being served; ``url`` stays the same over a restart."""

    def __init__(self, shelf: Path) -> None:
        self.shelf = shelf
        self.port = 0
        self.start()

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    @property
    def store(self) -> Store:
        return Store(self.shelf)

    def start(self) -> None:
        listener = listening("127.0.0.1", self.port)
        self.port = listener.getsockname()[1]
        self.server = server_of(create_app(self.store), log_level="error")
        self.thread = threading.Thread(
            target=self.server.run, kwargs={"sockets": [listener]}, daemon=True
        )
        self.thread.start()
        until = time.monotonic() + 20
        while not self.server.started:
            assert time.monotonic() < until, "the server did not start"
            time.sleep(0.02)

    def stop(self) -> None:
        self.server.should_exit = True
        self.server.force_exit = True
        self.thread.join(20)
        assert not self.thread.is_alive()


def example(name: str) -> str:
    """Return the text of one of the example jobs."""
    return (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
