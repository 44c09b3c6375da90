"""What the leaf gives each pin of a floor pivot, case by case, free to tilt and bound in its bore.

A pin with play tilts freely by clearance over engagement, c/L, and only then binds. For one pin
that binds with a stiffness k of the leaf against tilting, and tilts by θ where it is free, the
moment is k (θ − c/L); clamped without play it is k θ. So with play it is the clamped moment times
max(0, 1 − (c/L)/θ): a straight line, because the leaf is linear until the pin touches.

The two pins do not bind at one moment. One that binds while the other is loose takes
θ_1/f_11, and with both clamped f_11 M_1 + f_12 M_2 = θ_1, so that it takes M_1 + (f_12/f_11) M_2.
A moment on one end of a bar of even section turns the other end by half as much as its own; in the
frames of 400 leaves made at random it was at most 0.52 as much. Hence a bound pin is taken to carry
its own clamped moment and 0.55 of the other's, whichever way that one turns.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from leafwright.chain import Quantity
from leafwright.frame.load_cases import CLAMPED, NAMES, Situation
from leafwright.job.defaults import chosen
from leafwright.job.model import FloorPivot
from leafwright.mount.parts import carry_over
from leafwright.mount.records import Mounting
from leafwright.proof import PivotLoad
from leafwright.records import Metres, NewtonMetres, Newtons, Number, Radians

End = Literal["bottom", "top"]


ASSUMPTIONS = (
    "a pin tilts by its clearance over its engagement before it binds; past that the moment on it "
    "grows in a straight line to that of a pin clamped without play, and about half of the other's "
    "is added for one that binds first. Where pin, bore or engagement is not given, both ends are "
    "taken: free, and clamped without play",
    "what a pin or its plate is out of true uses up the play; where pin_square and plate_level are "
    "not given, both are taken as true. Where it is more than the play, pin and leaf are bent as "
    "they are put together, and that is not in here",
)


@dataclass(frozen=True, slots=True)
class PinPlace:
    """One pin in its sleeve; a size is None where the job does not give it [m].

    ``gap`` is from the plate to the leaf's edge, ``length`` of the pin from the plate,
    ``engagement`` as far as the sleeve is about it, and ``least_engagement`` that where the
    sleeve's length is not known: one diameter; ``lever`` is from the plate to where the sleeve
    presses: the middle of the engagement, or the pin's end where the sleeve's length is not known.
    ``askew`` is how far pin and plate are out of true [rad], which uses play up.
    """

    end: End
    diameter: Metres | None
    bore: Metres | None
    gap: Metres
    length: Metres | None
    engagement: Metres | None
    least_engagement: Metres | None
    lever: Metres | None
    lever_words: str
    askew: Radians
    defaults: tuple[Quantity, ...]

    @property
    def clearance(self) -> Metres | None:
        """Return bore less pin, not under 0 [m]; None where one of them is not known."""
        if self.diameter is None or self.bore is None:
            return None
        return max(self.bore - self.diameter, 0.0)

    @property
    def play(self) -> Radians | None:
        """Return how far the pin tilts in its sleeve before it binds [rad]; None if unknown."""
        if self.clearance is None or not self.engagement:
            return None
        return max(self.clearance / self.engagement - self.askew, 0.0)


@dataclass(frozen=True, slots=True)
class PinForce:
    """What the leaf gives one pin in one case for strength, factors of the method in it.

    ``x`` and ``z`` are along the leaf and across it, in leaf axes [N]; ``axial`` presses down on
    it, and is negative where it pulls up [N]; ``mx`` and ``mz`` are about the same axes, at the
    leaf's edge [N m]. ``share`` is how much of the clamped moment is left after the pin's play
    (0 where it is free). ``how`` says it in words.
    """

    case: str
    situation: Situation
    bound: bool
    x: Newtons
    z: Newtons
    axial: Newtons
    mx: NewtonMetres
    mz: NewtonMetres
    share: Number
    how: str

    @property
    def shear(self) -> Newtons:
        """Return the horizontal force, a magnitude [N]."""
        return math.hypot(self.x, self.z)

    @property
    def moment(self) -> NewtonMetres:
        """Return the moment where the sleeve grips the pin, a magnitude [N m]."""
        return math.hypot(self.mx, self.mz)

    @property
    def words(self) -> str:
        """Return the case in the maker's words."""
        named = NAMES[self.situation].removesuffix(", its pins clamped in their bores")
        return f"{named.removesuffix(', its pins clamped')}, {self.how}"


def floor_pivot(m: Mounting) -> FloorPivot:
    """Return the leaf's floor pivot; raises TypeError for a leaf on hinges."""
    if not isinstance(m.table.mount, FloorPivot):
        raise TypeError(f"{m.who} hangs on hinges and has no floor pivot")
    return m.table.mount


def end_of(m: Mounting, place: str) -> End:
    """Return which end of the leaf a pivot's place is at."""
    return "bottom" if place == m.pivots[0] else "top"


def pin_place(m: Mounting, place: str) -> PinPlace:
    """Return one pin with its sleeve, from the job's sizes.

    The bottom sleeve holds the pin, the ball and the slug, one over the other; it comes down over
    the pin as far as its length lets it, and not past the leaf's edge.

    Args:
        m: the leaf as it hangs.
        place: one of ``m.pivots``.
    """
    mount = floor_pivot(m)
    if end_of(m, place) == "bottom":
        return _bottom_place(m, mount)
    return _top_place(m, mount)


def _si(typed: object) -> float | None:
    found: float | None = getattr(typed, "si", None)
    return found


def _askew(*angles: object) -> Radians:
    """Return how far things are out of true together, at worst [rad]."""
    return sum((abs(angle) for angle in map(_si, angles) if angle is not None), 0.0)


def _bottom_place(m: Mounting, mount: FloorPivot) -> PinPlace:
    spacer = chosen(mount.spacer, "spacer", f"{m.key}/spacer", "spacer", system=m.job.job.system)
    length = _si(mount.bottom_pin_length)
    diameter = _si(mount.pin_diameter)
    engagement: float | None = None
    least: float | None = None
    lever, words = length, "the pin's end, for want of sleeve_length, slug_length or ball_diameter"
    if length is not None:
        engagement = max(length - spacer.value, 0.0)
        least = min(engagement, diameter) if diameter is not None else None
        above = (mount.slug_length, mount.ball_diameter)
        if mount.sleeve_length is not None and None not in above:
            over = sum(size.si for size in above if size is not None)
            engagement = min(engagement, max(mount.sleeve_length.si - over, 0.0))
            least = engagement
            lever, words = length - engagement / 2.0, "the middle of its engagement"
    return PinPlace(
        end="bottom",
        diameter=diameter,
        bore=_si(mount.sleeve_bore),
        gap=spacer.value,
        length=length,
        engagement=engagement,
        least_engagement=least,
        lever=lever,
        lever_words=words,
        askew=_askew(mount.pin_square, mount.plate_level),
        defaults=(carry_over(m), *((spacer,) if spacer.kind == "default" else ())),
    )


def _top_place(m: Mounting, mount: FloorPivot) -> PinPlace:
    over = m.room.over(m.key)
    if over is None:
        over = chosen(None, "top gap", "doorway/top gap", "top gap", system=m.job.job.system)
    rise = m.job.building.beam_rise
    # What lifts the plate away from the leaf makes the pin's lever longer.
    gap = max(over.value, 0.0) + (rise.si if rise is not None else 0.0)
    length = _si(mount.top_pin_length)
    engagement = None if length is None else max(length - gap, 0.0)
    if engagement is not None and mount.sleeve_length is not None:
        engagement = min(engagement, mount.sleeve_length.si)
    return PinPlace(
        end="top",
        diameter=_si(mount.top_pin_diameter or mount.pin_diameter),
        bore=_si(mount.top_sleeve_bore or mount.sleeve_bore),
        gap=gap,
        length=length,
        engagement=engagement,
        least_engagement=engagement,
        lever=None if engagement is None else gap + engagement / 2.0,
        lever_words="the middle of its engagement",
        askew=_askew(mount.pin_square),
        defaults=(carry_over(m), *((over,) if over.kind == "default" else ())),
    )


def pin_envelope(m: Mounting, place: str) -> tuple[PinForce, ...]:
    """Return what the leaf gives one pin in every case for strength, free and bound.

    The derivation is in the module's first lines.

    Args:
        m: the leaf as it hangs.
        place: one of ``m.pivots``.
    """
    at = pin_place(m, place)
    loads = m.loads_at(place)
    carried = carry_over(m).value
    others = m.loads_at(*(p for p in m.pivots if p != place))
    free = {load.case: load for load in loads if not load.clamped}
    found = []
    for load in loads:
        if not load.clamped:
            found.append(_given(load, 0.0, 0.0, 0.0, "pins free to tilt"))
            continue
        twin = free.get(load.case.replace(CLAMPED, "", 1))
        share, how = _share(at, twin)
        across = next((o for o in others if o.case == load.case), None)
        mx, mz = (
            share * _with_other(own, other, carried)
            for own, other in (
                (load.mx, 0.0 if across is None else across.mx),
                (load.mz, 0.0 if across is None else across.mz),
            )
        )
        found.append(_given(load, mx, mz, share, how))
    return tuple(found)


def _with_other(own: NewtonMetres, other: NewtonMetres, carried: Number) -> NewtonMetres:
    """Return a pin's moment with what it takes of the other's, in its own sense [N m]."""
    return math.copysign(abs(own) + carried * abs(other), own)


def _share(at: PinPlace, free: PivotLoad | None) -> tuple[Number, str]:
    """Return how much of the clamped moment is left after a pin's play, and why."""
    play = at.play
    if play is None:
        return 1.0, "pins clamped, their play not known"
    tilt = 0.0 if free is None else math.hypot(free.turn_x, free.turn_z)
    if free is None or play == 0.0:
        return 1.0, "pins clamped, no play left at worst" if at.askew else "pins clamped"
    if tilt <= play:
        return 0.0, "pins tilting within their play"
    return 1.0 - play / tilt, f"pins bound, {play / tilt:.0%} of the tilt being play"


def _given(
    load: PivotLoad, mx: NewtonMetres, mz: NewtonMetres, share: Number, how: str
) -> PinForce:
    """Return what the leaf gives, from what the pin gives: the opposite."""
    return PinForce(
        case=load.case,
        situation=load.situation,
        bound=load.clamped,
        x=-load.x,
        z=-load.z,
        axial=load.y,
        mx=-mx,
        mz=-mz,
        share=share,
        how=how,
    )
