"""The leaf stage: a leaf in its place to members with exact cuts, joints, infill and weight.

Built in hinge axes (x from the hinge edge toward the nose, y up from the bottom) and turned at
the end to as seen from the face side, so that a right-hand leaf is the true mirror of a left.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from leafwright import chain
from leafwright.doorway import LeafPlace
from leafwright.handbook import sections
from leafwright.job.defaults import System, chosen
from leafwright.job.model import Brace, LeafTable
from leafwright.job.steel import Steel
from leafwright.leaf.brace import (
    Bay,
    BracePart,
    Rise,
    crossed,
    ends_held,
    half_lapped,
    one_diagonal,
    rod,
    section_held,
    wishes_held,
)
from leafwright.leaf.brace_ends import End, size_of
from leafwright.leaf.cope import Saddle
from leafwright.leaf.cut import Plane, cut_bar
from leafwright.leaf.infill import infill_pieces
from leafwright.leaf.joints import as_seen, joints_of
from leafwright.leaf.notch import notch_of, notched
from leafwright.leaf.outer import Frame, Part, bays_of, outer_parts, rail_heights, whole_leaf
from leafwright.leaf.records import Leaf, Member, Panel, Role
from leafwright.leaf.splice import splices_of
from leafwright.records import Held, Point2

#: Most that may be left at the root of a fillet: AWS D1.1:2020, 7.21.1 (clause number from
#: memory), 3/16 in, which metric work writes as 5 mm [m].
WIDEST_GAP = 0.005 + 1e-9

LETTERS = {"left": "A", "right": "B", "leaf": "A"}
_MARKS: dict[Role, str] = {
    "hanging stile": "HS",
    "meeting stile": "MS",
    "closing stile": "CS",
    "bottom rail": "BR",
    "top rail": "TR",
    "mid rail": "MR",
    "brace": "B",
    "rod": "R",
}


def _brace_of(braces: Sequence[Brace], panel: int) -> Brace | None:
    """Return the brace wished for a panel: one that names it goes before one for each."""
    for brace in braces:
        if brace.panel == panel:
            return brace
    for brace in braces:
        if brace.panel == "each":
            return brace
    return None


def _brace_ends(f: Frame, key: str, brace: Brace, system: System) -> tuple[End, End]:
    """Return how the lower and the upper end of a brace are wished."""
    clear = chosen(
        brace.clear_of_corner, "clear of corner", f"{key}/clear", "clear of corner", system=system
    )
    bead = chosen(
        brace.bead_clearance, "bead clearance", f"{key}/bead", "bead clearance", system=system
    )
    return (
        End(brace.lower_end, clear, bead, f.gap),
        End(brace.upper_end, clear, bead, f.gap),
    )


def _brace_parts(
    f: Frame, bay: Bay, brace: Brace, steel: Steel, system: System
) -> list[Part] | Held:
    text = brace.section or f.table.frame
    section = steel.section(text, brace.grade or (f.table.grade if not brace.section else None))
    held = section_held(bay, brace, section)
    if held is not None:
        return held
    key, name = f"{f.key}/brace-{bay.number}", f"brace {bay.number}"
    rod_name = f"rod {bay.number}" if bay.number else "rod"
    made: list[tuple[str, BracePart]]
    role: Role = "brace"
    ends = _brace_ends(f, key, brace, system)
    if brace.pattern != "rod":
        held = ends_held(bay, ends, section)
        if held is not None:
            return held
    if brace.pattern == "X" and brace.crossing == "half lapped":
        whole, across = half_lapped(key, bay, brace.through, section, name, ends)
        made = [("through", whole), ("across", across)]
    elif brace.pattern == "X":
        whole, lower, upper = crossed(key, bay, brace.through, section, name, ends)
        made = [("through", whole), ("lower", lower), ("upper", upper)]
    elif brace.pattern == "rod":
        role = "rod"
        rise: Rise = "rising" if brace.foot == "hanging stile" else "falling"
        tab = chosen(brace.end_allowance, "rod end allowance", f"{key}/tab", "tab", system=system)
        made = [("", rod(key, bay, rise, rod_name, tab))]
    else:
        rise = "falling" if brace.foot == "closing stile" else "rising"
        made = [("", one_diagonal(key, bay, rise, name, section, ends))]
    return [
        Part(
            name=f"brace-{bay.number}" + (f"/{tail}" if tail else ""),
            role=role,
            number=bay.number,
            tail=tail,
            section=section,
            foot=part.foot,
            direction=part.direction,
            start=part.start,
            end=part.end,
            length=part.length,
            joints=(part.lower, part.upper),
            stands=None if role == "rod" else (size_of(ends[0]), size_of(ends[1])),
        )
        for tail, part in made
    ]


def _mark(leaf_key: str, part: Part) -> str:
    """Return the short mark written on the steel, from the member's place and nothing else."""
    tails = {"": "", "through": "T", "across": "X", "lower": "L", "upper": "U"}
    number = str(part.number) if part.number else ""
    return f"{LETTERS[leaf_key]}-{_MARKS[part.role]}{number}{tails[part.tail]}"


def _plane_as_seen(place: LeafPlace, plane: Plane) -> Plane:
    if place.hand == "left":
        return plane
    n = plane.normal
    return Plane((-n[0], n[1]), plane.offset - n[0] * place.width.value)


def _cut_as_seen(place: LeafPlace, cut: tuple[Plane, ...] | Saddle) -> tuple[Plane, ...] | Saddle:
    if not isinstance(cut, Saddle):
        return tuple(_plane_as_seen(place, plane) for plane in cut)
    return cut if place.hand == "left" else cut.mirrored(place.width.value)


def _member(place: LeafPlace, part: Part) -> Member:
    sign = 1.0 if place.hand == "left" else -1.0
    foot = (as_seen(place, part.foot[0]), part.foot[1])
    size = math.hypot(*part.direction)
    direction = (sign * part.direction[0] / size, part.direction[1] / size)
    bar = cut_bar(
        part.section.mass_outline(),
        part.section.width,
        foot,
        direction,
        start=_cut_as_seen(place, part.start),
        end=_cut_as_seen(place, part.end),
    )
    return Member(
        key=f"{place.key}/{part.name}",
        mark=_mark(place.key, part),
        role=part.role,
        section=part.section,
        foot=foot,
        direction=direction,
        bar=bar,
        length=part.length,
        mass=bar.volume * part.section.density,
        start_joint=part.joints[0],
        end_joint=part.joints[1],
        stands=part.stands,
    )


def _lapped(members: tuple[Member, ...], gap: float) -> tuple[Member, ...]:
    """Return the members with those that are half lapped notched for each other."""
    by_key = {m.key: m for m in members}
    for key, across in list(by_key.items()):
        if not key.endswith("/across"):
            continue
        through = by_key[f"{key.removesuffix('across')}through"]
        at = _crossing(through, across)
        for one, other, face in ((through, across, "back"), (across, through, "face")):
            notch = notch_of(
                one.bar,
                one.section,
                one.foot,
                one.direction,
                other.direction,
                at,
                face="back" if face == "back" else "face",
                gap=gap,
            )
            bar, mass = notched(one.bar, one.section, notch)
            by_key[one.key] = replace(one, bar=bar, mass=mass, notch=notch)
    return tuple(by_key.values())


def _crossing(a: Member, b: Member) -> Point2:
    """Return where two centre lines cross [m]."""
    (ax, ay), (ac, as_), (bx, by), (bc, bs) = a.foot, a.direction, b.foot, b.direction
    t = ((bx - ax) * bs - (by - ay) * bc) / (ac * bs - as_ * bc)
    return (ax + t * ac, ay + t * as_)


def design_leaf(
    place: LeafPlace,
    table: LeafTable,
    steel: Steel,
    *,
    system: System,
    pair: bool,
    braces: Sequence[Brace] | None = None,
) -> Leaf | Held:
    """Return one leaf with every member cut, or what cannot be made.

    Args:
        place: its size and hand, from the doorway stage.
        table: its choices in the job file.
        steel: sections and grades of the job.
        system: unit family of the job, for its defaults.
        pair: whether it meets another leaf.
        braces: bracing to use in place of the job's own, to compare with.
    """
    # A leaf that is made already keeps the design that it was cut to.
    place = replace(
        place,
        width=place.on_sheet,
        height=place.height_on_sheet,
        designed=None,
        drawn_height=None,
    )
    section = steel.section(table.frame, table.grade)
    if section.shape in (sections.ROUND_TUBE, sections.ROUND_BAR, sections.ANGLE):
        why = (
            f"a frame of {section.designation} is not there yet: which way its legs point "
            "cannot be said"
            if section.shape == sections.ANGLE
            else "a frame of round tube is not there yet: every rail and every brace in a corner "
            "would need a saddle on the round tubes there"
        )
        return Held(why, ("a frame of square or rectangular tube",))
    tube = chain.base(
        "table", f"{place.key}/tube", "tube width", section.width, note=section.designation
    )
    gap = chosen(table.root_gap, "root gap", f"{place.key}/root gap", "root gap", system=system)
    shrinkage = chosen(
        table.weld_shrinkage,
        "weld shrinkage",
        f"{place.key}/weld shrinkage",
        "weld shrinkage",
        system=system,
    )
    if gap.value > WIDEST_GAP:
        return Held(
            "a root gap of more than 3/16 in (5 mm) is more than a fillet may bridge "
            "(AWS D1.1:2020, 7.21.1; clause number from memory)",
            ("a root gap of 3/16 in, 5 mm, or less",),
        )
    rails = rail_heights(place.key, table, place.height, tube)
    if isinstance(rails, Held):
        return rails
    f = Frame(
        place.key,
        table,
        section,
        "meeting stile" if pair else "closing stile",
        place.width,
        place.height,
        tube,
        rails,
        gap,
        shrinkage,
    )
    bays = bays_of(f)
    if bays[0].width.value <= 0.0:
        return Held("the leaf is no wider than its two stiles", ("a wider leaf or a smaller tube",))
    parts = outer_parts(f)
    chosen_braces = table.brace if braces is None else tuple(braces)
    held = wishes_held(chosen_braces, len(bays))
    if held is not None:
        return held
    wishes = [(bay, _brace_of(chosen_braces, bay.number)) for bay in bays]
    whole = [b for b in chosen_braces if b.panel == "whole leaf" and b.pattern == "rod"]
    wishes += [(whole_leaf(f, bays), brace) for brace in whole]
    for bay, wish in wishes:
        if wish is None or wish.pattern == "none":
            continue
        braced = _brace_parts(f, bay, wish, steel, system)
        if isinstance(braced, Held):
            return braced
        parts += braced
    try:
        members = _lapped(tuple(_member(place, part) for part in parts), gap.value)
    except ValueError as error:
        return Held(f"a brace cannot be cut: {error}", ("a larger panel or a smaller brace",))
    panels = tuple(_panel(place, bay) for bay in bays)
    infill = infill_pieces(place.key, table.infill, panels, place.width.value, place.height.value)
    if isinstance(infill, Held):
        return infill
    joints = joints_of(place, f, members, bays)
    splices = splices_of(table.splice, members, joints, gap, shrinkage, system, steel)
    if isinstance(splices, Held):
        return splices
    weights = [(m.mass, m.bar.centroid) for m in members]
    covers = [(i.mass, ((i.left + i.right) / 2, (i.bottom + i.top) / 2)) for i in infill]
    return Leaf(
        key=place.key,
        hand=place.hand,
        width=place.width.value,
        height=place.height.value,
        members=members,
        joints=joints,
        splices=splices,
        root_gap=gap,
        weld_shrinkage=shrinkage,
        panels=panels,
        infill=infill,
        lift_mass=sum(m for m, _ in weights),
        hung_mass=sum(m for m, _ in (*weights, *covers)),
        lift_centre=_centre(weights),
        centre=_centre([*weights, *covers]),
    )


def _panel(place: LeafPlace, bay: Bay) -> Panel:
    left, right = sorted((as_seen(place, bay.near), as_seen(place, bay.far)))
    return Panel(bay.number, left, right, bay.bottom, bay.top)


def _centre(weights: Sequence[tuple[float, Point2]]) -> Point2:
    mass = sum(m for m, _ in weights)
    return (
        sum(m * at[0] for m, at in weights) / mass,
        sum(m * at[1] for m, at in weights) / mass,
    )
