"""Saves that are killed while they are made, in processes of their own; prints what was promised.

Run as ``python -m tests.job.store_killed HOW SHELF COUNT``: one line a case, a list of what the
process said was kept before it was killed. Without threads in it, it can fork.
"""

from __future__ import annotations

import itertools
import json
import os
import random
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from leafwright.job.store import LogEntry, Saved, Store

AT = "2026-03-21T09:30:00Z"


def text(number: int) -> str:
    """Return the text of one save: long enough to be written half."""
    return f"leafwright = 1\nnumber = {number}\n" + "# remark\n" * 400 + f"last = {number}\n"


def entry(number: int) -> LogEntry:
    """Return the log entry that goes with one save."""
    return LogEntry(f"id-{number}", AT, "answer", "gate", {"number": number})


def keep_on(shelf: Path, say: Callable[[str], None], first: int, last: int | None) -> None:
    """Save and append, saying each time what was promised, from one number up to another."""
    store = Store(shelf)
    saved = store.read("gate")
    for number in itertools.count(first):
        if number == last:
            return
        result = store.save("gate", text(number), base=saved.version, note=f"save {number}")
        assert isinstance(result, Saved)
        saved = result
        say(f"saved {number}")
        store.append("gate", [entry(number)])
        say(f"logged {number}")


def in_a_child(work: Callable[[Callable[[str], None]], None]) -> tuple[int, int]:
    """Return process and pipe of a child that works, and says what it has done."""
    out, into = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(out)
            with os.fdopen(into, "w", encoding="ascii") as told:
                work(lambda words: print(words, file=told, flush=True))
        finally:
            os._exit(0)
    os.close(into)
    return child, out


def killed_some_time(shelf: Path, count: int) -> None:
    """Kill a child at a random moment after some of its promises, again and again."""
    moments = random.Random(20260321)
    for case in range(count):
        place = shelf / str(case)
        Store(place).new("gate", text(0))

        def work(say: Callable[[str], None], place: Path = place) -> None:
            keep_on(place, say, 1, None)

        child, out = in_a_child(work)
        with os.fdopen(out, encoding="ascii") as told:
            said = [told.readline() for _ in range(moments.randrange(1, 6))]
            time.sleep(moments.random() * 0.03)
            os.kill(child, signal.SIGKILL)
            said += told.readlines()
        os.waitpid(child, 0)
        print(json.dumps([words.strip() for words in said]), flush=True)


def killed_at_each_step(shelf: Path, count: int) -> None:
    """Kill a child just before its first call of the system that changes the disk, its second …"""
    for case in range(count):
        place = shelf / str(case)
        Store(place).new("gate", text(0))

        def work(say: Callable[[str], None], place: Path = place, case: int = case) -> None:
            left = itertools.count(-case)
            for name in ("open", "write", "fsync", "replace", "unlink", "mkdir", "ftruncate"):
                setattr(os, name, dying(getattr(os, name), left))
            keep_on(place, say, 1, 2)

        child, out = in_a_child(work)
        with os.fdopen(out, encoding="ascii") as told:
            said = [words.strip() for words in told]
        _, status = os.waitpid(child, 0)
        print(json.dumps(said), flush=True)
        if not os.WIFSIGNALED(status):
            return


def dying(call: Callable[..., Any], left: itertools.count[int]) -> Callable[..., Any]:
    """Return a call of the system that kills the process when its turn has come."""

    def last(*arguments: Any, **more: Any) -> Any:
        if next(left) == 0:
            if call is WRITE:
                call(arguments[0], bytes(arguments[1])[: len(arguments[1]) // 2])
            os.kill(os.getpid(), signal.SIGKILL)
        return call(*arguments, **more)

    return last


WRITE = os.write


def racing(shelf: Path, count: int) -> None:
    """Let two children edit one job at once, each its own key and its own log entries."""
    Store(shelf).new("gate", "[job]\none = 0\ntwo = 0\n")

    def work(key: str) -> Callable[[Callable[[str], None]], None]:
        def edit(say: Callable[[str], None]) -> None:
            store = Store(shelf)
            base = store.read("gate").version
            for number in range(1, count + 1):
                result = store.set_values("gate", [(("job", key), number)], base=base)
                assert isinstance(result, Saved), result
                base = result.version
                store.append("gate", [LogEntry(f"{key}-{number}", AT, "answer", key)])
                say(f"{key} {number} {base}")

        return edit

    children = [in_a_child(work(key)) for key in ("one", "two")]
    for child, out in children:
        with os.fdopen(out, encoding="ascii") as told:
            print(json.dumps([words.strip() for words in told]), flush=True)
        os.waitpid(child, 0)


if __name__ == "__main__":
    ways = {"some time": killed_some_time, "each step": killed_at_each_step, "racing": racing}
    ways[sys.argv[1]](Path(sys.argv[2]), int(sys.argv[3]))
