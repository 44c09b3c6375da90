"""The welds that hold a hinge's halves on the stile and on the post, on the lever of the standoff.

Each half has two fillets along the tube, one up each side, at least the pin's diameter apart.
"""

from __future__ import annotations

from collections.abc import Sequence

from leafwright.chain import Quantity
from leafwright.handbook import weld_group
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.mount.hinge_loads import OnHinge, barrel_hinge, half_length, lever
from leafwright.mount.parts import PartSteel, made_check, size, stock_size, weld_metal
from leafwright.mount.records import Mounting
from leafwright.mount.weld_strength import (
    fillet_strength,
    least_leg,
    least_leg_check,
    tube_beside,
)
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, NewtonsPerMetre, Pascals

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
    # A half is thicker than the wall it is on, so that the wall is the thinner part.
    thicker = max(tube.nominal_wall or min(tube.width, tube.height) for tube in tubes)
    least = least_leg(m, thicker, Lines())
    lines = Lines()
    worst = max(every, key=lambda on: line_force(m, on, width, length, Lines()))
    demand = line_force(m, worst, width, length, lines)
    walls = [tube_beside(tube) for tube in tubes]
    leg = least if mount.weld is None else mount.weld.si
    has = fillet_strength(m, leg, metal.value, walls, lines, length=length)
    told = _would(m, demand, length, metal.value, least, walls)
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
        checks.append(least_leg_check(m, "hinge/weld size", _SUBJECT, leg, thicker))
    return tuple(checks), (metal,)


def _would(
    m: Mounting,
    demand: NewtonsPerMetre,
    length: Metres,
    F_EXX: Pascals,
    least: Metres,
    walls: Sequence[tuple[PartSteel, Metres]],
) -> str:
    """Return in words the least leg that would hold, or why none does at this length."""
    # A leg counts up to a quarter of its length; its strength grows with it.
    whole = fillet_strength(m, length / 4.0, F_EXX, (), Lines(), length=length)
    if demand > fillet_strength(m, 1.0, F_EXX, walls, Lines()):
        return "a longer weld, for the wall beside it is weaker than any weld of this length"
    if whole < demand:
        return "a longer weld, for no leg would do at this length"
    leg = max(least, length / 4.0 * demand / whole)
    return f"{stock_size(m, leg)}, {size(m, length)} long up each side, would do"
