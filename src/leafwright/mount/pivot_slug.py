"""The weld of the slug in its sleeve: all that stands on the ball comes down through it.

The slug closes the upper end of the bottom sleeve, flush with it, and rests on the ball: the leaf
hangs on the sleeve by its plugs, the sleeve on the slug by a bevel groove round the slug's top.
What pushes the pin sideways the sleeve gives it straight; the slug takes what presses down.
"""

from __future__ import annotations

import math

from leafwright.chain import Quantity
from leafwright.handbook.aisc360 import welds
from leafwright.handbook.weld_group import ring_greatest_force
from leafwright.mount.envelope import PinForce, floor_pivot
from leafwright.mount.parts import (
    PartSteel,
    force,
    made_check,
    size,
    stock_size,
    stress,
    weld_metal,
)
from leafwright.mount.pivot_pin import Pin
from leafwright.mount.records import Mounting
from leafwright.mount.weld_strength import weld_strength
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, NewtonsPerMetre

SLUG_ASSUMPTIONS = (
    "the slug is held by a bevel groove round its top, all round, worked as a line on the sleeve's "
    "bore; slug_weld is the throat that it leaves, not the depth of the bevel; that the slug fits "
    "tight, and that the ball turns under it, give it nothing and take nothing",
)


def slug_checks(
    m: Mounting, pin: Pin, steel: PartSteel
) -> tuple[tuple[Check, ...], list[Quantity]]:
    """Return the checks of the slug's weld in its sleeve, and the defaults they rest on.

    Partial penetration in shear by ANSI/AISC 360-22, J2.4 with Table J2.5, the sleeve's wall and
    the slug beside it by J4.2. Without a throat the least that would do is told.

    Args:
        m: the leaf as it hangs.
        pin: the bottom one, with what stands on it.
        steel: of the sleeve, and taken for the slug.
    """
    mount = floor_pivot(m)
    if pin.at.bore is None or not pin.forces:
        return (), []
    metal, metric = weld_metal(m), m.job.job.system == "metric"
    wall = None
    if mount.sleeve_outside is not None and mount.sleeve_outside.si > pin.at.bore:
        wall = (mount.sleeve_outside.si - pin.at.bore) / 2.0
    worst = max(pin.forces, key=lambda f: f.axial)
    lines = Lines()
    demand = _line_force(pin.at.bore / 2.0, worst, lines)
    least = (
        float(lines.work(welds.minimum_groove_throat, thinner=wall or 0.0, metric=metric))
        if (wall)
        else 0.0
    )
    typed = mount.slug_weld
    unknown = [*pin.unknown]
    if wall is None:
        unknown.append("give sleeve_outside, over the sleeve's bore: it says how thick its wall is")
    throat = least if typed is None else typed.si
    has = (
        weld_strength(m, throat, metal.value, ((steel, wall),), lines) if wall and throat else None
    )
    change = "a deeper bevel, a sleeve with more wall, or a pin across slug and sleeve"
    if wall:
        one = weld_strength(m, wall, metal.value, (), Lines())
        wanted = max(least, wall * demand / one)
        change = f"a throat of {stock_size(m, wanted)} or more all round"
        if demand > weld_strength(m, wall, metal.value, ((steel, wall),), Lines()):
            change = "a sleeve with more wall: it is weaker than what the slug asks of it"
        if typed is not None and typed.si > wall * (1.0 + 1e-9):
            unknown.append(
                f"a throat of {size(m, typed.si)} is deeper than the sleeve's wall, "
                f"{size(m, wall)}, which it would burn through: give less"
            )
    if typed is None:
        unknown.insert(0, f"give slug_weld, the throat of its groove: {change} would do")
    checks = [
        made_check(
            m,
            "bottom slug/weld",
            "bottom slug",
            "does its weld in the sleeve carry what stands on the ball",
            clause="J2.4, Eq. J2-3, Table J2.5; J4.2",
            demand=demand,
            available=has,
            unit="N/m",
            case=worst.words,
            change=change,
            rule=(
                f"on each length of a ring as wide as the bore, {size(m, pin.at.bore)}: "
                f"{force(m, max(worst.axial, 0.0))} down through it; "
                + (
                    "no throat to work with"
                    if not throat
                    else f"a throat of {size(m, throat)}"
                    f"{', the least by Table J2.3,' if typed is None else ''} in metal of "
                    f"{stress(m, metal.value)}, or {size(m, wall or 0.0)} of sleeve in "
                    f"{steel.words} beside it"
                )
            ),
            lines=lines,
            unknown=unknown,
        )
    ]
    if typed is not None and wall is not None:
        lines = Lines()
        lines.work(welds.minimum_groove_throat, thinner=wall, metric=metric)
        checks.append(
            made_check(
                m,
                "bottom slug/weld size",
                "bottom slug",
                "is the groove as deep as so thick a wall asks for",
                clause="J2.1b, Table J2.3",
                demand=least,
                available=typed.si,
                unit="m",
                case="",
                change=f"a throat of {stock_size(m, least)} or more",
                rule="least throat by the thickness of the thinner part joined, the sleeve's wall",
                lines=lines,
                # As large as the table asks for is enough.
                tight_from=math.inf,
            )
        )
    return tuple(checks), [metal]


def _line_force(radius: Metres, given: PinForce, lines: Lines) -> NewtonsPerMetre:
    """Return the force on each length of the ring by what presses down [N/m]."""
    return lines.work(
        ring_greatest_force,
        r=radius,
        shear=0.0,
        pull=max(given.axial, 0.0),
        bending=0.0,
        twist=0.0,
    )
