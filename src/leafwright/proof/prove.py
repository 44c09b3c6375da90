"""The proof of a leaf: its frame solved in every case, every member and movement checked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway import LeafPlace
from leafwright.doorway.heel import leaf_words
from leafwright.frame.equilibrium import balance
from leafwright.frame.load_cases import LiveLoads, leaf_cases, with_cases
from leafwright.frame.of_leaf import Holding, LeafFrame, leaf_frame
from leafwright.frame.solve import solve
from leafwright.handbook.aisc360 import Method
from leafwright.job.defaults import System, chosen
from leafwright.job.model import BarrelHinge, Brace, Job, LeafTable
from leafwright.job.steel import Steel
from leafwright.leaf import Leaf, design_leaf
from leafwright.proof.bow import bow_check, greatest_bow, sun_check
from leafwright.proof.compared import asked, force_words
from leafwright.proof.cut_members import lap_checks, splice_checks
from leafwright.proof.hold import hold_checks
from leafwright.proof.infill import infill_proof
from leafwright.proof.members import member_checks, standard_checks
from leafwright.proof.movement import (
    brace_forces,
    movement_checks,
    movements,
    pivot_loads,
    reactions,
)
from leafwright.proof.pressed import wind_lines, with_water_or_ice
from leafwright.proof.records import (
    BraceForce,
    Bracing,
    LeafProof,
    Movement,
    PivotLoad,
    ProofWishes,
)
from leafwright.proof.seams import seam_proof
from leafwright.proof.stopping import nose_speed, stopping
from leafwright.proof.wind import LeafWind, wind_on
from leafwright.records import Check, Held, Point2, Source
from leafwright.units import Typed

ASSUMPTIONS = (
    "joints rigid, members on their centre lines; a brace is taken to the corner where stile and "
    "rail cross, though it really ends at the panel's inner corner",
    "effective length factor K = 1; stiles buckle out of the plane over their whole height; bars "
    "of an X hold one another out of the plane by bending, welded stiffly, and by what one pulls",
    "a pin tilts freely in its bore, or is clamped there: members and pivots are proved both ways",
    "infill weighs on the members round its panel, in the leaf's middle plane; it stiffens nothing",
    "wind is square on the shut leaf, either way; what presses on a panel goes to its two long "
    "edges, half each, and on boards to the two that they end on, both ways where nobody says "
    "which way they run; the nose is held where its hold says (its bottom, where nothing is said)",
    "posts, beam, floor, hinges and pins are taken as rigid: what they give adds to the sag",
    "lying, tipped up from flat and lifted, the leaf is bare and moved slowly",
    "a leaf that meets its open stop is slowed by it as by a spring, at its greatest force, and "
    "gives with it as it would under that force at rest; nobody pushes it on",
    "no wind on an open leaf, no other impact, no seismic drift; lifting points and a rod's tabs "
    "are not proved here, nor what holds the pivots",
)


def proof_wishes(job: Job, table: LeafTable) -> ProofWishes:
    """Return what a leaf is proved for."""
    system: System = job.job.system

    def pick(typed: Typed | None, default: str) -> Quantity:
        return chosen(typed, default, f"proof/{default}", default, system=system)

    return ProofWishes(
        person=pick(job.loads.person, "person"),
        push=pick(job.loads.push, "push"),
        handle_height=pick(table.handle_height, "handle height"),
        sag_limit=pick(job.limits.nose_sag, "nose sag limit"),
        racking_limit=pick(job.limits.racking, "racking limit"),
        bow_limit=_bow_limit(job, pick),
    )


def _bow_limit(job: Job, pick: Callable[[Typed | None, str], Quantity]) -> Quantity:
    """Return how far a leaf may bow in wind [m], or its longer side over that, without a unit."""
    typed = job.limits.bow
    if typed is None:
        return pick(None, "bow limit")
    return chain.base("wish", "proof/bow limit", "bow limit", typed.si, note=typed.text)


def holding(place: LeafPlace, table: LeafTable) -> Holding:
    """Return where a leaf is held, as seen: at its pivots or hinges, and by its open stop [m]."""
    inset = place.axis.value
    axis = inset if place.hand == "left" else place.on_sheet.value - inset
    out = table.hold.stop_out
    stop: Point2 | None = None
    if out is not None and table.hold.stop_travel is not None:
        way = 1.0 if place.hand == "left" else -1.0
        height = table.hold.stop_height
        stop = (axis + way * out.si, 0.0 if height is None else height.si)
    if isinstance(table.mount, BarrelHinge):
        return Holding(axis, tuple(sorted(h.si for h in table.mount.heights)), stop)
    return Holding(axis, (0.0, place.height_on_sheet.value), stop)


def prove(
    job: Job,
    place: LeafPlace,
    table: LeafTable,
    leaf: Leaf,
    steel: Steel,
    *,
    clearance: Quantity,
    gaps: Sequence[Quantity] = (),
) -> LeafProof | Held:
    """Return the proof of one leaf, or why its frame cannot be analysed.

    Args:
        job: basis, loads and limits.
        place: the leaf's place in the doorway.
        table: its choices.
        leaf: its members.
        steel: sections of the job, for the bracing compared.
        clearance: room under the sagged nose [m].
        gaps: the doorway's, for the gap that the leaf shuts against and that over it [m].
    """
    if job.basis.steel != "AISC 360-22":
        return Held(
            f"member checks to {job.basis.steel} are not there yet",
            ('steel = "AISC 360-22" in [basis]',),
        )
    method = Method(job.basis.method)
    wishes = proof_wishes(job, table)
    held_leaf = _as_loaded(job, leaf)
    held_at = holding(place, table)
    frame = leaf_frame(held_leaf, held_at, wishes.handle_height.value)
    speed = nose_speed(table, leaf.key, job.job.system)
    knock = stopping(place, table, frame, held_at.axis, speed.value)
    wind, taken = wind_on(job, table, leaf, under=max(clearance.value, 0.0))
    known = None if isinstance(wind, Held) else wind
    nose = tuple(dict.fromkeys(table.hold.at))
    factors = known.factors if known else None
    either = known is not None and any(panel.either for panel in known.panels)
    cases = leaf_cases(
        job.basis.method, factors, clamped=True, stop=knock is not None, both_ways=either
    )
    live = LiveLoads(
        wishes.person.value,
        wishes.push.value,
        wind_lines(frame, known) if known else (),
        nose,
        () if knock is None else knock.lines,
        wind_lines(frame, known, other_way=True) if known and either else (),
    )
    model = with_cases(frame, cases, live)
    result = solve(model)
    if isinstance(result, Held):
        return result
    moves = movements(frame, result, cases)
    checks = member_checks(leaf, model, result, cases, method) + standard_checks(leaf)
    checks += lap_checks(leaf, model, result, cases, method)
    checks += splice_checks(leaf, model, result, cases, method)
    checks += movement_checks(
        leaf,
        moves,
        sag_limit=wishes.sag_limit,
        racking_limit=wishes.racking_limit,
        clearance=clearance,
    )
    loads = pivot_loads(frame, model, result, cases)
    filled = infill_proof(job, table, leaf, wind)
    worked = known.working if known else ()
    bow = greatest_bow(model, result, cases)
    flat = bow_check(leaf, bow, limit=wishes.bow_limit, nose=nose, before=worked)
    shut, more = _shut(job, table, leaf, wishes, loads, clearance, gaps)
    welded = seam_proof(job, leaf, model, result, cases)
    checks += (*_wind_asked(leaf, wind), *flat, *shut, *filled.checks, *welded.checks)
    usual = tuple(
        chosen(None, name, f"proof/{name}", name, system=job.job.system)
        for name in ("trestles", "lifting points")
    )
    wishes = replace(
        wishes, taken=_each_once((*taken, *usual, *filled.taken, *more, *welded.taken))
    )
    forces = brace_forces(leaf, model, result, cases)
    drawn = _bracing("as drawn", leaf, moves, forces)
    return LeafProof(
        leaf=leaf.key,
        basis=f"ANSI/{job.basis.steel}, {job.basis.method}",
        wishes=wishes,
        assumptions=(*ASSUMPTIONS, *_wind_words(job, known), *_on_it(job), *welded.assumptions),
        cases=cases,
        model=model,
        result=result,
        checks=checks,
        brace_forces=forces,
        movements=moves,
        reactions=reactions(frame, model, result, cases),
        pivot_loads=loads,
        bracings=(drawn, *other_bracings(job, place, table, leaf, steel, wishes)),
        wind=wind,
        stopping=knock,
        infill=filled.rooms,
        seams=welded.seams,
        imbalance=float(np.max(balance(model, result).relative)),
    )


def _each_once(taken: Sequence[Quantity]) -> tuple[Quantity, ...]:
    return tuple({quantity.key: quantity for quantity in taken}.values())


def _as_loaded(job: Job, leaf: Leaf) -> Leaf:
    """Return the leaf as it hangs: with water or ice on its infill, where some is given."""
    per_area = job.loads.water_or_ice
    return leaf if per_area is None else with_water_or_ice(leaf, per_area.si)


def _on_it(job: Job) -> tuple[str, ...]:
    if job.loads.water_or_ice is None:
        return ()
    return (
        f"{job.loads.water_or_ice.text} of water or ice lies on every face of infill, in every "
        "case where the leaf is clad; the allowance of the gaps for sag is without it",
    )


def _wind_words(job: Job, wind: LeafWind | None) -> tuple[str, ...]:
    """Return how much wind was taken, how it came about, and what to know of it."""
    if wind is None:
        return ("no wind: how much it is is not known",)
    return (f"{force_words(job, wind.force)} of wind: {wind.rule} ({wind.source})", *wind.words)


def _wind_asked(leaf: Leaf, wind: LeafWind | Held) -> tuple[Check, ...]:
    """Return what must be asked before the wind on a leaf is known."""
    subject = f"wind on {leaf_words(leaf.key)}"
    if isinstance(wind, Held):
        return (
            asked(
                f"{leaf.key}/wind/pressure",
                subject,
                "does it stand the wind",
                source=Source("the wind's own standard", "as named in [wind]"),
                change=f"{wind.why}; give {'; '.join(wind.needs)}",
            ),
        )
    return tuple(
        asked(
            f"{leaf.key}/wind/{key}",
            subject,
            question,
            source=wind.source,
            change=change,
            rule=wind.rule,
            before=wind.working,
        )
        for key, question, change in wind.asked
    )


def _shut(
    job: Job,
    table: LeafTable,
    leaf: Leaf,
    wishes: ProofWishes,
    loads: Sequence[PivotLoad],
    clearance: Quantity,
    gaps: Sequence[Quantity],
) -> tuple[tuple[Check, ...], tuple[Quantity, ...]]:
    """Return the checks of the shut leaf: its bow in the sun, and what holds its nose."""
    system: System = job.job.system
    by = {gap.key: gap for gap in gaps}
    top = by.get("doorway/top gap") or chosen(
        job.doorway.top_gap, "top gap", "doorway/top gap", "top gap", system=system
    )
    checks: tuple[Check, ...] = ()
    taken: tuple[Quantity, ...] = ()
    if job.building.indoors != "yes":
        heat = chosen(
            None, "sun difference", "proof/sun difference", "sun on one face", system=system
        )
        limit = _straight_limit(job, wishes, by)
        depth = leaf.members[0].section.height
        checks += (sun_check(leaf, depth=depth, difference=heat, limit=limit),)
        taken += (heat,)
    held, rod = hold_checks(job, table, leaf.key, loads, {"bottom": clearance, "top": top})
    return (*checks, *held), (*taken, *rod)


def _straight_limit(job: Job, wishes: ProofWishes, gaps: dict[str, Quantity]) -> Quantity:
    """Return how far a leaf may stand out of line: the limit given, or the gap it shuts by [m]."""
    if wishes.bow_limit.unit == "m":
        return wishes.bow_limit
    name = "meeting gap" if len(job.leaf) == 2 else "closing gap"
    found = gaps.get(f"doorway/{name}")
    if found is not None and found.value > 0.0:
        return found
    typed = job.doorway.meeting_gap if len(job.leaf) == 2 else job.doorway.closing_gap
    return chosen(typed, name, f"doorway/{name}", name, system=job.job.system)


def _turned_round(braces: Sequence[Brace]) -> tuple[Brace, ...]:
    """Return the braces with every diagonal leaning the other way."""
    turned = []
    for brace in braces:
        if brace.pattern == "X":
            other = "falling" if brace.through == "rising" else "rising"
            turned.append(brace.model_copy(update={"through": other}))
        elif brace.pattern != "none":
            default = "closing stile" if brace.pattern == "rod" else "hanging stile"
            foot = brace.foot or default
            other = "closing stile" if foot == "hanging stile" else "hanging stile"
            turned.append(brace.model_copy(update={"foot": other}))
    return tuple(turned)


#: The situations that ways of bracing are compared in.
COMPARED = ("standing", "person")


def _bracing(
    name: str, leaf: Leaf, moves: Sequence[Movement], forces: Sequence[BraceForce]
) -> Bracing:
    drops = {m.situation: m.nose_drop for m in moves}
    return Bracing(
        name=name,
        lift_mass=leaf.lift_mass,
        nose_drop_standing=drops["standing"],
        nose_drop_person=drops["person"],
        forces=tuple(f for f in forces if f.situation in COMPARED),
    )


def other_bracings(
    job: Job,
    place: LeafPlace,
    table: LeafTable,
    leaf: Leaf,
    steel: Steel,
    wishes: ProofWishes,
) -> tuple[Bracing, ...]:
    """Return the leaf without its braces, and with them turned round; none where it has none."""
    if not any(m.role in ("brace", "rod") for m in leaf.members):
        return ()
    cases = tuple(c for c in leaf_cases("ASD") if c.situation in COMPARED)
    live = LiveLoads(wishes.person.value, wishes.push.value)
    pair = len(job.leaf) == 2
    found = []
    for name, braces in (("no brace", ()), ("turned round", _turned_round(table.brace))):
        way = design_leaf(place, table, steel, system=job.job.system, pair=pair, braces=braces)
        if isinstance(way, Held):
            continue
        loaded = _as_loaded(job, way)
        frame: LeafFrame = leaf_frame(loaded, holding(place, table), wishes.handle_height.value)
        model = with_cases(frame, cases, live)
        result = solve(model)
        if isinstance(result, Held):
            continue
        moves = movements(frame, result, cases)
        found.append(_bracing(name, way, moves, brace_forces(way, model, result, cases)))
    return tuple(found)
