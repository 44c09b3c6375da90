"""Everything of a job that is ticked as it is done, in one list, and how much of it is left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from leafwright.job.store import LogEntry
from leafwright.pipeline import Plan
from leafwright.shop.cut_list import CutList
from leafwright.shop.holes.records import HoledPart, Holes, Plate
from leafwright.shop.pack import Pack
from leafwright.shop.seams import Seams, seam_hash
from leafwright.web.bought import cut_hash
from leafwright.web.holed import hole_hash
from leafwright.web.packed import ABOUT, item_hash
from leafwright.web.ticks import state_of, ticks_of


@dataclass(frozen=True, slots=True)
class Thing:
    """What may be ticked: its ``kind`` is cut, hole, seam or pack, its state open, done, changed.

    ``about`` and ``hash`` are what its tick in the log says.
    """

    kind: str
    about: str
    name: str
    hash: str
    state: str
    at: str


@dataclass(frozen=True, slots=True)
class Tally:
    """How many things of a kind there are, are not done, and are others since they were ticked."""

    of: int = 0
    left: int = 0
    changed: int = 0


def things(made: Plan, log: Sequence[LogEntry]) -> tuple[Thing, ...]:
    """Return all that may be ticked, as far as the plan was made."""
    last = ticks_of(log)
    return tuple(
        Thing(kind, about, name, hash, *state_of(last.get(about), hash))
        for kind, about, name, hash in _every(made)
    )


def tallies(things: Sequence[Thing]) -> dict[str, Tally]:
    """Return how things stand, kind by kind; a kind that there is none of is empty."""
    found = {}
    for kind in ("cut", "hole", "seam", "pack"):
        states = [thing.state for thing in things if thing.kind == kind]
        found[kind] = Tally(
            len(states), sum(state != "done" for state in states), states.count("changed")
        )
    return found


def _every(made: Plan) -> Iterator[tuple[str, str, str, str]]:
    """Give the kind, the about, the name and the hash of each thing."""
    if isinstance(made.cuts, CutList):
        for item in made.cuts.items:
            hash = cut_hash(item)
            for key, mark in zip(item.keys, item.marks, strict=True):
                yield "cut", f"cut/{key}", mark, hash
    if isinstance(made.holes, Holes):
        parts: list[HoledPart | Plate] = [*made.holes.parts, *made.holes.plates]
        for part in parts:
            for hole in part.holes:
                if not hole.refused:
                    yield "hole", f"hole/{hole.key}", f"{part.mark} {hole.label}", hole_hash(hole)
    if isinstance(made.seams, Seams):
        for leaf in made.seams.leaves:
            for seam in leaf.every:
                yield "seam", seam.about, seam.mark, seam_hash(seam)
    if isinstance(made.pack, Pack):
        for operation in made.pack.operations:
            for thing in operation.items:
                yield "pack", f"{ABOUT}{thing.key}", thing.what, item_hash(thing)
