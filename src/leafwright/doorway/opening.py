"""The clear opening at any angle: what is free between open leaves and jambs."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import minimize_scalar

from leafwright.doorway.curves import turning
from leafwright.doorway.outline import Block, DoorwayPlan, LeafPlan, Way
from leafwright.doorway.turning import Shape
from leafwright.records import Metres, Radians, read_only

#: Angles that the table shows [rad].
TABLE_STEP = math.radians(15.0)


@dataclass(frozen=True, slots=True)
class ClearRow:
    """One row of the table: the widths at one angle [m]."""

    angle: Radians
    seen: Metres
    in_reveal: Metres


@dataclass(frozen=True, slots=True)
class ClearOpening:
    """The clear width with the leaves open one way [m], all by the same angle [rad].

    ``seen`` is what is free seen straight on, as a wide load carried through needs; ``in_reveal``
    leaves out what of the leaves stands outside the wall's depth. Both are at ``angles``, and
    nothing where the leaves overlap as seen. A leaf that cannot open so far stands at its limit.
    """

    way: Way
    angles: np.ndarray
    seen: np.ndarray
    in_reveal: np.ndarray
    table: tuple[ClearRow, ...]
    greatest: Metres
    greatest_at: Radians


def _jambs(doorway: DoorwayPlan) -> list[Block]:
    return [b for b in doorway.blocks if b.kind in ("jamb", "reveal")]


def _edge(doorway: DoorwayPlan, side: str) -> float:
    """Return the x of the innermost thing on one side [m]."""
    xs = [x for b in _jambs(doorway) if b.side == side for x, _ in b.corners]
    if not xs:
        raise ValueError(f"the doorway has no jamb on its {side} side: add one to its blocks")
    return max(xs) if side == "left" else min(xs)


def _depth(doorway: DoorwayPlan) -> tuple[float, float]:
    zs = [z for b in _jambs(doorway) for _, z in b.corners]
    return min(zs), max(zs)


def _reaches(own: Shape, turned: np.ndarray) -> np.ndarray:
    """Return how far from the axis into the opening a leaf reaches at each angle [m]."""
    at: np.ndarray = (own.corners * np.exp(1j * turned)[:, None]).real.max(axis=1)
    return at


def _reaches_between(own: Shape, turned: np.ndarray, low: float, high: float) -> np.ndarray:
    """Return the same of what stands between two lines along the wall; −inf where nothing does."""
    turn = np.exp(1j * turned)[:, None]
    begin, end = own.corners * turn, own.ends * turn
    inside = (begin.imag >= low) & (begin.imag <= high)
    best: np.ndarray = np.where(inside, begin.real, -np.inf).max(axis=1)
    rise = end.imag - begin.imag
    for line in (low, high):
        with np.errstate(divide="ignore", invalid="ignore"):
            part = (line - begin.imag) / rise
            at = begin.real + part * (end.real - begin.real)
        crosses = (part >= 0.0) & (part <= 1.0)
        best = np.maximum(best, np.where(crosses, at, -np.inf).max(axis=1))
    return best


@dataclass(frozen=True, slots=True)
class _Opening:
    """What decides the clear width: the jambs' edges, and each leaf turning with its limit."""

    edges: tuple[float, float]
    depth: tuple[float, float]
    leaves: tuple[tuple[LeafPlan, Shape, float], ...]


def _opening(
    leaves: Sequence[LeafPlan],
    doorway: DoorwayPlan,
    way: Way,
    limits: Mapping[str, float] | None,
) -> _Opening:
    back, front = _depth(doorway)
    return _Opening(
        edges=(_edge(doorway, "left"), _edge(doorway, "right")),
        depth=(back, front) if way == "toward" else (-front, -back),
        leaves=tuple(
            (
                plan,
                turning(plan, way),
                (limits or {}).get(plan.key, math.inf) if way in plan.ways else 0.0,
            )
            for plan in leaves
        ),
    )


def _free(
    of: _Opening, angles: np.ndarray, reach: Callable[[LeafPlan, Shape, np.ndarray], np.ndarray]
) -> np.ndarray:
    """Return what is free between the leaves, each reaching as far as a function says [m]."""
    left, right = (np.full(len(angles), edge) for edge in of.edges)
    for plan, own, most in of.leaves:
        far = reach(plan, own, np.minimum(angles, most))
        if plan.hand == "left":
            left = np.maximum(left, plan.axis_x + far)
        else:
            right = np.minimum(right, plan.axis_x - far)
    free: np.ndarray = np.maximum(right - left, 0.0)
    return free


def _seen(of: _Opening, angles: np.ndarray) -> np.ndarray:
    return _free(of, angles, lambda _, own, turned: _reaches(own, turned))


def _within(of: _Opening, way: Way, angles: np.ndarray) -> np.ndarray:
    def reach(plan: LeafPlan, own: Shape, turned: np.ndarray) -> np.ndarray:
        axis = plan.axis_z if way == "toward" else -plan.axis_z
        return _reaches_between(own, turned, of.depth[0] - axis, of.depth[1] - axis)

    return _free(of, angles, reach)


def clear_widths(
    leaves: Sequence[LeafPlan],
    doorway: DoorwayPlan,
    way: Way,
    angles: np.ndarray,
    *,
    limits: Mapping[str, float] | None = None,
) -> tuple[np.ndarray, np.ndarray]:
    """Return the width free seen straight on, and that within the wall's depth [m].

    Args:
        leaves: the leaves; one that does not swing this way stands shut.
        doorway: the jambs.
        way: which way the leaves open.
        angles: how far each is open, shape (n,) [rad].
        limits: by leaf key, the angle past which it does not open [rad].

    Raises:
        ValueError: the doorway has no jamb on one side.
    """
    of = _opening(leaves, doorway, way, limits)
    return _seen(of, angles), _within(of, way, angles)


def _greatest(
    width: Callable[[float], float], angles: np.ndarray, at: np.ndarray
) -> tuple[float, float]:
    """Return the greatest of a width and the first angle that reaches it, by search."""
    i = int(at.argmax())
    low, high = float(angles[max(i - 1, 0)]), float(angles[min(i + 1, len(angles) - 1)])
    best, where = float(at[i]), float(angles[i])
    found = minimize_scalar(
        lambda angle: -width(angle), bounds=(low, high), method="bounded", options={"xatol": 1e-9}
    )
    if -found.fun > best:
        best, where = float(-found.fun), float(found.x)
    # Past some angle a leaf may stand clear of the jamb, and the width no longer grows.
    while where - low > 1e-9:
        middle = (low + where) / 2
        low, where = (low, middle) if width(middle) >= best - 1e-12 else (middle, where)
    return best, where


def clear_opening(
    leaves: Sequence[LeafPlan],
    doorway: DoorwayPlan,
    way: Way,
    angles: np.ndarray,
    *,
    limits: Mapping[str, float] | None = None,
) -> ClearOpening:
    """Return the clear opening against angle, its table, and where it is greatest seen straight on.

    The arguments are those of `clear_widths`; ``angles`` rise from 0.
    """
    of = _opening(leaves, doorway, way, limits)
    steps = math.floor(float(angles[-1]) / TABLE_STEP + 1e-9)
    shown = TABLE_STEP * np.arange(steps + 1)
    every = np.concatenate((angles, shown))
    seen, within = _seen(of, every), _within(of, way, every)
    count = len(angles)
    greatest, at = _greatest(
        lambda angle: float(_seen(of, np.array([angle]))[0]), angles, seen[:count]
    )
    return ClearOpening(
        way=way,
        angles=angles,
        seen=read_only(seen[:count].copy()),
        in_reveal=read_only(within[:count].copy()),
        table=tuple(
            ClearRow(float(a), float(s), float(w))
            for a, s, w in zip(shown, seen[count:], within[count:], strict=True)
        ),
        greatest=greatest,
        greatest_at=at,
    )
