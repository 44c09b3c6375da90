"""Anchors of a floor plate to ACI 318-19, chapter 17.

A corner is reckoned with: the nearest edge that the job gives is taken on two sides, at right
angles to one another, since the job does not say which way it lies and no other edge is nearer.
The whole of the shear is taken by the row next to the edge (Fig. R17.7.2.1b, the hardest of its
cases), because holes in a plate are larger than their anchors.
"""

from __future__ import annotations

import math

from leafwright.handbook.aci318 import CONSTANTS, Edition, Kind, limits, shear, strength, tension
from leafwright.handbook.aci318.shear import EdgeSteel
from leafwright.handbook.anchor_group import tension_eccentricity
from leafwright.mount.anchorage import (
    Anchorage,
    Mode,
    anchor_check,
    category_of,
    mode_checks,
    pulling,
    spacings,
    together_check,
    used,
)
from leafwright.mount.parts import size
from leafwright.mount.plate_loads import State
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, Newtons, Number

DOCUMENT = "ACI 318-19"

#: Concrete over bars of a slab in the weather, ACI 318-19, Table 20.5.1.3.1 (remembered) [m].
_COVER = 1.5 * 0.0254
_OWN = CONSTANTS[Edition.US]
#: Kinds whose embedment 17.9.4 holds to the member's thickness.
_SPLITTING = (Kind.TORQUE_CONTROLLED, Kind.DISPLACEMENT_CONTROLLED, Kind.SCREW, Kind.UNDERCUT)

ASSUMPTIONS = (
    "anchors go by strength design; concrete of normal weight, taken as cracked unless "
    '[building.anchor] says cracked = "no"; no bars, no earthquake and no impact are reckoned with',
    "the slab's nearest edge is taken on two sides of the anchors, as at a corner; the row next "
    "to it takes all of the shear",
    "an anchor's steel is taken as brittle, and its category as 3 where none is given",
)


def aci_checks(a: Anchorage) -> tuple[Check, ...]:
    """Return every check of chapter 17 for which the data is there."""
    modes = used(a, _MODES)
    both = together_check(
        a,
        "together",
        "do the anchors hold pull and push at once",
        modes,
        _joined,
        document=DOCUMENT,
        clause="17.8, Eq. 17.8.3",
        rule="their sum up to 1.2 where both pass 0.2",
    )
    found = [*_limit_checks(a), *mode_checks(a, modes, DOCUMENT)]
    return (*found, both) if both is not None else tuple(found)


def _joined(N: Number, V: Number, lines: Lines) -> Number:
    return float(lines.work(strength.anchor_interaction, N_ratio=N, V_ratio=V))


# ---------------------------------------------------------------- pulled


def _steel_pulled(a: Anchorage, state: State, lines: Lines) -> Newtons | None:
    if a.data.steel_tension is None:
        return None
    return lines.work(strength.phi_steel, ductile=False, in_shear=False) * a.data.steel_tension


def _pull_out(a: Anchorage, state: State, lines: Lines) -> Newtons | None:
    kind = a.data.kind
    if a.data.pullout is None or kind is None or kind is Kind.ADHESIVE:
        return None
    return lines.work(strength.phi_pullout, kind=kind, category=category_of(a)) * a.data.pullout


def _breakout(a: Anchorage, state: State, lines: Lines) -> Newtons | None:
    N_cbg = _N_cbg(a, state, lines)
    if N_cbg is None or a.data.kind is None:
        return None
    return N_cbg * lines.work(
        strength.phi_concrete_tension,
        kind=a.data.kind,
        supplementary=False,
        category=category_of(a),
    )


def _N_cbg(a: Anchorage, state: State | None, lines: Lines) -> Newtons | None:
    """Return the breakout strength of the anchors that pull in a state, or of all (None) [N]."""
    kind, concrete, h_ef, c = a.data.kind, a.data.concrete, a.data.h_ef, a.edge
    if kind is None or concrete is None or h_ef is None or c is None:
        return None
    xs, ys = spacings(a.layout.columns), spacings(a.layout.rows)
    share = off = 1.0
    if state is not None and state.most > 0.0:
        of = pulling(a.layout, state)
        xs, ys, share = of.spacings_x, of.spacings_y, of.share
        e = lines.work(tension_eccentricity, anchors=a.layout.points, tension=state.tension)
        for e_N in e:
            off *= float(lines.work(tension.psi_ec_N, e_N=e_N, h_ef=h_ef))
    splitting = 1.0
    if not a.data.cracked and not kind.cast_in:
        c_ac = lines.work(limits.critical_edge_distance, kind=kind, h_ef=h_ef)
        splitting = float(lines.work(tension.psi_cp_N, c_a_min=c, c_ac=c_ac, h_ef=h_ef))
    N_b = lines.work(
        tension.basic_tension_breakout,
        f_c=lines.work(limits.usable_concrete, f_c=concrete, kind=kind),
        h_ef=h_ef,
        k_c=_OWN.k_c_cast_in if kind.cast_in else _OWN.k_c_post_installed,
    )
    area = lines.work(
        tension.tension_breakout_area,
        h_ef=h_ef,
        edges=(math.inf, c, math.inf, c),
        spacings_x=xs,
        spacings_y=ys,
    )
    N_cbg = lines.work(
        tension.tension_breakout,
        A_Nc=area,
        A_Nco=lines.work(tension.tension_breakout_area_single, h_ef=h_ef),
        N_b=N_b,
        psi_ec_N=off,
        psi_ed_N=lines.work(tension.psi_ed_N, c_a_min=c, h_ef=h_ef),
        psi_c_N=lines.work(tension.psi_c_N, kind=kind, cracked=a.data.cracked),
        psi_cp_N=splitting,
    )
    # Three of four that pull have their share of the rectangle about them, not the whole.
    return float(share * N_cbg)


# ---------------------------------------------------------------- pushed across


def _steel_pushed(a: Anchorage, state: State, lines: Lines) -> Newtons | None:
    if a.data.steel_shear is None:
        return None
    return lines.work(strength.phi_steel, ductile=False, in_shear=True) * a.data.steel_shear


def _pry_out(a: Anchorage, state: State, lines: Lines) -> Newtons | None:
    N_cp, h_ef = _N_cbg(a, None, lines), a.data.h_ef
    if N_cp is None or h_ef is None or a.data.kind is Kind.ADHESIVE:
        return None
    V_cp = lines.work(shear.pryout, N_cp=N_cp, h_ef=h_ef)
    return float(lines.work(strength.phi_pryout) * V_cp)


def _edge_breakout(a: Anchorage, state: State, lines: Lines) -> Newtons | None:
    """Return φ V_cbg of the row next to the edge, whichever way the plate lies to it [N]."""
    kind, concrete, h_ef, c = a.data.kind, a.data.concrete, a.data.h_ef, a.edge
    d_a, h_a = a.data.size, a.data.thickness
    if kind is None or concrete is None or h_ef is None or c is None:
        return None
    if d_a is None or h_a is None:
        return None
    V_b = lines.work(
        shear.basic_shear_breakout,
        f_c=lines.work(limits.usable_concrete, f_c=concrete, kind=kind),
        c_a1=c,
        d_a=d_a,
        l_e=lines.work(shear.load_bearing_length, h_ef=h_ef, d_a=d_a),
    )
    rows = sorted({spacings(a.layout.columns), spacings(a.layout.rows)})
    areas = [
        lines.work(shear.shear_breakout_area, c_a1=c, c_a2=(c, math.inf), spacings=row, h_a=h_a)
        for row in rows
    ]
    V_cbg = lines.work(
        shear.shear_breakout,
        A_Vc=min(areas),
        A_Vco=lines.work(shear.shear_breakout_area_single, c_a1=c),
        V_b=V_b,
        psi_ed_V=lines.work(shear.psi_ed_V, c_a2_min=c, c_a1=c),
        psi_c_V=lines.work(shear.psi_c_V, cracked=a.data.cracked, edge_steel=EdgeSteel.NONE),
        psi_h_V=lines.work(shear.psi_h_V, h_a=h_a, c_a1=c),
    )
    return float(lines.work(strength.phi_concrete_shear, supplementary=False) * V_cbg)


_MODES = (
    Mode(
        "steel pulled",
        "does an anchor's steel hold the pull",
        "17.6.1 and Table 17.5.3(a)",
        pull=True,
        all_of_them=False,
        by_state=False,
        strength=_steel_pulled,
        rule="the anchor that pulls hardest, against φ times the report's N_sa",
        change="a larger anchor, or a larger plate with the anchors farther apart",
    ),
    Mode(
        "pull-out",
        "does an anchor stay in its hole",
        "17.6.3.2.1 and Table 17.5.3(c)",
        pull=True,
        all_of_them=False,
        by_state=False,
        strength=_pull_out,
        rule="the anchor that pulls hardest, against φ times the report's N_p",
        change="a deeper or larger anchor, by its report; or a larger plate",
    ),
    Mode(
        "breakout",
        "does the concrete hold the pull",
        "17.6.2 and Table 17.5.3(b)",
        pull=True,
        all_of_them=True,
        by_state=True,
        strength=_breakout,
        rule="all that pull, against φ N_cbg at the report's h_ef",
        change="a deeper anchor, by its report; farther from the edge; or a larger plate",
    ),
    Mode(
        "steel pushed",
        "does an anchor's steel hold the push across",
        "17.7.1 and Table 17.5.3(a)",
        pull=False,
        all_of_them=False,
        by_state=False,
        strength=_steel_pushed,
        rule="the push shared alike, against φ times the report's V_sa",
        change="a larger anchor, or more of them",
    ),
    Mode(
        "edge pushed off",
        "does the slab's edge hold the push across",
        "17.7.2 and Table 17.5.3(b)",
        pull=False,
        all_of_them=True,
        by_state=False,
        strength=_edge_breakout,
        rule="all of the push on the row next to the edge, at a corner, against φ V_cbg",
        change="set the plate farther from the slab's edge",
    ),
    Mode(
        "pry-out",
        "does the concrete behind the anchors hold",
        "17.7.3 and Table 17.5.3(c)",
        pull=False,
        all_of_them=True,
        by_state=False,
        strength=_pry_out,
        rule="all of the push, against φ k_cp times the breakout of all the anchors",
        change="a deeper anchor, by its report; or a larger plate",
    ),
)


# ---------------------------------------------------------------- spacing, edge, thickness


def _limit_checks(a: Anchorage) -> list[Check]:
    """Return the checks of 17.9, which need no more of the product than its kind and size."""
    kind, d_a = a.data.kind, a.data.size
    if kind is None or d_a is None:
        return []
    depth = a.data.h_ef or a.data.embedment
    found: list[Check] = []
    gaps = [*spacings(a.layout.columns), *spacings(a.layout.rows)]
    if gaps and depth is not None:
        lines = Lines()
        least = float(lines.work(limits.least_spacing, kind=kind, d_a=d_a, h_ef=depth))
        found.append(
            _limit(
                a,
                "spacing",
                "are the anchors far enough apart",
                "17.9.2, Table 17.9.2(a)",
                least,
                min(gaps),
                f"set them {size(a.m, least)} apart or more: a larger plate, or thinner anchors",
                "the least spacing against the least there is; the report's own goes first",
                lines,
            )
        )
    if a.edge is not None:
        lines = Lines()
        least = float(lines.work(limits.least_edge_distance, kind=kind, d_a=d_a, cover=_COVER))
        found.append(
            _limit(
                a,
                "edge distance",
                "are the anchors far enough from the slab's edge",
                "17.9.2, Tables 17.9.2(a) and (b)",
                least,
                a.edge,
                f"keep every anchor {size(a.m, least)} or more from the edge",
                "the least distance against that of the outermost anchor; the report's goes first",
                lines,
            )
        )
    if depth is not None:
        found += _depth_checks(a, kind, d_a, depth)
    return found


def _depth_checks(a: Anchorage, kind: Kind, d_a: Metres, depth: Metres) -> list[Check]:
    found: list[Check] = []
    rule = "the effective embedment by the report"
    if a.data.h_ef is None:
        rule = "the depth of the hole, which is more than the effective embedment"
    if kind in _SPLITTING and a.data.thickness is not None:
        lines = Lines()
        most = float(lines.work(limits.greatest_embedment, h_a=a.data.thickness))
        found.append(
            _limit(
                a,
                "thickness",
                "is the slab thick enough for how deep the anchors go",
                "17.9.4",
                depth,
                most,
                f"anchors no deeper than {size(a.m, most)} in this slab",
                f"{rule}, against 2/3 of the slab or all but 4 in; the report's own goes first",
                lines,
            )
        )
    if a.data.h_ef is not None:
        lines = Lines()
        least, most = lines.work(limits.embedment_range, kind=kind, d_a=d_a)
        if least > 0.0:
            over = a.data.h_ef > most
            found.append(
                _limit(
                    a,
                    "depth",
                    "does the chapter cover anchors as deep as these",
                    "17.3.3 and 17.3.4",
                    a.data.h_ef if over else least,
                    most if over else a.data.h_ef,
                    f"an effective embedment from {size(a.m, least)} to {size(a.m, most)}",
                    f"{rule}, against the chapter's least and greatest for its kind",
                    lines,
                )
            )
    return found


def _limit(
    a: Anchorage,
    tail: str,
    question: str,
    clause: str,
    demand: Metres,
    available: Metres,
    change: str,
    rule: str,
    lines: Lines,
) -> Check:
    return anchor_check(
        a,
        tail,
        question,
        document=DOCUMENT,
        clause=clause,
        demand=demand,
        available=available,
        unit="m",
        case="",
        change=change,
        rule=rule,
        lines=lines,
        tight_from=math.inf,
    )
