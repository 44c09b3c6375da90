"""How large a seam is, what of it counts, and what each length of it may have."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.handbook.aisc360 import LimitState, Method, available, connecting, hss_joints, welds
from leafwright.handbook.weld_shapes import (
    SHARPEST_FILLET,
    skewed_fillet_throat,
    square_groove_throat,
)
from leafwright.job.defaults import chosen
from leafwright.job.model import Job
from leafwright.leaf import Member
from leafwright.proof.seam_parts import ROOT_GAP, Landing, Piece, WeldedEnd, is_tube, thickness
from leafwright.proof.working import Lines
from leafwright.records import Metres, NewtonsPerMetre, Pascals, Radians, Working

#: What length of weld a strength is worked for: an inch, or a millimetre in metric work [m].
_INCH, _MILLIMETRE = 0.0254, 0.001
#: The process that Table J2.2 gives the least throat in a round corner.
PROCESS = welds.Process.SMAW_OR_FCAW_S


@dataclass(frozen=True, slots=True)
class Welding:
    """What is taken of every seam: the method, the metal and how large welds are made.

    ``leg`` is times the thinner wall, ``corner`` times the outer radius of a round corner too
    small for Table J2.2 [-].
    """

    method: Method
    metal: Quantity
    leg: Quantity
    corner: Quantity
    metric: bool

    @property
    def per(self) -> Metres:
        """Return the length of weld that strengths are worked for [m]."""
        return _MILLIMETRE if self.metric else _INCH

    @property
    def taken(self) -> tuple[Quantity, ...]:
        """Return the defaults that the seams rest on."""
        return (self.metal, self.leg, self.corner)


def welding_of(job: Job) -> Welding:
    """Return how a job's seams are taken to be made."""
    system = job.job.system
    metal, leg, corner = (
        chosen(None, name, key, name, system=system)
        for key, name in (
            # The mount takes the same metal under the same key.
            ("mount/weld metal", "weld metal"),
            ("proof/seam leg", "seam leg"),
            ("proof/round corner seam", "round corner seam"),
        )
    )
    return Welding(Method(job.basis.method), metal, leg, corner, metric=system == "metric")


def thinner(end: WeldedEnd, landing: int) -> Metres:
    """Return the thinner of the two walls that a seam joins, nominal [m]."""
    return min(thickness(m, design=False) for m in joined(end, landing))


def joined(end: WeldedEnd, landing: int) -> tuple[Member, Member]:
    """Return the two members that a seam joins; ``landing`` is -1 at a mitre."""
    other = end.mate if landing < 0 else end.landings[landing].onto
    assert other is not None
    return end.member, other


@functools.lru_cache(maxsize=512)
def leg_for(wall: Metres, factor: float, *, metric: bool) -> Metres:
    """Return the leg of the fillets between walls of which the thinner is ``wall`` [m]."""
    return min(factor * wall, float(welds.maximum_fillet(wall, metric=metric)))


@dataclass(frozen=True, slots=True)
class Known:
    """A number that many seams share, with the formulas behind it."""

    value: float
    working: tuple[Working, ...] = ()


@dataclass(frozen=True, slots=True)
class Size:
    """How large one piece of a seam is, and what each length of it may have.

    ``leg`` is that of a fillet, None for others; ``throat`` its effective one, 0 where it is no
    weld; ``counts`` says whether it is counted on. ``width`` is how much of a seam across a wall
    carries, half at each end, None where all does; ``metal`` and ``beside`` are what the weld and
    the wall beside it may have; ``trial`` says that a trial joint has to show the throat;
    ``working`` are the formulas behind these.
    """

    leg: Metres | None
    throat: Metres
    counts: bool
    width: Metres | None
    metal: NewtonsPerMetre
    beside: NewtonsPerMetre
    trial: bool
    working: tuple[Working, ...]

    @property
    def holds(self) -> NewtonsPerMetre:
        """Return what each length may have [N/m], 0 where it is not counted on."""
        return min(self.metal, self.beside)


def size_of(piece: Piece, end: WeldedEnd, welding: Welding) -> Size:
    """Return how large a piece of a seam is and what it may have.

    Args:
        piece: the seam, or a piece of it.
        end: round which it lies.
        welding: how it is made.
    """
    both = joined(end, piece.landing)
    wall = min(thickness(m, design=False) for m in both)
    leg = None
    trial = False
    if piece.kind == "flare-bevel":
        radius = both[1].section.design_radii()[0]
        trial = radius < welds.LEAST_FLARE_BEVEL_RADIUS * (1.0 - 1e-9)
        throat = Known(welding.corner.value * radius) if trial else _flare_bevel(radius)
    elif piece.kind == "square groove":
        throat = _square_groove(wall)
        # D1.1 has it for butt joints: the face and the back of a mitre.
        trial = piece.landing >= 0 or piece.across
    elif piece.kind == "fillet":
        leg = leg_for(wall, welding.leg.value, metric=welding.metric)
        # A leg counts less by a gap at its root that is wider than fillets bridge for nothing.
        lost = end.gap if end.gap > ROOT_GAP * (1.0 + 1e-9) else 0.0
        counted = max(leg - lost, 0.0)
        if counted:
            whole = piece.length if piece.whole is None else piece.whole
            throat = _fillet(round(piece.angle, 12), round(whole, 9), piece.shelf, counted)
        else:
            throat = Known(0.0)
    else:
        throat = Known(0.0)
    # Every line of a group takes the same share: a thin one in a sharp corner would fail first,
    # and the others hold without it.
    counts = throat.value > 0.0 and piece.angle >= SHARPEST_FILLET - 1e-9
    if not counts:
        return Size(leg, throat.value, counts, None, 0.0, 0.0, trial, throat.working)
    metal = _metal(throat.value, welding.metal.value, welding.method, welding.per)
    beside = min(
        (
            _beside(
                thickness(m, design=True),
                m.section.yield_stress,
                m.section.tensile_strength,
                welding.method,
                welding.per,
            )
            for m in both
        ),
        key=lambda known: known.value,
    )
    working = throat.working
    width = None
    if piece.across and piece.landing >= 0:
        effective = effective_across(end, end.landings[piece.landing])
        if effective is not None and effective.value < piece.length * (1.0 - 1e-9):
            width = effective.value
            working += effective.working
    working += (*metal.working, *beside.working)
    return Size(leg, throat.value, counts, width, metal.value, beside.value, trial, working)


def fillet_strength(leg: Metres, on: Member, welding: Welding) -> Known:
    """Return what each length of a fillet on a member may have [N/m]: its metal, or the wall."""
    throat = _fillet(math.pi / 2, math.inf, math.inf, leg)
    metal = _metal(throat.value, welding.metal.value, welding.method, welding.per)
    section, t = on.section, thickness(on, design=True)
    beside = _beside(t, section.yield_stress, section.tensile_strength, welding.method, welding.per)
    return Known(min(metal.value, beside.value), (*throat.working, *metal.working, *beside.working))


@functools.lru_cache(maxsize=256)
def _flare_bevel(radius: Metres) -> Known:
    lines = Lines()
    throat = lines.work(welds.flare_bevel_throat, R=radius, process=PROCESS)
    return Known(float(throat), lines.kept())


@functools.lru_cache(maxsize=256)
def _square_groove(wall: Metres) -> Known:
    lines = Lines()
    return Known(lines.work(square_groove_throat, t=wall), lines.kept())


@functools.lru_cache(maxsize=2048)
def _fillet(angle: Radians, length: Metres, shelf: Metres, leg: Metres) -> Known:
    lines = Lines()
    w = leg
    if 0.25 * length < leg:
        w = float(lines.work(welds.fillet_effective_size, w=leg, length=length))
    if abs(angle - math.pi / 2) > 1e-9:
        throat = lines.work(skewed_fillet_throat, w=min(w, shelf), psi=angle)
    elif shelf < w:
        throat = float(lines.work(welds.fillet_throat, w_1=w, w_2=shelf))
    else:
        throat = float(lines.work(welds.fillet_throat, w_1=w))
    return Known(throat, lines.kept())


@functools.lru_cache(maxsize=1024)
def _metal(throat: Metres, F_EXX: Pascals, method: Method, per: Metres) -> Known:
    """Return what the metal of each length of weld may have [N/m]."""
    lines = Lines()
    R_n = lines.work(welds.weld_shear, F_EXX=F_EXX, A_we=throat * per)
    has = lines.work(available, nominal=R_n, limit_state=LimitState.WELD_SHEAR, method=method)
    return Known(float(has) / per, lines.kept())


@functools.lru_cache(maxsize=256)
def _beside(t: Metres, F_y: Pascals, F_u: Pascals, method: Method, per: Metres) -> Known:
    """Return what a wall may have in shear beside each length of weld [N/m]."""
    lines = Lines()
    sheared = lines.work(connecting.element_shear_yielding, F_y=F_y, A_gv=t * per)
    torn = lines.work(connecting.element_shear_rupture, F_u=F_u, A_nv=t * per)
    has = min(
        float(lines.work(available, nominal=nominal, limit_state=state, method=method))
        for nominal, state in (
            (sheared, LimitState.ELEMENT_SHEAR_YIELDING),
            (torn, LimitState.ELEMENT_SHEAR_RUPTURE),
        )
    )
    return Known(has / per, lines.kept())


def effective_across(end: WeldedEnd, landing: Landing) -> Known | None:
    """Return how much of a seam across a tube's wall carries, half at each end of it [m].

    Table K5.1, as `hss_joints.weld_effective_length` counts it; None where it is no joint of two
    square or rectangular tubes: all of it then.
    """
    branch, chord = end.member.section, landing.onto.section
    if not is_tube(end.member) or not is_tube(landing.onto) or branch.height > chord.height:
        return None
    return _effective(
        chord.height,
        chord.design_wall,
        chord.yield_stress,
        branch.height,
        branch.width,
        branch.design_wall,
        branch.yield_stress,
        round(landing.angle, 12),
    )


@functools.lru_cache(maxsize=1024)
def _effective(
    B: Metres,
    t: Metres,
    F_y: Pascals,
    B_b: Metres,
    H_b: Metres,
    t_b: Metres,
    F_yb: Pascals,
    theta: Radians,
) -> Known:
    lines = Lines()
    B_e = lines.work(hss_joints.effective_width, B=B, t=t, F_y=F_y, B_b=B_b, t_b=t_b, F_yb=F_yb)
    l_e = lines.work(
        hss_joints.weld_effective_length, B_b=B_b, H_b=H_b, B_e=B_e, beta=B_b / B, theta=theta
    )
    # The table counts both sides whole and of both seams across it the same part.
    return Known(float(l_e) / 2.0 - H_b / math.sin(theta), lines.kept())
