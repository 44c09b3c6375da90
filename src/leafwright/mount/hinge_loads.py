"""What a leaf on barrel hinges gives each of them, case by case, and as it may be shared.

Each hinge has its own axes: *across* the leaf (out of its plane), *up*, and *out* of the stile
toward the post; right-handed in that order. The frame lets the lowest hinge carry the weight. As
made, whichever half touches first carries it, so each is proved for all of it and for none of it:
on one upright axis that moves no other force.

A pin with play tilts freely by clearance over the length of its half, c/L, and only then binds;
from there on it bends in its barrels with a stiffness of its own, s. Where the leaf would tilt by θ
on a free pin and holds a clamped one with M_c, its stiffness is k = M_c/θ, and the moment is
(θ − c/L)/(1/k + 1/s) = M_c (1 − (c/L)/θ)/(1 + k/s). The whole case is taken that far between free
and clamped, by the hinge where that is most; a pin that binds before the others carries some of
theirs besides (`parts.carry_over`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.frame.load_cases import CLAMPED, NAMES, Situation
from leafwright.handbook import pins
from leafwright.handbook.aisc360 import Method
from leafwright.handbook.aisc360.constants import E as STEEL_E
from leafwright.job.defaults import chosen
from leafwright.job.model import BarrelHinge
from leafwright.mount.parts import carry_over
from leafwright.mount.records import Mounting
from leafwright.proof import PivotLoad
from leafwright.records import Metres, NewtonMetres, Newtons, Number, Radians

_SAID = {
    "standing": "hanging at rest",
    "person": "a person hanging on the nose",
}


@dataclass(frozen=True, slots=True)
class HingeForce:
    """What one hinge gives the leaf in one case: forces [N] and moments [N m] in its own axes.

    ``carried`` is what its pin takes besides where it binds before the others do, a magnitude.
    """

    place: str
    across: Newtons
    up: Newtons
    out: Newtons
    m_across: NewtonMetres
    m_up: NewtonMetres
    m_out: NewtonMetres
    carried: NewtonMetres

    @property
    def bound(self) -> tuple[NewtonMetres, NewtonMetres]:
        """Return the moments across and out that a bound pin passes on, carried ones in [N m]."""
        size = math.hypot(self.m_across, self.m_out)
        if size == 0.0:
            return self.carried, 0.0
        grown = 1.0 + self.carried / size
        return self.m_across * grown, self.m_out * grown

    @property
    def on_pin(self) -> Newtons:
        """Return the force across the pin, a magnitude [N]; the weight goes past it."""
        return math.hypot(self.across, self.out)

    @property
    def pin_moment(self) -> NewtonMetres:
        """Return the moment that a bound pin passes on, a magnitude [N m]."""
        return math.hypot(self.m_across, self.m_out) + self.carried


@dataclass(frozen=True, slots=True)
class HungCase:
    """A leaf on its hinges in one case, factors of the method in it.

    ``dead`` and ``live`` are its factors; ``share`` is how far it stands between pins that tilt
    freely (0) and pins clamped in their bores (1). ``carrier`` is the hinge that has the weight;
    ``forces`` are of all hinges, lowest first.
    """

    situation: Situation
    dead: Number
    live: Number
    share: Number
    carrier: str
    forces: tuple[HingeForce, ...]

    @property
    def words(self) -> str:
        """Return the case in the maker's words, without its hinges."""
        plain = self.situation.removesuffix(CLAMPED)
        named = _SAID.get(plain) or NAMES.get(self.situation, plain)
        named = named.removesuffix(", its pins clamped")
        return f"{named}, pins bound in their barrels" if self.share > 0.0 else named


@dataclass(frozen=True, slots=True)
class OnHinge:
    """One hinge's force in one case."""

    case: HungCase
    force: HingeForce

    def words(self, m: Mounting) -> str:
        """Return the case, the hinge, and whether the weight is on it."""
        carries = self.case.carrier == self.force.place
        weight = "carrying the weight" if carries else "the weight on another"
        return f"{self.case.words}; {hinge_words(m, self.force.place)}, {weight}"


def barrel_hinge(m: Mounting) -> BarrelHinge:
    """Return the leaf's barrel hinges; raises TypeError for a leaf on a floor pivot."""
    if not isinstance(m.table.mount, BarrelHinge):
        raise TypeError(f"{m.who} stands on a floor pivot and has no barrel hinges")
    return m.table.mount


def hinge_heights(m: Mounting) -> dict[str, Metres]:
    """Return each hinge's height over the leaf's bottom [m], lowest first."""
    heights = sorted(h.si for h in barrel_hinge(m).heights)
    return dict(zip(m.pivots, heights, strict=True))


def hinge_words(m: Mounting, place: str) -> str:
    """Return what the maker calls a hinge."""
    at, count = m.pivots.index(place), len(m.pivots)
    if at == 0:
        return "the lower hinge" if count == 2 else "the lowest hinge"
    if at == count - 1:
        return "the upper hinge" if count == 2 else "the highest hinge"
    return "the middle hinge" if count == 3 else f"hinge {at + 1} from the bottom"


def half_length(m: Mounting) -> Quantity:
    """Return how long each half of a hinge is [m], as wished or by default."""
    return chosen(
        barrel_hinge(m).barrel_length,
        "hinge pin length",
        f"{m.key}/hinge half",
        "length of each half of a hinge",
        system=m.job.job.system,
    )


def lever(m: Mounting) -> Metres:
    """Return how far the pin stands off the stile and off the post: half the standoff [m]."""
    return barrel_hinge(m).standoff.si / 2.0


def hung_cases(m: Mounting, *, stiff: bool = False) -> tuple[HungCase, ...]:
    """Return what the hinges give the leaf in every case for strength, by who carries the weight.

    Cases with clamped pins come as far clamped as the pins' play leaves, and not at all where
    they tilt within it.

    Args:
        m: the leaf as it hangs.
        stiff: take pins that do not bend, whatever their size.
    """
    mount = barrel_hinge(m)
    play = None
    if mount.clearance is not None:
        play = mount.clearance.si / half_length(m).value
    own = math.inf
    if mount.pin_diameter is not None and not stiff:
        own = pins.pin_stiffness(half_length(m).value, mount.pin_diameter.si, STEEL_E)
    factors = {case.key: (case.dead, case.live) for case in m.proof.cases}
    by_case: dict[str, list[PivotLoad]] = {}
    for load in sorted(m.loads_at(*m.pivots), key=lambda found: found.place):
        by_case.setdefault(load.case, []).append(load)
    free = {case: loads for case, loads in by_case.items() if not loads[0].clamped}
    found: list[HungCase] = []
    for case, loads in by_case.items():
        twin, share = loads, 0.0
        if loads[0].clamped:
            twin = free.get(case.replace(CLAMPED, "", 1), loads)
            share = _bound(play, own, twin, loads)
            if share == 0.0:
                continue
        dead, live = factors[case]
        found += _shared(m, loads[0].situation, (dead, live), share, twin, loads)
    return tuple(found)


def everyday_cases(m: Mounting) -> tuple[HungCase, ...]:
    """Return what the hinges give in every case, loads as they are, for the ground to bear.

    Those of ASD; by LRFD the cases that movements are taken from, whose pins tilt freely.
    """
    if m.method is Method.ASD:
        return hung_cases(m)
    factors = {c.situation: (c.dead, c.live) for c in m.proof.cases if c.for_movement}
    by_case: dict[Situation, list[PivotLoad]] = {}
    for r in m.proof.reactions:
        if r.place in m.pivots:
            load = PivotLoad(
                case=r.situation,
                situation=r.situation,
                place=r.place,
                clamped=False,
                x=r.x,
                y=r.y,
                z=r.z,
                mx=0.0,
                my=0.0,
                mz=0.0,
                turn_x=0.0,
                turn_z=0.0,
            )
            by_case.setdefault(r.situation, []).append(load)
    return tuple(
        case
        for situation, loads in by_case.items()
        for case in _shared(m, situation, factors[situation], 0.0, loads, loads)
    )


def _bound(
    play: Radians | None, own: float, free: Sequence[PivotLoad], clamped: Sequence[PivotLoad]
) -> Number:
    """Return how far between free and clamped the pins come, by the one that binds most."""
    most = 0.0
    for loose, tight in zip(free, clamped, strict=True):
        tilt, held = math.hypot(loose.turn_x, loose.turn_z), math.hypot(tight.mx, tight.mz)
        if held == 0.0 or tilt == 0.0:
            continue
        left = 1.0 if not play else max(0.0, 1.0 - play / tilt)
        most = max(most, left / (1.0 + held / tilt / own))
    return most


def _shared(
    m: Mounting,
    situation: Situation,
    factors: tuple[Number, Number],
    share: Number,
    free: Sequence[PivotLoad],
    clamped: Sequence[PivotLoad],
) -> list[HungCase]:
    """Return one case for each hinge that may carry the weight."""
    loose = {load.place: load for load in free}
    tight = {load.place: load for load in clamped}
    weight = sum(load.y for load in free)
    moments = {place: math.hypot(tight[place].mx, tight[place].mz) * share for place in m.pivots}
    carried = carry_over(m).value
    found = []
    for carrier in m.pivots:
        forces = tuple(
            _in_hinge_axes(
                m,
                place,
                loose[place],
                tight[place],
                share,
                weight if place == carrier else 0.0,
                carried * sum(v for p, v in moments.items() if p != place),
            )
            for place in m.pivots
        )
        found.append(HungCase(situation, *factors, share, carrier, forces))
    return found


def _in_hinge_axes(
    m: Mounting,
    place: str,
    free: PivotLoad,
    clamped: PivotLoad,
    share: Number,
    up: Newtons,
    carried: NewtonMetres,
) -> HingeForce:
    def between(name: str) -> float:
        a, b = float(getattr(free, name)), float(getattr(clamped, name))
        return a + share * (b - a)

    # Out of the stile is -x on a leaf hung left and +x on one hung right.
    way = 1.0 if m.place.hand == "left" else -1.0
    return HingeForce(
        place=place,
        across=way * between("z"),
        up=up,
        out=-way * between("x"),
        m_across=way * between("mz"),
        m_up=between("my"),
        m_out=-way * between("mx"),
        carried=carried,
    )


def on_hinges(cases: Sequence[HungCase]) -> tuple[OnHinge, ...]:
    """Return every hinge's force in every case."""
    return tuple(OnHinge(case, force) for case in cases for force in case.forces)
