"""The proof of a leaf: its frame solved in every case, every member and movement checked."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from leafwright.chain import Quantity
from leafwright.doorway import LeafPlace
from leafwright.frame.equilibrium import balance
from leafwright.frame.load_cases import LiveLoads, leaf_cases, with_cases
from leafwright.frame.of_leaf import Holding, LeafFrame, leaf_frame
from leafwright.frame.solve import solve
from leafwright.handbook.aisc360 import Method
from leafwright.job.defaults import System, chosen
from leafwright.job.model import BarrelHinge, Brace, Job, LeafTable
from leafwright.job.steel import Steel
from leafwright.leaf import Leaf, design_leaf
from leafwright.proof.members import member_checks, standard_checks
from leafwright.proof.movement import brace_forces, movement_checks, movements, reactions
from leafwright.proof.records import BraceForce, Bracing, LeafProof, Movement, ProofWishes
from leafwright.records import Held
from leafwright.units import Typed

ASSUMPTIONS = (
    "joints rigid, members on their centre lines; a brace is taken to the corner where stile and "
    "rail cross, though it really ends at the panel's inner corner",
    "effective length factor K = 1; stiles buckle out of the plane over their whole height; bars "
    "of an X hold one another out of the plane by bending, welded stiffly, and by what one pulls",
    "pivots hold a leaf as pins: no moment reaches the pin, its plate or its anchors here",
    "infill weighs on the members round its panel, in the leaf's middle plane; it stiffens nothing",
    "posts, beam, floor, hinges and pins are taken as rigid: what they give adds to the sag",
    "lying and lifted, the leaf is bare and moved slowly; tilting it up from flat is no case here",
    "no wind, no impact, no seismic drift; welds, tube-to-tube joints (AISC 360-22, chapter K), "
    "lifting points, pivots and anchors are not proved here",
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
    )


def holding(place: LeafPlace, table: LeafTable) -> Holding:
    """Return where a leaf is held, as seen: on its axis, at its pivots or hinges [m]."""
    inset = place.axis.value
    axis = inset if place.hand == "left" else place.width.value - inset
    if isinstance(table.mount, BarrelHinge):
        return Holding(axis, tuple(sorted(h.si for h in table.mount.heights)))
    return Holding(axis, (0.0, place.height.value))


def prove(
    job: Job,
    place: LeafPlace,
    table: LeafTable,
    leaf: Leaf,
    steel: Steel,
    *,
    clearance: Quantity,
) -> LeafProof | Held:
    """Return the proof of one leaf, or why its frame cannot be analysed.

    Args:
        job: basis, loads and limits.
        place: the leaf's place in the doorway.
        table: its choices.
        leaf: its members.
        steel: sections of the job, for the bracing compared.
        clearance: room under the sagged nose [m].
    """
    if job.basis.steel != "AISC 360-22":
        return Held(
            f"member checks to {job.basis.steel} are not there yet",
            ('steel = "AISC 360-22" in [basis]',),
        )
    method = Method(job.basis.method)
    wishes = proof_wishes(job, table)
    frame = leaf_frame(leaf, holding(place, table), wishes.handle_height.value)
    cases = leaf_cases(job.basis.method)
    live = LiveLoads(wishes.person.value, wishes.push.value)
    model = with_cases(frame, cases, live)
    result = solve(model)
    if isinstance(result, Held):
        return result
    moves = movements(frame, result, cases)
    checks = member_checks(leaf, model, result, cases, method) + standard_checks(leaf)
    checks += movement_checks(
        leaf,
        moves,
        sag_limit=wishes.sag_limit,
        racking_limit=wishes.racking_limit,
        clearance=clearance,
    )
    forces = brace_forces(leaf, model, result, cases)
    drawn = _bracing("as drawn", leaf, moves, forces)
    return LeafProof(
        leaf=leaf.key,
        basis=f"ANSI/{job.basis.steel}, {job.basis.method}",
        wishes=wishes,
        assumptions=ASSUMPTIONS,
        cases=cases,
        model=model,
        result=result,
        checks=checks,
        brace_forces=forces,
        movements=moves,
        reactions=reactions(frame, model, result, cases),
        bracings=(drawn, *other_bracings(job, place, table, leaf, steel, wishes)),
        imbalance=float(np.max(balance(model, result).relative)),
    )


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
        frame: LeafFrame = leaf_frame(way, holding(place, table), wishes.handle_height.value)
        model = with_cases(frame, cases, live)
        result = solve(model)
        if isinstance(result, Held):
            continue
        moves = movements(frame, result, cases)
        found.append(_bracing(name, way, moves, brace_forces(way, model, result, cases)))
    return tuple(found)
