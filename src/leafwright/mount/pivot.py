"""A floor pivot link by link: the pins, their welds and plate, the sleeves, the stile, the ball.

The leaf stands on a ball over a pin that is welded upright on a bottom plate. The pin sits in a
sleeve inside the hanging stile; at its head a loose pin on the top plate sits in a second sleeve.
Anchors, and what holds the top plate, are proved elsewhere from the same forces.
"""

from __future__ import annotations

from collections.abc import Iterable

from leafwright.chain import Quantity
from leafwright.handbook.sections import ROUND_TUBE
from leafwright.mount import envelope
from leafwright.mount.envelope import PinForce, floor_pivot, pin_envelope, pin_place
from leafwright.mount.parts import PartSteel, force, hanging_stile, moment, part_steel
from leafwright.mount.pivot_pin import Pin, pin_checks, pin_of, reach_checks
from leafwright.mount.pivot_seat import SEAT_ASSUMPTIONS, seat_checks
from leafwright.mount.pivot_sleeve import SLEEVE_ASSUMPTIONS, sleeve_checks
from leafwright.mount.pivot_slug import SLUG_ASSUMPTIONS, slug_checks
from leafwright.mount.pivot_stile import access_reach, hole_checks
from leafwright.mount.pivot_weld import WELD_ASSUMPTIONS, plate_checks, weld_checks
from leafwright.mount.records import Mounting, Proved

_SLEEVE_STEEL = (
    "a sleeve's steel has no key of its own: it is taken as the lowest common steel, and a sleeve "
    "of mechanical tube that promises no yield stress may be less",
)
_PLATE = (
    "the bottom plate is proved for bending, packed at its ends only; what it presses on, grout or "
    "concrete, and its anchors are proved apart",
)

CAUTIONS = (
    "Never let welding current go through a ball or a pin in its bore: clamp the return to the "
    "part that is welded.",
    "Hold the leaf's weight and tie its head before any pin, plug or plate of it is worked on.",
    "Weld before greasing, and never weld a closed sleeve or tube that may hold grease or water: "
    "it bursts.",
)


def _pin(m: Mounting, place: str) -> Pin:
    at = pin_place(m, place)
    return pin_of(m, at, pin_envelope(m, place), floor_pivot(m).pin_grade)


def _sleeve_steel(m: Mounting) -> PartSteel:
    wall = hanging_stile(m).section.nominal_wall
    return part_steel(m, "sleeves", "unknown", "", shape=ROUND_TUBE, thickness=wall)


def _once(defaults: Iterable[Quantity]) -> tuple[Quantity, ...]:
    """Return defaults each once, by key, in their order; what was typed is none."""
    used = {q.key: q for q in defaults if q.kind == "default"}
    return tuple(used.values())


def _told(m: Mounting, pin: Pin, what: str) -> str:
    """Return what a pin carries, as a sentence for the maker."""
    if not pin.forces:
        return ""
    side = max(pin.forces, key=lambda f: f.shear)
    down = max(pin.forces, key=lambda f: f.axial)
    gripped: PinForce = max(pin.forces, key=lambda f: f.moment)
    words = f"{what} of {m.who}: {force(m, side.shear)} sideways ({side.words})"
    if down.axial > 0.0:
        words += f", {force(m, down.axial)} down ({down.words})"
    if gripped.moment > 0.0:
        words += f", gripped with {moment(m, gripped.moment)} ({gripped.words})"
    else:
        words += ", and it does not bind in its bore"
    return words


def bottom_pivot(m: Mounting) -> Proved:
    """Return the proof of the bottom pivot: pin, weld, plate, sleeve and stile.

    Args:
        m: the leaf as it hangs on floor pivots.
    """
    pin, sleeve = _pin(m, m.pivots[0]), _sleeve_steel(m)
    welds, of_weld = weld_checks(m, pin)
    plates, of_plate = plate_checks(m, pin)
    sleeves, of_sleeve = sleeve_checks(m, pin)
    slugs, of_slug = slug_checks(m, pin, sleeve)
    holed = hole_checks(m)
    reach = [access_reach(m)] if holed else []
    return Proved(
        checks=(
            *reach_checks(m, pin),
            *pin_checks(m, pin, sleeve),
            *welds,
            *plates,
            *sleeves,
            *slugs,
            *holed,
        ),
        defaults=_once(
            [*pin.defaults, *sleeve.defaults, *of_weld, *of_plate, *of_sleeve, *of_slug, *reach]
        ),
        words=tuple(w for w in (_told(m, pin, "the bottom pin"),) if w),
        cautions=CAUTIONS,
        assumptions=(
            *envelope.ASSUMPTIONS,
            *WELD_ASSUMPTIONS,
            *SLEEVE_ASSUMPTIONS,
            *SLUG_ASSUMPTIONS,
            *_SLEEVE_STEEL,
            *_PLATE,
        ),
    )


def top_pivot(m: Mounting) -> Proved:
    """Return the proof of the top pivot: pin, its weld to the top plate, sleeve and stile's wall.

    Args:
        m: the leaf as it hangs on floor pivots.
    """
    pin, sleeve = _pin(m, m.pivots[-1]), _sleeve_steel(m)
    welds, of_weld = weld_checks(m, pin)
    sleeves, of_sleeve = sleeve_checks(m, pin)
    return Proved(
        checks=(*reach_checks(m, pin), *pin_checks(m, pin, sleeve), *welds, *sleeves),
        defaults=_once([*pin.defaults, *sleeve.defaults, *of_weld, *of_sleeve]),
        words=tuple(w for w in (_told(m, pin, "the top pin"),) if w),
        assumptions=(
            *envelope.ASSUMPTIONS,
            *WELD_ASSUMPTIONS,
            *SLEEVE_ASSUMPTIONS,
            *_SLEEVE_STEEL,
        ),
    )


def seat(m: Mounting) -> Proved:
    """Return the proof of the ball on its seats.

    Args:
        m: the leaf as it hangs on floor pivots.
    """
    pin = _pin(m, m.pivots[0])
    checks, defaults, told = seat_checks(m, pin)
    return Proved(
        checks=checks,
        defaults=_once([*pin.steel.defaults, *defaults]),
        words=(told,) if told else (),
        assumptions=SEAT_ASSUMPTIONS,
    )
