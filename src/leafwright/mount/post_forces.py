"""The forces in a gate's post: a cantilever that stands in the ground, its leaf hung on one side.

Axes as a hinge's: *across* the shut leaf, *up*, and *out* of its stile toward the post, so that
the pins stand on the post's near side, at minus their distance out. An opened leaf turns its
forces round with it and leaves the pins where they are.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from leafwright import chain
from leafwright.frame.load_cases import is_stop, is_wind
from leafwright.frame.of_leaf import GRAVITY
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.job.model import Post
from leafwright.mount.hinge_loads import HungCase, hinge_heights, lever
from leafwright.mount.records import Mounting
from leafwright.proof.wind import LeafWind, wind_on
from leafwright.records import Metres, NewtonsPerMetre

Floats = NDArray[np.float64]

#: How far a leaf is opened where the post is proved [rad]: a square tube is weakest on its corner.
ANGLES = tuple(math.radians(step) for step in (0.0, 22.5, 45.0, 67.5, 90.0))

_FOOT = {"left": "survey/BL/y", "right": "survey/BR/y"}


@dataclass(frozen=True, slots=True)
class Standing:
    """A post as it stands: its section, and its hinges' heights over the ground [m].

    ``out`` is from the post's middle to the pins. ``ground`` says where the ground was taken, in
    words. ``wind`` presses on each metre of it, before any factor.
    """

    post: Post
    section: CatalogueSection
    heights: dict[str, Metres]
    out: Metres
    ground: str
    wind: NewtonsPerMetre

    @property
    def height(self) -> Metres:
        """Return the post's height over the ground [m]."""
        return self.post.height.si

    @property
    def lowest(self) -> Metres:
        """Return the lowest hinge's height over the ground [m]."""
        return min(self.heights.values())


@dataclass(frozen=True, slots=True)
class PostForces:
    """Forces in the post at one height over the ground, magnitudes [N, N m], a row a case.

    ``moment_in`` bends it in the plane of the shut leaf and ``shear_in`` pushes it there, ``_out``
    across; ``torsion`` turns it about its length. ``cases`` and ``angles`` say what each row is.
    """

    cases: tuple[HungCase, ...]
    angles: tuple[float, ...]
    heights: Floats
    axial: Floats
    moment_in: Floats
    moment_out: Floats
    shear_in: Floats
    shear_out: Floats
    torsion: Floats

    def words(self, row: int) -> str:
        """Return the case of a row in the maker's words."""
        angle = round(math.degrees(self.angles[row]), 1)
        words = self.cases[row].words.removeprefix("shut, ")
        return f"{words}, leaf {'shut' if angle == 0.0 else f'open {angle:g}°'}"


def standing(m: Mounting, post: Post, section: CatalogueSection) -> Standing:
    """Return a post as it stands, with its leaf's hinges on it.

    The ground is where the survey has the foot of that side; without it, as far under the leaf as
    the lowest floor is.
    """
    bottom = m.place.bottom.value
    foot = next(
        (q.value for q in chain.walked(m.place.bottom) if q.key == _FOOT[m.place.hand]), None
    )
    ground = "the foot of that side of the opening"
    if foot is None:
        deepest = next((g.value for g in m.room.gaps if g.key == "doorway/deepest gap"), 0.0)
        foot, ground = bottom - deepest, "the lowest ground under the leaves"
    under = bottom - foot
    return Standing(
        post=post,
        section=section,
        heights={place: under + y for place, y in hinge_heights(m).items()},
        out=lever(m) + section.width / 2.0,
        ground=ground,
        wind=_wind(m, section, under),
    )


def _wind(m: Mounting, section: CatalogueSection, under: Metres) -> NewtonsPerMetre:
    """Return what wind does to each metre of the post: the pressure on the leaf's solid parts."""
    if not any(is_wind(case.situation) for case in m.proof.cases):
        return 0.0
    found, _ = wind_on(m.job, m.table, m.leaf, under=max(under, 0.0))
    if not isinstance(found, LeafWind):
        return 0.0
    pressure = max((panel.on_solid for panel in found.panels), default=0.0)
    return pressure * max(section.width, section.height)


def post_forces(
    m: Mounting, on: Standing, cases: Sequence[HungCase], heights: Sequence[Metres]
) -> PostForces:
    """Return the forces in the post at these heights in every case, its leaf at every angle.

    Statics, the post a cantilever. At a hinge's own height its force counts.

    Args:
        m: the leaf as it hangs.
        on: the post.
        cases: what the hinges give the leaf.
        heights: over the ground [m].
    """
    weight = on.section.mass_per_metre * GRAVITY
    rows: list[tuple[float, ...]] = []
    kept: list[HungCase] = []
    angles: list[float] = []
    for case in cases:
        windy = is_wind(case.situation)
        for angle in _angles(m, case):
            for y in heights:
                rows.append((y, *_at(on, case, angle, y, weight, windy=windy)))
                kept.append(case)
                angles.append(angle)
    columns = np.abs(np.array(rows, dtype=np.float64).T)
    # What is left of forces that balance is rounding, and no force.
    columns[1:][columns[1:] < 1e-6] = 0.0
    return PostForces(tuple(kept), tuple(angles), *columns)


def _angles(m: Mounting, case: HungCase) -> tuple[float, ...]:
    """Return how far the leaf may be open in a case [rad]."""
    if case.situation.startswith("pushed"):
        return ANGLES[:1]
    if is_stop(case.situation):
        return ANGLES[1:]
    if is_wind(case.situation) and m.table.hold.open == "nothing":
        return ANGLES[:1]
    return ANGLES


def _at(
    on: Standing, case: HungCase, angle: float, y: Metres, weight: float, *, windy: bool
) -> tuple[float, float, float, float, float, float]:
    """Return N, M in, M out, V in, V out and T at one height, as this post is loaded.

    What a hinge gives its post is the opposite of what it gives the leaf.
    """
    cos, sin = math.cos(angle), math.sin(angle)
    N = case.dead * weight * (on.height - y)
    M_in = M_out = V_in = V_out = T = 0.0
    for f in case.forces:
        arm = on.heights[f.place] - y
        if arm < 0.0:
            continue
        across, out = cos * f.across + sin * f.out, cos * f.out - sin * f.across
        m_across, m_out = cos * f.m_across + sin * f.m_out, cos * f.m_out - sin * f.m_across
        N += f.up
        V_in -= out
        V_out -= across
        M_in -= arm * out + on.out * f.up + m_across
        M_out += arm * across - m_out
        T += on.out * across - f.m_up
    if windy and on.wind > 0.0:
        # It blows on the post the way it blows on the leaf, which its hinges hold back.
        way = math.copysign(1.0, sum(f.across for f in case.forces))
        arm = max(on.height - y, 0.0)
        push_in, push_out = (case.live * on.wind * arm * way * k for k in (sin, -cos))
        V_in, V_out = V_in + push_in, V_out + push_out
        M_in, M_out = M_in + push_in * arm / 2.0, M_out - push_out * arm / 2.0
    return N, M_in, M_out, V_in, V_out, T
