"""The meeting edges of a pair: who may open first, and the bevel that is needed if nobody may.

Two leaves that open together turn by equal angles. One that opens while the other stands must
keep the running clearance; two that turn at once may use it up, but not touch.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from leafwright.doorway.curves import GapCurve, curve_of, gap_curve, seen, standing, turning
from leafwright.doorway.outline import Bevel, LeafPlan, Way, outline, pieces
from leafwright.doorway.turning import Shape, least_apart, shape
from leafwright.records import Metres, Radians

OrderName = Literal["together", "left first", "right first"]

#: No meeting edge is bevelled more than this [rad]: common practice, no source.
MOST_BEVEL = math.radians(30.0)
#: How closely the least bevel is searched for [rad].
BEVEL_STEP = math.radians(0.01)


@dataclass(frozen=True, slots=True)
class Order:
    """One order of opening: its steps, the least gap over them, and what it must be [m]."""

    name: OrderName
    steps: tuple[GapCurve, ...]
    least: Metres
    least_at: Radians
    needed: Metres

    @property
    def clears(self) -> bool:
        """Return whether the meeting edges pass one another in this order."""
        return _clears(self.least, self.needed)


@dataclass(frozen=True, slots=True)
class PairTurn:
    """A pair that opens: ``left_way`` and ``right_way`` say which way each leaf goes.

    ``works`` are the orders that clear. Where there are none ``bevel`` is the least angle [rad]
    cut on both meeting edges with which one does, None if none up to `MOST_BEVEL` helps.
    """

    left_way: Way
    right_way: Way
    orders: tuple[Order, ...]
    works: tuple[OrderName, ...]
    bevel: Radians | None
    words: str


@dataclass(frozen=True, slots=True)
class PairSwing:
    """The meeting edges of a pair, for each way that its leaves open."""

    turns: tuple[PairTurn, ...]


def _clears(least: float, needed: float) -> bool:
    # Two that turn at once need no gap between them, but touching is none.
    return least >= needed - 1e-9 and least > 1e-9


def ways_of(left: LeafPlan, right: LeafPlan) -> tuple[tuple[Way, Way], ...]:
    """Return which ways the two leaves open: both the same way, or each its own."""
    shared = tuple((way, way) for way in left.ways if way in right.ways)
    return shared or ((left.ways[0], right.ways[0]),)


def _signed(way: Way, angle: float) -> float:
    return angle if way == "toward" else -angle


def _mated(left: LeafPlan, right: LeafPlan, way: Way) -> tuple[Shape, complex]:
    """Return the right leaf about its own axis, and that axis, as the left one sees them."""
    # It is the left leaf's mirror image: its nose points back.
    own = [[-p.conjugate() if way == "toward" else -p for p in piece] for piece in pieces(right)]
    return shape(own), seen(left, way, (right.axis_x, right.axis_z))


def together(
    left: LeafPlan, right: LeafPlan, way: Way, angles: np.ndarray, *, upto: float, sd: float = 0.0
) -> GapCurve:
    """Return the gap of two leaves that open the same way by equal angles [m].

    Args:
        left: the left leaf.
        right: the right leaf.
        way: which way both open.
        angles: at which the curve is drawn, rising from 0 [rad].
        upto: how far they are to open [rad].
        sd: standard deviation of the meeting gap [m].
    """
    other, axis = _mated(left, right, way)
    return curve_of(
        f"pair/together/{way}",
        "meeting gap, both leaves together",
        way,
        turning(left, way),
        other,
        angles,
        upto=upto,
        sd=sd,
        mate=axis,
    )


def _one_first(
    first: tuple[LeafPlan, Way],
    second: tuple[LeafPlan, Way],
    angles: np.ndarray,
    upto: float,
    sd: float,
) -> tuple[GapCurve, GapCurve]:
    """Return the curves of one leaf past the other that is shut, then of that past the open one."""
    (one, way), (other, other_way) = first, second
    key = f"pair/{one.key} first/{way}"
    return (
        gap_curve(
            key,
            f"meeting gap, the {one.key} leaf past the {other.key}",
            one,
            way,
            outline(other, 0.0),
            angles,
            upto=upto,
            sd=sd,
        ),
        gap_curve(
            f"{key}, then {other.key}",
            f"meeting gap, the {other.key} leaf past the open {one.key}",
            other,
            other_way,
            outline(one, _signed(way, upto)),
            angles,
            upto=upto,
            sd=sd,
        ),
    )


def _order(name: OrderName, steps: tuple[GapCurve, ...], needed: float) -> Order:
    worst = min(steps, key=lambda step: step.least)
    return Order(name, steps, worst.least, worst.least_at, needed)


def _with_bevel(plan: LeafPlan, angle: float) -> LeafPlan:
    """Return the leaf with its meeting edge bevelled behind the corner that leads.

    The corner that is behind as it opens sweeps farthest. A leaf that swings both ways is cut to
    both sides from the middle.
    """
    bevels: tuple[Bevel, ...]
    if plan.swing == "both":
        bevels = (Bevel("face", angle, plan.middle_z), Bevel("back", angle, plan.middle_z))
    elif plan.swing == "toward":
        bevels = (Bevel("back", angle, plan.middle_z + plan.half("face")),)
    else:
        bevels = (Bevel("face", angle, plan.middle_z - plan.half("back")),)
    return replace(plan, bevels=bevels)


def _least_of(
    name: OrderName, left: LeafPlan, right: LeafPlan, ways: tuple[Way, Way], upto: float
) -> float | None:
    """Return the least gap in one order, of two leaves or of one past the other shut [m]."""
    if name == "together":
        mate, axis = _mated(left, right, ways[0])
        return least_apart(turning(left, ways[0]), mate, upto, mate=axis)
    one, way, other = (left, ways[0], right) if name == "left first" else (right, ways[1], left)
    return least_apart(turning(one, way), standing(one, way, outline(other, 0.0)), upto)


def bevel_needed(
    left: LeafPlan, right: LeafPlan, ways: tuple[Way, Way], *, upto: float, running: float
) -> float | None:
    """Return the least bevel of both meeting edges with which some order clears [rad].

    Found by halving: more bevel never brings the edges nearer. None if none up to `MOST_BEVEL`
    does.

    Args:
        left: the left leaf.
        right: the right leaf.
        ways: which way each opens.
        upto: how far they open [rad].
        running: clearance that one leaf keeps as it turns past the other [m].
    """

    def clearing(names: Sequence[OrderName], angle: float) -> list[OrderName]:
        cut = _with_bevel(left, angle), _with_bevel(right, angle)
        found: list[OrderName] = []
        for name in names:
            least = _least_of(name, cut[0], cut[1], ways, upto)
            needed = 0.0 if name == "together" else running
            if least is not None and _clears(least, needed):
                found.append(name)
        return found

    names: list[OrderName] = ["left first", "right first"]
    if ways[0] == ways[1]:
        names.insert(0, "together")
    # What the most bevel does not clear, none does.
    names = clearing(names, MOST_BEVEL)
    if not names:
        return None
    low, high = 0.0, MOST_BEVEL
    while high - low > BEVEL_STEP:
        middle = (low + high) / 2
        low, high = (low, middle) if clearing(names, middle) else (middle, high)
    return high


def _words(works: tuple[OrderName, ...], bevel: float | None, swing_both: bool) -> str:
    if works == ("together", "left first", "right first"):
        return "the leaves may open together, or either one first"
    if works:
        ways = " or ".join(works)
        last = "" if works == ("together",) else "; the leaf that opens first shuts last"
        return f"open the leaves {ways}{last}"
    if bevel is None:
        most = f"{math.degrees(MOST_BEVEL):.0f}°"
        return f"no order clears, and no bevel up to {most} mends it: widen the meeting gap"
    half = math.ceil(2 * math.degrees(bevel) - 1e-6) / 2
    where = "from their middle to both faces" if swing_both else "behind the edge that leads"
    return (
        f"no order clears: bevel both meeting edges {half:g}° {where}, rebate them so that one "
        "leaf always opens first, or widen the meeting gap"
    )


def pair_swing(
    left: LeafPlan,
    right: LeafPlan,
    angles: np.ndarray,
    *,
    upto: float,
    running: float,
    sd: float = 0.0,
) -> PairSwing:
    """Return how the meeting edges of a pair pass one another.

    Args:
        left: the left leaf.
        right: the right leaf.
        angles: at which the curves are drawn, rising from 0 [rad].
        upto: how far the leaves are to open [rad].
        running: clearance that one leaf keeps as it turns past the other [m].
        sd: standard deviation of the meeting gap [m].
    """
    turns = []
    for ways in ways_of(left, right):
        one, other = (left, ways[0]), (right, ways[1])
        orders = []
        if ways[0] == ways[1]:
            both = together(left, right, ways[0], angles, upto=upto, sd=sd)
            orders.append(_order("together", (both,), 0.0))
        orders.append(_order("left first", _one_first(one, other, angles, upto, sd), running))
        orders.append(_order("right first", _one_first(other, one, angles, upto, sd), running))
        works = tuple(order.name for order in orders if order.clears)
        bevel = None
        if not works:
            bevel = bevel_needed(left, right, ways, upto=upto, running=running)
        swing_both = "both" in (left.swing, right.swing)
        words = _words(works, bevel, swing_both)
        turns.append(PairTurn(ways[0], ways[1], tuple(orders), works, bevel, words))
    return PairSwing(tuple(turns))
