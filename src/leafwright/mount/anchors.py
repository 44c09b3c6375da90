"""The anchors of the floor plate: what the leaf asks of each, and whether they hold.

Codes of anchors know strength design only, so the proof's loads are brought to it first: those
of an ASD proof (D + L, 0.6 W) times the greatest factor that any part of them has, those of LRFD
as they are. What the leaf's weight does to hold the plate down is taken at 0.9 of the dead load,
or the whole of it over the greatest factor that may be in it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.handbook import anchor_group
from leafwright.handbook.aci318 import bearing
from leafwright.handbook.aisc360 import Method
from leafwright.mount.anchor_aci import ASSUMPTIONS as BY_ACI
from leafwright.mount.anchor_aci import aci_checks
from leafwright.mount.anchor_en import ASSUMPTIONS as BY_EN
from leafwright.mount.anchor_en import en_checks
from leafwright.mount.anchorage import Anchorage, anchor_check, taken_of
from leafwright.mount.envelope import floor_pivot, pin_envelope, pin_place
from leafwright.mount.layouts import anchors_laid_out
from leafwright.mount.parts import force, made_check, relied_on, size, stock_size
from leafwright.mount.pivot_pin import Pin, pin_of
from leafwright.mount.pivot_weld import plate_steel, plate_thickness
from leafwright.mount.plate_loads import (
    State,
    plate_load,
    states,
    strip,
    worked_shear,
    worked_state,
)
from leafwright.mount.records import Mounting, Proved
from leafwright.proof.anchor_data import AnchorData, anchor_data, european
from leafwright.proof.working import Lines
from leafwright.records import COMMON_PRACTICE, Check, Metres, Number

_PER_PLATE = 4

CAUTIONS = (
    "Anchors: have the slab scanned for tendons, bars, pipes and wires before the first hole; a "
    "tendon that is cut can kill.",
    "Anchors: drill through the plate where it is set (match-drill), to the depth that the report "
    "asks for; keep the dust down with water or a vacuum and wear a mask, it is silica; clean the "
    "holes as the report says, and set the anchors to its torque with a wrench that shows it.",
    "Anchors: no hole nearer to an edge, a joint or an old hole than the report allows.",
)

ASSUMPTIONS = (
    "the floor plate is stiff and bears all round; its anchors pull by their distance from where "
    "it tips, and share a push across alike; friction, pretension and grout hold nothing",
    "the leaf's forces may point any way over the floor plate, and its moment always with them",
)


@dataclass(frozen=True, slots=True)
class _Factors:
    """By how much the proof's loads are raised to strength [-], and that in words."""

    up: Number
    wind_up: Number
    hold: Number
    words: str


#: By method, and whether the job is European. The proof's wind is 0.6 W of ASCE 7 or a live load in
#: ASD, and W or 1.6 times a live load in LRFD; its weight has 1.0, or 1.2 to 1.4. Wanted are 1.2 D,
#: 1.6 L, 1.0 W, 0.9 D (ASCE/SEI 7-22, 2.3.1), or 1.35 G, 1.5 Q (EN 1990, A1.3.1, remembered).
_FACTORS = {
    (Method.ASD, False): _Factors(
        1.6, 1.0 / 0.6, 0.9,
        "loads: the proof's times 1.6, with wind over 0.6, and 0.9 of the weight to hold the plate "
        "down (ASCE/SEI 7-22, 2.3.1; no part has a greater factor)",
    ),
    (Method.LRFD, False): _Factors(
        1.0, 1.0, 0.9 / 1.4,
        "loads: the proof's, factored, and 0.9 of the weight to hold the plate down (ASCE/SEI "
        "7-22, 2.3.1)",
    ),
    (Method.ASD, True): _Factors(
        1.5, 1.0 / 0.6, 0.9,
        "loads: the proof's times 1.5, with wind over 0.6, and 0.9 of the weight to hold the plate "
        "down (EN 1990, A1.3.1; no part has a greater factor)",
    ),
    (Method.LRFD, True): _Factors(
        1.35 / 1.2, 1.35 / 1.2, 0.9 / 1.4,
        "loads: the proof's, factored, times 1.35/1.2, and 0.9 of the weight to hold the plate "
        "down (EN 1990, A1.3.1; no part has a greater factor)",
    ),
}  # fmt: skip


def floor_anchors(m: Mounting) -> Proved:
    """Return the proof of the anchors of a leaf's floor plate.

    Args:
        m: the leaf as it hangs on floor pivots.
    """
    data = anchor_data(m.job)
    by_en = european(m.job)
    factors = _FACTORS[m.method, by_en]
    place = m.pivots[0]
    pin = pin_of(m, pin_place(m, place), pin_envelope(m, place), floor_pivot(m).pin_grade)
    found = _anchorage(m, pin, data, factors)
    if isinstance(found, Check):
        return Proved(checks=(found,), cautions=CAUTIONS)
    a, number, lacking = found
    checks: list[Check] = []
    if lacking or data.missing:
        checks.append(_asked(a, lacking, by_en))
    if not lacking:
        checks += en_checks(a) if by_en else aci_checks(a)
        checks += _plate_checks(a, pin)
    used = [*a.layout.defaults, *number, *taken_of(a, by_en=by_en), *pin.defaults]
    return Proved(
        checks=tuple(checks),
        defaults=tuple({q.key: q for q in used if q.kind == "default"}.values()),
        words=(_told(a),),
        cautions=CAUTIONS,
        assumptions=(*ASSUMPTIONS, *(BY_EN if by_en else BY_ACI)),
    )


def _anchorage(
    m: Mounting, pin: Pin, data: AnchorData, factors: _Factors
) -> tuple[Anchorage, list[Quantity], tuple[str, ...]] | Check:
    """Return the anchors with their loads, the defaults used and what of the loads is not sure.

    Or else the check that says why they cannot be laid out.
    """
    plate, anchor = floor_pivot(m).plate, m.job.building.anchor
    if plate is None:
        return _held(m, pin, "give the pivot's plate: thickness, width and length")
    thickness, defaults = plate_thickness(m, plate, "bottom")
    number = anchor.per_plate if anchor is not None and anchor.per_plate else None
    if number is None:
        number = _PER_PLATE
        used = chain.base(
            "default", "mount/anchors per plate", "anchors in each floor plate", number, unit="1",
            note=str(COMMON_PRACTICE),
        )  # fmt: skip
        defaults.append(used)
    layout = anchors_laid_out(
        m,
        plate,
        number=number,
        d=data.size or relied_on(m, "anchor size").value,
        foot=(pin.at.diameter or 0.0) / 2.0 + thickness,
    )
    if isinstance(layout, str):
        return _held(m, pin, layout)
    loads = [
        plate_load(
            given,
            lever=pin.lever + thickness,
            up=factors.up,
            wind_up=factors.wind_up,
            hold=factors.hold,
        )
        for given in pin.forces
    ]
    edge = data.edge
    if edge is None and data.pivot_edge is not None:
        out = max(*layout.columns, *layout.rows)
        edge = data.pivot_edge - out
        if edge <= 0.0:
            return _off_the_slab(m, out, data.pivot_edge)
    lacking = () if pin.at.length is not None else ("the mount's bottom_pin_length",)
    found = Anchorage(m, layout, states(layout, loads), data, edge, factors.words)
    return found, defaults, lacking


def _held(m: Mounting, pin: Pin, why: str) -> Check:
    """Return the question of a plate whose anchors cannot be laid out."""
    pushed = max(pin.forces, key=lambda given: given.shear)
    return made_check(
        m,
        "anchors",
        "anchors of the floor plate",
        "do the anchors hold the floor plate",
        clause="chapter 17",
        demand=pushed.shear,
        available=None,
        unit="N",
        case=pushed.words,
        change="",
        rule="what the leaf puts across the plate, factors of the proof in it",
        lines=Lines(),
        unknown=(f"{why}; then what each anchor must hold can be told",),
        document="ACI 318-19",
    )


def _off_the_slab(m: Mounting, out: Metres, edge: Metres) -> Check:
    """Return the check of a plate whose anchors run out of the slab."""
    return made_check(
        m,
        "anchors/edge distance",
        "anchors of the floor plate",
        "are the anchors in the slab at all",
        clause="17.9.2",
        demand=out,
        available=edge,
        unit="m",
        case="",
        change="set the plate farther in, or turn it",
        rule="how far the outermost anchor is from the pivot, against the slab's nearest edge",
        lines=Lines(),
        document="ACI 318-19",
    )


def _hardest(a: Anchorage) -> str:
    """Return what one anchor must hold, in words."""
    pull, push = a.pulled, a.pushed
    across = force(a.m, push.load.shear / a.number)
    if not pull.most:
        return f"no pull at all, the weight holds the plate down, and {across} across"
    return f"{force(a.m, pull.most)} of pull and {across} across"


def _told(a: Anchorage) -> str:
    which = "one anchor" if a.number == 1 else f"each of the {a.number} anchors"
    state = a.pulled if a.pulled.most else a.pushed
    return (
        f"floor plate of {a.m.who}: {which} must hold {_hardest(a)}, at strength level "
        f"({state.load.case}); all of them together {force(a.m, sum(a.pulled.tension))} of pull "
        f"and {force(a.m, a.pushed.load.shear)} across"
    )


def _asked(a: Anchorage, lacking: tuple[str, ...], by_en: bool) -> Check:
    """Return the question that is left where the product or the concrete is not known."""
    lines = Lines()
    pulled = a.pulled.most > 0.0
    state: State = a.pulled if pulled else a.pushed
    worked_state(a.layout, state, lines)
    across = worked_shear(a.layout, state, lines)
    paper = "European assessment" if by_en else "evaluation report"
    wanted = ", ".join((*lacking, *a.data.missing))
    made = made_check(
        a.m,
        "anchors",
        "anchors of the floor plate",
        "do the anchors hold the floor plate",
        clause="7.1" if by_en else "17.5 and 17.6.3.2.1",
        demand=state.most if pulled else across,
        available=None,
        unit="N",
        case=state.load.case,
        change="",
        rule=f"rigid plate, elastic; {a.factored}",
        lines=lines,
        unknown=(
            f"each must hold {_hardest(a)}, at strength level. Still to be written in [building] "
            f"and [building.anchor]: {wanted}; by the product's {paper} for this concrete "
            "(effective_embedment is less than the depth of the hole; where the paper says that "
            "pull-out does not govern, pullout is as steel_tension). Or have an engineer answer",
        ),
        document="EN 1992-4:2018" if by_en else "ACI 318-19",
    )
    return replace(made, basis="strength design")


# ---------------------------------------------------------------- the plate on its anchors


def _plate_checks(a: Anchorage, pin: Pin) -> list[Check]:
    """Return whether the plate pries on its anchors, and whether the concrete under it bears."""
    checks = [_prying(a, pin)]
    if a.data.concrete is not None:
        checks.append(_bearing(a, pin, a.data.concrete))
    return checks


def _prying(a: Anchorage, pin: Pin) -> Check:
    """Return whether the plate is thick enough not to pry: t_c at the pull that is asked."""
    m, plate = a.m, floor_pivot(a.m).plate
    thickness, _ = plate_thickness(m, plate, "bottom")
    steel = plate_steel(m, plate, "bottom", thickness)
    radius = (pin.at.diameter or 0.0) / 2.0
    state, lines = a.pulled, Lines()
    needed, rule = 0.0, "nothing pulls on an anchor, so that nothing pries"
    d = a.data.size or relied_on(m, "anchor size").value
    if state.most > 0.0:
        worked_state(a.layout, state, lines)
        b = max(min(math.hypot(x, y) for x, y in a.layout.points) - radius, 0.51 * d)
        p = max(strip(a.layout, b), 1.1 * d)
        stub = lines.work(anchor_group.tee_stub, b=b, a=a.layout.edge, d_b=d, d_hole=d, p=p)
        needed = float(
            lines.work(
                anchor_group.thickness_without_prying,
                B=state.most,
                F_u=steel.tensile_strength,
                stub=stub,
            )
        )
        rule = (
            f"φ 0.90, F_u of {steel.words}; {size(m, b)} from the hardest pulled anchor to the "
            f"pin's face, over {size(m, p)} of plate"
        )
    return anchor_check(
        a,
        "prying",
        "is the plate thick enough not to pry its anchors out",
        document="AISC Steel Construction Manual, 16th ed.",
        clause="part 9, t_c",
        demand=needed,
        available=thickness,
        unit="m",
        case=state.load.case,
        change=f"a plate of {stock_size(m, max(needed, thickness))} or more",
        rule=f"{rule}; {a.factored}",
        lines=lines,
        unknown=(steel.unknown if state.most > 0.0 else "",),
    )


def _bearing(a: Anchorage, pin: Pin, concrete: float) -> Check:
    """Return whether the concrete bears what presses on it, over a block about the resultant."""
    m, plate = a.m, floor_pivot(a.m).plate
    thickness, _ = plate_thickness(m, plate, "bottom")
    foot = (pin.at.diameter or 0.0) + 2.0 * thickness
    halves = (plate.length.si / 2.0, plate.width.si / 2.0) if plate is not None else (foot, foot)

    def area(state: State) -> float:
        # The plate reaches past the outline that it tips about by the edge of its outer holes.
        sides = zip(state.press_at, halves, strict=True)
        x, y = (max(min(2.0 * (half - abs(at)), foot), thickness) for at, half in sides)
        return x * y

    state = max(a.states, key=lambda s: s.press / area(s))
    lines = Lines()
    worked_state(a.layout, state, lines)
    B_n = lines.work(bearing.concrete_bearing, A_1=area(state), f_c=concrete)
    return anchor_check(
        a,
        "bearing",
        "does the concrete under the plate bear",
        document="ACI 318-19",
        clause="22.8.3.2",
        demand=state.press,
        available=float(lines.work(bearing.phi_bearing) * B_n),
        unit="N",
        case=state.load.case,
        change="a thicker plate, or stronger packing under all of it",
        rule=(
            "0.65 × 0.85 f'c, on the part of the plate about where it presses, no wider than the "
            f"pin and one plate thickness about it; {a.factored}"
        ),
        lines=lines,
    )
