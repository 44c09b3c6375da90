"""Whether pins bind: what of a pin's clearance is used up by what is out of true.

A pin with clearance c over an engagement e tilts by c/e before it binds. What the plate is out of
level, the pin out of square, the top pin out of plumb and the stile's own bending take all come
out of that; they lean each its own way, so that the likely sum is the root of their squares and
the worst is with all of them one way.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.job.defaults import chosen
from leafwright.job.model import FloorPivot
from leafwright.mount.closing import asked_of, small
from leafwright.mount.envelope import PinPlace
from leafwright.mount.records import Mounting
from leafwright.records import Check, Metres, Radians, Source, Verdict, graded
from leafwright.units import show_angle

TILT = Source("geometry of a pin in its bore", "clearance over engagement")


@dataclass(frozen=True, slots=True)
class TiltBudget:
    """What a pin's clearance over its engagement must hold, as lengths over the engagement [m].

    ``clearance`` is bore less pin, ``leeway`` what the other pin's play adds; ``axis`` is the top
    pin out of plumb, ``stile`` its end's turning under its own weight, ``level`` the plate out of
    level and ``square`` the pin out of square, None where nobody has measured it. A top plate's
    level is in ``axis``: it is set by the leaf.
    """

    engagement: Metres
    clearance: Metres
    leeway: Metres
    axis: Metres
    stile: Metres
    level: Metres | None
    square: Metres | None

    @property
    def has(self) -> Metres:
        """Return what may be out over the engagement before it binds [m]."""
        return self.clearance + self.leeway

    @property
    def parts(self) -> tuple[Metres, ...]:
        """Return what is out over the engagement, one by one, as far as it is known [m]."""
        return (self.axis, self.stile, self.level or 0.0, self.square or 0.0)

    @property
    def likely(self) -> Metres:
        """Return what is out over the engagement together, each leaning its own way [m]."""
        return math.hypot(*self.parts)

    @property
    def worst(self) -> Metres:
        """Return what is out over the engagement with everything leaning one way [m]."""
        return sum(self.parts)

    @property
    def left(self) -> Radians:
        """Return what plate and pin may be out of true together at worst [rad], perhaps under 0."""
        return (self.has - self.axis - self.stile) / self.engagement


def tilt_budget(
    m: Mounting, at: PinPlace, other: PinPlace | None, used: dict[str, Quantity]
) -> TiltBudget | None:
    """Return what one pin's clearance must hold; None where pin, bore or engagement is unknown.

    Geometry: over the engagement e, clearance c tilts by c/e. The other pin lets the whole leaf
    lean by half of its clearance over the height between them.

    Args:
        m: the leaf as it hangs, on a floor pivot.
        at: the pin in its sleeve.
        other: the pin at the other end.
        used: takes the quantities that it rests on.
    """
    mount = m.table.mount
    if not isinstance(mount, FloorPivot) or at.clearance is None or not at.engagement:
        return None
    plumb = chosen(
        None, "axis plumb", "stack/axis plumb", "axis out of plumb", system=m.job.job.system
    )
    used[plumb.key] = plumb
    e, height = at.engagement, m.leaf.height
    place = m.pivots[0] if at.end == "bottom" else m.pivots[-1]
    turns = [
        math.hypot(load.turn_x, load.turn_z)
        for load in m.loads_at(place)
        if load.situation == "standing"
    ]
    loose = 0.0 if other is None or other.clearance is None else other.clearance
    level, square = mount.plate_level if at.end == "bottom" else None, mount.pin_square
    return TiltBudget(
        engagement=e,
        clearance=at.clearance,
        leeway=e * loose / (2.0 * height),
        axis=e * plumb.value / height,
        stile=e * max(turns, default=0.0),
        level=None if level is None else e * math.tan(level.si),
        square=None if square is None else e * math.tan(square.si),
    )


def tilt_checks(m: Mounting, end: str, budget: TiltBudget) -> tuple[Check, ...]:
    """Return whether a pin stays free to turn, or the question how true it and its plate are."""
    measured = budget.square is not None and (end == "top" or budget.level is not None)
    if not measured:
        who = asked_of(m)
        return (_ask_tilt(m, who, budget),) if who and end == "bottom" else ()
    ratio = budget.likely / budget.has if budget.has > 0.0 else None
    verdict = Verdict.SHORT if ratio is None else graded(ratio)
    if verdict is Verdict.OK and budget.worst > budget.has:
        verdict = Verdict.TIGHT
    return (
        Check(
            key=f"{m.key}/tilt/{end}",
            subject=f"the {end} pin of {m.who}",
            question="does it stay free in its sleeve with plate and pin as true as they are",
            verdict=verdict,
            source=TILT,
            unit="m",
            demand=over_a_foot(m, budget.likely / budget.engagement),
            available=over_a_foot(m, budget.has / budget.engagement),
            ratio=ratio,
            case=f"out of true over {_foot(m)[1]}",
            change="" if verdict is Verdict.OK else _shim_words(m, end, budget),
            rule=_tilt_rule(m, budget),
        ),
    )


def _tilt_rule(m: Mounting, budget: TiltBudget) -> str:
    parts = [
        f"axis out of plumb {small_fit(m, budget.axis)}",
        f"stile's own bending {small_fit(m, budget.stile)}",
    ]
    for name, size in (("plate out of level", budget.level), ("pin out of square", budget.square)):
        if size is not None:
            parts.append(f"{name} {small_fit(m, size)}")
    # What the other pin's play gives is next to nothing but where it is loose.
    leeway = f" and {small_fit(m, budget.leeway)} by the other pin's play"
    if budget.leeway < budget.clearance / 100.0:
        leeway = ""
    return (
        f"over the pin's {small(m, budget.engagement)} in its sleeve: {', '.join(parts)}, together "
        f"{small_fit(m, budget.likely)} by root sum of squares and {small_fit(m, budget.worst)} at "
        f"worst, against clearance {small_fit(m, budget.clearance)}{leeway}"
    )


def _ask_tilt(m: Mounting, who: str, budget: TiltBudget) -> Check:
    """Return the question how true plate and pin are, with what they may be out together."""
    if budget.left > 0.0:
        along, over = _plate_length(m)
        change = (
            f"level the plate and square the pin until both together are within "
            f"{show_angle(budget.left, decimals=2)}, {small(m, shim(budget.left, along))} over "
            f"{over}; then write plate_level and pin_square in the mount, as measured"
        )
    else:
        change = (
            "the fit is so close over so long a pin that an axis out of plumb binds it: open the "
            "bore, shorten the sleeve's hold, or seat one sleeve so that it can tilt; then write "
            "plate_level and pin_square in the mount"
        )
    return Check(
        key=f"{m.key}/tilt/bottom",
        subject=f"the bottom pin of {who}",
        question="how far are its plate out of level and the pin out of square",
        verdict=Verdict.ASK,
        source=TILT,
        unit="m",
        demand=over_a_foot(m, budget.likely / budget.engagement),
        available=over_a_foot(m, budget.has / budget.engagement),
        ratio=budget.likely / budget.has if budget.has > 0.0 else None,
        change=change,
        basis="unknown",
        rule=_tilt_rule(m, budget),
    )


def _plate_length(m: Mounting) -> tuple[Metres, str]:
    """Return the length of the plate that is shimmed, and how to say it."""
    mount = m.table.mount
    if isinstance(mount, FloorPivot) and mount.plate is not None:
        return mount.plate.length.si, f"the plate's {mount.plate.length.text}"
    return _foot(m)


def _foot(m: Mounting) -> tuple[Metres, str]:
    return (0.3, "300 mm") if m.tape.system == "mm" else (0.3048, "a foot")


def over_a_foot(m: Mounting, slope: float) -> Metres:
    """Return how far out of true a slope is over a foot, or 300 mm [m]."""
    return slope * _foot(m)[0]


def shim(angle: float, along: float) -> float:
    """Return how thick a shim under one end of a plate turns it by an angle [m].

    Geometry: length times tangent.

    Args:
        angle: to turn it by [rad].
        along: from the shim to the end that stays down [m].
    """
    return along * math.tan(angle)


def _shim_words(m: Mounting, end: str, budget: TiltBudget) -> str:
    """Return what shim under the plate frees a pin, and what shim makes it true."""
    if end == "top":
        return (
            "square the top pin, or open the top sleeve's bore: with two close sleeves on one axis "
            "the top one should be the loose one (top_sleeve_bore)"
        )
    along, over = _plate_length(m)
    out = ((budget.level or 0.0) + (budget.square or 0.0)) / budget.engagement
    free = max(budget.worst - budget.has, 0.0) / budget.engagement
    true = f"{small(m, shim(out, along))} makes it true"
    frees = f"{small(m, shim(min(free, out), along))} over {over} frees it" if free else ""
    steps = f"{frees}, {true}" if frees else f"over {over}, {true}"
    return f"shim the plate at the end that the pin leans to: {steps}; or open the bore"


def barrel_tilts(m: Mounting, clearance: float, length: float) -> list[Check]:
    """Return whether each hinge lets the stile turn as it bends under the leaf's own weight."""
    found = []
    for number, place in enumerate(m.pivots, start=1):
        turns = [
            math.hypot(load.turn_x, load.turn_z)
            for load in m.loads_at(place)
            if load.situation == "standing"
        ]
        if not turns:
            continue
        ratio = length * max(turns) / clearance if clearance > 0.0 else None
        verdict = Verdict.SHORT if ratio is None else graded(ratio)
        found.append(
            Check(
                key=f"{m.key}/tilt/hinge {number}",
                subject=f"hinge {number} from below, of {m.who}",
                question="does its play let the stile turn as it bends under its own weight",
                verdict=verdict,
                source=TILT,
                unit="m",
                demand=over_a_foot(m, max(turns)),
                available=over_a_foot(m, clearance / length),
                ratio=ratio,
                case=f"out of true over {_foot(m)[1]}",
                change="" if verdict is Verdict.OK else "open the barrel, or make it shorter",
                rule=f"the stile's turning times the barrel's {small(m, length)}, against its "
                f"clearance {small_fit(m, clearance)}",
            )
        )
    return found


def small_fit(m: Mounting, size: float) -> str:
    """Return a clearance: ten-thousandths of an inch, or micrometres."""
    if m.tape.system == "mm":
        return f"{size * 1e3:.3f} mm"
    return f"{size / 0.0254:.4f} in"
