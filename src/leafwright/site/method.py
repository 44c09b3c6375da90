"""How a leaf gets onto its pins: which ways the headroom and the pins allow, and what may come off.

A leaf that hangs on a pin standing in the floor must be lifted over that pin, so the room over its
top must take the pin. A top pin must be out of the way meanwhile: put in afterwards, or drawn back.
A plate that comes with the leaf needs no lift; a fixed top pin then needs the leaf to come in low.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leafwright.records import Metres

TopPin = Literal["put in afterwards", "telescopes", "fixed"]
Key = Literal[
    "drop on, top pin put in afterwards",
    "drop on, top pin telescopes",
    "captive plate, top pin put in afterwards",
    "captive plate, top pin telescopes",
    "captive plate, raised onto a fixed top pin",
    "drop on, fixed top pin",
    "lift onto the hinge pins",
]


@dataclass(frozen=True, slots=True)
class Pins:
    """Pins and the room round a leaf that hangs between floor and head, as it hangs [m].

    ``headroom``: from its top edge to what is over it, the least it may be; ``plate``: how much of
    a top plate is in that room until a pin put in afterwards brings it; ``bottom`` and ``top``:
    how far each pin is in the leaf; ``least``: what each must keep; ``stub``: what still sticks
    out of a telescoping pin drawn back, ``travel`` how far it draws back; ``lowering``: how far the
    leaf can stand lower while its plate is not yet packed up; ``rise`` and ``drop``: how far the
    head may go up, and the leaf or head down, in use.
    """

    headroom: Metres
    bottom: Metres
    top: Metres
    least: Metres
    lift: Metres
    margin: Metres
    travel: Metres = 0.0
    stub: Metres = 0.0
    lowering: Metres = 0.0
    rise: Metres = 0.0
    drop: Metres = 0.0
    plate: Metres = 0.0
    captured: bool = False
    plate_can_follow: bool = True
    top_pins: tuple[TopPin, ...] = ("put in afterwards", "telescopes", "fixed")

    def __post_init__(self) -> None:
        sizes = ("bottom", "top", "least", "lift", "margin", "travel", "stub", "rise", "drop")
        for name in (*sizes, "plate"):
            value = getattr(self, name)
            if not value >= 0.0:
                raise ValueError(f"pins: {name} is {value!r} m; give nothing or more")


@dataclass(frozen=True, slots=True)
class BarrelPins:
    """Hinges that are lifted onto their pins: how far each pin is in, lowest first [m]."""

    headroom: Metres
    engaged: tuple[Metres, ...]
    least: Metres
    lift: Metres
    margin: Metres
    rise: Metres = 0.0

    def __post_init__(self) -> None:
        if not self.engaged:
            raise ValueError("barrel pins: no pin is given; give how far each is in its barrel")


@dataclass(frozen=True, slots=True)
class HangMethod:
    """One way of hanging the leaf, and why it does or does not work.

    ``raised`` is how far over its hung place the leaf must come, ``lowered`` how far under it;
    ``before`` is done while it still lies, ``steps`` once it is upright.
    ``needs`` the headroom for that, ``spare`` what is left of it (less than nothing: lacking) [m].
    """

    key: Key
    feasible: bool
    raised: Metres
    lowered: Metres
    needs: Metres
    spare: Metres
    reasons: tuple[str, ...]
    before: tuple[str, ...]
    steps: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Unseating:
    """What is left of the pins in the leaf at its highest and at its lowest in use [m].

    ``at_full_lift``: bottom pin with the leaf against the head; ``at_full_drop``: top pin with the
    leaf settled and the head up. ``needs_lift_stop``, ``top_short`` say where that is too little.
    """

    at_full_lift: Metres
    at_full_drop: Metres
    needs_lift_stop: bool
    top_short: bool
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Hanging:
    """All ways of hanging a leaf, the best of them if any, and what may come off its pins."""

    best: HangMethod | None
    methods: tuple[HangMethod, ...]
    unseating: Unseating


_CAPTURE = (
    "A pin that can draw back must be captured: a set screw is not enough, a bolt through is."
)
_TETHER = "Bottom blocked and top tethered until both pins are in."


def _method(
    key: Key,
    headroom: float,
    margin: float,
    *,
    raised: float = 0.0,
    lowered: float = 0.0,
    stub: float = 0.0,
    against: tuple[str, ...] = (),
    before: tuple[str, ...] = (),
    steps: tuple[str, ...],
    cautions: tuple[str, ...],
) -> HangMethod:
    """Return one way with its room reckoned up: what it is raised, a stub, and the margin."""
    needs = raised + stub + margin
    spare = headroom - needs
    reasons = list(against)
    if spare < 0.0:
        reasons.append("the room over the leaf is too little to raise it so far")
    return HangMethod(
        key, not reasons, raised, lowered, needs, spare, tuple(reasons), before, steps, cautions
    )


def hang_between_pins(pins: Pins) -> Hanging:
    """Return the ways of hanging a leaf between a pin in the floor and one in the head.

    The best is the first that works, in the order: no moving parts first. All lengths as in
    `Pins`. Statics and geometry; the order is common practice, no source.
    """
    over_pin = pins.bottom + pins.lift
    low_enough = (
        ()
        if pins.top + pins.lift <= pins.lowering
        else ("it cannot come in low enough to pass under the top pin",)
    )
    draws_back = (
        ()
        if pins.travel + pins.stub >= pins.top + pins.headroom
        else ("the top pin does not draw back far enough",)
    )
    plate = (
        ()
        if pins.plate_can_follow
        else ("the plate cannot be anchored with the leaf standing on it",)
    )
    over = "Lift it over the floor pin, upright; lower it straight down."
    plate_on = "Hang the plate on the leaf's bottom pin, and tie it there."
    slide = "Stand leaf and plate upright in their place, tied off both ways."
    draw = "Draw the top pin back, and pin it there."
    anchor = (
        "Plumb it, then drill and anchor the plate. Only when every anchor is tight take the ropes "
        "off."
    )
    methods: list[HangMethod] = []
    if "put in afterwards" in pins.top_pins:
        last = "Put the top pin in and fasten it. Only then untie."
        held = "Put the top pin in and fasten it. The ropes stay on."
        room = pins.headroom + pins.plate
        methods += [
            _method(
                "drop on, top pin put in afterwards",
                room,
                pins.margin,
                raised=over_pin,
                steps=(over, last),
                cautions=(_TETHER,),
            ),
            _method(
                "captive plate, top pin put in afterwards",
                room,
                pins.margin,
                against=plate,
                before=(plate_on,),
                steps=(slide, held, anchor),
                cautions=(_TETHER,),
            ),
        ]
    if "telescopes" in pins.top_pins:
        last = "Run the top pin out, and capture it. Only then untie."
        held = "Run the top pin out, and capture it. The ropes stay on."
        methods += [
            _method(
                "drop on, top pin telescopes",
                pins.headroom,
                pins.margin,
                raised=over_pin,
                stub=pins.stub,
                against=draws_back,
                before=(draw,),
                steps=(over, last),
                cautions=(_TETHER, _CAPTURE),
            ),
            _method(
                "captive plate, top pin telescopes",
                pins.headroom,
                pins.margin,
                stub=pins.stub,
                against=(*plate, *draws_back),
                before=(plate_on, draw),
                steps=(slide, held, anchor),
                cautions=(_TETHER, _CAPTURE),
            ),
        ]
    if "fixed" in pins.top_pins:
        methods += [
            _method(
                "captive plate, raised onto a fixed top pin",
                pins.headroom,
                pins.margin,
                lowered=pins.top + pins.lift,
                against=(*plate, *low_enough),
                before=(plate_on,),
                steps=(slide, "Raise it onto the top pin. Pack the plate up.", anchor),
                cautions=(_TETHER, "Nobody's hand under the plate while it is packed."),
            ),
            _method(
                "drop on, fixed top pin",
                pins.headroom,
                pins.margin,
                raised=over_pin,
                stub=pins.top + pins.headroom if pins.top > 0.0 else 0.0,
                against=("the top pin is in the way of a leaf raised over the floor pin",)
                if pins.top > 0.0
                else (),
                steps=(over,),
                cautions=(_TETHER,),
            ),
        ]
    order: tuple[Key, ...] = (
        "drop on, top pin put in afterwards",
        "drop on, top pin telescopes",
        "captive plate, top pin put in afterwards",
        "captive plate, top pin telescopes",
        "captive plate, raised onto a fixed top pin",
        "drop on, fixed top pin",
    )
    methods.sort(key=lambda method: order.index(method.key))
    best = next((method for method in methods if method.feasible), None)
    return Hanging(best, tuple(methods), unseating(pins))


def unseating(pins: Pins) -> Unseating:
    """Return what is left of the pins in the leaf at full lift and at full drop [m].

    Full lift: until its top meets what is over it, which may itself have risen. Full drop: the
    leaf settled, the head risen. A leaf that was dropped on can be lifted off the same way, unless
    something keeps it down.
    """
    up = pins.headroom + pins.rise
    left = pins.bottom - up
    top = pins.top - pins.drop - pins.rise
    stop = left < pins.least and not pins.captured
    cautions = []
    if stop:
        cautions.append(
            "It can be lifted off its bottom pin: add a stop over the leaf, once it hangs, that "
            "leaves it no such lift."
        )
    if top < pins.least:
        cautions.append("The top pin can come out as things settle: make it longer.")
    return Unseating(left, top, stop, top < pins.least, tuple(cautions))


def hang_on_barrels(pins: BarrelPins) -> Hanging:
    """Return how a leaf is lifted onto the pins of its barrel hinges.

    It must be lifted over the pin that is in farthest; with the lowest pin the longest, one pin
    after the other finds its barrel.
    """
    longest = max(pins.engaged)
    together = len(pins.engaged) > 1 and pins.engaged.count(longest) > 1
    method = _method(
        "lift onto the hinge pins",
        pins.headroom,
        pins.margin,
        raised=longest + pins.lift,
        steps=(
            "Lift it over the pins, plumb.",
            "Start the longest pin, then the others; lower it evenly.",
        ),
        cautions=(
            "Tether it until every pin is in.",
            *(("All pins start at once: make one longer by half an inch.",) if together else ()),
        ),
    )
    up = pins.headroom + pins.rise
    left = min(pins.engaged) - up
    gone = left < pins.least
    cautions = (
        ("It can be lifted off its pins: add a stop over one barrel once it hangs.",)
        if gone
        else ()
    )
    off = Unseating(left, longest, gone, False, cautions)
    return Hanging(method if method.feasible else None, (method,), off)
