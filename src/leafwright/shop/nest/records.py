"""What a nest is asked and what it answers: pieces, sticks, the saw's rules, layouts.

How a stick is cut, exactly. Every cut takes the kerf across the blade, so along the stick it
takes kerf / cos(angle from square). A stick of length L gives up, from its start,

1. the start trim, and the cut that makes the first piece's first end, when that trim is not zero;
2. the pieces, long point to long point, each parted from the next by the wider of the cuts that
   make the two ends facing each other; or, where both are slanted alike and the saw makes them in
   one pass, by one cut that they share: one of the two lies turned over, and its long point begins
   inside the other's length, by the reach of the slant less that cut;
3. the remainder r, if the last piece does not end flush: first one more cut, then the drop.
   A remainder shorter than that cut all goes to dust: the cut takes r, and there is no drop;
4. the cut that makes the last piece's last end, and the end trim, when the end trim is not zero.

For each stick, exactly and on the grid of `grid`,

    Σ pieces + kerfs + trims + drop − shared = L,

where ``shared`` is what the pieces lie in each other's length, long points counted.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leafwright.records import Metres, Number, Radians


@dataclass(frozen=True, slots=True)
class End:
    """How a piece ends: ``angle`` from square, the steepest of several [rad].

    ``shares`` is whether it is one straight slant that the saw makes in one pass, so that the
    next piece may share the cut: ``reach`` is then how far its short edge stands back from its
    long point [m], and ``low`` whether the long point is at the piece's lower edge.
    """

    angle: Radians = 0.0
    reach: Metres = 0.0
    shares: bool = False
    low: bool = True


SQUARE = End()


@dataclass(frozen=True, slots=True)
class Piece:
    """One part to be cut: its mark, and its length along the stick, long point to long point.

    ``straight`` is whether it wants a straight stick, as a stile does.
    """

    key: str
    length: Metres
    start: End = SQUARE
    end: End = SQUARE
    straight: bool = False


@dataclass(frozen=True, slots=True)
class Stick:
    """One length of stock. ``count`` is how many there are (None: as many as are wanted).

    ``cost`` is what taking one costs, in any unit the sticks share (None: its length in metres
    when new, nothing when an offcut); costs are compared to 1e-9 of that unit. From one that is
    not ``straight`` no piece that wants a straight stick is cut.
    """

    kind: Literal["new", "offcut"]
    name: str
    length: Metres
    cost: float | None = None
    count: int | None = None
    straight: bool = True


@dataclass(frozen=True, slots=True)
class Rules:
    """How the saw works: width of its cut, and what is always cut off each end of a stick.

    ``share`` is whether two slanted ends may share one cut.
    """

    kerf: Metres
    trim_start: Metres = 0.0
    trim_end: Metres = 0.0
    share: bool = True


@dataclass(frozen=True, slots=True)
class Cut:
    """One piece on a stick: ``start`` is its long point's distance from the stick's uncut start.

    It lies end for end where ``reversed``, and with its lower edge up where ``over``. ``shared``
    is whether one slanted cut makes its start and the end of the piece before it; ``straight``
    whether it wants a straight stick.
    """

    key: str
    start: Metres
    length: Metres
    reversed: bool = False
    over: bool = False
    shared: bool = False
    straight: bool = False


@dataclass(frozen=True, slots=True)
class Layout:
    """One stick, cut: its pieces in sawing order, and where the rest of its length went.

    ``trims`` is both end trims, ``kerfs`` all that the saw turned to dust along the stick,
    ``drop`` what remains in one piece clear of the last long point (0 when none), ``shared`` what
    pieces that share a cut lie in each other's length.
    """

    stick: Stick
    cuts: tuple[Cut, ...]
    trims: Metres
    kerfs: Metres
    drop: Metres
    shared: Metres = 0.0


@dataclass(frozen=True, slots=True)
class Nest:
    """Every piece placed on a stick, what that costs, and how far from least it can be.

    ``cost`` and ``bound`` are in the sticks' unit of cost. No packing can cost less than
    ``bound``; ``gap`` is cost − bound; ``proven`` says that the two meet. ``set_ups`` counts
    different layouts, ``longest_drop`` is the longest drop worth keeping (0 when none is).
    ``shared_cuts`` counts cuts that two pieces share, ``straight_sticks`` the sticks that pieces
    come from which want a straight one. ``work`` counts simplex iterations, knapsack tables and
    patterns looked at.
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
    shared_cuts: int = 0
    straight_sticks: int = 0
