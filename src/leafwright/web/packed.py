"""What to buy and what to take along on the page, with a tick for each thing that is packed."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from leafwright.documents.supplies import SORT, PackRow, Told, told_of
from leafwright.job.store import LogEntry
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import words_of
from leafwright.shop.pack import Operation, PackItem
from leafwright.web.proven import check_row
from leafwright.web.ticks import state_of, ticks_of

#: How what is ticked here is told apart from pieces that are cut.
ABOUT = "pack/"


@dataclass(frozen=True, slots=True)
class PackTick:
    """One thing to pack, and whether it is packed: open, done, or changed since it was ticked."""

    row: PackRow
    about: str
    hash: str
    state: str
    at: str


@dataclass(frozen=True, slots=True)
class PackGroup:
    """One operation with its things; ``tally`` says how many of them are packed."""

    key: str
    name: str
    cautions: tuple[str, ...]
    ticks: tuple[PackTick, ...]
    tally: str


def pack_values(made: Plan, log: Sequence[LogEntry]) -> dict[str, Any]:
    """Return what the page of buying and packing shows."""
    told = told_of(made)
    if told is None:
        why = made.pack.why if isinstance(made.pack, Held) else ""
        return {"told": None, "pack_held": why}
    words = words_of(made.job)
    keys = {check.key for check in told.pack.checks}
    outlet = told.outlet()
    last = ticks_of(log)
    return {
        "told": told,
        "bought": told.bought(),
        "buy_told": told.beside(),
        "outlet_held": outlet if isinstance(outlet, str) else "",
        "outlet": () if isinstance(outlet, str) else outlet,
        "power_checks": [check_row(c, words) for c in made.checks if c.key in keys],
        "sort": SORT,
        "operations": [_group(told, operation, last) for operation in told.pack.operations],
    }


def _group(told: Told, operation: Operation, last: dict[str, LogEntry]) -> PackGroup:
    ticks = tuple(
        _tick(item, row, last.get(f"{ABOUT}{item.key}"))
        for item, row in zip(operation.items, told.packing(operation), strict=True)
    )
    done = sum(tick.state == "done" for tick in ticks)
    tally = f"{done} of {len(ticks)} packed"
    return PackGroup(operation.key, operation.name, operation.cautions, ticks, tally)


def _tick(item: PackItem, row: PackRow, entry: LogEntry | None) -> PackTick:
    about, now = f"{ABOUT}{item.key}", item_hash(item)
    return PackTick(row, about, now, *state_of(entry, now))


def item_hash(item: PackItem) -> str:
    """Return what a tick remembers of a thing: what it is, its size, how many of it."""
    told = f"{item.key}\n{item.size}\n{item.count}"
    return hashlib.sha256(told.encode()).hexdigest()[:16]
