"""What each metre of a weld of the mount carries with the parts beside it, and its least leg."""

from __future__ import annotations

import math
from collections.abc import Sequence

from leafwright.handbook.aisc360 import LimitState, available, welds
from leafwright.handbook.aisc360.connecting import element_shear_rupture, element_shear_yielding
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.mount.parts import PartSteel, made_check, stock_size
from leafwright.mount.records import Mounting
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, NewtonsPerMetre, Pascals

#: Strengths are worked for a metre of weld [m].
ONE_METRE = 1.0


def weld_strength(
    m: Mounting,
    throat: Metres,
    F_EXX: Pascals,
    beside: Sequence[tuple[PartSteel, Metres]],
    lines: Lines,
) -> NewtonsPerMetre:
    """Return what each metre of a weld carries: its metal, or the weakest part beside it [N/m].

    AISC 360-22, J2.4 for the metal, J4.2 for the parts.

    Args:
        m: the leaf as it hangs: by which method.
        throat: effective throat of the weld [m].
        F_EXX: classification strength of its metal [Pa].
        beside: steel and thickness of each part that it joins [m]; none for the metal alone.
        lines: keeps how it was worked.
    """
    metal = lines.work(welds.weld_shear, F_EXX=F_EXX, A_we=throat * ONE_METRE)
    strengths = [(metal, LimitState.WELD_SHEAR)]
    for steel, t in beside:
        torn = lines.work(element_shear_rupture, F_u=steel.tensile_strength, A_nv=t * ONE_METRE)
        sheared = lines.work(element_shear_yielding, F_y=steel.yield_stress, A_gv=t * ONE_METRE)
        strengths += [
            (torn, LimitState.ELEMENT_SHEAR_RUPTURE),
            (sheared, LimitState.ELEMENT_SHEAR_YIELDING),
        ]
    return min(
        float(lines.work(available, nominal=float(nominal), limit_state=state, method=m.method))
        for nominal, state in strengths
    )


def fillet_strength(
    m: Mounting,
    leg: Metres,
    F_EXX: Pascals,
    beside: Sequence[tuple[PartSteel, Metres]],
    lines: Lines,
    *,
    length: Metres | None = None,
) -> NewtonsPerMetre:
    """Return what each metre of a fillet carries: its metal, or the weakest part beside it [N/m].

    Args:
        m: the leaf as it hangs: by which method.
        leg: of the fillet [m].
        F_EXX: classification strength of its metal [Pa].
        beside: steel and thickness of each part that it joins [m]; none for the metal alone.
        lines: keeps how it was worked.
        length: where it ends, so that no more of its leg counts than a quarter of that (J2.2b(c));
            None for one all round [m].
    """
    counted = leg
    if length is not None:
        counted = float(lines.work(welds.fillet_effective_size, w=leg, length=length))
    throat = lines.work(welds.fillet_throat, w_1=counted)
    return weld_strength(m, float(throat), F_EXX, beside, lines)


def tube_beside(tube: CatalogueSection) -> tuple[PartSteel, Metres]:
    """Return a tube as a part beside a weld: its steel and its design wall [m]."""
    steel = PartSteel(tube.grade.name, tube.yield_stress, tube.tensile_strength, "", ())
    return steel, tube.design_wall or min(tube.width, tube.height)


def least_leg(m: Mounting, thinner: Metres, lines: Lines) -> Metres:
    """Return the least leg of a fillet by the thinner part that it joins [m]: Table J2.4."""
    metric = m.job.job.system == "metric"
    return float(lines.work(welds.minimum_fillet, thinner=thinner, metric=metric))


def least_leg_check(m: Mounting, key: str, subject: str, leg: Metres, thinner: Metres) -> Check:
    """Return whether a fillet is as large as the parts that it joins ask for.

    Args:
        m: the leaf as it hangs.
        key: of the check.
        subject: what it is about, in the maker's words.
        leg: of the fillet [m].
        thinner: thickness of the thinner part joined [m].
    """
    lines = Lines()
    least = least_leg(m, thinner, lines)
    return made_check(
        m,
        key,
        subject,
        "is the fillet as large as the parts that it joins ask for",
        clause="J2.2b, Table J2.4",
        demand=least,
        available=leg,
        unit="m",
        case="",
        change=f"a fillet of {stock_size(m, least)} or more",
        rule="least leg by the thickness of the thinner part joined",
        lines=lines,
        # As large as the table asks for is enough.
        tight_from=math.inf,
    )
