"""A bolted plate on concrete or steel: what each anchor takes, and how a thin plate pries on it.

Statics under stated assumptions, and the T-stub of AISC, *Steel Construction Manual*, 15th and 16th
ed., part 9 (Thornton, *Engineering Journal*, 1985), whose formulas were read in AISC Design Guide
29, pp. 63 to 69, which works them through. Chapter 17 of ACI 318-19 (17.2.1) and EN 1992-4 (6.2)
both ask for an elastic distribution.
"""

from __future__ import annotations

import functools
import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.handbook.aisc360._values import Real, require_not_negative, require_positive, where
from leafwright.records import Metres, Newtons, Number, Point2

_TINY = 1e-9


@dataclass(frozen=True, slots=True)
class PlateForces:
    """Pull on each anchor, in their order, and the presses between plate and ground."""

    tension: tuple[Newtons, ...]
    presses: tuple[tuple[Point2, Newtons], ...]

    @property
    def total_tension(self) -> Newtons:
        """Return the sum of the pulls [N]."""
        return sum(self.tension)

    @property
    def total_press(self) -> Newtons:
        """Return the sum of the presses [N]."""
        return sum(press for _, press in self.presses)


def plate_forces(
    anchors: Sequence[Point2],
    corners: Sequence[Point2],
    N: float,
    M_x: float,
    M_y: float,
) -> PlateForces:
    """Return the pull on each anchor under a rigid plate, and where the plate presses [N].

    Statics with three assumptions: the plate is rigid; all anchors stretch alike; the ground does
    not give and presses back only at the corners. So where the plate does not lift off whole, the
    pulls grow with the distance from the edge or corner about which it tips. No pretension.

    The full lever arm to the edge makes the pulls smaller than a soft plate or ground would:
    for ``corners`` take the outline of the part that is stiff (the plate if it is thick, else the
    footing of what stands on it, one plate thickness out), not more.

    anchors: (x, y) of each [m].
    corners: of the convex outline that can press [m], in any order.
    N: force away from the ground [N], + pulls.
    M_x, M_y: moments about the axes of x and y through the origin [N m], right-handed: M_x > 0
        pulls at y > 0, M_y > 0 pulls at x < 0.
    Raises ValueError for no anchors, fewer than three corners, an anchor outside them, a value that
    is not a number, or corners that lie on one line.
    """
    _require_pattern(anchors, corners)
    for name, value in {"N": N, "M_x": M_x, "M_y": M_y}.items():
        if not math.isfinite(value):
            raise ValueError(f"{name} = {value!r}: give a number in newtons or newton metres")
    bolts, edge = np.asarray(anchors, dtype=float), np.asarray(corners, dtype=float)
    middle = bolts.mean(axis=0)
    size = float(np.abs(edge - middle).max())
    # Rows (1, x, y) from the anchors' middle, so that lengths and forces are of one size.
    at_bolts = np.column_stack([np.ones(len(bolts)), (bolts - middle) / size])
    at_edge = np.column_stack([np.ones(len(edge)), (edge - middle) / size])
    load = np.array([N, (-M_y - N * middle[0]) / size, (M_x - N * middle[1]) / size])
    scale = float(np.abs(load).max())
    if scale == 0.0:
        return PlateForces((0.0,) * len(anchors), ())
    resting = _resting(tuple(map(tuple, at_bolts.tolist())), tuple(map(tuple, at_edge.tolist())))
    solved = _tipped(at_bolts, at_edge, load / scale, resting)
    if solved is not None:
        pulls, touching, presses = solved
        return PlateForces(
            tuple(float(pull) * scale for pull in pulls),
            tuple(
                (corners[place], float(press) * scale)
                for place, press in zip(touching, presses, strict=True)
            ),
        )
    # scipy is slow to import, and only here is it needed.
    from scipy.optimize import nnls

    presses, left = nnls(at_edge.T, -load / scale)
    if left > 1e-6:
        raise ValueError(
            f"corners = {list(corners)!r}: the plate cannot stand on them under this load; give "
            "the corners of an outline that has an area around the anchors"
        )
    return PlateForces(
        (0.0,) * len(anchors),
        tuple(
            (corner, float(press) * scale)
            for corner, press in zip(corners, presses, strict=True)
            if press > 0.0
        ),
    )


@dataclass(frozen=True, slots=True)
class _Resting:
    """Every way a plate can rest on up to two corners, the fewest first.

    ``touching`` are the corners; ``matrices`` the equations for pose and presses, padded with
    zeros to five unknowns, and ``inverses`` what solves them.
    """

    touching: tuple[tuple[int, ...], ...]
    matrices: np.ndarray
    inverses: np.ndarray


@functools.lru_cache(maxsize=256)
def _resting(bolts: tuple[tuple[float, ...], ...], edge: tuple[tuple[float, ...], ...]) -> _Resting:
    """Return the ways to rest: they depend on the pattern alone, which many loads share."""
    at_bolts, at_edge = np.array(bolts), np.array(edge)
    touching = tuple(
        places
        for number in (0, 1, 2)
        for places in itertools.combinations(range(len(edge)), number)
    )
    matrices = np.zeros((len(touching), 5, 5))
    matrices[:, :3, :3] = at_bolts.T @ at_bolts
    for matrix, places in zip(matrices, touching, strict=True):
        for row, place in enumerate(places, start=3):
            matrix[:3, row] = -at_edge[place]
            matrix[row, :3] = at_edge[place]
    return _Resting(touching, matrices, np.linalg.pinv(matrices, rcond=1e-12))


def _tipped(
    at_bolts: np.ndarray, at_edge: np.ndarray, load: np.ndarray, resting: _Resting
) -> tuple[np.ndarray, tuple[int, ...], np.ndarray] | None:
    """Return pulls, corners and presses for the first way to rest that holds, else None."""
    right = np.concatenate([load, (0.0, 0.0)])
    solutions = resting.inverses @ right
    poses, presses = solutions[:, :3], solutions[:, 3:]
    holds = np.abs((resting.matrices @ solutions[:, :, None])[:, :, 0] - right).max(axis=1) <= _TINY
    holds &= (poses @ at_edge.T >= -_TINY).all(axis=1)
    holds &= (presses >= -_TINY).all(axis=1)
    first = int(holds.argmax())
    if not holds[first]:
        return None
    touching = resting.touching[first]
    return (
        np.maximum(at_bolts @ poses[first], 0.0),
        touching,
        np.maximum(presses[first, : len(touching)], 0.0),
    )


def _require_pattern(anchors: Sequence[Point2], corners: Sequence[Point2]) -> None:
    if not anchors:
        raise ValueError("anchors = []: a plate needs an anchor; give the place of each")
    if len(corners) < 3:
        raise ValueError(
            f"corners = {list(corners)!r}: an outline has three corners or more; give them all"
        )
    around = sorted(
        corners,
        key=lambda c: math.atan2(
            c[1] - sum(p[1] for p in corners) / len(corners),
            c[0] - sum(p[0] for p in corners) / len(corners),
        ),
    )
    for anchor in anchors:
        for start, end in zip(around, [*around[1:], around[0]], strict=True):
            side = (end[0] - start[0]) * (anchor[1] - start[1])
            side -= (end[1] - start[1]) * (anchor[0] - start[0])
            if side < -_TINY * math.dist(start, end):
                raise ValueError(
                    f"the anchor at {anchor!r} lies outside the corners {list(corners)!r}; give "
                    "the outline of the plate around all anchors"
                )


def tension_eccentricity(
    anchors: Sequence[Point2], tension: Sequence[Newtons]
) -> tuple[Metres, Metres]:
    """Return how far the resultant pull lies from the middle of the anchors that pull [m].

    e'_N of ACI 318-19, 17.6.2.3.1, and e_N of EN 1992-4, 7.2.1.4(6), along x and y; sizes, without
    sign. Only anchors in tension count.

    anchors: (x, y) of each [m]; tension: pull on each [N], 0 or more.
    Raises ValueError for a negative pull or lists of different length. (0, 0) where none pulls.
    """
    if len(anchors) != len(tension):
        raise ValueError(f"{len(anchors)} anchors but {len(tension)} pulls; give one for each")
    require_not_negative(tension=np.asarray(tension, dtype=float))
    most = max(tension, default=0.0)
    pulling = [
        (place, pull) for place, pull in zip(anchors, tension, strict=True) if pull > _TINY * most
    ]
    if not pulling:
        return 0.0, 0.0
    total = sum(pull for _, pull in pulling)
    e_x, e_y = (
        abs(
            sum(pull * place[axis] for place, pull in pulling) / total
            - sum(place[axis] for place, _ in pulling) / len(pulling)
        )
        for axis in (0, 1)
    )
    return e_x, e_y


def shear_forces(
    anchors: Sequence[Point2], V_x: float, V_y: float, at: Point2
) -> tuple[tuple[Newtons, Newtons], ...]:
    """Return the shear (x, y) on each anchor under a rigid plate [N].

    Elastic method: V/n each, and from the turning moment T about the anchors' middle T r/Σr²,
    square to the radius.

    anchors: (x, y) of each [m]; V_x, V_y: shear on the plate [N]; at: where it acts, (x, y) [m].
    Raises ValueError for no anchors, or a single place for all of them and a load that turns it.
    Limits: every anchor bears at once: holes filled, or no larger than EN 1992-4 Table 6.1 or the
    anchor's report allows; else only the anchors that touch count. No friction.
    """
    if not anchors:
        raise ValueError("anchors = []: a plate needs an anchor; give the place of each")
    number = len(anchors)
    x_0 = sum(x for x, _ in anchors) / number
    y_0 = sum(y for _, y in anchors) / number
    turning = (at[0] - x_0) * V_y - (at[1] - y_0) * V_x
    spread = sum((x - x_0) ** 2 + (y - y_0) ** 2 for x, y in anchors)
    if spread == 0.0:
        if turning != 0.0:
            raise ValueError(
                f"at = {at!r}: one anchor cannot hold a plate against turning; put the load "
                "through it or add an anchor"
            )
        return ((V_x / number, V_y / number),) * number
    twist = turning / spread
    return tuple(
        (V_x / number - twist * (y - y_0), V_y / number + twist * (x - x_0)) for x, y in anchors
    )


@dataclass(frozen=True, slots=True)
class TeeStub:
    """The plate beside one bolt, as AISC's prying formulas take it.

    ``b_prime`` and ``a_prime``: from the edge of the bolt nearest to the stem to the stem's face,
    and from there to where the plate's edge pries; ``rho = b_prime/a_prime``; ``delta`` what the
    hole leaves of the width ``p``.
    """

    b_prime: Metres
    a_prime: Metres
    rho: Number
    delta: Number
    p: Metres


def tee_stub(b: Metres, a: Metres, d_b: Metres, d_hole: Metres, p: Metres) -> TeeStub:
    """Return the dimensions that prying depends on.

    AISC Manual, part 9, Eqs. 9-21, 9-24, 9-26, 9-27 (numbers of the 14th ed.): b' = b − d_b/2, a' =
    a + d_b/2 with a counted up to 1.25 b, ρ = b'/a', δ = 1 − d_hole/p.

    b: from the bolt's centre to the face of the stem or wall [m]; a: to the plate's edge [m]; d_b:
        bolt [m]; d_hole: hole along the width [m]; p: width of plate that goes with one bolt [m],
        not more than the spacing, nor than 2 b each way (remembered).
    Raises ValueError for a value at or below 0, a bolt nearer to the stem than half its diameter,
    or a hole as wide as p.
    """
    require_positive(b=b, a=a, d_b=d_b, d_hole=d_hole, p=p)
    if b <= d_b / 2.0:
        raise ValueError(f"b = {b!r}: less than half of the bolt d_b = {d_b!r}; move the bolt out")
    if d_hole >= p:
        raise ValueError(f"d_hole = {d_hole!r}: leaves nothing of p = {p!r}; give a wider strip")
    b_prime = b - d_b / 2.0
    a_prime = min(a, 1.25 * b) + d_b / 2.0
    return TeeStub(b_prime, a_prime, b_prime / a_prime, 1.0 - d_hole / p, p)


def thickness_without_prying(B: Real, F_u: Real, stub: TeeStub, *, phi: Real = 0.90) -> Real:
    """Return the plate thickness t_c at which a bolt's full strength comes without prying [m].

    AISC Manual, part 9, Eq. 9-30a (14th ed.): √(4 B b'/(φ p F_u)), φ = 0.90; for ASD (9-30b) put
    1/1.67 in its place. With the required pull per bolt for B it is the thickness without prying.

    B: available tension of one bolt or anchor [N] (for an anchor the least of all its modes); F_u:
        tensile strength of the plate [Pa]; stub: `tee_stub`; phi: resistance factor [-].
    Raises ValueError for a value at or below 0.
    """
    require_positive(B=B, F_u=F_u, phi=phi)
    t_c: Real = np.sqrt(4.0 * B * stub.b_prime / (phi * stub.p * F_u))
    return t_c


def available_tension_with_prying(B: Real, t: Real, t_c: Real, stub: TeeStub) -> Real:
    """Return how much pull per bolt a plate of thickness t lets through [N].

    AISC Manual, part 9, Eqs. 9-31 to 9-34 (14th ed.): T_avail = B Q with α' = ((t_c/t)² − 1)/(δ(1 +
    ρ)); Q = 1 for α' < 0, (t/t_c)²(1 + δα') up to α' = 1, (t/t_c)²(1 + δ) above.

    B: available tension of one bolt [N]; t: thickness of the plate [m]; t_c:
        `thickness_without_prying` of the same B [m]; stub: `tee_stub`.
    Raises ValueError for a value at or below 0. Limits: a flat plate on a stiff ground that can
    take the press at its edge; a row with its neighbours in line.
    """
    require_positive(B=B, t=t, t_c=t_c)
    alpha = np.clip((np.square(t_c / t) - 1.0) / (stub.delta * (1.0 + stub.rho)), 0.0, 1.0)
    Q = where(np.greater_equal(t, t_c), 1.0, np.square(t / t_c) * (1.0 + stub.delta * alpha))
    return B * Q


def prying_force(T: Real, B: Real, t: Real, t_c: Real, stub: TeeStub) -> Real:
    """Return the prying force q that a pull T per bolt adds to the bolt [N].

    AISC Manual, part 9 (equation number not read): q = B δ α ρ (t/t_c)², α = ((T/B)(t_c/t)² − 1)/δ
    from 0 to 1. The bolt, and for an anchor the concrete too, sees T + q.

    T: required pull per bolt without prying [N]; B, t, t_c, stub: as for
        `available_tension_with_prying`.
    Raises ValueError for a negative T or another value at or below 0. Limits: T not above
    `available_tension_with_prying`; nan above it.
    """
    require_not_negative(T=T)
    most = available_tension_with_prying(B, t, t_c, stub)
    alpha = np.clip((T / B * np.square(t_c / t) - 1.0) / stub.delta, 0.0, 1.0)
    q: Real = B * stub.delta * alpha * stub.rho * np.square(t / t_c)
    return where(np.less_equal(T, most * (1.0 + _TINY)), q, np.nan)
