"""What is left of a member that is notched or made of two pieces, and whether that holds.

A half-lapped bar is cut half through where it crosses the other: there it is a channel whose
middle lies off the bar's own, so that every pull or push also bends it out of the leaf's plane.
It is worked by that section alone, as if nothing of the welds round the lap helped, and it is
never called whole: no published rule here has the buckling of a tube so cut.

A spliced member is welded across on a backing inside: full strength where the seam is sound. The
splice belongs where the member is used least.
"""

from __future__ import annotations

import functools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.frame.load_cases import NAMES, LeafCase
from leafwright.frame.model import FrameModel
from leafwright.frame.solve import FrameResult
from leafwright.handbook import outlines, sections
from leafwright.handbook.aisc360 import LimitState, Method, available, tension
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.leaf import Leaf, Member
from leafwright.leaf.records import Splice
from leafwright.proof.capacity import DOCUMENT, capacity
from leafwright.proof.seam_forces import SeamForces
from leafwright.proof.working import Lines
from leafwright.records import (
    COMMON_PRACTICE,
    Check,
    CubicMetres,
    Held,
    Metres,
    Number,
    QuarticMetres,
    Source,
    SquareMetres,
    Verdict,
    graded,
)

#: A push under this is rounding [N].
_NOTHING = 1.0
#: Places along a member at which a splice is looked for.
_PLACES = 25
#: A splice may use this share of the member's strength at most, or it is said to lie badly [-];
#: common practice, no source.
USED_AT_SPLICE = 0.5
#: A sleeve looser than this a side backs no root [m]; common practice, no source.
LOOSEST = 0.0254 / 16
#: Thickest wall that is welded through onto a backing without a bevel: AWS D1.1:2020, B-L1a, 1/4 in
#: (from memory) [m].
THICKEST_SQUARE = 0.25 * 0.0254 + 1e-9


@dataclass(frozen=True, slots=True)
class SectionLeft:
    """Half of a section, cut through its middle along the leaf's plane, by the design wall.

    ``area``; ``off`` how far its middle lies from the bar's; ``modulus_in`` and ``modulus_out``
    its least elastic section moduli in the leaf's plane and out of it, ``inertia_out`` its second
    moment of area out of it.
    """

    area: SquareMetres
    off: Metres
    modulus_in: CubicMetres
    modulus_out: CubicMetres
    inertia_out: QuarticMetres


@functools.lru_cache(maxsize=64)
def section_left(section: CatalogueSection) -> SectionLeft:
    """Return what a notch to half its depth leaves of a rectangular tube or a flat bar."""
    # Laid on its side, so that what is measured across is the depth.
    if section.shape == sections.RECTANGULAR_TUBE:
        turned = outlines.rectangular_tube(
            section.height, section.width, section.design_wall, *section.design_radii()
        )
    else:
        turned = outlines.flat_bar(section.height, section.width)
    half = outlines.moments(turned, u_from=0.0)
    off = half.u / half.area
    inertia = half.uu - half.area * off * off
    edge = max(off, section.height / 2 - off)
    return SectionLeft(half.area, off, half.vv / (section.width / 2), inertia / edge, inertia)


def softer(member: Member) -> Number:
    """Return how much more a notched bar gives along itself than a whole one, at most [-].

    Statics: over the notch's length the section left, pulled off its middle, gives 1/A + e²/I in
    place of 1/A of the whole, as if nothing of the other bar held it.
    """
    assert member.notch is not None
    left, whole = section_left(member.section), member.section.properties().area
    more = 1.0 / left.area + left.off**2 / left.inertia_out - 1.0 / whole
    return member.notch.length * more / (member.bar.long / whole)


def lap_checks(
    leaf: Leaf,
    model: FrameModel,
    result: FrameResult,
    cases: Sequence[LeafCase],
    method: Method,
) -> tuple[Check, ...]:
    """Return what each half-lapped bar is at its notch: short, or asked, never ok.

    Stresses of the section left add up by ANSI/AISC 360-22, Eq. H2-1, with the yield stress over
    the safety factor, or times the resistance factor, for each.
    """
    members = [m for m in leaf.members if m.notch is not None]
    if not members:
        return ()
    forces = SeamForces(model, result, cases)
    return tuple(_lap(member, forces, method) for member in members)


def _lap(member: Member, forces: SeamForces, method: Method) -> Check:
    assert member.notch is not None
    left, F_y = section_left(member.section), member.section.yield_stress
    internal = forces.at(forces.places(member, member.notch.at))
    N, M_out, M_in = internal[..., 0], np.abs(internal[..., 4]), np.abs(internal[..., 5])
    lines = Lines()
    P_n = lines.work(tension.tension_yielding, F_y=F_y, A_g=left.area)
    P_c = float(
        lines.work(available, nominal=P_n, limit_state=LimitState.TENSION_YIELDING, method=method)
    )
    stress = P_c / left.area
    used = (
        np.abs(N) / P_c
        + (np.abs(N) * left.off + M_out) / (left.modulus_out * stress)
        + M_in / (left.modulus_in * stress)
    )
    case, place = (int(i) for i in np.unravel_index(int(np.argmax(used)), used.shape))
    ratio = float(used[case, place])
    pressed = bool(N.min() < -_NOTHING)
    whole = member.section.properties().area
    verdict = graded(ratio)
    if verdict is not Verdict.SHORT:
        verdict = Verdict.ASK
    why = "a pressed bar cut half through, and" if pressed else "a bar cut half through, and"
    return Check(
        key=f"{member.key}/lap",
        subject=f"{member.mark} {member.role}, where it is notched half through",
        question="does what the notch leaves of it hold",
        verdict=verdict,
        source=Source(DOCUMENT, "D2(a), H2, Eq. H2-1"),
        demand=ratio,
        available=1.0,
        ratio=ratio,
        case=NAMES[forces.cases[case].situation],
        change=f"{why} the seams round the lap, are in no rule here: have an engineer answer, or "
        'let one bar run through (crossing = "one through"); weld the lap all round, both sides',
        basis=method.value,
        rule=f"the section left, {left.area / whole:.0%} of the steel, alone: the force itself, "
        "the bending that it makes because what is left lies off the bar's middle, and the bending "
        "in and out of the leaf's plane, added up; the check of the whole member is that of a bar "
        "without the notch, and so is its stiffness in the frame: the section left over the "
        f"notch's {softer(member):.0%} more give along the bar, if nothing of the other bar helps, "
        "is not in the forces",
        working=lines.kept(),
    )


def splice_checks(
    leaf: Leaf,
    model: FrameModel,
    result: FrameResult,
    cases: Sequence[LeafCase],
    method: Method,
) -> tuple[Check, ...]:
    """Return whether each splice lies where little is asked of its member, and what it must hold.

    Use is axial force and bending both ways, each over the member's own strength, added up; that
    of buckling is the member's own check, which has it whole.
    """
    if not leaf.splices:
        return ()
    forces = SeamForces(model, result, cases)
    by_key = {m.key: m for m in leaf.members}
    return tuple(
        check
        for s in leaf.splices
        for check in (
            _splice(by_key[s.member], s, forces, method),
            *_joiner_fits(by_key[s.member], s),
        )
    )


def _joiner_fits(member: Member, splice: Splice) -> tuple[Check, ...]:
    """Return whether a given sleeve goes into its tube, or a given plate leaves room for its seam.

    A sleeve that is loose by more than a sixteenth of an inch a side is no backing.
    """
    section, subject = member.section, f"{member.mark} {member.role}, spliced"
    if splice.sleeve is not None:
        room = section.width - 2.0 * section.nominal_wall
        deep = section.height - 2.0 * section.nominal_wall
        wide = max(
            (splice.sleeve.width, room), (splice.sleeve.height, deep), key=lambda p: p[0] - p[1]
        )
        loose = max(room - splice.sleeve.width, deep - splice.sleeve.height)
        verdict = Verdict.SHORT if wide[0] > wide[1] + 1e-9 else Verdict.OK
        change = f"a smaller sleeve than {splice.sleeve.designation}, or plates"
        if verdict is Verdict.OK and loose > 2.0 * LOOSEST + 1e-6:
            verdict = Verdict.ASK
            change = (
                "a sleeve so loose backs the root nowhere: take a larger one, or line it out with "
                "strips until it is tight, and have who welds it agree"
            )
        return (
            Check(
                key=f"{splice.key}/sleeve",
                subject=subject,
                question=f"does the sleeve of {splice.sleeve.designation} go in, and lie close",
                verdict=verdict,
                source=COMMON_PRACTICE,
                unit="m",
                demand=wide[0],
                available=wide[1],
                ratio=wide[0] / wide[1],
                change=change if verdict is not Verdict.OK else "",
                rule="outside of the sleeve, inside of the tube by its nominal wall, less the bead "
                "of the tube's own seam, which is ground away where the sleeve lies",
            ),
        )
    if splice.plate is not None:
        flat = section.width - 2.0 * section.design_radii()[0]
        return (
            Check(
                key=f"{splice.key}/plates",
                subject=subject,
                question="do its plates lie on the flat of the tube, with room for their seams",
                verdict=Verdict.SHORT if splice.plate[0] > flat + 1e-9 else Verdict.OK,
                source=COMMON_PRACTICE,
                unit="m",
                demand=splice.plate[0],
                available=flat,
                ratio=splice.plate[0] / flat,
                change="narrower plates" if splice.plate[0] > flat + 1e-9 else "",
                rule="width of a plate, tube between its round corners by the design wall",
            ),
        )
    return ()


def _splice(member: Member, splice: Splice, forces: SeamForces, method: Method) -> Check:
    subject = f"{member.mark} {member.role}, spliced"
    has = capacity(member.section, float(member.length.value), method)
    if isinstance(has, Held):
        return Check(
            key=splice.key,
            subject=subject,
            question="does the splice hold",
            verdict=Verdict.ASK,
            source=Source(DOCUMENT),
            change=f"{has.why}: have an engineer answer",
        )
    (x, y), (c, s), long = splice.place, member.direction, member.bar.long
    at = splice.at.value

    def used(where: float) -> tuple[float, int]:
        near = (x + (where - at) * c, y + (where - at) * s)
        N, _, _, _, M_y, M_z = np.moveaxis(np.abs(forces.at(forces.places(member, near))), -1, 0)
        use = N / has.tension + M_y / has.bending_out + M_z / has.bending_in
        case = int(np.argmax(use.max(axis=1)))
        return float(use.max()), case

    ratio, case = used(at)
    places = np.linspace(0.1, 0.9, _PLACES) * long
    uses = [used(float(p))[0] for p in places]
    best = int(np.argmin(uses))
    verdict = graded(ratio)
    plates = splice.by == "plates"
    thick = member.section.nominal_wall > THICKEST_SQUARE
    if verdict is not Verdict.SHORT and (ratio > USED_AT_SPLICE or plates or thick):
        verdict = Verdict.ASK
    least = f"{places[best] / long:.0%} of its length from its lower or hinge end"
    told = [f"it uses {uses[best]:.2f} least at {least}"]
    if ratio > USED_AT_SPLICE:
        told.append("move the splice there")
    if plates:
        told.append("plates and their seams are not worked here: have an engineer answer")
    elif thick:
        told.append("a wall over 1/4 in is beveled for such a seam: have an engineer answer")
    return Check(
        key=splice.key,
        subject=subject,
        question="does the splice lie where little is asked of the member",
        verdict=verdict,
        source=Source(DOCUMENT, "J2, Table J2.5; H1"),
        demand=ratio,
        available=1.0,
        ratio=ratio,
        case=NAMES[forces.cases[case].situation],
        change="; ".join(told) if verdict is not Verdict.OK else "",
        basis=method.value,
        rule="axial force and bending both ways there, each over what the whole member may have, "
        f"added up; {told[0]}; a groove weld all round, through the wall onto the sleeve, root "
        "open by the wall, is as strong as the tube where it is sound (AWS D1.1, B-L1a, from "
        "memory): by a welder qualified for it, each side looked at; "
        f"a splice is kept where less than {USED_AT_SPLICE:.0%} is used (common practice, no "
        "source)",
        working=(*has.working.get("tension", ()),),
    )
