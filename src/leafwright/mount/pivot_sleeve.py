"""The sleeve in the hanging stile: the plug welds that hold it, and the wall that they hold on to.

The leaf's whole weight comes down by the plugs of the bottom sleeve. Half of them are taken to be
near each end, half of the sleeve's length L apart, and the pin's side force V as far off their
middle as the sleeve reaches; so a row carries sideways V/2 + (M + V L/2)/(L/2) = 1.5 V + 2 M/L
(statics).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.handbook import aws
from leafwright.handbook.aisc360 import LimitState, available, hss_joints, welds
from leafwright.handbook.aisc360.connecting import element_shear_rupture
from leafwright.handbook.aws import Size
from leafwright.handbook.sections import RECTANGULAR_TUBE
from leafwright.job.model import FloorPivot
from leafwright.mount.envelope import PinForce
from leafwright.mount.parts import (
    force,
    hanging_stile,
    made_check,
    moment,
    relied_on,
    size,
    stock_size,
    weld_metal,
)
from leafwright.mount.pivot_pin import Pin
from leafwright.mount.records import Mounting
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, Newtons, Verdict

SLEEVE_ASSUMPTIONS = (
    "each sleeve is held by plug welds through the stile's walls, half of them near either end; "
    "what presses a wall square on goes into it by the sleeve bearing there, and plugs carry shear",
    "a plug welded by the arc plug's rule is worked at 0.60 F_EXX on its effective circle, not by "
    "the sheet code's own strengths",
)


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to read a weld in a hole: what one carries [N], and whether its own rule lets it."""

    name: str
    strength: Newtons
    counts: bool
    why: str


def readings(m: Mounting, d: Metres, lines: Lines) -> tuple[Reading, ...]:
    """Return every reading of a weld in a hole through the stile's wall.

    A plug weld by AWS D1.1 and AISC 360-22, J2.3; an arc plug by AWS D1.3 where the wall is thin
    enough for it; a fillet round the hole with a leg as thick as the wall, J2.2a. None carries
    more than the wall round it, J4.2(b).

    Args:
        m: the leaf as it hangs.
        d: diameter of the hole [m].
        lines: where the formulas are kept.
    """
    stile = hanging_stile(m).section
    t = stile.nominal_wall
    F_EXX = weld_metal(m).value
    torn = lines.work(
        element_shear_rupture,
        F_u=stile.tensile_strength,
        A_nv=math.pi * d * stile.design_wall,
    )
    wall = lines.work(
        available, nominal=torn, limit_state=LimitState.ELEMENT_SHEAR_RUPTURE, method=m.method
    )

    def carried(area: float) -> Newtons:
        R_n = lines.work(welds.weld_shear, F_EXX=F_EXX, A_we=area)
        metal = lines.work(
            available, nominal=R_n, limit_state=LimitState.WELD_SHEAR, method=m.method
        )
        return min(float(metal), float(wall))

    metric = m.job.job.system == "metric"
    rule = aws.plug_hole_metric if metric else aws.plug_hole
    hole = lines.work(rule, t=t, d=d)
    plug = carried(float(lines.work(welds.plug_area, d=d)))
    limits = f"{size(m, hole.least)} to {size(m, hole.greatest)}"
    found = [
        Reading(
            "as a plug weld",
            plug,
            hole.size is Size.WITHIN,
            f"the hole is {hole.size.value} of {limits}"
            if hole.size is not Size.WITHIN
            else f"the hole is within {limits}",
        )
    ]
    if t <= aws.GREATEST_SHEET * (1.0 + 1e-9):
        arc = lines.work(aws.arc_plug, d=d, t=t)
        across = max(arc.effective_diameter, 0.0)
        least = lines.work(aws.arc_plug_diameter, t=t)
        found.append(
            Reading(
                "as an arc plug",
                carried(math.pi / 4.0 * across**2),
                arc.enough,
                f"{size(m, across)} across is weld, "
                + ("enough" if arc.enough else "too little to count")
                + f": the least is {size(m, arc.least)}, from a hole of {size(m, least)}",
            )
        )
    round_it = carried(float(lines.work(welds.fillet_in_hole_area, d=d, w=t)))
    found.append(
        Reading(
            "as a fillet round the hole", round_it, True, f"a leg of {size(m, t)}, the wall's own"
        )
    )
    return tuple(found)


def _row_force(given: PinForce, length: Metres) -> Newtons:
    """Return what a row of plugs carries sideways [N]; the module's first lines derive it."""
    return 1.5 * given.shear + 2.0 * given.moment / length


def _plug_force(given: PinForce, length: Metres, plugs: int) -> Newtons:
    """Return the greatest force on one of so many plugs [N]."""
    return math.hypot(given.axial / plugs, _row_force(given, length) / max(plugs / 2.0, 1.0))


def _sleeve_length(pin: Pin, mount: FloorPivot) -> Metres:
    """Return the sleeve's length, or where it is not given the least that grips the pin [m]."""
    return pin.grip if mount.sleeve_length is None else mount.sleeve_length.si


def sleeve_checks(m: Mounting, pin: Pin) -> tuple[tuple[Check, ...], list[Quantity]]:
    """Return the checks of how a sleeve is held in the stile, and the defaults they rest on."""
    mount = m.table.mount
    if not isinstance(mount, FloorPivot):
        return (), []
    stile = hanging_stile(m).section
    length = _sleeve_length(pin, mount)
    if stile.shape != RECTANGULAR_TUBE:
        return (_not_a_tube(m, pin, stile.shape),), []
    if length <= 0.0:
        # The pin does not reach into it: that is a check of its own, and short.
        return (), []
    hole = mount.plug_hole
    flat = min(stile.properties().flat_u, stile.properties().flat_v)
    if hole is not None and hole.si >= flat:
        key = f"{pin.at.end} sleeve/plugs"
        return (wide_hole(m, key, f"{pin.at.end} sleeve", hole.si),), []
    unknown = list(pin.unknown)
    usual = relied_on(m, "plug holes", "plug welds round a sleeve")
    plugs, lines = mount.plug_holes or int(usual.value), Lines()
    if mount.plug_hole is None:
        metric = m.job.job.system == "metric"
        rule = aws.plug_hole_metric if metric else aws.plug_hole
        d = rule(t=stile.nominal_wall, d=stile.nominal_wall).least
        unknown.insert(0, _plugs_wanted(m, pin, length, d, mount.plug_holes))
    else:
        d = mount.plug_hole.si
    if mount.plug_hole is not None and mount.plug_holes is None:
        unknown.insert(0, _plugs_wanted(m, pin, length, d, None))
    found = readings(m, d, lines)
    worst = max(pin.forces, key=lambda f: _plug_force(f, length, plugs))
    demand = _plug_force(worst, length, plugs)
    check = _plug_check(m, pin, worst, length, plugs, d, demand, found, unknown, lines)
    # A larger plug presses on more of the wall, so that the least one is on the safe side there.
    return (check, *_wall_checks(m, pin, length, d)), [
        weld_metal(m),
        *([] if mount.plug_holes else [usual]),
    ]


def wide_hole(m: Mounting, key: str, subject: str, d: Metres) -> Check:
    """Return the check, short, of a hole as wide as the flat of the stile's wall."""
    p = hanging_stile(m).section.properties()
    return made_check(
        m,
        key,
        subject,
        "does its hole leave the corners of the stile",
        clause="",
        demand=d,
        available=min(p.flat_u, p.flat_v),
        unit="m",
        case="",
        change="a smaller hole, or a wider stile",
        rule="the hole's diameter against the flat of the wall",
        lines=Lines(),
        document="geometry of the stile",
        tight_from=0.0,
    )


def _not_a_tube(m: Mounting, pin: Pin, shape: str) -> Check:
    """Return the question how a sleeve is held in a stile that is no rectangular tube."""
    worst = max(pin.forces, key=lambda f: math.hypot(f.axial, f.shear))
    return made_check(
        m,
        f"{pin.at.end} sleeve/plugs",
        f"{pin.at.end} sleeve",
        f"does the {shape} hold it",
        clause="",
        demand=math.hypot(worst.axial, worst.shear),
        available=None,
        unit="N",
        case=worst.words,
        change=f"a sleeve in a {shape} is not worked here: have an engineer answer, with "
        f"{force(m, worst.axial)} down, {force(m, worst.shear)} sideways and "
        f"{moment(m, worst.moment)}",
        rule="all that the pin gives the sleeve",
        lines=Lines(),
        document="statics",
    )


def _plugs_wanted(m: Mounting, pin: Pin, length: Metres, d: Metres, given: int | None) -> str:
    """Return how many plugs of a hole would hold, as what to write."""
    needs = "plug_hole and plug_holes, how many"
    strength = readings(m, d, Lines())[0].strength
    for plugs in (given,) if given else (2, 4, 6, 8, 12):
        if max(_plug_force(f, length, plugs) for f in pin.forces) <= 0.9 * strength:
            return f"give {needs}: {plugs} of {stock_size(m, d)} to each sleeve would do"
    return f"give {needs}: no number of {stock_size(m, d)} that fits would do"


def _plug_check(
    m: Mounting,
    pin: Pin,
    worst: PinForce,
    length: Metres,
    plugs: int,
    d: Metres,
    demand: Newtons,
    found: Sequence[Reading],
    unknown: Sequence[str],
    lines: Lines,
) -> Check:
    """Return the check of the plugs: by the plug's rule where the hole is within it.

    Where it is not, every reading is told and none is taken as right: tight where all of them
    hold, asked where they do not agree, short where none does.
    """
    told = "; ".join(f"{r.name} {force(m, r.strength)} ({r.why})" for r in found)
    plug = found[0]
    has, asked, tight_from = plug.strength, list(unknown), 0.9
    change = "more plugs, 4 of their diameters apart, or a longer sleeve"
    if not plug.counts:
        has = min(r.strength for r in found)
        most = max(r.strength for r in found)
        change = (
            f"a hole of {size(m, d)} is read in more ways than one: {told}. Say on the drawing "
            "which weld it is, and have whoever answers for the welding agree, or drill holes "
            "of the plug's own size"
        )
        tight_from = 0.0
        if demand > most:
            has = most
        elif demand > has:
            asked.append(change)
    check = made_check(
        m,
        f"{pin.at.end} sleeve/plugs",
        f"{pin.at.end} sleeve",
        "do the plug welds hold it in the stile",
        clause="J2.2a, J2.3, J2.4, J4.2(b)",
        demand=demand,
        available=has,
        unit="N",
        case=worst.words,
        change=change,
        rule=(
            f"on one of {plugs}: {force(m, worst.axial)} down on all of them, and 1.5 V + 2 M/L "
            f"sideways on half, V {force(m, worst.shear)}, M {moment(m, worst.moment)}, L "
            f"{size(m, length)}; a hole of {size(m, d)}: {told}"
        ),
        lines=lines,
        unknown=asked,
        tight_from=tight_from,
    )
    assert check.verdict is not Verdict.OK or plug.counts
    return check


def _wall_checks(m: Mounting, pin: Pin, length: Metres, d: Metres) -> tuple[Check, ...]:
    """Return the check of the stile's wall where a row of plugs presses or pulls it square on.

    As a branch no wider than one plug, J10.10 with the commentary's yield lines, and punching.
    """
    stile = hanging_stile(m).section
    lines = Lines()
    B = min(stile.width, stile.height)
    sizes = {"t": stile.design_wall, "B": B, "B_b": d, "l_b": d}
    bent = lines.work(hss_joints.face_plastification, F_y=stile.yield_stress, **sizes)
    punched = lines.work(hss_joints.face_punching, F_y=stile.yield_stress, **sizes)
    has = min(
        float(lines.work(available, nominal=nominal, limit_state=state, method=m.method))
        for nominal, state in (
            (bent, LimitState.FACE_PLASTIFICATION),
            (punched, LimitState.HSS_PUNCHING),
        )
    )
    rows = [_row_force(f, length) for f in pin.forces]
    worst = pin.forces[rows.index(max(rows))]
    return (
        made_check(
            m,
            f"{pin.at.end} sleeve/wall",
            f"hanging stile at the {pin.at.end} sleeve",
            "does its wall take what the sleeve presses it with",
            clause="J10.10 with commentary K1.2; J4.2(a)",
            demand=max(rows),
            available=has,
            unit="N",
            case=worst.words,
            change="a thicker stile, a longer sleeve, or a sleeve that fits the tube wall to wall",
            rule=(
                f"1.5 V + 2 M/L on one plug's width in the middle of a wall: V "
                f"{force(m, worst.shear)}, M {moment(m, worst.moment)}, L {size(m, length)}"
            ),
            lines=lines,
            unknown=pin.unknown,
        ),
    )
