"""Whatever is done in whatever order, by two programs, by hand and on a failing disk: what was
acknowledged is on disk and in the history.

The model is what a maker was told: the texts, the log and the names that were kept. Every step is
one of what the page, an editor, a clock or a disk does; after each the shelf is held against it.
"""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from unittest import mock

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from leafwright.job.store import Conflict, LogEntry, Saved, Store, StoreError
from leafwright.job.store.records import text_of, version_of
from tests.sizes import cases

AT = "2026-03-21T09:30:00Z"
FIRST = '# a gate\n[job]\nname = "Gate"\na = 0\nb = 0\n\n[[reading]]\nis = "1 in"\n'
NUMBERS = st.integers(0, 5)
CALLS = ("open", "write", "fsync", "mkdir", "replace", "rename", "ftruncate", "unlink")
ERRORS = (errno.ENOSPC, errno.EIO, errno.EROFS)

BY_HAND: dict[str, Callable[[str], bytes]] = {
    "an edit": lambda text: text.replace("a = ", "a = 1").encode(),
    "Windows": lambda text: b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode(),
    "cut off": lambda text: text[: len(text) // 2].encode(),
    "empty": lambda text: b"",
    "no TOML": lambda text: (text + '\nis = "1 in\n').encode(),
    "no text": lambda text: "Tür = 1\n".encode("latin-1"),
}


@contextlib.contextmanager
def failing(after: int, number: int, *, once: bool) -> Iterator[None]:
    """Let calls of the system fail from one on, or only that one."""
    calls = [0]

    def refusing(call: Callable[..., Any], name: str) -> Callable[..., Any]:
        def asked(*arguments: Any, **more: Any) -> Any:
            if name == "open" and not arguments[1] & os.O_CREAT:
                return call(*arguments, **more)
            calls[0] += 1
            if calls[0] <= after or (once and calls[0] > after + 1):
                return call(*arguments, **more)
            raise OSError(number, os.strerror(number))

        return asked

    with contextlib.ExitStack() as stack:
        for name in CALLS:
            call = refusing(getattr(os, name), name)
            stack.enter_context(mock.patch.object(os, name, call))
        yield


class Shelf(RuleBasedStateMachine):
    """One job of a shelf, seen by two programs."""

    def __init__(self) -> None:
        super().__init__()
        # Only what is on disk matters here, not how long the disk takes.
        self.quick = mock.patch.object(os, "fsync", lambda handle: None)
        self.quick.start()
        self.folder = Path(tempfile.mkdtemp(prefix="shelf-"))
        self.at = 1_774_000_000.0
        self.stores = [Store(self.folder, now=lambda: self.at) for _ in range(2)]
        self.slug = "gate"
        self.kept: set[bytes] = set()
        self.log: list[str] = []
        self.names: dict[int, str] = {}
        self.by_hand: bytes | None = None
        self.count = 0

    def teardown(self) -> None:
        self.quick.stop()
        shutil.rmtree(self.folder)

    @initialize()
    def begin(self) -> None:
        self.told(self.stores[0].new("Gate", FIRST))

    # ------------------------------------------------------------------ what a maker is told

    @property
    def file(self) -> Path:
        return self.folder / self.slug / "job.toml"

    def told(self, result: Saved | Conflict, mine: str | None = None) -> None:
        """Take in what was acknowledged."""
        if isinstance(result, Conflict):
            assert mine is not None
            self.kept.add(mine.encode())
            result = result.current
        else:
            # A step back may lead to what an editor wrote that is no text.
            assert result.text == (text_of(self.file.read_bytes()) or "")
        self.settled()

    def settled(self) -> None:
        """What was on disk when something was written to it is in the history by now."""
        if self.by_hand is not None:
            self.kept.add(self.by_hand)
            self.by_hand = None
        self.disk = self.file.read_bytes()
        self.kept.add(self.disk)

    def store(self, which: bool) -> Store:
        return self.stores[which]

    def bases(self, store: Store) -> list[tuple[str, str]]:
        """Return the versions that a page may have been made from, with their texts."""
        found = []
        for version in store.versions(self.slug):
            with contextlib.suppress(StoreError):
                found.append((version.version, store.version_text(self.slug, version.number)))
        return found

    # ------------------------------------------------------------------ what is done

    @rule(which=st.booleans(), back=NUMBERS, key=st.sampled_from("ab"), value=NUMBERS)
    def set_value(self, which: bool, back: int, key: str, value: int) -> None:
        store = self.store(which)
        base, _ = self.bases(store)[-1 - back % len(self.bases(store))]
        with contextlib.suppress(StoreError):
            result = store.set_values(self.slug, [(("job", key), value)], base=base)
            if isinstance(result, Conflict):
                assert result.kept in {p.name for p in (self.file.parent / "history").iterdir()}
                result = result.current
                self.settled()
            else:
                self.told(result)

    @rule(which=st.booleans(), back=NUMBERS, value=NUMBERS)
    def save(self, which: bool, back: int, value: int) -> None:
        store = self.store(which)
        base, text = self.bases(store)[-1 - back % len(self.bases(store))]
        mine = text + f"# remark {value}\n"
        with contextlib.suppress(StoreError):
            self.told(store.save(self.slug, mine, base=base, note="why"), mine)

    @rule(which=st.booleans(), way=st.sampled_from(["undo", "redo"]))
    def step(self, which: bool, way: str) -> None:
        store = self.store(which)
        with contextlib.suppress(StoreError):
            base = store.read(self.slug).version
            result = getattr(store, way)(self.slug, base=base)
            assert isinstance(result, Saved)
            self.told(result)

    @rule(which=st.booleans(), back=NUMBERS)
    def restore(self, which: bool, back: int) -> None:
        store = self.store(which)
        versions = store.versions(self.slug)
        number = versions[-1 - back % len(versions)].number
        with contextlib.suppress(StoreError):
            text = store.version_text(self.slug, number)
            base = store.lying(self.slug).version
            result = store.restore(self.slug, number, base=base)
            assert isinstance(result, Saved) and result.text == text
            self.told(result)

    @rule(which=st.booleans(), back=NUMBERS, name=st.sampled_from(["sent", "船", "a" * 80]))
    def name_version(self, which: bool, back: int, name: str) -> None:
        store = self.store(which)
        versions = store.versions(self.slug)
        number = versions[-1 - back % len(versions)].number
        store.name_version(self.slug, number, name)
        self.names[number] = name

    @rule(which=st.booleans(), again=st.booleans())
    def append(self, which: bool, again: bool) -> None:
        self.count += not (again and self.log)
        id = self.log[-1] if again and self.log else f"id-{self.count}"
        self.store(which).append(self.slug, [LogEntry(id, AT, "answer", "gate")])
        if id not in self.log:
            self.log.append(id)

    @rule(cut=st.sampled_from([b'{"id": "torn', b"\xff\xfe", b"{", b'{"id": "x", "at"']))
    def log_is_torn(self, cut: bytes) -> None:
        with (self.file.parent / "log.jsonl").open("ab") as file:
            file.write(cut)

    @rule(how=st.sampled_from(sorted(BY_HAND)), seen=st.booleans())
    def hand(self, how: str, seen: bool) -> None:
        if not self.file.exists():
            return
        text = self.file.read_bytes().decode("utf-8", "replace").removeprefix("\ufeff")
        self.by_hand = self.disk = BY_HAND[how](text)
        self.file.write_bytes(self.by_hand)
        if seen:
            with contextlib.suppress(StoreError):
                self.store(seen).read(self.slug)
            self.settled()

    @rule(at=st.sampled_from([0.0, 1e9, 1_774_000_000.0, 1_774_000_001.0, 4e9, 1e12]))
    def clock(self, at: float) -> None:
        self.at = at

    @rule(which=st.booleans(), name=st.sampled_from(["Gate", "Barn", "GATE!", "barn"]))
    def rename(self, which: bool, name: str) -> None:
        with contextlib.suppress(StoreError):
            store = self.store(which)
            store.read(self.slug)
            result = store.rename(self.slug, name)
            self.slug = result.slug
            self.told(result)

    @rule(which=st.booleans())
    def out_and_in(self, which: bool) -> None:
        """Send it away, put it aside, and bring it in again: it is the same job."""
        store = self.store(which)
        with contextlib.suppress(StoreError):
            store.read(self.slug)
            self.settled()
            data = store.export(self.slug)
            came = store.import_(data, "came.zip")
            store.remove(self.slug)
            self.slug = came.slug
            self.told(came)

    @rule(
        which=st.booleans(),
        after=st.integers(0, 25),
        number=st.sampled_from(ERRORS),
        once=st.booleans(),
        what=st.sampled_from(["save", "undo", "append", "name", "rename"]),
    )
    def disk_fails(self, which: bool, after: int, number: int, once: bool, what: str) -> None:
        store = self.store(which)
        with contextlib.suppress(StoreError):
            store.read(self.slug)
            self.settled()
            self.count += 1
            base = store.read(self.slug).version
            new = store.read(self.slug).text + f"# {self.count}\n"
            entry = LogEntry(f"id-{self.count}", AT, "answer", "gate")
            last = store.versions(self.slug)[-1].number
            work: dict[str, Callable[[], object]] = {
                "save": lambda: store.save(self.slug, new, base=base),
                "undo": lambda: store.undo(self.slug, base=base),
                "append": lambda: store.append(self.slug, [entry]),
                "name": lambda: store.name_version(self.slug, last, "sent"),
                "rename": lambda: store.rename(self.slug, f"Gate {self.count}"),
            }
            before = set(self.folder.iterdir())
            try:
                with failing(after, number, once=once):
                    work[what]()
                done = True
            except StoreError as error:
                assert os.strerror(number) in str(error) or "nothing to undo" in str(error)
                done = False
            for place in set(self.folder.iterdir()) - before:
                if not place.name.startswith("."):
                    self.slug = place.name
            if done and what == "save":
                assert self.file.read_bytes() == new.encode()
            if self.file.read_bytes() != self.disk:
                assert what in ("save", "undo", "rename")
                self.settled()
            ids = [one.id for one in store.log(self.slug) if one.kind != "unread"]
            if what == "append" and (done or entry.id in ids):
                self.log.append(entry.id)
            named = {v.number: v.name for v in store.versions(self.slug)}
            if what == "name" and (done or named.get(last) == "sent"):
                self.names[last] = "sent"

    # ------------------------------------------------------------------ what always holds

    @invariant()
    def nothing_is_lost(self) -> None:
        if not self.kept:
            return
        assert self.file.read_bytes() == self.disk
        history = self.file.parent / "history"
        there = {version_of(p.read_bytes()) for p in history.glob("*.toml")}
        assert there >= {version_of(raw) for raw in self.kept}
        for store in self.stores:
            versions = store.versions(self.slug)
            assert {v.version for v in versions} == there
            assert [v.number for v in versions] == sorted({v.number for v in versions})
            named = {v.number: v.name for v in versions}
            assert {n: named.get(n) for n in self.names} == self.names
            ids = [entry.id for entry in store.log(self.slug) if entry.kind != "unread"]
            assert ids == self.log
            assert [job.slug for job in store.jobs()] == [self.slug]


TestShelf = Shelf.TestCase
TestShelf.settings = settings(
    max_examples=cases(12, 100),
    stateful_step_count=cases(25, 40),
    deadline=None,
    suppress_health_check=list(HealthCheck),
)
