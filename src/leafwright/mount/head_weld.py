"""A welded top plate: the fillets along its long edges; and the top plate itself, bent by its pin.

The welds are worked as lines (`weld_group`), without any gain for their direction.
"""

from __future__ import annotations

import math

from leafwright.chain import Quantity
from leafwright.handbook import weld_group
from leafwright.handbook.aisc360 import LimitState, available, welds
from leafwright.handbook.aisc360.bending import bending_rectangular_bar
from leafwright.mount.carrier import Carrier
from leafwright.mount.head_bolts import SUBJECT
from leafwright.mount.head_loads import TopPlate
from leafwright.mount.parts import (
    force,
    made_check,
    moment,
    size,
    stock_size,
    stress,
    weld_metal,
)
from leafwright.mount.plate_loads import PlateLoad
from leafwright.mount.records import Mounting
from leafwright.mount.weld_strength import fillet_strength, least_leg, least_leg_check
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, NewtonsPerMetre, Point2, Radians


def weld_checks(
    m: Mounting, plate: TopPlate, carrier: Carrier, leg: Metres | None
) -> tuple[tuple[Check, ...], tuple[Quantity, ...]]:
    """Return the checks of the fillets that hold the top plate, and the defaults they rest on.

    Args:
        m: the leaf as it hangs.
        plate: the top plate.
        carrier: what it is welded to.
        leg: of the fillets [m]; None takes the least by Table J2.4 and asks.
    """
    metal, steel = weld_metal(m), carrier.steel
    if steel is None:
        return (), ()
    thinner = min(plate.thickness, carrier.thickness)
    least = least_leg(m, thinner, Lines())
    taken = least if leg is None else leg
    half = min(plate.width, carrier.width) / 2.0
    group = tuple(((-plate.length / 2.0, y), (plate.length / 2.0, y)) for y in (-half, half))
    worst, way = max(
        ((load, way) for load in plate.loads for way in _ways(plate.length, 2.0 * half)),
        key=lambda each: _line_force(group, each[0], each[1], Lines()),
    )
    lines = Lines()
    demand = _line_force(group, worst, way, lines)
    has = fillet_strength(
        m, taken, metal.value, ((plate.steel, plate.thickness), (steel, carrier.thickness)), lines
    )
    wanted = max(least, taken * demand / has)
    ask = "" if leg is not None else f"give top_weld: a fillet of {stock_size(m, wanted)} would do"
    lengths = f"{size(m, plate.length)} along both long edges, {size(m, 2.0 * half)} apart"
    found = [
        made_check(
            m,
            "head/weld",
            SUBJECT,
            "do the top plate's welds hold",
            clause="J2.4, Eq. J2-3, Table J2.5; J4.2",
            demand=demand,
            available=has,
            unit="N/m",
            case=worst.case,
            change=f"fillets of {stock_size(m, wanted)}, a longer or wider top plate, or bolts",
            rule=(
                f"greatest force on each length of two fillets, {lengths}: "
                f"{force(m, worst.shear)} across and {moment(m, worst.moment)}; a fillet of "
                f"{size(m, taken)} in metal of {stress(m, metal.value)}, or the steel beside it"
            ),
            lines=lines,
            unknown=(
                ask,
                plate.steel.unknown,
                steel.unknown,
                *plate.pin.unknown,
                _in_corner(m, plate, carrier),
            ),
        )
    ]
    if leg is not None:
        found.append(least_leg_check(m, "head/weld size", SUBJECT, leg, thinner))
        along = _edge_welded(plate, carrier)
        found += [] if along is None else [_edge_check(m, leg, along)]
    return tuple(found), (metal, *plate.steel.defaults, *steel.defaults)


def _in_corner(m: Mounting, plate: TopPlate, carrier: Carrier) -> str:
    """Return what to bring where the fillets would run into a tube's rounded corners, else ''."""
    if carrier.section is None:
        return ""
    flat = carrier.width - 2.0 * carrier.section.nominal_radii()[0]
    if plate.width <= flat:
        return ""
    return (
        f"the top plate is wider than the transom's flat, {size(m, flat)}, so that its welds run "
        "into rounded corners, where the throat is not known: make the plate narrower, or cut a "
        "trial weld and have it looked at"
    )


def _edge_welded(plate: TopPlate, carrier: Carrier) -> Metres | None:
    """Return the thickness of the edge that the fillets run along [m]; None where it is none."""
    if plate.width <= carrier.width:
        return plate.thickness
    return carrier.thickness if carrier.beam is not None else None


def _ways(length: Metres, width: Metres) -> tuple[Radians, ...]:
    corner = math.atan2(width, length)
    return (0.0, corner, math.pi / 2.0 - corner, math.pi / 2.0)


def _line_force(
    group: tuple[tuple[Point2, Point2], ...], load: PlateLoad, way: Radians, lines: Lines
) -> NewtonsPerMetre:
    c, s = math.cos(way), math.sin(way)
    found = lines.work(
        weld_group.greatest_line_force,
        lines=group,
        force=(load.shear * c, load.shear * s, min(load.least_press, 0.0)),
        at=(0.0, 0.0, 0.0),
        moment=(-load.moment * s, load.moment * c, 0.0),
    )
    return found.resultant


def _edge_check(m: Mounting, leg: Metres, edge: Metres) -> Check:
    """Return whether a fillet is not larger than the edge that it runs along."""
    lines = Lines()
    metric = m.job.job.system == "metric"
    most = float(lines.work(welds.maximum_fillet, edge=edge, metric=metric))
    return made_check(
        m,
        "head/weld edge",
        SUBJECT,
        "is the fillet no larger than the edge it runs along",
        clause="J2.2b(b)",
        demand=leg,
        available=most,
        unit="m",
        case="",
        change=f"a fillet of {size(m, most)} or less, or a thicker plate",
        rule="greatest leg by the thickness of that edge",
        lines=lines,
        tight_from=math.inf,
    )


def plate_check(m: Mounting, plate: TopPlate, held: tuple[Metres, Metres]) -> Check:
    """Return whether the top plate stands what its pin bends it with.

    Held at x to either side, each side takes M/2 at the pin's middle and M/2 (1 − r/x) at its face
    (statics). No more of the width counts than π d, in which the plate folds round the pin in a
    fan (yield lines), as for the bottom plate.

    Args:
        m: the leaf as it hangs.
        plate: the top plate.
        held: how far out from the pin it is held, along its length and across [m].
    """
    load, found = plate.tipped, []
    for out, wide in zip(held, (plate.width, plate.length), strict=True):
        lines = Lines()
        width = min(wide, 2.0 * math.pi * plate.radius) if plate.radius > 0.0 else wide
        bent = load.moment / 2.0 * max(1.0 - plate.radius / out, 0.0)
        M_n = lines.work(
            bending_rectangular_bar,
            F_y=plate.steel.yield_stress,
            d=plate.thickness,
            t=width,
            L_b=0.0,
        )
        has = lines.work(available, nominal=M_n, limit_state=LimitState.BENDING, method=m.method)
        found.append((bent / float(has), bent, float(has), width, out, lines))
    ratio, demand, held_with, width, out, lines = max(found, key=lambda each: each[0])
    wanted = plate.thickness * math.sqrt(max(ratio, 1.0))
    return made_check(
        m,
        "head/plate",
        "top plate",
        "is the top plate thick enough for what tips its pin",
        clause="F11.1, Eq. F11-1 (J4.5)",
        demand=demand,
        available=held_with,
        unit="N m",
        case=load.case,
        change=f"a plate of {stock_size(m, wanted)} or more, or a shorter pin",
        rule=(
            f"M/2 (1 − r/x): half of {moment(m, load.moment)} on either side, at the pin's face, "
            f"the plate being held {size(m, out)} out; {size(m, width)} of its width, "
            f"{size(m, plate.thickness)} thick in {plate.steel.words}"
        ),
        lines=lines,
        unknown=(plate.steel.unknown, *plate.pin.unknown),
    )
