"""Solid round pins that join two parts: bending between the parts, and shear with it.

ANSI/AISC 360-22 has no clause for a pin itself (D5 is for the plates it holds): its strength is
that of a round bar, `aisc360.bending` and `aisc360.connecting`. EN 1993-1-8:2005, 3.13, has one
for both together: its Table 3.10 was read in a public extract.
"""

from __future__ import annotations

import math
from typing import Annotated

from leafwright.handbook._given import require_not_negative, require_positive
from leafwright.records import NewtonMetres, Number, Unit


def half_barrel_moment(F: float, length: float) -> NewtonMetres:
    """Return the moment in a hinge pin where its two halves meet [N m].

    Statics: F length/2. The pin sits tight in one half, and the other's force is spread evenly
    over it; common practice, no source. EN 1993-1-8 gives no lap of two parts.

    F: force across the pin [N].
    length: of the half that pushes on it [m].
    Raises ValueError for a negative force or a length at or below 0. Limits: halves that touch; a
    gap between them adds F times the gap.
    """
    require_not_negative("the force", F, "N")
    require_positive("the length", length, "m")
    return F * length / 2.0


def pin_stiffness(length: float, d: float, E: float) -> Annotated[float, Unit("N m/rad")]:
    """Return how stiffly a hinge pin holds its two halves in line [N m/rad].

    Roark's Formulas, Table 8.1 case 3e (case number from memory): a beam held at both ends turns
    by M L/(3 EI) where M is put on its end; the pin is held so at the two ends of each half, and
    M goes from one half to the other: 3 EI/(2 L).

    length: of each half [m].
    d: diameter [m].
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0. Limits: the pin alone; barrels, welds and walls
    give besides.
    """
    require_positive("the length", length, "m")
    require_positive("the pin's diameter", d, "m")
    require_positive("the modulus", E, "Pa")
    inertia = math.pi * d**4 / 64.0
    return 3.0 * E * inertia / (2.0 * length)


def pin_interaction(M_over_M: float, V_over_V: float) -> Number:
    """Return the use of a pin under bending and shear at one place [-]; 1.0 is full.

    EN 1993-1-8:2005, Table 3.10: (M_Ed/M_Rd)² + (F_v,Ed/F_v,Rd)².

    M_over_M: moment over what the pin may have [-].
    V_over_V: shear over what the pin may have [-].
    Raises ValueError for a negative ratio. Limits: each ratio is to be 1.0 or less by itself too.
    """
    require_not_negative("the ratio of moments", M_over_M, "")
    require_not_negative("the ratio of shears", V_over_V, "")
    return M_over_M**2 + V_over_V**2


def projected_pressure(F: float, d: float, length: float) -> Annotated[float, Unit("Pa")]:
    """Return the pressure of a pin on its bore, on the area seen from the side [Pa].

    Definition: F/(d length).

    F: force across the pin [N].
    d: diameter [m].
    length: over which it lies in the bore [m].
    Raises ValueError for a negative force or a size at or below 0. Limits: a mean; a pin that
    leans presses harder at its edge.
    """
    require_not_negative("the force", F, "N")
    require_positive("the pin's diameter", d, "m")
    require_positive("the length", length, "m")
    return F / (d * length)
