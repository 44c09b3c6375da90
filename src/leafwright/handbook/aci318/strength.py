"""What may be used of a strength, and tension with shear: ACI 318-19, 17.5.3 and 17.8."""

from __future__ import annotations

import numpy as np

from leafwright.handbook.aci318.kinds import Kind
from leafwright.handbook.aisc360._values import Real, require_not_negative, require_positive, where


def phi_steel(ductile: bool, in_shear: bool) -> float:
    """Return the factor φ where an anchor's steel governs [-].

    ACI 318-19, Table 17.5.3(a): ductile 0.75 in tension and 0.65 in shear, brittle 0.65 and 0.60.

    ductile: by the data sheet: 14 % elongation and 30 % loss of area in the test (2.3, remembered);
        in_shear: else in tension. Limits: load combinations of ACI 318, 5.3.
    """
    if in_shear:
        return 0.65 if ductile else 0.60
    return 0.75 if ductile else 0.65


def phi_concrete_tension(kind: Kind, supplementary: bool, *, category: int | None = None) -> float:
    """Return the factor φ for breakout, bond and side-face blowout in tension [-].

    ACI 318-19, Table 17.5.3(b): cast-in 0.75 with supplementary reinforcement, 0.70 without;
    post-installed, category 1, 2, 3: 0.75, 0.65, 0.55 with and 0.65, 0.55, 0.45 without.

    kind: of anchor; supplementary: whether bars are known to tie the breakout in (condition A of
        older editions; not known means no); category: of a post-installed anchor, by its report.
    Raises ValueError for a category that is not 1, 2 or 3. Limits: ACI 318, 5.3 combinations.
    """
    if kind.cast_in:
        return 0.75 if supplementary else 0.70
    return _of_category(category, (0.75, 0.65, 0.55) if supplementary else (0.65, 0.55, 0.45))


def phi_pullout(kind: Kind, *, category: int | None = None) -> float:
    """Return the factor φ for pull-out in tension [-].

    ACI 318-19, Table 17.5.3(c): cast-in 0.70; post-installed, category 1, 2, 3: 0.65, 0.55, 0.45.

    kind, category: as for `phi_concrete_tension`. Raises ValueError for a category that is not
    1, 2 or 3. Limits: ACI 318, 5.3 combinations.
    """
    return 0.70 if kind.cast_in else _of_category(category, (0.65, 0.55, 0.45))


def phi_concrete_shear(supplementary: bool) -> float:
    """Return the factor φ for breakout in shear [-].

    ACI 318-19, Table 17.5.3(b): 0.75 with supplementary reinforcement, 0.70 without.

    supplementary: as for `phi_concrete_tension`. Limits: ACI 318, 5.3 combinations.
    """
    return 0.75 if supplementary else 0.70


def phi_pryout() -> float:
    """Return the factor φ for pry-out in shear, 0.70 whatever bars there are [-].

    ACI 318-19, Table 17.5.3(c). Limits: ACI 318, 5.3 combinations.
    """
    return 0.70


def _of_category(category: int | None, factors: tuple[float, float, float]) -> float:
    if category not in (1, 2, 3):
        raise ValueError(
            f"category = {category!r}: a post-installed anchor is of category 1, 2 or 3; give the "
            "one in its evaluation report"
        )
    return factors[category - 1]


def anchor_interaction(N_ratio: Real, V_ratio: Real) -> Real:
    """Return how far tension and shear together use an anchorage [-]; 1.0 is full.

    ACI 318-19, 17.8.2 and 17.8.3, Eq. 17.8.3: where both ratios exceed 0.2 their sum may reach
    1.2, so (N + V)/1.2 is given; else, and in any case, not less than the greater of the two.

    N_ratio: N_ua/(φN_n) of the mode that governs in tension [-]; V_ratio: V_ua/(φV_n) of the one
        that governs in shear [-].
    Raises ValueError for a negative ratio. Limits: factored loads.
    """
    require_not_negative(N_ratio=N_ratio, V_ratio=V_ratio)
    greater: Real = np.maximum(N_ratio, V_ratio)
    both = np.greater(N_ratio, 0.2) & np.greater(V_ratio, 0.2)
    together: Real = np.maximum(greater, (N_ratio + V_ratio) / 1.2)
    return where(both, together, greater)


def anchor_interaction_by_power(N_ratio: Real, V_ratio: Real, *, zeta: Real = 5.0 / 3.0) -> Real:
    """Return the sum of the ratios of tension and shear to a power [-]; 1.0 is full.

    ACI 318-19, R17.8: (N_ua/φN_n)^ζ + (V_ua/φV_n)^ζ ≤ 1.0, ζ from 1 to 2, 5/3 behind the rule
    of 17.8.3. The commentary's other way (17.5.2.3); it is the *sum*, not a ratio of loads.

    N_ratio, V_ratio: as for `anchor_interaction`; zeta: the power [-].
    Raises ValueError for a negative ratio or a power outside 1 to 2.
    """
    require_not_negative(N_ratio=N_ratio, V_ratio=V_ratio)
    require_positive(zeta=zeta)
    if (np.less(zeta, 1.0) | np.greater(zeta, 2.0)).any():
        raise ValueError(f"zeta = {zeta!r}: R17.8 goes from 1 to 2; give 5/3 unless tests say else")
    total: Real = np.power(N_ratio, zeta) + np.power(V_ratio, zeta)
    return total
