"""Long work: begun on another thread, shown as it goes on, and stopped when nobody wants it."""

from __future__ import annotations

import secrets
import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field

from leafwright.fault import place_of_fault

Progress = Callable[[str], None]


class StoppedError(Exception):
    """The work was stopped before it was done."""


@dataclass(slots=True)
class Work:
    """One piece of work; ``state`` is going, done, stopped or failed."""

    id: str
    name: str
    state: str = "going"
    told: str = "begun"
    result: bytes = b""
    stop: threading.Event = field(default_factory=threading.Event)
    ended: threading.Event = field(default_factory=threading.Event)

    def progress(self, words: str) -> None:
        """Say what is being done.

        Raises:
            StoppedError: nobody wants it any more.
        """
        if self.stop.is_set():
            raise StoppedError
        self.told = words


class Works:
    """The work going on and the last that was done; at most ``most`` are kept."""

    def __init__(self, most: int = 8):
        """Begin with none."""
        self._most = most
        self._kept: OrderedDict[str, Work] = OrderedDict()
        self._lock = threading.Lock()

    def begin(self, name: str, make: Callable[[Progress], bytes]) -> Work | None:
        """Begin a piece of work and return it, or None where too much is going on already."""
        with self._lock:
            if sum(1 for w in self._kept.values() if w.state == "going") >= 2:
                return None
            work = Work(secrets.token_urlsafe(9), name)
            self._kept[work.id] = work
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
        threading.Thread(target=_run, args=(work, make), daemon=True).start()
        return work

    def find(self, id: str) -> Work | None:
        """Return a piece of work by its id."""
        with self._lock:
            return self._kept.get(id)


def _run(work: Work, make: Callable[[Progress], bytes]) -> None:
    try:
        result = make(work.progress)
        work.progress("done")
    except StoppedError:
        work.state, work.told = "stopped", "stopped; nothing was kept"
    except Exception as error:
        work.state = "failed"
        work.told = f"a fault of Leafwright, not of your job: {place_of_fault(error)}"
    else:
        work.result = result
        work.state = "done"
    finally:
        work.ended.set()
