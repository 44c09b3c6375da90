"""The welds that hold a hinge's halves on the stile and on the post, on the lever of the standoff.

Each half has two fillets along the tube, one up each side, at least the pin's diameter apart.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from leafwright.chain import Quantity
from leafwright.handbook import weld_group
from leafwright.handbook.aisc360 import LimitState, available, connecting, welds
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.mount.hinge_loads import OnHinge, barrel_hinge, half_length, lever
from leafwright.mount.parts import made_check, size, stock_size, weld_metal
from leafwright.mount.records import Mounting
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, NewtonsPerMetre, Pascals

#: A metre of weld: strengths here are for each metre.
ONE_METRE = 1.0

_SUBJECT = "hinge welds"
_QUESTION = "do they hold each half on stile and post"
_CLAUSE = "J2.4, Eq. J2-3, Table J2.5; J4.2"


def weld_length(m: Mounting) -> Metres:
    """Return how long the welds of each half are [m]: as given, or as long as the half."""
    given = barrel_hinge(m).weld_length
    return given.si if given is not None else half_length(m).value


def line_force(
    m: Mounting, on: OnHinge, width: Metres, length: Metres, lines: Lines
) -> NewtonsPerMetre:
    """Return the greatest force on each length of a half's two welds [N/m].

    The greater of the leaf's side and the post's, which what a bound pin passes on tells apart.

    Args:
        m: the leaf as it hangs.
        on: one hinge's force in one case.
        width: between the two welds [m].
        length: of each [m].
        lines: keeps the formula.
    """
    x, y = width / 2.0, length / 2.0
    pair = (((-x, -y), (-x, y)), ((x, -y), (x, y)))
    f, e = on.force, lever(m)
    m_across, m_out = f.bound
    sides = (
        ((f.across, f.up, f.out), e, (m_across, f.m_up, m_out)),
        ((-f.across, -f.up, -f.out), -e, (-m_across, -f.m_up, -m_out)),
    )
    push, at, moment = max(
        sides,
        key=lambda side: (
            weld_group.greatest_line_force(
                pair, side[0], (0.0, 0.0, side[1]), moment=side[2]
            ).resultant
        ),
    )
    return lines.work(
        weld_group.greatest_line_force, lines=pair, force=push, at=(0.0, 0.0, at), moment=moment
    ).resultant


def weld_checks(
    m: Mounting, every: Sequence[OnHinge], tubes: Sequence[CatalogueSection]
) -> tuple[tuple[Check, ...], tuple[Quantity, ...]]:
    """Return whether the welds of a leaf's hinges hold, on both sides; and what was taken.

    Args:
        m: the leaf as it hangs.
        every: every hinge's force in every case.
        tubes: what the halves are welded to: the stile, and the post where it is known.
    """
    mount, length, metal = barrel_hinge(m), weld_length(m), weld_metal(m)
    if mount.pin_diameter is None:
        worst = max(every, key=lambda on: on.force.on_pin)
        asked = made_check(
            m,
            "hinge/weld",
            _SUBJECT,
            _QUESTION,
            clause=_CLAUSE,
            demand=worst.force.on_pin,
            available=None,
            unit="N",
            case=worst.words(m),
            change="",
            rule="",
            lines=Lines(),
            unknown=("give pin_diameter, as measured: the welds stand that far apart",),
        )
        return (asked,), ()
    width = mount.pin_diameter.si
    metric = m.job.job.system == "metric"
    # A half is thicker than the wall it is on, so that the wall is the thinner part.
    thicker = max(_thickness(tube, design=False) for tube in tubes)
    least = welds.minimum_fillet(thicker, metric=metric)
    lines = Lines()
    worst = max(every, key=lambda on: line_force(m, on, width, length, Lines()))
    demand = line_force(m, worst, width, length, lines)
    beside = min(_wall_strength(m, tube, Lines()) for tube in tubes)
    weakest = min(tubes, key=lambda tube: _wall_strength(m, tube, Lines()))
    leg = least if mount.weld is None else mount.weld.si
    has = min(_weld_strength(m, leg, length, metal.value, lines), _wall_strength(m, weakest, lines))
    told = _would(m, demand, length, metal.value, least, beside)
    unknown = () if mount.weld is not None else (f"give weld, the leg of the fillets: {told}",)
    checks = [
        made_check(
            m,
            "hinge/weld",
            _SUBJECT,
            _QUESTION,
            clause=_CLAUSE,
            demand=demand,
            available=has,
            unit="N/m",
            case=worst.words(m),
            change=f"{told}; or less standoff",
            rule=f"greatest force on each length of two fillets {size(m, length)} long and "
            f"{size(m, width)} apart, worked as lines, the pin {size(m, lever(m))} off the wall; "
            f"a leg of {size(m, leg)}{', the least by Table J2.4,' if unknown else ''} in metal "
            "of 70 ksi, or the wall beside it",
            lines=lines,
            unknown=unknown,
        )
    ]
    if mount.weld is not None:
        checks.append(_size_check(m, leg, thicker))
    return tuple(checks), (metal,)


def _thickness(tube: CatalogueSection, *, design: bool) -> Metres:
    wall = tube.design_wall if design else tube.nominal_wall
    return wall or min(tube.width, tube.height)


def _wall_strength(m: Mounting, tube: CatalogueSection, lines: Lines) -> NewtonsPerMetre:
    """Return what a wall may have in shear beside each length of weld [N/m]."""
    A = _thickness(tube, design=True) * ONE_METRE
    sheared = lines.work(connecting.element_shear_yielding, F_y=tube.yield_stress, A_gv=A)
    torn = lines.work(connecting.element_shear_rupture, F_u=tube.tensile_strength, A_nv=A)
    return min(
        float(available(sheared, LimitState.ELEMENT_SHEAR_YIELDING, m.method)),
        float(available(torn, LimitState.ELEMENT_SHEAR_RUPTURE, m.method)),
    )


def _weld_strength(
    m: Mounting, w: Metres, length: Metres, F_EXX: Pascals, lines: Lines
) -> NewtonsPerMetre:
    """Return what a fillet may have on each length, whichever way the force comes [N/m]."""
    counted = lines.work(welds.fillet_effective_size, w=w, length=length)
    throat = lines.work(welds.fillet_throat, w_1=counted)
    R_n = lines.work(welds.weld_shear, F_EXX=F_EXX, A_we=throat * ONE_METRE)
    return float(available(R_n, LimitState.WELD_SHEAR, m.method))


def _would(
    m: Mounting,
    demand: NewtonsPerMetre,
    length: Metres,
    F_EXX: Pascals,
    least: Metres,
    beside: NewtonsPerMetre,
) -> str:
    """Return in words the least leg that would hold, or why none does at this length."""
    if beside < demand:
        return "a longer weld, for the wall beside it is weaker than any weld of this length"
    # A leg counts up to a quarter of its length; its strength grows with it.
    whole = _weld_strength(m, length / 4.0, length, F_EXX, Lines())
    if whole < demand:
        return "a longer weld, for no leg would do at this length"
    leg = max(least, length / 4.0 * demand / whole)
    return f"{stock_size(m, leg)}, {size(m, length)} long up each side, would do"


def _size_check(m: Mounting, leg: Metres, wall: Metres) -> Check:
    lines = Lines()
    metric = m.job.job.system == "metric"
    least = lines.work(welds.minimum_fillet, thinner=wall, metric=metric)
    return made_check(
        m,
        "hinge/weld size",
        _SUBJECT,
        "are they as large as so thick a wall asks for",
        clause="J2.2b, Table J2.4",
        demand=least,
        available=leg,
        unit="m",
        case="",
        change=f"a fillet of {stock_size(m, least)} or more",
        rule="least leg by the thickness of the wall, the thinner part joined",
        lines=lines,
        # As large as the table asks for is enough.
        tight_from=math.inf,
    )
