"""The weld of a pin to its plate, and the bottom plate that it bends."""

from __future__ import annotations

import math

from leafwright.chain import Quantity
from leafwright.handbook.aisc360 import LimitState, available
from leafwright.handbook.aisc360.bending import bending_rectangular_bar
from leafwright.handbook.sections import FLAT_BAR
from leafwright.handbook.weld_group import ring_greatest_force
from leafwright.job.defaults import chosen
from leafwright.job.model import Plate
from leafwright.mount.envelope import PinForce
from leafwright.mount.parts import (
    PartSteel,
    force,
    made_check,
    moment,
    part_steel,
    size,
    stock_size,
    stress,
    weld_metal,
)
from leafwright.mount.pivot_pin import Pin
from leafwright.mount.records import Mounting
from leafwright.mount.weld_strength import fillet_strength, least_leg, least_leg_check
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, NewtonsPerMetre

WELD_ASSUMPTIONS = (
    "pins are welded to their plates all round with a fillet; what presses down on a pin goes "
    "through its weld, as though the pin did not touch the plate",
    "fatigue is not worked: the load on a pin turns with the leaf, and AISC 360-22, appendix 3, "
    "asks for it from 20,000 turnings on, some two a day for 25 years; ask where it is opened "
    "oftener and a pin or weld uses much of its strength",
)


def plate_steel(m: Mounting, plate: Plate | None, which: str, thickness: Metres) -> PartSteel:
    """Return the steel of a pivot's plate.

    Args:
        m: the leaf as it hangs.
        plate: as the job has it.
        which: ``bottom`` or ``top``.
        thickness: of the plate [m].
    """
    grade = plate.grade if plate is not None else "unknown"
    where = "plate.grade" if which == "bottom" else "top_plate.grade"
    return part_steel(m, f"{which} plate", grade, where, shape=FLAT_BAR, thickness=thickness)


def plate_thickness(m: Mounting, plate: Plate | None, which: str) -> tuple[Metres, list[Quantity]]:
    """Return a plate's thickness [m], with the default it rests on where it is not given."""
    # The doorway takes the same default for the bottom plate, under the same key.
    key = f"{m.key}/plate" if which == "bottom" else f"{m.key}/top plate"
    found = chosen(
        plate.thickness if plate is not None else None,
        "pivot plate",
        key,
        "pivot plate" if which == "bottom" else "top pivot plate",
        system=m.job.job.system,
    )
    return found.value, [found] if found.kind == "default" else []


def _weld_force(pin: Pin, radius: Metres, given: PinForce, lines: Lines) -> NewtonsPerMetre:
    return lines.work(
        ring_greatest_force,
        r=radius,
        shear=given.shear,
        pull=abs(given.axial),
        bending=pin.at_plate(given),
        twist=0.0,
    )


def weld_checks(m: Mounting, pin: Pin) -> tuple[tuple[Check, ...], list[Quantity]]:
    """Return the checks of a pin's weld to its plate, and the defaults they rest on.

    Without a leg the least that would do is told; nothing can be said without the pin's diameter.
    """
    mount = m.table.mount
    if mount.kind != "floor pivot" or pin.at.diameter is None:
        return (), []
    which = pin.at.end
    plate = mount.plate if which == "bottom" else mount.top_plate
    t, defaults = plate_thickness(m, plate, which)
    steel = plate_steel(m, plate, which, t)
    metal = weld_metal(m)
    defaults += [*steel.defaults, metal]
    lines = Lines()
    radius = pin.at.diameter / 2.0
    worst = max(pin.forces, key=lambda f: _weld_force(pin, radius, f, Lines()))
    demand = _weld_force(pin, radius, worst, lines)
    thinner = min(t, pin.at.diameter)
    least = least_leg(m, thinner, lines)
    typed = mount.pin_weld
    leg = least if typed is None else typed.si
    has = fillet_strength(m, leg, metal.value, ((steel, t),), lines)
    # The metal's strength grows with the leg, the plate's does not.
    alone = fillet_strength(m, leg, metal.value, (), Lines())
    wanted = max(least, leg * demand / alone)
    told = f"a fillet of {stock_size(m, wanted)} or more all round"
    beside = fillet_strength(m, 1.0, metal.value, ((steel, t),), Lines())
    if demand > beside:
        told = "a thicker plate: it is weaker than any weld on it"
    # No plate is softer than the lowest common one, so its steel matters where it governs only.
    unknown = [*pin.unknown, steel.unknown if has < alone * (1.0 - 1e-9) else ""]
    if typed is None:
        unknown.insert(0, f"give pin_weld, the leg of the fillet: {told} would do")
    checks = [
        made_check(
            m,
            f"{pin.name}/weld",
            pin.name,
            "does its weld to the plate hold",
            clause="J2.4, Eq. J2-3, Table J2.5; J4.2",
            demand=demand,
            available=has,
            unit="N/m",
            case=worst.words,
            change=f"{told}, or a thicker pin",
            rule=(
                f"greatest force on each length of a ring: {force(m, worst.shear)} across, "
                f"{force(m, abs(worst.axial))} along the pin and {moment(m, pin.at_plate(worst))} "
                f"bending, worked as lines; a fillet of {size(m, leg)}"
                f"{', the least by Table J2.4,' if typed is None else ''} in metal of "
                f"{stress(m, metal.value)}, or "
                f"{size(m, t)} of plate in {steel.words} beside it"
            ),
            lines=lines,
            unknown=unknown,
        )
    ]
    if typed is not None:
        checks.append(least_leg_check(m, f"{pin.name}/weld size", pin.name, leg, thinner))
    return tuple(checks), defaults


def plate_checks(m: Mounting, pin: Pin) -> tuple[tuple[Check, ...], list[Quantity]]:
    """Return the check of the bottom plate in bending, and the defaults it rests on.

    The pin stands in the middle. The plate is taken as packed or held at its two ends only, the
    worst that grout or shims do: P l/4 from what stands on it, and half of what tips the pin on
    either side (statics). Of its width counts no more than its length, and no more than π d: round
    a pin of diameter d the plate folds in a fan, which holds 2 π m_p d (yield lines).
    """
    mount = m.table.mount
    if mount.kind != "floor pivot":
        return (), []
    plate = mount.plate
    t, defaults = plate_thickness(m, plate, "bottom")
    steel = plate_steel(m, plate, "bottom", t)
    defaults += list(steel.defaults)
    unknown = [*pin.unknown, steel.unknown]
    question = "is the plate thick enough to take what tips the pin"
    clause = "F11.1, Eq. F11-1 (J4.5)"
    if plate is None or pin.at.diameter is None:
        worst = max(pin.forces, key=pin.at_plate)
        if plate is None:
            unknown.insert(0, "give plate = { thickness = …, width = …, length = … }")
        check = made_check(
            m,
            "bottom plate/bending",
            "bottom plate",
            question,
            clause=clause,
            demand=pin.at_plate(worst),
            available=None,
            unit="N m",
            case=worst.words,
            change="",
            rule=f"what tips the pin, with {force(m, worst.axial)} down on it",
            lines=Lines(),
            unknown=unknown,
        )
        return (check,), defaults
    found = []
    for along, across in ((plate.length.si, plate.width.si), (plate.width.si, plate.length.si)):
        lines = Lines()
        width = min(across, along, math.pi * pin.at.diameter)
        M_n = lines.work(bending_rectangular_bar, F_y=steel.yield_stress, d=t, t=width, L_b=0.0)
        has = lines.work(available, nominal=M_n, limit_state=LimitState.BENDING, method=m.method)
        bent = [max(f.axial, 0.0) * along / 4.0 + pin.at_plate(f) / 2.0 for f in pin.forces]
        found.append((max(bent) / float(has), along, width, max(bent), float(has), lines, bent))
    ratio, along, width, demand, has, lines, bent = max(found, key=lambda f: f[0])
    worst = pin.forces[bent.index(demand)]
    check = made_check(
        m,
        "bottom plate/bending",
        "bottom plate",
        question,
        clause=clause,
        demand=demand,
        available=has,
        unit="N m",
        case=worst.words,
        change=f"a plate of {stock_size(m, t * math.sqrt(ratio))} or more, or a shorter pin",
        rule=(
            f"P l/4 + M/2: {force(m, worst.axial)} on a plate packed at its ends "
            f"{size(m, along)} apart, and half of {moment(m, pin.at_plate(worst))}; "
            f"{size(m, width)} of its width, {size(m, t)} thick in {steel.words}"
        ),
        lines=lines,
        unknown=unknown,
    )
    return (check,), defaults
