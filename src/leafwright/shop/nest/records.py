"""What a nest is asked and what it answers: pieces, sticks, the saw's rules, layouts.

How a stick is cut, exactly. A stick of length L gives up, from its start,

1. the start trim, and the saw cut that takes it off, when the start trim is not zero;
2. the pieces, each parted from the next by one saw cut;
3. the remainder r, if the last piece does not end flush: first one more saw cut, then the drop.
   A remainder shorter than the kerf all goes to dust: that cut takes r, and there is no drop;
4. the saw cut that takes off the end trim, and the end trim, when the end trim is not zero.

So the pieces fit when trims and their cuts + Σ pieces + kerf × (pieces − 1) ≤ L, and for each
stick, exactly and on the grid of `grid`,

    Σ pieces + kerfs + trims + drop = L.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leafwright.records import Metres, Number


@dataclass(frozen=True, slots=True)
class Piece:
    """One part to be cut: its mark, and its length along the stick, long point to long point."""

    key: str
    length: Metres


@dataclass(frozen=True, slots=True)
class Stick:
    """One length of stock. ``count`` is how many there are (None: as many as are wanted).

    ``cost`` is what taking one costs, in any unit the sticks share (None: its length in metres
    when new, nothing when an offcut); costs are compared to 1e-9 of that unit.
    """

    kind: Literal["new", "offcut"]
    name: str
    length: Metres
    cost: float | None = None
    count: int | None = None


@dataclass(frozen=True, slots=True)
class Rules:
    """How the saw works: width of its cut, and what is always cut off each end of a stick."""

    kerf: Metres
    trim_start: Metres = 0.0
    trim_end: Metres = 0.0


@dataclass(frozen=True, slots=True)
class Cut:
    """One piece on a stick: ``start`` is from the stick's uncut start."""

    key: str
    start: Metres
    length: Metres


@dataclass(frozen=True, slots=True)
class Layout:
    """One stick, cut: its pieces in sawing order, and where the rest of its length went.

    ``trims`` is both end trims, ``kerfs`` all that the saw turned to dust, ``drop`` what remains
    in one piece (0 when none).
    """

    stick: Stick
    cuts: tuple[Cut, ...]
    trims: Metres
    kerfs: Metres
    drop: Metres


@dataclass(frozen=True, slots=True)
class Nest:
    """Every piece placed on a stick, what that costs, and how far from least it can be.

    ``cost`` and ``bound`` are in the sticks' unit of cost. No packing can cost less than
    ``bound``; ``gap`` is cost − bound; ``proven`` says that the two meet. ``set_ups`` counts
    different layouts, ``longest_drop`` is the longest drop worth keeping (0 when none is).
    ``work`` counts simplex iterations, knapsack tables and patterns looked at.
    """

    layouts: tuple[Layout, ...]
    cost: Number
    bought_length: Metres
    bound: Number
    gap: Number
    proven: bool
    set_ups: int
    longest_drop: Metres
    work: int
    status: str
