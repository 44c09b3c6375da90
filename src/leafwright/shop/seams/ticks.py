"""What is welded already: ticks in the job's log against the seams as they now are."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from leafwright.job.store.records import LogEntry
from leafwright.shop.seams.records import LeafSeams, NumberedSeam, Seams

State = Literal["left", "done", "changed"]


@dataclass(frozen=True, slots=True)
class SeamTick:
    """Whether a seam is welded: ``changed`` where it is another one since it was ticked.

    ``at`` is when it was ticked and ``who`` by whom, empty where it never was.
    """

    key: str
    mark: str
    state: State
    at: str = ""
    who: str = ""


def seam_hash(seam: NumberedSeam) -> str:
    """Return what a tick remembers of a seam: what it is and how large, not its number."""
    told = [
        seam.kind,
        None if seam.size is None else round(seam.size, 6),
        None if seam.length is None else round(seam.length, 5),
        round(seam.angle, 4),
        seam.member,
        seam.onto,
    ]
    return hashlib.sha256(json.dumps(told).encode()).hexdigest()[:16]


def ticked(seams: Sequence[NumberedSeam], log: Sequence[LogEntry]) -> tuple[SeamTick, ...]:
    """Return the state of each seam by the last tick about it."""
    last = {entry.about: entry for entry in log if entry.kind == "tick"}
    found = []
    for seam in seams:
        entry = last.get(seam.about)
        if entry is None or not entry.data.get("done"):
            found.append(SeamTick(seam.key, seam.mark, "left"))
            continue
        state: State = "done" if entry.data.get("hash") == seam_hash(seam) else "changed"
        found.append(SeamTick(seam.key, seam.mark, state, entry.at, entry.who))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Left:
    """What is not welded yet of one leaf: in the shop, before it may stand, and on site."""

    leaf: str
    shop: tuple[NumberedSeam, ...]
    field: tuple[NumberedSeam, ...]
    changed: tuple[str, ...]
    of: int


def left_of(leaf: LeafSeams, log: Sequence[LogEntry]) -> Left:
    """Return what is not welded yet of a leaf; a seam that changed since its tick is."""
    states = {tick.key: tick.state for tick in ticked(leaf.every, log)}
    open_now = [seam for seam in leaf.every if states[seam.key] != "done"]
    return Left(
        leaf=leaf.leaf,
        shop=tuple(seam for seam in open_now if seam.done_at == "shop"),
        field=tuple(seam for seam in open_now if seam.done_at == "field"),
        changed=tuple(seam.mark for seam in leaf.every if states[seam.key] == "changed"),
        of=len(leaf.every),
    )


def left(seams: Seams, log: Sequence[LogEntry]) -> tuple[Left, ...]:
    """Return what is not welded yet, leaf by leaf."""
    return tuple(left_of(leaf, log) for leaf in seams.leaves)
