"""Members in tension: ANSI/AISC 360-22, chapter D."""

from __future__ import annotations

from typing import Final

from leafwright.handbook.aisc360._values import Real, require_not_negative, require_positive

# Advised, not required: greatest slenderness L/r of a member as fabricated that is designed for
# tension, rods excepted (ANSI/AISC 360-22, D1, user note; D1 itself sets no limit).
ADVISED_L_OVER_R: Final = 300.0


def tension_yielding(F_y: Real, A_g: Real) -> Real:
    """Return the nominal tensile strength P_n for yielding of the gross section [N].

    ANSI/AISC 360-22, D2(a), Eq. D2-1: P_n = F_y A_g. `LimitState.TENSION_YIELDING`.

    F_y: specified minimum yield stress [Pa].
    A_g: gross area of the cross-section [m2].
    Raises ValueError for F_y at or below 0 or a negative area. Limits: none stated; the strength
    of the member is the lower of this and `tension_rupture`, and of its connections.
    """
    require_positive(F_y=F_y)
    require_not_negative(A_g=A_g)
    return F_y * A_g


def tension_rupture(F_u: Real, A_e: Real) -> Real:
    """Return the nominal tensile strength P_n for rupture of the net section [N].

    ANSI/AISC 360-22, D2(b), Eq. D2-2: P_n = F_u A_e. `LimitState.TENSION_RUPTURE`.

    F_u: specified minimum tensile strength [Pa].
    A_e: effective net area [m2]: the net area of B4.3b (plug or slot weld metal not counted)
        times the shear lag factor U of Table D3.1 (Eq. D3-1).
    Raises ValueError for F_u at or below 0 or a negative area. Limits: none stated.
    """
    require_positive(F_u=F_u)
    require_not_negative(A_e=A_e)
    return F_u * A_e
