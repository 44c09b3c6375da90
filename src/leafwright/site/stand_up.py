"""Standing a leaf up by hand: the push at every tilt, the foot, the balance, and how many people.

The leaf turns about the lower corner of its foot. Hands push at right angles to its lower face: at
its top edge first, then, once that is out of reach, at the height the hands reach, going down the
leaf as it rises. Slow, so that nothing swings. Tilt is 0 flat on the floor and π/2 upright.
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from leafwright.handbook.niosh import Lift, LiftLimit, System, lift_limit
from leafwright.leaf.records import Leaf
from leafwright.records import (
    COMMON_PRACTICE,
    Check,
    Kilograms,
    Metres,
    Newtons,
    Number,
    Radians,
    Source,
    graded,
    read_only,
)

Floats = NDArray[np.float64]
GRAVITY = 9.80665
UPRIGHT = math.pi / 2

NIOSH = Source("NIOSH 94-110 (1994, revised 2021)", "section 1.3")
STATICS = Source("statics")

# Taking hold of a leaf's edge from the floor (common practice, no source): hands 15 in before the
# ankles and 4 in up, to 30 in; once in five minutes at most; an edge of tube is no handle.
EDGE_LIFT = Lift(horizontal=0.381, vertical=0.1016, travel=0.6604, coupling="poor")


@dataclass(frozen=True, slots=True)
class Standing:
    """A leaf to be stood up.

    ``centre`` is how far its centre of mass is up from the bottom edge, ``over_face`` how far from
    the face that it lies on, and ``thickness`` how far its other face is from that [m].
    """

    key: str
    mass: Kilograms
    height: Metres
    centre: Metres
    over_face: Metres
    thickness: Metres

    def __post_init__(self) -> None:
        if not (0.0 < self.centre < self.height and 0.0 <= self.over_face <= self.thickness):
            raise ValueError(
                f"{self.key}: a centre {self.centre!r} m up and {self.over_face!r} m in does not "
                f"lie in a leaf {self.height!r} m high and {self.thickness!r} m thick; "
                "measure it from the bottom edge and from the face the leaf lies on"
            )
        if not self.mass > 0.0:
            raise ValueError(f"{self.key} weighs {self.mass!r} kg; give what it weighs")


@dataclass(frozen=True, slots=True)
class Crew:
    """Who stands the leaf up.

    ``reach`` is how high over the floor the hands push [m]; ``friction`` what the foot has on this
    floor [-]; ``push`` what one person is agreed to push [N], where the maker has a figure.
    """

    people: int
    reach: Metres
    friction: Number
    push: Newtons | None = None
    lift: Lift = EDGE_LIFT
    system: System = "US"

    def __post_init__(self) -> None:
        if self.people < 1 or not self.reach > 0.0 or not self.friction >= 0.0:
            raise ValueError(
                f"a crew of {self.people!r} with hands at {self.reach!r} m and a friction of "
                f"{self.friction!r} stands nothing up; give one person or more and a reach"
            )


@dataclass(frozen=True, slots=True)
class Push:
    """What hands and foot feel along the way up, each an array over ``tilt``.

    ``force`` is at right angles to the leaf, positive while it must be pushed and negative where
    it must be held back [N]; ``up`` and ``level`` are its parts. ``hands`` is how far up the leaf
    they are [m]. ``foot_level`` is what keeps the foot from sliding away under the leaf [N],
    ``foot_up`` what the floor bears [N], and ``friction`` their ratio [-].
    """

    tilt: Floats
    force: Floats
    up: Floats
    level: Floats
    hands: Floats
    foot_level: Floats
    foot_up: Floats
    friction: Floats


@dataclass(frozen=True, slots=True)
class StandUp:
    """Standing one leaf up by hand.

    ``start`` lifts its top edge off the floor; ``peak`` is the greatest push, at ``peak_tilt``.
    ``balance`` is the tilt from which it goes on by itself. ``friction`` is what the foot needs at
    most, at ``friction_tilt``. Upright, ``tips_with`` at the height of the hands turns it over its
    other corner, and leaning ``tips_at`` past upright it goes by itself. ``keep_out`` is how far
    from its foot nobody stands.
    ``to_carry`` and ``to_walk_up`` are the people needed; None where no number of them will do.
    """

    key: str
    weight: Newtons
    push: Push
    start: Newtons
    peak: Newtons
    peak_tilt: Radians
    balance: Radians
    friction: Number
    friction_tilt: Radians
    slides: bool
    tips_with: Newtons
    tips_at: Radians
    keep_out: Metres
    limit: LiftLimit
    to_carry: int | None
    to_lift_the_edge: int | None
    to_walk_up: int | None
    checks: tuple[Check, ...]
    cautions: tuple[str, ...]


def push_at(leaf: Standing, reach: float, tilt: Floats) -> Push:
    """Return the push and what the foot feels at each tilt.

    Moments about the foot's lower corner: F·h = W·(a·cos φ − d·sin φ), with the hands
    h = min(H, r / sin φ) up the leaf; then level and upward balance.

    reach: r, height of the hands over the floor [m]; tilt: φ, shape (n,) [rad].
    """
    weight = leaf.mass * GRAVITY
    sine, cosine = np.sin(tilt), np.cos(tilt)
    hands = np.minimum(leaf.height, reach / np.maximum(sine, reach / leaf.height))
    force = weight * (leaf.centre * cosine - leaf.over_face * sine) / hands
    foot_level, foot_up = force * sine, weight - force * cosine
    return Push(
        tilt=read_only(np.array(tilt)),
        force=read_only(force),
        up=read_only(force * cosine),
        level=read_only(force * sine),
        hands=read_only(hands),
        foot_level=read_only(foot_level),
        foot_up=read_only(foot_up),
        friction=read_only(np.abs(foot_level) / foot_up),
    )


def peak_push(leaf: Standing, reach: float) -> tuple[float, float]:
    """Return the greatest push [N] and its tilt [rad].

    With the top edge in hand the push only falls. Walking up it is
    W / 2r·(a·sin 2φ − d·(1 − cos 2φ)), greatest at tan 2φ = a / d: for a thin even leaf W·H/(4r)
    at 45°, more than at the start where r < H/2.
    """
    out_of_reach = math.asin(min(reach / leaf.height, 1.0))
    walking = max(0.5 * math.atan2(leaf.centre, leaf.over_face), out_of_reach)
    tilts = np.array([0.0, walking])
    forces = push_at(leaf, reach, tilts).force
    worst = int(forces.argmax())
    return float(forces[worst]), float(tilts[worst])


def standing(leaf: Leaf, toward: bool, *, mass: float = 0.0, height: float = 0.0) -> Standing:
    """Return a designed leaf as a thing to be stood up.

    toward: whether it lies on the viewer's side, and so on its face; mass, height: of pivot parts
    on it [kg], and how far up they are [m].
    """
    half = max(member.section.height for member in leaf.members) / 2.0
    front = max((p.thickness for p in leaf.infill if p.face == "face"), default=0.0)
    back = max((p.thickness for p in leaf.infill if p.face == "back"), default=0.0)
    off = sum(
        piece.mass * (half + piece.thickness / 2.0) * (1.0 if piece.face == "face" else -1.0)
        for piece in leaf.infill
    )
    total = leaf.hung_mass + mass
    across = off / total
    lower = front if toward else back
    return Standing(
        key=leaf.key,
        mass=total,
        height=leaf.height,
        centre=(leaf.hung_mass * leaf.centre[1] + mass * height) / total,
        over_face=half + lower + (-across if toward else across),
        thickness=2.0 * half + front + back,
    )


def people_for(load: float, each: float) -> int | None:
    """Return how many people share a load evenly within what each may take; None if each may none.

    Sharing evenly is common practice, no source. Both in the same unit.
    """
    return math.ceil(round(load / each, 9)) if each > 0.0 else None


def stand_up(leaf: Standing, crew: Crew, *, keep_out: Number = 1.0) -> StandUp:
    """Return what standing a leaf up by hand asks of the crew, with checks and cautions.

    The lifting limit is for lifting. It is no limit for pushing a leaf up, and is used there as a
    yardstick only where the crew has no figure of its own.
    """
    weight = leaf.mass * GRAVITY
    push = push_at(leaf, crew.reach, np.radians(np.linspace(0.0, 90.0, 361)))
    start = weight * leaf.centre / leaf.height
    peak, peak_tilt = peak_push(leaf, crew.reach)
    worst_foot = int(push.friction.argmax())
    limit = lift_limit(crew.lift, crew.system)
    one = limit.weight * GRAVITY
    each = crew.push if crew.push is not None else one
    needed = float(push.friction[worst_foot])
    found = StandUp(
        key=leaf.key,
        weight=weight,
        push=push,
        start=start,
        peak=peak,
        peak_tilt=peak_tilt,
        balance=math.atan2(leaf.centre, leaf.over_face),
        friction=needed,
        friction_tilt=float(push.tilt[worst_foot]),
        slides=needed > crew.friction,
        tips_with=weight * (leaf.thickness - leaf.over_face) / min(crew.reach, leaf.height),
        tips_at=math.atan2(leaf.thickness - leaf.over_face, leaf.centre),
        keep_out=keep_out * math.hypot(leaf.height, leaf.thickness),
        limit=limit,
        to_carry=people_for(weight, one),
        to_lift_the_edge=people_for(start, one),
        to_walk_up=people_for(peak, each),
        checks=(),
        cautions=(),
    )
    return _told(found, leaf, crew, each)


def _told(found: StandUp, leaf: Standing, crew: Crew, each: float) -> StandUp:
    """Return the result with its checks and cautions."""
    one = found.limit.weight * GRAVITY
    agreed = crew.push is not None
    checks = (
        _hands(
            leaf,
            crew,
            "carry",
            "can the crew carry it flat",
            found.weight,
            one,
            NIOSH,
            "a yardstick only: the equation is for lifting, not for carrying",
        ),
        _hands(leaf, crew, "edge", "can the crew lift its top edge", found.start, one, NIOSH, ""),
        _hands(
            leaf,
            crew,
            "walk up",
            "can the crew walk it up",
            found.peak,
            each,
            COMMON_PRACTICE if agreed else NIOSH,
            "what this crew has agreed to push"
            if agreed
            else "a yardstick only: the equation is for lifting, not for pushing",
        ),
        Check(
            key=f"{leaf.key}/stand up/foot",
            subject="the foot of the leaf",
            question="does the foot stay where it is",
            verdict=graded(_ratio(found.friction, crew.friction)),
            source=STATICS,
            demand=found.friction,
            available=crew.friction,
            ratio=_ratio(found.friction, crew.friction),
            change="chock the foot, so that it can slide neither way" if found.slides else "",
        ),
    )
    cautions = [
        "Nobody within the leaf's own height of its foot, on either side, but those who push.",
        "Chock the foot before the top edge leaves the floor.",
        "Tie the top off both ways before anybody lets go. Upright, it stands on its edge only.",
        "One person says go. Anybody says stop: then hold, and lower the way it came.",
        "Never stand under it. If it goes, let it go.",
    ]
    short = [check for check in checks[:3] if check.change]
    if short:
        cautions.insert(0, short[-1].change)
    return dataclasses.replace(found, checks=checks, cautions=tuple(cautions))


def _ratio(demand: float, available: float) -> float:
    if available > 0.0:
        return demand / available
    return math.inf if demand > 0.0 else 0.0


def _hands(
    leaf: Standing,
    crew: Crew,
    what: str,
    question: str,
    load: float,
    each: float,
    source: Source,
    basis: str,
) -> Check:
    """Return the check of a load shared by the crew against what each may take [N]."""
    share = load / crew.people
    ratio = _ratio(share, each)
    change = ""
    if ratio > 1.0:
        people = people_for(load, each)
        change = (
            f"needs a hoist or lift: {people} people would have to share it, the crew is "
            f"{crew.people}"
            if people is not None
            else "needs a hoist or lift: this cannot be lifted by hand, as the hands would hold it"
        )
    return Check(
        key=f"{leaf.key}/stand up/{what}",
        subject="each person's hands",
        question=question,
        verdict=graded(ratio),
        source=source,
        unit="N",
        demand=share,
        available=each,
        ratio=ratio,
        change=change,
        basis=basis,
    )
