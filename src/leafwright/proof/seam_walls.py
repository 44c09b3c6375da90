"""The wall of a tube where another member stands on it, and what chapter K asks of the pair."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from typing import Final

from leafwright.handbook.aisc360 import joint_limits
from leafwright.handbook.aisc360.hss_joints import WIDE_BRANCH
from leafwright.leaf import Member
from leafwright.proof.seam_parts import Landing, is_round, is_tube, thickness
from leafwright.records import CubicMetres, Metres, Number, Pascals, Radians, SquareMetres

#: A round bar on a flat wall is worked as a square one of this times its diameter, for a first
#: answer beside the question: EN 1993-1-8, Table 7.10, has its strength so (from memory) [-].
ROUND_AS_SQUARE: Final = math.pi / 4.0

#: Widest chord over its wall for a flat bar along it: as Table K3.2A has it for a tube [-].
SLENDEREST_FACE: Final = 35.0


@dataclass(frozen=True, slots=True)
class Wall:
    """A wall and what stands on it, in the symbols of `hss_joints`.

    ``tube`` says whether the branch is a square or rectangular tube: only then are ``t_b``, its
    area and moduli used. ``plate`` says that it is a flat bar along the chord. ``to_end`` is how
    far the branch is from the chord's end, ``radius`` the chord's outer corner radius.
    """

    B: Metres
    H: Metres
    t: Metres
    radius: Metres
    F_y: Pascals
    F_u: Pascals
    E: Pascals
    B_b: Metres
    H_b: Metres
    l_b: Metres
    theta: Radians
    to_end: Metres
    cross: bool
    tube: bool
    plate: bool
    t_b: Metres
    F_yb: Pascals
    F_ub: Pascals
    A_b: SquareMetres
    Z_in: CubicMetres
    Z_out: CubicMetres

    @property
    def beta(self) -> Number:
        """Return how wide the branch is over the wall it stands on [-]."""
        return self.B_b / self.B

    @property
    def wide(self) -> bool:
        """Return whether the side walls carry the branch, not the face."""
        return self.beta > WIDE_BRANCH + 1e-9

    @property
    def spread(self) -> Metres:
        """Return the branch's length along the chord for its side walls bending [m].

        Their formulas spread the load over 2.5 t more on either side; beyond the chord's end
        there is nothing to spread over (as Eq. J10-3 has it for a force).
        """
        return self.l_b - (2.5 * self.t if self.to_end < self.H else 0.0)

    @property
    def side_area(self) -> SquareMetres:
        """Return the area of both side walls across the chord [m2]."""
        return 2.0 * self.H * self.t


def wall_of(member: Member, landing: Landing) -> Wall:
    """Return the wall that a member stands on, with all that its strength rests on."""
    chord, branch = landing.onto.section, member.section
    p = branch.properties()
    part = ROUND_AS_SQUARE if is_round(member) else 1.0
    # Lengths that differ by rounding alone shall not be worked twice.
    length, to_end = (round(x, 7) for x in (landing.length * part, landing.to_end))
    return Wall(
        B=chord.height,
        H=chord.width,
        t=thickness(landing.onto, design=True),
        radius=chord.design_radii()[0],
        F_y=chord.yield_stress,
        F_u=chord.tensile_strength,
        E=chord.grade.elastic_modulus,
        B_b=branch.height * part,
        H_b=branch.width * part,
        l_b=length,
        theta=round(landing.angle, 9),
        to_end=to_end,
        cross=landing.cross,
        tube=is_tube(member),
        plate=not is_tube(member) and not is_round(member),
        t_b=thickness(member, design=True),
        F_yb=branch.yield_stress,
        F_ub=branch.tensile_strength,
        A_b=p.area,
        Z_in=p.plastic_modulus_v,
        Z_out=p.plastic_modulus_u,
    )


@functools.lru_cache(maxsize=512)
def out_of_limits(wall: Wall, *, pressed: bool) -> tuple[str, ...]:
    """Return what of a joint is outside the range of chapter K's tables, a sentence each.

    But for its angle: see `too_sharp`.
    """
    if wall.plate:
        if wall.B / wall.t <= SLENDEREST_FACE:
            return ()
        return (f"chord B/t is {wall.B / wall.t:.3g}, over the limit of {SLENDEREST_FACE:.3g}",)
    if not wall.tube:
        return ("a round brace on a flat wall is not in chapter K",)
    return _limits(wall, math.pi / 2, pressed=pressed)


@functools.lru_cache(maxsize=512)
def too_sharp(wall: Wall) -> bool:
    """Return whether a branch comes in at a sharper angle than chapter K's tables have."""
    return wall.tube and len(_limits(wall, wall.theta, pressed=False)) > len(
        _limits(wall, math.pi / 2, pressed=False)
    )


def _limits(wall: Wall, theta: Radians, *, pressed: bool) -> tuple[str, ...]:
    return joint_limits.rectangular_limits(
        wall.B,
        wall.H,
        wall.t,
        wall.B_b,
        wall.H_b,
        wall.t_b,
        wall.F_y,
        wall.F_u,
        wall.F_yb,
        wall.F_ub,
        theta=theta,
        branch_pressed=pressed,
        E=wall.E,
    )
