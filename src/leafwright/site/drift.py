"""Whether a leaf swings by itself, where it comes to rest, and how hard it is to push.

Friction is known only as a range, so each answer is one too: what holds with the least friction
always holds, and what moves even with the greatest always moves. `swinging` has the mechanics.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from leafwright.chain import BAND_95
from leafwright.doorway import LeafPlace
from leafwright.leaf import Leaf
from leafwright.records import (
    COMMON_PRACTICE,
    Check,
    Metres,
    NewtonMetres,
    Newtons,
    Number,
    Radians,
    Source,
    Verdict,
)
from leafwright.site.swinging import (
    AxisLean,
    Bearings,
    Stay,
    SwingingLeaf,
    gravity_torque,
    greatest_in_swing,
    lean_of,
    lowest_opening,
    nose_speed,
    pivot_friction,
    stays,
    stop_energy,
)
from leafwright.site.wording import is_a_mark, shown
from leafwright.units import Tape, show_angle, show_force, show_length
from leafwright.units.constants import POUND_FORCE, STANDARD_GRAVITY

#: Coefficient of friction of greased or dirty steel pins: least and greatest [-] (common practice,
#: no source).
FRICTION = (0.05, 0.20)

STATICS = Source("statics of a leaning axis", "W·ρ·sin λ·sin(angle from the lowest place)")
ADA = Source("2010 ADA Standards for Accessible Design", "404.2.9")
IBC = Source(
    "International Building Code 2009", "1008.1.3 (1010.1.3 in later editions; limits vary)"
)

#: What a push is compared with: the limit [lbf], the question, and where it stands.
LIMITS = (
    (5.0, "pushed open where the door is on an accessible route indoors", ADA),
    (30.0, "set in motion, other than an interior exit door", IBC),
    (15.0, "swung fully open, other than an interior exit door", IBC),
)

Held = Literal["stays", "may drift", "drifts"]


@dataclass(frozen=True, slots=True)
class Wind:
    """A pressure that the leaf is pushed against: on what area, how far from the axis.

    ``pressure`` [Pa] acts on ``area`` [m2], whose middle is ``lever`` from the axis [m].
    """

    pressure: float
    area: float
    lever: Metres


@dataclass(frozen=True, slots=True)
class Drift:
    """Whether and where a leaf swings by itself, and how hard it is to push.

    Attributes:
        lean: angle of the axis from plumb [rad].
        lowest: opening at which the leaf would be lowest, perhaps outside the swing [rad].
        torques: opening [rad] and gravity's torque toward the viewer [N m], over the swing.
        greatest: greatest gravity torque in the swing [N m]; ``band``: its 95 % band [N m].
        friction: least and greatest torque that friction holds [N m].
        held: stays with the least friction; drifts even with the greatest; or may drift.
        stays_easy: where it stays with the least friction; ``stays_stiff``: with the greatest.
        lean_held: how far the top pin may be off plumb before the leaf moves by itself, in the
            worst direction and with the least and greatest friction [m over the pin spacing].
        push: least and greatest force at the handle, still air [N].
        push_wind: the same against the wind, where a pressure was given [N].
        stop_energy: the most that it brings to a stop by itself, with the least friction [N m].
        stop_speed: of its nose as it meets that stop [m/s].
    """

    key: str
    lean: Radians
    lowest: Radians
    torques: tuple[tuple[Radians, NewtonMetres], ...]
    greatest: NewtonMetres
    band: NewtonMetres
    friction: tuple[NewtonMetres, NewtonMetres]
    held: Held
    stays_easy: tuple[Stay, ...]
    stays_stiff: tuple[Stay, ...]
    lean_held: tuple[Metres, Metres]
    push: tuple[Newtons, Newtons]
    push_wind: tuple[Newtons, Newtons] | None
    stop_energy: NewtonMetres
    stop_speed: float
    checks: tuple[Check, ...]
    words: tuple[str, ...]


def drift(
    leaf: SwingingLeaf,
    lean: AxisLean,
    bearings: Bearings,
    *,
    tape: Tape,
    friction: tuple[Number, Number] = FRICTION,
    wind: Wind | None = None,
) -> Drift:
    """Return whether and where a leaf swings by itself, and how hard it is to push.

    Args:
        leaf: what swings.
        lean: its axis out of plumb.
        bearings: where it rubs.
        tape: the maker's tape, for the words.
        friction: least and greatest coefficient [-].
        wind: what it is pushed against, None for still air.

    Raises:
        ValueError: the coefficients are not in order, or the handle is at the axis.
    """
    if not 0.0 <= friction[0] <= friction[1]:
        raise ValueError(
            f"friction {friction!r}: give the least coefficient first and none below 0, as (0.05, "
            "0.20)"
        )
    if not leaf.handle > 0.0:
        raise ValueError(
            f"{leaf.key}: handle {leaf.handle!r} m from the axis: give the distance from the axis "
            "to the place that is pushed"
        )
    least, most = (pivot_friction(leaf, bearings, mu) for mu in friction)
    greatest = greatest_in_swing(leaf, lean)
    full = leaf.weight * math.hypot(leaf.out, leaf.through)
    band = BAND_95 * full * max(lean.sd_x, lean.sd_z)
    held: Held = "may drift"
    if greatest + band <= least:
        held = "stays"
    elif greatest - band > most:
        held = "drifts"
    openings = np.linspace(*leaf.swing, 13)
    torques = np.asarray(gravity_torque(leaf, lean, openings))
    push = ((least + greatest) / leaf.handle, (most + greatest) / leaf.handle)
    blown = None
    if wind is not None:
        extra = wind.pressure * wind.area * wind.lever / leaf.handle
        blown = (push[0] + extra, push[1] + extra)
    lean_held = (_offset_held(leaf, least / full), _offset_held(leaf, most / full))
    energy = stop_energy(leaf, lean, least)
    easy, stiff = stays(leaf, lean, least), stays(leaf, lean, most)
    return Drift(
        key=leaf.key,
        lean=lean_of(leaf, lean),
        lowest=lowest_opening(leaf, lean),
        torques=tuple((float(a), float(t)) for a, t in zip(openings, torques, strict=True)),
        greatest=greatest,
        band=band,
        friction=(least, most),
        held=held,
        stays_easy=easy,
        stays_stiff=stiff,
        lean_held=lean_held,
        push=push,
        push_wind=blown,
        stop_energy=energy,
        stop_speed=nose_speed(leaf, energy),
        checks=(
            _drift_check(leaf, lean, held, lean_held, tape),
            *push_checks(leaf.key, push, case="still air"),
            *(push_checks(leaf.key, blown, case="against the wind") if blown else ()),
        ),
        words=_words(leaf, lean, (easy, stiff), push, lean_held, tape),
    )


def _offset_held(leaf: SwingingLeaf, share: float) -> float:
    """Return how far the top pin may be off plumb for this sine of the lean [m]."""
    return leaf.pin_spacing * math.tan(math.asin(min(share, 1.0 - 1e-9)))


def _drift_check(
    leaf: SwingingLeaf, lean: AxisLean, held: Held, lean_held: tuple[float, float], tape: Tape
) -> Check:
    """Return whether the leaf stays where it is left, as a check: lean against what holds."""
    demand = leaf.pin_spacing * math.tan(lean_of(leaf, lean))
    verdicts = {"stays": Verdict.OK, "may drift": Verdict.TIGHT, "drifts": Verdict.SHORT}
    change = "" if held == "stays" else _slide_words(leaf, lean, tape)
    return Check(
        key=f"{leaf.key}/drift",
        subject="the leaf left standing open",
        question="is its axis plumb enough that it stays by itself, with the least friction",
        verdict=verdicts[held],
        source=STATICS,
        unit="m",
        demand=demand,
        available=lean_held[0],
        ratio=demand / lean_held[0] if lean_held[0] > 0.0 else None,
        change=change,
        basis=f"coefficient of friction a range ({COMMON_PRACTICE})",
    )


def _slide_words(leaf: SwingingLeaf, lean: AxisLean, tape: Tape) -> str:
    """Return how the top pin plate is to be slid to make the axis plumb."""
    ways = []
    for angle, back in ((lean.x, ("left", "right")), (lean.z, ("away from you", "toward you"))):
        off = leaf.pin_spacing * math.tan(angle)
        if is_a_mark(off, tape):
            ways.append(f"{shown(off, tape)} {back[0] if off > 0.0 else back[1]}")
    if not ways:
        return "plumb the axis closer than one mark of the tape, or fit a catch or hold-open"
    return f"slide the top pin plate {' and '.join(ways)} to bring it plumb over the bottom pin"


def push_checks(key: str, push: tuple[Newtons, Newtons], *, case: str) -> tuple[Check, ...]:
    """Return the push at the handle beside the usual limits, as cautions: never short, but ask.

    Whether a limit holds depends on what the door is used for, which only its owner and the
    local code can say. 2010 ADA Standards 404.2.9 (5 lbf, interior hinged doors and gates other
    than fire doors); IBC 2009 1008.1.3 (5 lbf for interior swinging exit doors other than fire
    doors; others set in motion at 30 lbf and fully open at 15 lbf).

    Args:
        key: the leaf.
        push: least and greatest force at the handle [N].
        case: in what situation.
    """
    found = []
    for pounds, question, source in LIMITS:
        limit = pounds * float(POUND_FORCE)
        verdict = Verdict.OK
        change = ""
        if push[1] > limit:
            verdict = Verdict.TIGHT if push[0] <= limit else Verdict.ASK
            change = (
                "ask whether this rule holds for the door; plumb the axis, grease the pins, or set "
                "the handle farther from the axis"
            )
        found.append(
            Check(
                key=f"{key}/push {pounds:g} lbf/{case}",
                subject="push at the closing edge",
                question=f"is it under {pounds:g} lbf: {question}",
                verdict=verdict,
                source=source,
                unit="N",
                demand=push[1],
                available=limit,
                ratio=push[1] / limit,
                case=case,
                change=change,
                basis="a caution: friction, gravity and wind only, no latch, closer or seal",
            )
        )
    return tuple(found)


def _opening_words(angle: float) -> str:
    if abs(angle) < math.radians(0.5):
        return "closed"
    side = "toward you" if angle > 0.0 else "away from you"
    return f"{show_angle(abs(angle), decimals=0)} open {side}"


def _between(first: float, last: float) -> str:
    """Return two openings, the side said once where it is the same."""
    if min(abs(first), abs(last)) >= math.radians(0.5) and first * last > 0.0:
        return f"{show_angle(abs(first), decimals=0)} and {_opening_words(last)}"
    return f"{_opening_words(first)} and {_opening_words(last)}"


def _stay_words(leaf: SwingingLeaf, lean: AxisLean, found: tuple[Stay, ...]) -> str:
    """Return where the leaf stays and where it swings to from elsewhere, in a sentence."""
    start, end = leaf.swing
    if found and found[0].from_ <= start and found[0].to >= end:
        return "it stays wherever it is left"
    parts = []
    for stay in found:
        between = f"it stays between {_between(stay.from_, stay.to)}"
        parts.append(between + ("" if stay.steady else ", but a nudge there sets it off"))
    edges = [start, *(edge for stay in found for edge in (stay.from_, stay.to)), end]
    for a, b in zip(edges[::2], edges[1::2], strict=True):
        if b - a < math.radians(0.5):
            continue
        toward = float(gravity_torque(leaf, lean, (a + b) / 2.0)) > 0.0
        target = b if toward else a
        end_of_swing = target in (start, end)
        parts.append(
            f"left between {_between(a, b)} it swings {'toward you' if toward else 'away from you'}"
            f", to {_opening_words(target)}" + (", its stop" if end_of_swing else " or past it")
        )
    return "; ".join(parts)


def _words(
    leaf: SwingingLeaf,
    lean: AxisLean,
    found: tuple[tuple[Stay, ...], tuple[Stay, ...]],
    push: tuple[float, float],
    lean_held: tuple[float, float],
    tape: Tape,
) -> tuple[str, ...]:
    easy, stiff = (_stay_words(leaf, lean, stay) for stay in found)
    rest = [f"{easy[0].upper()}{easy[1:]}, with little friction and with much."]
    if easy != stiff:
        rest = [f"With little friction, {easy}.", f"With much friction, {stiff}."]
    low, high = (shown(off, tape) for off in lean_held)
    spacing = show_length(leaf.pin_spacing, tape)
    forces = [_push_words(f, tape) for f in push]
    return (
        *rest,
        f"It stays by itself while its pins are plumb over one another within {low}; past {high} "
        f"it moves even with much friction (over {spacing}).",
        f"Push at its closing edge: {forces[0]} to {forces[1]}, still air.",
    )


def _push_words(force: float, tape: Tape) -> str:
    """Return a push to a tenth of a pound, or to two figures in newtons.

    Friction is known to a factor: that is as near as it is worth saying. A push lighter than that
    is still not nothing.
    """
    unit = 1.0 if tape.system == "mm" else float(POUND_FORCE)
    size = force / unit
    step = 0.1 if tape.system != "mm" or size < 10.0 else 1.0
    if size < (0.95 if tape.system == "mm" else 0.095):
        step = 0.01
    said = show_force(round(size / step) * step * unit, tape.system)
    number, _, symbol = said.partition(" ")
    return f"{number.rstrip('0').rstrip('.') if '.' in number else number} {symbol}"


def swinging_leaf(
    place: LeafPlace,
    leaf: Leaf,
    *,
    pin_spacing: float | None = None,
    handle: float | None = None,
    pivot_parts: float = 0.0,
) -> SwingingLeaf:
    """Return what swings, from a leaf's design and its place in the doorway.

    The inertia is that of a plate of even weight, from the axis to the nose: m·reach²/3.

    Args:
        place: where the leaf stands.
        leaf: the leaf as designed.
        pin_spacing: bottom pin to top pin; the leaf's height where not given [m].
        handle: axis to the place pushed; the nose where not given [m].
        pivot_parts: mass of what turns with the leaf and is not in it, at the axis [kg].
    """
    axis = place.axis.value
    out = leaf.centre[0] if leaf.hand == "left" else leaf.width - leaf.centre[0]
    reach = leaf.width - axis
    stands_off = sum(
        piece.mass
        * (
            (place.half_face.value if piece.face == "face" else -place.half_back.value)
            - (0.5 if piece.face == "face" else -0.5) * piece.thickness
        )
        for piece in leaf.infill
    )
    mass = leaf.hung_mass + pivot_parts
    start, end = {
        "toward": (0.0, math.pi / 2.0),
        "away": (-math.pi / 2.0, 0.0),
        "both": (-math.pi / 2.0, math.pi / 2.0),
    }[place.swing]
    return SwingingLeaf(
        key=place.key,
        hand=place.hand,
        weight=mass * float(STANDARD_GRAVITY),
        out=(out - axis) * leaf.hung_mass / mass,
        through=stands_off / mass,
        inertia=leaf.hung_mass * reach**2 / 3.0,
        reach=reach,
        handle=reach if handle is None else handle,
        pin_spacing=leaf.height if pin_spacing is None else pin_spacing,
        swing=(start, end),
    )
