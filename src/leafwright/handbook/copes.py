"""The end of a round tube that lands on a round tube, both axes in one plane and crossing."""

from __future__ import annotations

import math

from leafwright.records import CubicMetres, Metres


def saddle_reach(r: float, R: float, theta: float, phi: float) -> Metres:
    """Return how far from where the axes cross the end of a branch stands, d [m].

    Geometry of two cylinders whose axes cross:
    d = (√(R² − r² sin²φ) + r cos θ cos φ)/sin θ. Square on and from its longest to its shortest
    place that is R − √(R² − r²).

    r: radius of the branch, of the surface that is asked: outside, or inside of its wall [m].
    R: outside radius of the tube that it lands on [m].
    theta: angle between the axes [rad].
    phi: around the branch, from the side of the sharper angle [rad].
    Raises ValueError for a radius at or below 0, a branch larger than what it lands on, or an
    angle that is not over 0 and up to 90°. Limits: axes that cross; walls taken as they are.
    """
    for name, value in (("r", r), ("R", R)):
        if not value > 0.0:
            raise ValueError(f"{name} = {value!r}: must be above 0; give it in metres")
    if r > R:
        raise ValueError(f"r = {r!r}: a branch larger than the tube it lands on has no saddle")
    if not 0.0 < theta <= math.pi / 2 + 1e-12:
        raise ValueError(f"theta = {theta!r}: give the angle between the axes, up to 90°")
    across = r * math.sin(phi)
    root = math.sqrt(R * R - across * across)
    return (root + r * math.cos(theta) * math.cos(phi)) / math.sin(theta)


def common_volume(r: float, R: float) -> CubicMetres:
    """Return the volume that two round solids share whose axes cross square, V [m3].

    Geometry, the solid of Steinmetz: V = (8/3) R ((R² + r²) E(k) − (R² − r²) K(k)), k = r/R, with
    the complete elliptic integrals E and K; 16/3 R³ where both are alike. At another angle divided
    by its sine.

    r: smaller radius [m].
    R: larger radius [m].
    Raises ValueError for a radius at or below 0, or r above R.
    """
    for name, value in (("r", r), ("R", R)):
        if not value > 0.0:
            raise ValueError(f"{name} = {value!r}: must be above 0; give it in metres")
    if r > R:
        raise ValueError(f"r = {r!r}: give the smaller radius first")
    if r == R:
        return 16.0 / 3.0 * R**3
    from scipy.special import ellipe, ellipk

    m = (r / R) ** 2
    E, K = float(ellipe(m)), float(ellipk(m))
    return 8.0 / 3.0 * R * ((R * R + r * r) * E - (R * R - r * r) * K)


def saddle_nearest(r: float, R: float, theta: float) -> Metres:
    """Return the least of `saddle_reach` round a branch: where its long point stands [m].

    Geometry of the same: where r cos φ = −√(R² − r²) cot θ, if that is on the branch, else at
    φ = π.

    r: radius of the branch [m].
    R: outside radius of the tube that it lands on [m].
    theta: angle between the axes [rad].
    Raises ValueError as `saddle_reach` does. Limits: as its.
    """
    saddle_reach(r, R, theta, 0.0)
    at = math.sqrt(R * R - r * r) / math.tan(theta) / r
    return saddle_reach(r, R, theta, math.acos(max(-1.0, -at)))
