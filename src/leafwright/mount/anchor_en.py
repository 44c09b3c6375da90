"""Anchors of a floor plate to EN 1992-4:2018, for a European job.

As in `anchor_aci`, the nearest edge is taken on two sides and the row next to it takes all of the
shear. What the assessment gives is in the same keys of the job: steel_tension N_Rk,s, steel_shear
V_Rk,s, pullout N_Rk,p, and category 1, 2 or 3 for γ_inst = 1.0, 1.2 or 1.4.
"""

from __future__ import annotations

import math

from leafwright.handbook import en1992_4 as en
from leafwright.handbook.anchor_group import tension_eccentricity
from leafwright.mount.anchorage import (
    Anchorage,
    Mode,
    category_of,
    mildest_steel,
    mode_checks,
    pulling,
    spacings,
    together_check,
    used,
)
from leafwright.mount.parts import made_check, size
from leafwright.mount.plate_loads import State
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, Newtons, Number

DOCUMENT = "EN 1992-4:2018"

#: γ_inst by category (EN 1992-4, Table 4.1, the three values that assessments use; remembered).
_INSTALLED = {1: 1.0, 2: 1.2, 3: 1.4}

ASSUMPTIONS = (
    "anchors go by EN 1992-4 with its recommended factors: a national annex may differ; concrete "
    'taken as cracked unless [building.anchor] says cracked = "no", with cracks held to 0.3 mm '
    "by the slab's bars, so that it does not split; bars close together, no earthquake, no impact",
    "the slab's nearest edge is taken on two sides of the anchors, as at a corner; the row next "
    "to it takes all of the shear",
    "an anchor's steel has the partial factors of class 4.6, and γ_inst is 1.4 where category is "
    "not given",
)


def _mildest(a: Anchorage) -> dict[str, float]:
    return {symbol: strength.value for symbol, strength in mildest_steel(a.m).items()}


def en_checks(a: Anchorage) -> tuple[Check, ...]:
    """Return every check of EN 1992-4 for which the data is there."""
    modes = used(a, _MODES)
    steel = together_check(
        a,
        "steel together",
        "does an anchor's steel hold pull and push at once",
        [each for each in modes if each[0].tail.startswith("steel")],
        lambda N, V, lines: float(lines.work(en.interaction_steel, beta_N=N, beta_V=V)),
        document=DOCUMENT,
        clause="7.2.3.1, Table 7.3",
        rule="the sum of their squares, up to 1",
    )
    concrete = together_check(
        a,
        "together",
        "does the concrete hold pull and push at once",
        [each for each in modes if not each[0].tail.startswith("steel")],
        lambda N, V, lines: float(lines.work(en.interaction_concrete, beta_N=N, beta_V=V)),
        document=DOCUMENT,
        clause="7.2.3.1, Table 7.3",
        rule="the sum of their 1.5th powers, up to 1",
    )
    found = mode_checks(a, modes, DOCUMENT)
    both = (check for check in (steel, concrete) if check is not None)
    return (*found, *both, _least(a))


def _least(a: Anchorage) -> Check:
    """Return the question of least spacing, edge distance and thickness, which no key gives."""
    m, apart = a.m, [gap for gap in (a.layout.along, a.layout.across) if gap > 0.0]
    stand = [f"{size(m, min(apart))} apart"] if apart else []
    stand += [f"{size(m, a.edge)} from the edge"] if a.edge is not None else []
    thick = a.data.thickness
    stand += [f"in {size(m, thick)} of concrete"] if thick is not None else []
    return made_check(
        m,
        "anchors/least",
        "anchors of the floor plate",
        "are they as far apart and from the edge, and the slab as thick, as their assessment asks",
        clause="7.1, and the product's European Technical Assessment",
        demand=None,
        available=None,
        unit="m",
        case="",
        change="",
        rule="s_min, c_min and h_min are the product's own; no rule here has them",
        lines=Lines(),
        unknown=(
            f"they stand {', '.join(stand)}: hold that against s_min, c_min and h_min of the "
            "assessment, and say so in an [[answer]]",
        ),
        document=DOCUMENT,
    )


def _gamma(a: Anchorage, lines: Lines) -> Number:
    inst = _INSTALLED[category_of(a)]
    return float(lines.work(en.gamma_Mc, gamma_inst=inst))


def _headed(a: Anchorage) -> bool:
    return a.data.kind is not None and a.data.kind.cast_in


def _steel_pulled(a: Anchorage, state: State, lines: Lines) -> Newtons | None:
    if a.data.steel_tension is None:
        return None
    return a.data.steel_tension / float(lines.work(en.gamma_Ms_tension, **_mildest(a)))


def _pull_out(a: Anchorage, state: State, lines: Lines) -> Newtons | None:
    if a.data.pullout is None:
        return None
    return a.data.pullout / _gamma(a, lines)


def _cone(a: Anchorage, state: State, lines: Lines) -> Newtons | None:
    N_Rk_c = _N_Rk_c(a, state, lines)
    return None if N_Rk_c is None else N_Rk_c / _gamma(a, lines)


def _N_Rk_c(a: Anchorage, state: State | None, lines: Lines) -> Newtons | None:
    """Return the cone resistance of the anchors that pull in a state, or of all (None) [N]."""
    kind, f_ck, h_ef, c = a.data.kind, a.data.concrete, a.data.h_ef, a.edge
    if kind is None or f_ck is None or h_ef is None or c is None:
        return None
    xs, ys, share, factors = spacings(a.layout.columns), spacings(a.layout.rows), 1.0, []
    reach = 1.5 * h_ef
    if state is not None and state.most > 0.0:
        of = pulling(a.layout, state)
        xs, ys, share = of.spacings_x, of.spacings_y, of.share
        e = lines.work(tension_eccentricity, anchors=a.layout.points, tension=state.tension)
        factors = [float(lines.work(en.psi_ec, e=off, s_cr=2.0 * reach)) for off in e]
    k_1 = lines.work(en.k_1, headed=_headed(a), cracked=a.data.cracked)
    N_Rk_c = lines.work(
        en.resistance_of_group,
        R0=lines.work(en.N0_Rk_c, k_1=k_1, f_ck=f_ck, h_ef=h_ef),
        A=lines.work(
            en.A_c_N, c_cr=reach, edges=(math.inf, c, math.inf, c), spacings_x=xs, spacings_y=ys
        ),
        A0=(2.0 * reach) ** 2,
        factors=[
            *factors,
            float(lines.work(en.psi_s_N, c_min=c, c_cr=reach)),
            float(lines.work(en.psi_re_N, h_ef=h_ef, dense_bars=True)),
        ],
    )
    return float(share * N_Rk_c)


def _steel_pushed(a: Anchorage, state: State, lines: Lines) -> Newtons | None:
    if a.data.steel_shear is None:
        return None
    return a.data.steel_shear / float(lines.work(en.gamma_Ms_shear, **_mildest(a)))


def _pry_out(a: Anchorage, state: State, lines: Lines) -> Newtons | None:
    N_Rk_c, h_ef = _N_Rk_c(a, None, lines), a.data.h_ef
    if N_Rk_c is None or h_ef is None:
        return None
    # k_8 is the assessment's for what is not headed; 1 is the least that they give.
    V_Rk_cp = lines.work(en.V_Rk_cp, N_Rk_c=N_Rk_c, h_ef=h_ef, k_8=None if _headed(a) else 1.0)
    return float(V_Rk_cp / float(lines.work(en.gamma_Mc, gamma_inst=1.0)))


def _edge_breakout(a: Anchorage, state: State, lines: Lines) -> Newtons | None:
    f_ck, h_ef, c, d, h = (
        a.data.concrete,
        a.data.h_ef,
        a.edge,
        a.data.size,
        a.data.thickness,
    )
    if f_ck is None or h_ef is None or c is None or d is None or h is None:
        return None
    R0 = lines.work(en.V0_Rk_c, f_ck=f_ck, c_1=c, d_nom=d, l_f=h_ef, cracked=a.data.cracked)
    sides: tuple[Metres, Metres] = (c, math.inf)
    areas = [
        lines.work(en.A_c_V, c_1=c, c_2=sides, spacings=row, h=h)
        for row in sorted({spacings(a.layout.columns), spacings(a.layout.rows)})
    ]
    V_Rk_c = lines.work(
        en.resistance_of_group,
        R0=R0,
        A=min(areas),
        A0=4.5 * c**2,
        factors=[
            float(lines.work(en.psi_s_V, c_2=c, c_1=c)),
            float(lines.work(en.psi_h_V, h=h, c_1=c)),
        ],
    )
    return float(V_Rk_c / float(lines.work(en.gamma_Mc, gamma_inst=1.0)))


_MODES = (
    Mode(
        "steel pulled",
        "does an anchor's steel hold the pull",
        "7.2.1.3 and Table 4.1",
        pull=True,
        all_of_them=False,
        by_state=False,
        strength=_steel_pulled,
        rule="the anchor that pulls hardest, against the assessment's N_Rk,s over γ_Ms",
        change="a larger anchor, or a larger plate with the anchors farther apart",
    ),
    Mode(
        "pull-out",
        "does an anchor stay in its hole",
        "7.2.1.5 and Table 4.1",
        pull=True,
        all_of_them=False,
        by_state=False,
        strength=_pull_out,
        rule="the anchor that pulls hardest, against the assessment's N_Rk,p over γ_Mp",
        change="a deeper or larger anchor, by its assessment; or a larger plate",
    ),
    Mode(
        "breakout",
        "does the concrete hold the pull",
        "7.2.1.4 and Table 4.1",
        pull=True,
        all_of_them=True,
        by_state=True,
        strength=_cone,
        rule="all that pull, against N_Rk,c over γ_Mc at the assessment's h_ef",
        change="a deeper anchor, by its assessment; farther from the edge; or a larger plate",
    ),
    Mode(
        "steel pushed",
        "does an anchor's steel hold the push across",
        "7.2.2.3 and Table 4.1",
        pull=False,
        all_of_them=False,
        by_state=False,
        strength=_steel_pushed,
        rule="the push shared alike, against the assessment's V_Rk,s over γ_Ms",
        change="a larger anchor, or more of them",
    ),
    Mode(
        "edge pushed off",
        "does the slab's edge hold the push across",
        "7.2.2.5 and Table 4.1",
        pull=False,
        all_of_them=True,
        by_state=False,
        strength=_edge_breakout,
        rule="all of the push on the row next to the edge, at a corner, against V_Rk,c over γ_Mc",
        change="set the plate farther from the slab's edge",
    ),
    Mode(
        "pry-out",
        "does the concrete behind the anchors hold",
        "7.2.2.4 and Table 4.1",
        pull=False,
        all_of_them=True,
        by_state=False,
        strength=_pry_out,
        rule="all of the push, against k_8 times the cone of all the anchors over γ_Mc",
        change="a deeper anchor, by its assessment; or a larger plate",
    ),
)
