"""One beam element in its local axes: stiffness, loads moved to its ends, released ends.

The element is Timoshenko's: plane sections stay plane and may lean against the axis by V/(G A_s).
All functions broadcast over leading axes. An element's twelve numbers are u, v, w, rx, ry, rz at
the start, then at the end.

The stiffness with shear is in J. S. Przemieniecki, *Theory of Matrix Structural Analysis*,
McGraw-Hill 1968, section 5.6 (clause from memory). The loads' share of the nodes comes from the
exact deflected shapes of that element by the reciprocal theorem. The tests do not lean on either:
they compare with closed forms, with finer subdivision and with an independent solver.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]

SECTION_COLUMNS = (
    "area",
    "inertia_y",
    "inertia_z",
    "torsion",
    "shear_area_y",
    "shear_area_z",
    "elastic_modulus",
    "shear_modulus",
)
"""What the eight numbers of a section are, in their order; an infinite shear area is rigid."""

NOTHING = 1e-12
"""A share of an element's own stiffness that counts as rounding after a release [-]."""


def local_axes(start: Floats, end: Floats, reference: Floats) -> tuple[Floats, Floats]:
    """Return the lengths (...) [m] and the local axes (..., 3, 3) [-], one axis a row.

    ``start``, ``end`` (..., 3) are the ends in global axes [m], ``reference`` (..., 3) a vector of
    the local x-y plane. The rows turn a global vector into a local one.
    """
    along = end - start
    length = np.sqrt((along * along).sum(axis=-1))
    x = along / length[..., None]
    z = np.cross(x, reference)
    z = z / np.sqrt((z * z).sum(axis=-1))[..., None]
    y = np.cross(z, x)
    return length, np.stack([x, y, z], axis=-2)


def shear_ratios(sections: Floats, length: Floats, *, shear: bool) -> tuple[Floats, Floats]:
    """Return phi = 12 E I / (G A_s L^2) [-] in the local x-y and in the local x-z plane.

    ``sections`` (..., 8) in the order of `SECTION_COLUMNS`, ``length`` (...) [m]. Without ``shear``
    both are zero (Euler-Bernoulli).
    """
    if not shear:
        return np.zeros_like(length), np.zeros_like(length)
    stretch = 12.0 * sections[..., 6] / (sections[..., 7] * length**2)
    I_y, I_z, A_sy, A_sz = (sections[..., column] for column in (1, 2, 4, 5))
    return stretch * I_z / A_sy, stretch * I_y / A_sz


def _patterns() -> Floats:
    """Return the (10, 12, 12) signs with which the ten stiffness numbers enter the matrix."""
    table = np.zeros((10, 12, 12))
    for number, dof in ((0, 0), (1, 3)):
        for i, j, stretch in ((0, 0, 1), (6, 6, 1), (0, 6, -1), (6, 0, -1)):
            table[number, dof + i, dof + j] = stretch
    # A positive turn rz raises v ahead of it; a positive turn ry lowers w: hence the sign.
    for first, v, r, sign in ((2, 1, 5, 1.0), (6, 2, 4, -1.0)):
        for i, j, k in ((v, v, 1), (v + 6, v + 6, 1), (v, v + 6, -1), (v + 6, v, -1)):
            table[first, i, j] = k
        for i, j, lift in ((v, r, 1), (v, r + 6, 1), (v + 6, r, -1), (v + 6, r + 6, -1)):
            table[first + 1, i, j] = table[first + 1, j, i] = lift * sign
        table[first + 2, r, r] = table[first + 2, r + 6, r + 6] = 1
        table[first + 3, r, r + 6] = table[first + 3, r + 6, r] = 1
    return table


_PATTERNS = _patterns().reshape(10, 144)


def stiffness(
    sections: Floats, length: Floats, phi_y: Floats, phi_z: Floats, rods: Bools
) -> Floats:
    """Return the local stiffness matrices (..., 12, 12) [N/m, N, N m] of elements without releases.

    ``sections`` (..., 8); ``length`` (...) [m]; ``phi_y``, ``phi_z`` (...) [-] from `shear_ratios`;
    ``rods`` (...) are the elements without torsional stiffness.
    """
    A, I_y, I_z, J, E, G = (sections[..., column] for column in (0, 1, 2, 3, 6, 7))
    numbers = np.empty((*length.shape, 10))
    numbers[..., 0] = E * A / length
    numbers[..., 1] = np.where(rods, 0.0, G * J / length)
    for first, inertia, phi in ((2, I_z, phi_y), (6, I_y, phi_z)):
        bending = E * inertia / (length * (1.0 + phi))
        numbers[..., first] = 12.0 * bending / length**2
        numbers[..., first + 1] = 6.0 * bending / length
        numbers[..., first + 2] = (4.0 + phi) * bending
        numbers[..., first + 3] = (2.0 - phi) * bending
    return (numbers @ _PATTERNS).reshape(*length.shape, 12, 12)


def line_load_matrix(length: Floats, phi_y: Floats, phi_z: Floats) -> Floats:
    """Return (..., 12, 6) [m, m2], which turns a linear line load into forces on the nodes.

    The six columns are the local load per metre along x, y, z at the start, then at the end [N/m].
    Each entry is the integral of a shape function (exact for the elastic line with shear) with the
    load, so that the nodes move exactly as under the load itself.
    """
    matrix = np.zeros((*length.shape, 12, 6))
    matrix[..., 0, 0] = matrix[..., 6, 3] = length / 3.0
    matrix[..., 0, 3] = matrix[..., 6, 0] = length / 6.0
    for axis, turn, phi, sign in ((1, 5, phi_y, 1.0), (2, 4, phi_z, -1.0)):
        near = length * (7.0 / 20.0 + phi / 3.0) / (1.0 + phi)
        far = length * (3.0 / 20.0 + phi / 6.0) / (1.0 + phi)
        near_turn = sign * length**2 * (1.0 / 20.0 + phi / 24.0) / (1.0 + phi)
        far_turn = sign * length**2 * (1.0 / 30.0 + phi / 24.0) / (1.0 + phi)
        matrix[..., axis, axis] = matrix[..., axis + 6, axis + 3] = near
        matrix[..., axis, axis + 3] = matrix[..., axis + 6, axis] = far
        matrix[..., turn, axis] = near_turn
        matrix[..., turn, axis + 3] = far_turn
        matrix[..., turn + 6, axis] = -far_turn
        matrix[..., turn + 6, axis + 3] = -near_turn
    return matrix


def point_load_matrix(at: Floats, length: Floats, phi_y: Floats, phi_z: Floats) -> Floats:
    """Return (..., 12, 6) [-, m, 1/m], which turns a point load into forces on the nodes.

    ``at`` (...) is the distance from the start [m]. The six columns are the local force along
    x, y, z [N] and the local moment about x, y, z [N m].
    """
    s = at / length
    matrix = np.zeros((*length.shape, 12, 6))
    for dof in (0, 3):
        matrix[..., dof, dof] = 1.0 - s
        matrix[..., dof + 6, dof] = s
    for axis, turn, phi, sign in ((1, 5, phi_y, 1.0), (2, 4, phi_z, -1.0)):
        part = 1.0 / (1.0 + phi)
        # Deflections of the axis, then turns of the section, for unit movements of the ends.
        matrix[..., axis, axis] = part * (1.0 - 3.0 * s**2 + 2.0 * s**3 + phi * (1.0 - s))
        matrix[..., axis + 6, axis] = part * (3.0 * s**2 - 2.0 * s**3 + phi * s)
        half = 0.5 * phi * (s - s**2)
        matrix[..., turn, axis] = sign * part * length * (s - 2.0 * s**2 + s**3 + half)
        matrix[..., turn + 6, axis] = sign * part * length * (s**3 - s**2 - half)
        matrix[..., axis, turn] = sign * part * 6.0 * (s**2 - s) / length
        matrix[..., axis + 6, turn] = sign * part * 6.0 * (s - s**2) / length
        matrix[..., turn, turn] = part * (1.0 - 4.0 * s + 3.0 * s**2 + phi * (1.0 - s))
        matrix[..., turn + 6, turn] = part * (3.0 * s**2 - 2.0 * s + phi * s)
    return matrix


def released(stiff: Floats, releases: Bools) -> tuple[Floats, Floats]:
    """Return the stiffness (e, ..., 12, 12) with released ends, and what that does to loads.

    ``stiff`` (e, ..., 12, 12); ``releases`` (e, 12), True where an end is free of its node. The
    second array (e, ..., 12, 12) turns node forces of a load on the unreleased element into those
    on the released one. Both are the static condensation of the free directions, one at a time.
    """
    work = np.concatenate([stiff, np.broadcast_to(np.eye(12), stiff.shape)], axis=-1)
    for dof in np.flatnonzero(releases.any(axis=0)):
        which = np.flatnonzero(releases[:, dof])
        part = work[which]
        row = part[..., dof : dof + 1, :] / part[..., dof : dof + 1, dof : dof + 1]
        part = part - part[..., :, dof : dof + 1] * row
        part[..., dof, :] = 0.0
        part[..., :, dof] = 0.0
        work[which] = part
    # What cancels must be nothing: rounding would otherwise hold what is free.
    size = np.sqrt(stiff.diagonal(axis1=-2, axis2=-1))
    least = NOTHING * size[..., :, None] * size[..., None, :]
    return np.where(np.abs(work[..., :12]) < least, 0.0, work[..., :12]), work[..., 12:]
