"""What each metre of a weld of the mount carries, with the parts beside it."""

from __future__ import annotations

from collections.abc import Sequence

from leafwright.handbook.aisc360 import LimitState, available, welds
from leafwright.handbook.aisc360.connecting import element_shear_rupture, element_shear_yielding
from leafwright.mount.parts import PartSteel
from leafwright.mount.records import Mounting
from leafwright.proof.working import Lines
from leafwright.records import Metres, NewtonsPerMetre, Pascals

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
