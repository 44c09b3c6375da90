"""The swing stage: how the leaves clear everything round them at every angle, and what they leave.

A leaf's plan is turned exactly: the least gap over a swing and the angle of first contact come in
closed form, not off a grid; the curves at each angle are for the picture.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from leafwright import chain
from leafwright.doorway.curves import GapCurve, gap_curve, seen, turning
from leafwright.doorway.gaps import gap_check
from leafwright.doorway.heel import leaf_words
from leafwright.doorway.meeting import Order, PairSwing, PairTurn, pair_swing
from leafwright.doorway.opening import ClearOpening, clear_opening
from leafwright.doorway.outline import WAYS, Block, DoorwayPlan, LeafPlan, Way
from leafwright.doorway.pinch import Caution, Place, caution
from leafwright.doorway.records import Side
from leafwright.doorway.turning import point_gaps
from leafwright.doorway.underneath import Floor, FloorGap, floor_gap
from leafwright.records import Check, Metres, Number, Point2, Radians, Source, read_only

TURNING = Source("geometry of the doorway", "the turning plan of the leaves")


@dataclass(frozen=True, slots=True)
class LeafTurn:
    """One leaf that opens one way.

    Attributes:
        way: which way it opens.
        heel: the gap to the jamb that it hangs from.
        heel_face: from that jamb's corner toward the viewer to the leaf, at each angle [m].
        heel_back: from its other corner [m].
        nose: the gap to the jamb that a single leaf shuts against.
        reveals: the gaps to the sides of the reveal.
        obstacles: the gaps to what else stands there.
        opens_to: the angle at which it first touches one of these, or the last angle [rad].
        stopped_by: what it touches there, in words; empty where it touches nothing.
        floor: the gap underneath, where the floor is mapped.
    """

    way: Way
    heel: GapCurve
    heel_face: np.ndarray
    heel_back: np.ndarray
    nose: GapCurve | None
    reveals: tuple[GapCurve, ...]
    obstacles: tuple[GapCurve, ...]
    opens_to: Radians
    stopped_by: str
    floor: FloorGap | None

    @property
    def curves(self) -> tuple[GapCurve, ...]:
        """Return every gap of the leaf to what stands still."""
        nose = () if self.nose is None else (self.nose,)
        return (self.heel, *nose, *self.reveals, *self.obstacles)


@dataclass(frozen=True, slots=True)
class LeafSwing:
    """One leaf's swing, each way that it opens."""

    key: str
    hand: Side
    turns: tuple[LeafTurn, ...]


@dataclass(frozen=True, slots=True)
class Swing:
    """How the leaves swing: gaps against angle, the pair's meeting edges, the clear opening."""

    wished: Radians
    running_clearance: Metres
    plans: tuple[LeafPlan, ...]
    around: DoorwayPlan
    angles: np.ndarray
    leaves: tuple[LeafSwing, ...]
    pair: PairSwing | None
    clear: tuple[ClearOpening, ...]
    cautions: tuple[Caution, ...]
    checks: tuple[Check, ...]


def _beside(block: Block, plan: LeafPlan) -> bool:
    """Return whether a block stands at a height that the leaf takes up."""
    return block.bottom < plan.bottom + plan.height and block.top > plan.bottom - plan.nose_drop


def _gap_name(block: Block, plan: LeafPlan) -> str:
    return f"{leaf_words(plan.key)} to the {block.name}"


def _corners(block: Block) -> tuple[Point2, Point2]:
    """Return a jamb's inner corners: that toward the viewer, and the other."""
    inner = (
        max(x for x, _ in block.corners)
        if block.side == "left"
        else min(x for x, _ in block.corners)
    )
    zs = [z for x, z in block.corners if abs(x - inner) < 1e-9]
    return (inner, max(zs)), (inner, min(zs))


def _own_jamb(plan: LeafPlan, doorway: DoorwayPlan) -> Block:
    for block in doorway.blocks:
        if block.kind == "jamb" and block.side == plan.hand:
            return block
    raise ValueError(
        f"{leaf_words(plan.key)} hangs on the {plan.hand} side, where the doorway has no jamb: "
        "add one to its blocks"
    )


def _turn(
    plan: LeafPlan,
    way: Way,
    doorway: DoorwayPlan,
    angles: np.ndarray,
    *,
    wished: float,
    single: bool,
    floor: Floor | None,
    lean: tuple[float, float],
) -> LeafTurn:
    def curve(key: str, block: Block) -> GapCurve:
        return gap_curve(
            f"{plan.key}/{key}/{way}",
            _gap_name(block, plan),
            plan,
            way,
            [block.corners],
            angles,
            upto=wished,
            sd=block.sd,
        )

    beside = [block for block in doorway.blocks if _beside(block, plan)]
    jamb = _own_jamb(plan, doorway)
    heel = curve("heel", jamb)
    other = [b for b in beside if b.kind == "jamb" and b.side != plan.hand]
    nose = curve("nose", other[0]) if single and other else None
    near = [b for b in beside if b.kind == "reveal" and (single or b.side == plan.hand)]
    reveals = tuple(curve(f"reveal/{b.key}", b) for b in near)
    obstacles = tuple(curve(f"obstacle/{b.key}", b) for b in beside if b.kind == "obstacle")
    every = [(heel, jamb), *zip(reveals, near, strict=True)]
    every += zip(obstacles, (b for b in beside if b.kind == "obstacle"), strict=True)
    if nose is not None:
        every.append((nose, other[0]))
    opens_to, stopped_by = float(angles[-1]), ""
    for one, block in every:
        if one.contact is not None and one.contact < opens_to:
            opens_to, stopped_by = one.contact, f"the {block.name}"
    own = turning(plan, way)
    face, back = (point_gaps(own, seen(plan, way, at), angles) for at in _corners(jamb))
    over = angles[angles <= max(wished, float(angles[0]))]
    return LeafTurn(
        way=way,
        heel=heel,
        heel_face=read_only(face),
        heel_back=read_only(back),
        nose=nose,
        reveals=reveals,
        obstacles=obstacles,
        opens_to=opens_to,
        stopped_by=stopped_by,
        floor=None if floor is None else floor_gap(plan, way, floor, over, lean=lean),
    )


def _graded(
    key: str, subject: str, question: str, *, needed: float, least: float, sd: float, change: str
) -> Check:
    """Return the check of a gap as the doorway stage grades its own, its 95 % band included."""
    return gap_check(
        key,
        subject,
        question,
        needed=chain.base("wish", f"{key}/needed", "clearance needed", needed),
        has=chain.base("table", f"{key}/least", "least gap", least, sd=sd, note=question),
        change=change,
        source=TURNING,
    )


def _degrees(angle: float) -> str:
    return f"{math.degrees(angle):.1f}°"


def _found(curve: GapCurve) -> str:
    if curve.contact is not None and curve.contact <= curve.upto:
        return f"it touches at {_degrees(curve.contact)} open: "
    return f"it is nearest at {_degrees(curve.least_at)} open: "


def _curve_check(
    curve: GapCurve, subject: str, question: str, running: float, change: str
) -> Check:
    return _graded(
        f"swing/{curve.key}",
        subject,
        question,
        needed=running,
        least=curve.least,
        sd=curve.sd,
        change=_found(curve) + change,
    )


def _turn_checks(
    plan: LeafPlan, turn: LeafTurn, running: float, floor_clearance: float | None
) -> list[Check]:
    who = leaf_words(plan.key)
    upto = f"from shut to {_degrees(turn.heel.upto)} open, {turn.way} {_you(turn.way)}"
    checks = [
        _curve_check(
            turn.heel,
            f"heel of {who}",
            f"does the heel clear its jamb {upto}",
            running,
            "widen the heel gap, set the axis farther in, or hold the infill back from the heel",
        )
    ]
    if turn.nose is not None:
        checks.append(
            _curve_check(
                turn.nose,
                f"nose of {who}",
                f"does the nose clear the jamb it shuts against {upto}",
                running,
                "widen the closing gap, or bevel the nose",
            )
        )
    for curve in turn.reveals:
        checks.append(
            _curve_check(
                curve,
                f"{who} in the reveal",
                f"does the leaf clear the side of the reveal {upto}",
                running,
                "set the leaf nearer that face of the wall, widen the heel gap, or open it less",
            )
        )
    for curve in turn.obstacles:
        checks.append(
            _curve_check(
                curve,
                curve.name,
                f"does the leaf clear it {upto}",
                running,
                "move it, or stop the leaf before it",
            )
        )
    if turn.floor is not None and floor_clearance is not None:
        floor = turn.floor
        checks.append(
            _graded(
                f"swing/{plan.key}/floor/{turn.way}",
                f"bottom of {who}",
                f"does the bottom edge clear the mapped floor {upto}",
                needed=floor_clearance,
                least=floor.least,
                sd=floor.sd,
                change=(
                    f"it is lowest over the floor at {_degrees(floor.angle)} open: raise the leaf, "
                    "plumb its axis, or grind the floor there"
                ),
            )
        )
    return checks


def _you(way: Way) -> str:
    return "you" if way == "toward" else "from you"


def _best(turn: PairTurn) -> Order:
    return max(turn.orders, key=lambda order: (order.clears, order.least - order.needed))


def _pair_check(turn: PairTurn, sd: float) -> Check:
    order = _best(turn)
    key = f"swing/pair/{turn.left_way}"
    ways = f"{turn.left_way} {_you(turn.left_way)}"
    if turn.left_way != turn.right_way:
        ways = f"the left leaf {ways}, the right {turn.right_way} {_you(turn.right_way)}"
    return _graded(
        key,
        "meeting edges",
        f"do the meeting edges pass one another in some order, {ways} (best: {order.name})",
        needed=order.needed,
        least=order.least,
        sd=sd,
        change=turn.words if not turn.works else "widen the meeting gap, or bevel the edges",
    )


def _swept(curve: GapCurve, turn: LeafTurn) -> np.ndarray:
    upto = min(curve.upto, turn.opens_to)
    gaps: np.ndarray = curve.gaps[curve.angles <= max(upto, float(curve.angles[0]))]
    return gaps


def _turn_cautions(plan: LeafPlan, turn: LeafTurn) -> list[Caution]:
    who = leaf_words(plan.key)
    found: list[Caution | None] = []

    def look(key: str, where: str, place: Place, gaps: np.ndarray, least: float | None) -> None:
        found.append(caution(f"{plan.key}/pinch/{key}/{turn.way}", where, place, gaps, least))

    over = slice(0, len(_swept(turn.heel, turn)))
    for side, gaps in (("face", turn.heel_face), ("back", turn.heel_back)):
        look(f"heel {side}", f"heel of {who}, {side} side", "heel", gaps[over], None)
    if turn.nose is not None:
        where = f"nose of {who}"
        look("nose", where, "nose", _swept(turn.nose, turn), turn.nose.least)
    for curve in (*turn.reveals, *turn.obstacles):
        look(curve.key, curve.name, "obstacle", _swept(curve, turn), curve.least)
    if turn.floor is not None:
        look("floor", f"under {who}", "floor", turn.floor.gaps, turn.floor.least)
    return [one for one in found if one is not None]


def _pair_cautions(pair: PairSwing) -> list[Caution]:
    found = []
    for turn in pair.turns:
        curve = _best(turn).steps[0]
        gaps = curve.gaps[curve.angles <= max(curve.upto, float(curve.angles[0]))]
        key = f"pair/pinch/meeting/{turn.left_way}"
        one = caution(key, "meeting edges", "nose", gaps, curve.least)
        if one is not None:
            found.append(one)
    return found


def swing(
    leaves: Sequence[LeafPlan],
    doorway: DoorwayPlan,
    *,
    running_clearance: float,
    wished: float = math.pi / 2,
    upto: float = math.pi,
    steps: int = 180,
    floor: Floor | None = None,
    lean: Mapping[str, tuple[Number, Number]] | None = None,
    floor_clearance: float | None = None,
) -> Swing:
    """Return how one or two leaves swing: gaps, meeting edges, clear opening, cautions, checks.

    Args:
        leaves: one leaf, or the left and the right of a pair.
        doorway: what stands round them.
        running_clearance: what a leaf keeps from everything as it turns [m].
        wished: how far the leaves are to open [rad]; checks and least gaps are from shut to here.
        upto: how far the curves go on, a stop's angle or half a turn [rad].
        steps: of the curves, between shut and ``upto``.
        floor: height of the floor and its standard deviation [m] at arrays of x and z [m].
        lean: by leaf key, how far the top of its axis leans to the right and toward the viewer
            for each unit of height [-].
        floor_clearance: least gap wished over the mapped floor [m].

    Raises:
        ValueError: no leaf, more than two, two of one hand; an angle out of its range; no jamb on
            the side that a leaf hangs on.
    """
    hands = [plan.hand for plan in leaves]
    if not leaves or len(leaves) > 2 or len(set(hands)) != len(hands):
        raise ValueError(
            f"leaves hang on {hands!r}: give one leaf, or one on the left and one on the right"
        )
    if not 0.0 < wished <= upto <= math.pi + 1e-12 or steps < 1:
        raise ValueError(
            f"wished {wished!r} rad, upto {upto!r} rad, steps {steps!r}: the leaves open by more "
            "than nothing, the curves go at least so far and no farther than half a turn, in at "
            "least one step"
        )
    angles = read_only(np.linspace(0.0, upto, steps + 1))
    single = len(leaves) == 1
    swings = tuple(
        LeafSwing(
            plan.key,
            plan.hand,
            tuple(
                _turn(
                    plan,
                    way,
                    doorway,
                    angles,
                    wished=wished,
                    single=single,
                    floor=floor,
                    lean=(lean or {}).get(plan.key, (0.0, 0.0)),
                )
                for way in plan.ways
            ),
        )
        for plan in leaves
    )
    pair = None
    if not single:
        left, right = sorted(leaves, key=lambda plan: plan.hand)
        pair = pair_swing(
            left, right, angles, upto=wished, running=running_clearance, sd=doorway.meeting_sd
        )
    checks: list[Check] = []
    cautions: list[Caution] = []
    for plan, one in zip(leaves, swings, strict=True):
        for turn in one.turns:
            checks += _turn_checks(plan, turn, running_clearance, floor_clearance)
            cautions += _turn_cautions(plan, turn)
    if pair is not None:
        checks += [_pair_check(turn, doorway.meeting_sd) for turn in pair.turns]
        cautions += _pair_cautions(pair)
    return Swing(
        wished=wished,
        running_clearance=running_clearance,
        plans=tuple(leaves),
        around=doorway,
        angles=angles,
        leaves=swings,
        pair=pair,
        clear=_clear(leaves, swings, doorway, angles),
        cautions=tuple(_worst_of_each(cautions, lambda one: (one.where, one.words))),
        checks=tuple(checks),
    )


def _clear(
    leaves: Sequence[LeafPlan],
    swings: Sequence[LeafSwing],
    doorway: DoorwayPlan,
    angles: np.ndarray,
) -> tuple[ClearOpening, ...]:
    found = []
    for way in WAYS:
        limits = {one.key: turn.opens_to for one in swings for turn in one.turns if turn.way == way}
        if limits:
            found.append(clear_opening(leaves, doorway, way, angles, limits=limits))
    return tuple(found)


def _worst_of_each(
    cautions: Sequence[Caution], same: Callable[[Caution], tuple[str, str]]
) -> list[Caution]:
    """Return one caution of those that say the same of the same place: that of the least gap."""
    worst: dict[tuple[str, str], Caution] = {}
    for one in cautions:
        held = worst.get(same(one))
        if held is None or one.least < held.least:
            worst[same(one)] = one
    return list(worst.values())
