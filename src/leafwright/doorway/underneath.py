"""The gap under a leaf as it swings over the mapped floor on an axis that may lean."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from leafwright.doorway.outline import LeafPlan, Way
from leafwright.records import Metres, Number, Point2, Radians, read_only

#: Height of the floor [m] and its standard deviation [m] at arrays of x and z [m].
Floor = Callable[[np.ndarray, np.ndarray], tuple[np.ndarray, np.ndarray]]

#: Places along the leaf, and how much finer the search round the least gap goes.
STATIONS = 41
FINER = 10


@dataclass(frozen=True, slots=True)
class FloorGap:
    """The gap under a leaf's bottom edge over its swing [m].

    Attributes:
        way: which way it opens.
        angles: how far it is open [rad], shape (n,).
        stations: places along it, from the hinge edge [m], shape (s,).
        gaps: at each angle and place, the least across the leaf's thickness [m], shape (n, s).
        sds: their standard deviations, the floor's [m], shape (n, s).
        least: the least of them [m].
        at: where on the floor it is, (x, z) [m].
        along: where along the leaf it is, from the hinge edge [m].
        angle: how far the leaf is open there [rad].
        sd: standard deviation of the least gap [m].
        resolution: the floor was looked at no farther apart than this along and round the swing,
            and ten times closer near the least gap [m].
    """

    way: Way
    angles: np.ndarray
    stations: np.ndarray
    gaps: np.ndarray
    sds: np.ndarray
    least: Metres
    at: Point2
    along: Metres
    angle: Radians
    sd: Metres
    resolution: Metres


@dataclass(frozen=True, slots=True)
class _Looked:
    gaps: np.ndarray
    sds: np.ndarray
    x: np.ndarray
    z: np.ndarray


def _looked(
    plan: LeafPlan,
    way: Way,
    floor: Floor,
    lean: tuple[float, float],
    angles: np.ndarray,
    stations: np.ndarray,
) -> _Looked:
    """Return the least gap across the thickness, at each angle and place along the leaf."""
    u = stations - plan.axis
    middle = plan.middle_z - plan.axis_z
    across = np.array([middle - plan.half("back"), middle, middle + plan.half("face")])
    points = u[None, :, None] + 1j * across[None, None, :]
    turned = points * np.exp(1j * (angles if way == "toward" else -angles))[:, None, None]
    right, toward = plan.sign * turned.real, turned.imag
    x, z = plan.axis_x + right, plan.axis_z + toward
    drop = plan.nose_drop * (stations / plan.width)[None, :, None]
    under = plan.bottom - drop - (lean[0] * right + lean[1] * toward)
    height, sd = floor(x.ravel(), z.ravel())
    gaps = under - np.reshape(height, x.shape)
    worst = gaps.argmin(axis=2)[:, :, None]

    def picked(array: np.ndarray) -> np.ndarray:
        return np.take_along_axis(array, worst, axis=2)[:, :, 0]

    sds = np.reshape(np.broadcast_to(sd, x.size), x.shape)
    return _Looked(picked(gaps), picked(sds), picked(x), picked(z))


def _round(values: np.ndarray, i: int) -> np.ndarray:
    """Return finer values from the one before to the one after one of them."""
    low, high = values[max(i - 1, 0)], values[min(i + 1, len(values) - 1)]
    return np.append(np.linspace(low, high, 2 * FINER + 1), values[i])


def floor_gap(
    plan: LeafPlan,
    way: Way,
    floor: Floor,
    angles: np.ndarray,
    *,
    lean: tuple[Number, Number] = (0.0, 0.0),
) -> FloorGap:
    """Return the gap under a leaf that is square to its axis, at each angle and place along it.

    Args:
        plan: the leaf; its ``bottom`` is that at the axis.
        way: which way it opens.
        floor: height of the floor and its standard deviation [m] at arrays of x and z [m].
        angles: rising from 0 [rad], shape (n,).
        lean: how far the top of the axis leans to the right and toward the viewer, for each unit
            of height [-]; small, its square is left out.

    Raises:
        ValueError: the lean is more than 0.1, so that its square would count.
    """
    if max(abs(slope) for slope in lean) > 0.1:
        raise ValueError(
            f"the axis of {plan.key} leans by {lean!r}, more than 1 in 10: plumb it, or check "
            "that the lean is given as a slope and not in mm"
        )
    stations = np.linspace(0.0, plan.width, STATIONS)
    looked = _looked(plan, way, floor, lean, angles, stations)
    i, j = np.unravel_index(int(looked.gaps.argmin()), looked.gaps.shape)
    near_angles, near_stations = _round(angles, int(i)), _round(stations, int(j))
    near = _looked(plan, way, floor, lean, near_angles, near_stations)
    m, n = np.unravel_index(int(near.gaps.argmin()), near.gaps.shape)
    reach = math.hypot(plan.width - plan.axis, max(plan.half("face"), plan.half("back")))
    turn = float(np.diff(angles).max()) if len(angles) > 1 else 0.0
    return FloorGap(
        way=way,
        angles=angles,
        stations=read_only(stations),
        gaps=read_only(looked.gaps),
        sds=read_only(looked.sds),
        least=float(near.gaps[m, n]),
        at=(float(near.x[m, n]), float(near.z[m, n])),
        along=float(near_stations[n]),
        angle=float(near_angles[m]),
        sd=float(near.sds[m, n]),
        resolution=max(reach * turn, plan.width / (STATIONS - 1)),
    )
