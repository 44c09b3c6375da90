"""The leaf stage: a leaf in its place to members with exact cuts, joints, infill and weight.

Built in hinge axes (x from the hinge edge toward the nose, y up from the bottom) and turned at
the end to as seen from the face side, so that a right-hand leaf is the true mirror of a left.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway import LeafPlace
from leafwright.handbook import sections
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.job.defaults import System, chosen
from leafwright.job.model import Brace, LeafTable
from leafwright.job.steel import Steel
from leafwright.leaf.brace import (
    WHOLE_LEAF,
    Bay,
    BracePart,
    Rise,
    crossed,
    ends_held,
    one_diagonal,
    rod,
    section_held,
    wishes_held,
)
from leafwright.leaf.brace_ends import End
from leafwright.leaf.cut import Plane, cut_bar
from leafwright.leaf.infill import infill_pieces
from leafwright.leaf.records import Joint, Leaf, Member, Panel, Role
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


@dataclass(frozen=True, slots=True)
class _Part:
    """A member before it is cut, in hinge axes."""

    name: str
    role: Role
    number: int
    tail: str
    section: CatalogueSection
    foot: Point2
    direction: Point2
    start: tuple[Plane, ...]
    end: tuple[Plane, ...]
    length: Quantity
    joints: tuple[str, str]


@dataclass(frozen=True, slots=True)
class _Frame:
    """Sizes that every part of the leaf is made from."""

    key: str
    table: LeafTable
    section: CatalogueSection
    nose_role: Role
    width: Quantity
    height: Quantity
    tube: Quantity
    rails: tuple[Quantity, ...]
    gap: Quantity


def _up(at: float) -> Plane:
    return Plane((0.0, 1.0), at)


def _down(at: float) -> Plane:
    return Plane((0.0, -1.0), -at)


def _toward_nose(at: float) -> Plane:
    return Plane((1.0, 0.0), at)


def _toward_hinge(at: float) -> Plane:
    return Plane((-1.0, 0.0), -at)


def _rail_heights(
    frame_key: str, table: LeafTable, height: Quantity, tube: Quantity
) -> tuple[Quantity, ...] | Held:
    """Return the y of every rail's centre line, bottom to top [m]."""
    bottom = chain.total(f"{frame_key}/bottom rail/y", "bottom rail centre", [(0.5, tube)])
    top = chain.total(f"{frame_key}/top rail/y", "top rail centre", [(1.0, height), (-0.5, tube)])
    mids = []
    # Counted from the bottom, in whatever order they are wished, as the members are.
    wished = sorted(table.mid_rail, key=lambda m: m.height.si if m.height else height.value / 2)
    for i, mid in enumerate(wished, start=1):
        key, name = f"{frame_key}/mid rail-{i}/y", f"mid rail {i} centre"
        if mid.height is not None:
            typed = mid.height
            wish = chain.base("wish", f"{key}/wish", name, typed.si, note=typed.text)
            mids.append(chain.renamed(wish, key, name))
        else:
            mids.append(chain.total(key, name, [(0.5, height)]))
    rails = (bottom, *mids, top)
    for below, above in itertools.pairwise(rails):
        if above.value - below.value <= tube.value:
            return Held(
                f"{above.name} is not above {below.name} by more than a tube",
                ("mid rails inside the leaf and apart from one another",),
            )
    return rails


def _outer_parts(f: _Frame) -> list[_Part]:
    """Return stiles and rails with their corners mitred or butted."""
    w, h, b, g = f.width.value, f.height.value, f.tube.value, f.gap.value
    corners = f.table.corners
    root = math.sqrt(0.5)
    mitre = {  # the four corner cuts, for the stile that meets each, less half the root gap
        "bottom hinge stile": Plane((root, -root), -g / 2),
        "top hinge stile": Plane((root, root), root * h - g / 2),
        "bottom nose stile": Plane((-root, -root), -root * w - g / 2),
        "top nose stile": Plane((-root, root), root * (h - w) - g / 2),
    }

    def length(name: str, part: str, whole: Quantity, less: bool) -> Quantity:
        key, name = f"{f.key}/{part}/length", f"length of the {name}"
        parts = [(1.0, whole), *([(-2.0, f.tube)] if less else [])]
        if not g:
            return chain.total(key, name, parts)
        if less:
            return chain.total(key, name, [*parts, (-2.0, f.gap)])
        if corners != "mitred":
            return chain.total(key, name, parts)
        return chain.worked(
            key,
            name,
            f"{whole.name} − √2 × root gap",
            lambda size, gap: size - math.sqrt(2.0) * gap,
            [whole, f.gap],
        )

    parts = []
    stiles: tuple[tuple[Role, float, str], ...] = (
        ("hanging stile", b / 2, "hinge"),
        (f.nose_role, w - b / 2, "nose"),
    )
    for role, x, side in stiles:
        start, end = _down(0.0), _up(h)
        if corners == "rails run through":
            start, end = _down(b + g), _up(h - b - g)
        elif corners == "mitred":
            start, end = mitre[f"bottom {side} stile"], mitre[f"top {side} stile"]
        parts.append(
            _Part(
                role,
                role,
                0,
                "",
                f.section,
                (x, 0.0),
                (0.0, 1.0),
                (start,),
                (end,),
                length(role, role, f.height, corners == "rails run through"),
                (f"bottom {side}", f"top {side}"),
            )
        )
    for i, y in enumerate(f.rails):
        outer = i in (0, len(f.rails) - 1)
        name = "bottom rail" if i == 0 else "top rail" if outer else f"mid rail-{i}"
        role = "bottom rail" if i == 0 else "top rail" if outer else "mid rail"
        start, end = _toward_hinge(b + g), _toward_nose(w - b - g)
        butted = not outer or corners == "stiles run through"
        if outer and corners == "rails run through":
            start, end = _toward_hinge(0.0), _toward_nose(w)
        elif outer and corners == "mitred":
            which = "bottom" if i == 0 else "top"
            start = _turned_round(mitre[f"{which} hinge stile"], g)
            end = _turned_round(mitre[f"{which} nose stile"], g)
        ends = (
            (f"{name} hinge", f"{name} nose")
            if not outer
            else (("bottom hinge", "bottom nose") if i == 0 else ("top hinge", "top nose"))
        )
        parts.append(
            _Part(
                name,
                role,
                i if not outer else 0,
                "",
                f.section,
                (0.0, y.value),
                (1.0, 0.0),
                (start,),
                (end,),
                length(name.replace("-", " "), name, f.width, butted),
                ends,
            )
        )
    return parts


def _turned_round(plane: Plane, gap: float) -> Plane:
    """Return the cut on the other side of a mitre, a root gap away [m]."""
    return Plane((-plane.normal[0], -plane.normal[1]), -plane.offset - gap)


def _bays(f: _Frame) -> tuple[Bay, ...]:
    b = f.tube.value
    clear = chain.total(
        f"{f.key}/clear width", "clear width between stiles", [(1.0, f.width), (-2.0, f.tube)]
    )
    bays = []
    for number, (below, above) in enumerate(itertools.pairwise(f.rails), start=1):
        clear_height = chain.total(
            f"{f.key}/panel-{number}/clear height",
            f"clear height of panel {number}",
            [(1.0, above), (-1.0, below), (-1.0, f.tube)],
        )
        bays.append(
            Bay(
                number,
                b,
                f.width.value - b,
                below.value + b / 2,
                above.value - b / 2,
                clear,
                clear_height,
            )
        )
    return tuple(bays)


def _whole_leaf(f: _Frame, bays: Sequence[Bay]) -> Bay:
    """Return the bay from bottom rail to top rail, mid rails passed by."""
    clear_height = chain.total(
        f"{f.key}/clear height",
        "clear height between top and bottom rail",
        [(1.0, f.height), (-2.0, f.tube)],
    )
    first, last = bays[0], bays[-1]
    return Bay(WHOLE_LEAF, first.near, first.far, first.bottom, last.top, first.width, clear_height)


def _brace_of(braces: Sequence[Brace], panel: int) -> Brace | None:
    """Return the brace wished for a panel: one that names it goes before one for each."""
    for brace in braces:
        if brace.panel == panel:
            return brace
    for brace in braces:
        if brace.panel == "each":
            return brace
    return None


def _brace_ends(f: _Frame, key: str, brace: Brace, system: System) -> tuple[End, End]:
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
    f: _Frame, bay: Bay, brace: Brace, steel: Steel, system: System
) -> list[_Part] | Held:
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
    if brace.pattern == "X":
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
        _Part(
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
        )
        for tail, part in made
    ]


def _mark(leaf_key: str, part: _Part) -> str:
    """Return the short mark written on the steel, from the member's place and nothing else."""
    tails = {"": "", "through": "T", "lower": "L", "upper": "U"}
    number = str(part.number) if part.number else ""
    return f"{LETTERS[leaf_key]}-{_MARKS[part.role]}{number}{tails[part.tail]}"


def _as_seen(place: LeafPlace, x: float) -> float:
    return x if place.hand == "left" else place.width.value - x


def _plane_as_seen(place: LeafPlace, plane: Plane) -> Plane:
    if place.hand == "left":
        return plane
    n = plane.normal
    return Plane((-n[0], n[1]), plane.offset - n[0] * place.width.value)


def _member(place: LeafPlace, part: _Part) -> Member:
    sign = 1.0 if place.hand == "left" else -1.0
    foot = (_as_seen(place, part.foot[0]), part.foot[1])
    size = math.hypot(*part.direction)
    direction = (sign * part.direction[0] / size, part.direction[1] / size)
    bar = cut_bar(
        part.section.mass_outline(),
        part.section.width,
        foot,
        direction,
        start=[_plane_as_seen(place, p) for p in part.start],
        end=[_plane_as_seen(place, p) for p in part.end],
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
    )


def _level_at(member: Member, x: float) -> float:
    """Return the y of a member's centre line over a place as seen [m]."""
    return member.foot[1] + (x - member.foot[0]) * member.direction[1] / member.direction[0]


def _alone(place: LeafPlace, members: Sequence[Member], brace: Member, name: str) -> Joint:
    """Return the joint of a brace's end that stands on a stile or a rail alone."""
    panel, end, side, on = name.split(" ")
    if on == "stile":
        onto = members[0] if side == "hinge" else members[1]
        at = (onto.foot[0], _level_at(brace, onto.foot[0]))
    else:
        rails = sorted((m for m in members if m.role.endswith("rail")), key=lambda m: m.foot[1])
        onto = rails[int(panel.removeprefix("panel-")) - (1 if end == "bottom" else 0)]
        (x, y), (dx, dy) = brace.foot, brace.direction
        at = (x + (onto.foot[1] - y) * dx / dy, onto.foot[1])
    return Joint(f"{place.key}/{name}", "tee", at, (onto.key, brace.key))


def _joints(
    place: LeafPlace, f: _Frame, members: Sequence[Member], bays: Sequence[Bay]
) -> tuple[Joint, ...]:
    """Return every place where members meet; braces share the corner they are wedged into."""
    b, w = f.tube.value, f.width.value
    found: list[Joint] = []

    def named(which: str) -> tuple[str, ...]:
        return tuple(m.key for m in members if which in (m.start_joint, m.end_joint))

    near, far = _as_seen(place, b / 2), _as_seen(place, w - b / 2)
    rows = [("bottom", f.rails[0], 0), ("top", f.rails[-1], len(f.rails) - 1)]
    rows += [(f"mid rail-{i}", y, i) for i, y in enumerate(f.rails[1:-1], start=1)]
    for name, y, i in rows:
        for side, x in (("hinge", near), ("nose", far)):
            keys = list(named(f"{name} {side}"))
            keys += [
                k
                for n in (i, i + 1)
                for k in named(f"panel-{n} {'top' if n == i else 'bottom'} {side}")
            ]
            if name.startswith("mid"):
                stile = members[0] if side == "hinge" else members[1]
                keys.append(stile.key)
            joint_key, tee = f"{place.key}/{name} {side}", name.startswith("mid")
            middle = (x, y.value)
            found.append(Joint(joint_key, "tee" if tee else "corner", middle, tuple(keys)))
    by_key = {m.key: m for m in members}
    for bay in bays:
        keys_at = named(f"panel-{bay.number} crossing")
        if keys_at:
            through = by_key[f"{place.key}/brace-{bay.number}/through"]
            halfway = _as_seen(place, (bay.near + bay.far) / 2)
            at = (halfway, _level_at(through, halfway))
            name = f"{place.key}/panel-{bay.number} crossing"
            found.append(Joint(name, "crossing", at, (through.key, *keys_at)))
    for member in members:
        for name in (member.start_joint, member.end_joint):
            if name.endswith((" stile", " rail")):
                found.append(_alone(place, members, member, name))
    return tuple(found)


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
    section = steel.section(table.frame, table.grade)
    if section.shape in (sections.ROUND_TUBE, sections.ROUND_BAR, sections.ANGLE):
        why = (
            f"a frame of {section.designation} is not there yet: which way its legs point "
            "cannot be said"
            if section.shape == sections.ANGLE
            else "a frame of round tube needs its ends coped, which is not there yet"
        )
        return Held(why, ("a frame of square or rectangular tube",))
    tube = chain.base(
        "table", f"{place.key}/tube", "tube width", section.width, note=section.designation
    )
    gap = chosen(table.root_gap, "root gap", f"{place.key}/root gap", "root gap", system=system)
    if gap.value > WIDEST_GAP:
        return Held(
            "a root gap of more than 3/16 in (5 mm) is more than a fillet may bridge "
            "(AWS D1.1:2020, 7.21.1; clause number from memory)",
            ("a root gap of 3/16 in, 5 mm, or less",),
        )
    rails = _rail_heights(place.key, table, place.height, tube)
    if isinstance(rails, Held):
        return rails
    f = _Frame(
        place.key,
        table,
        section,
        "meeting stile" if pair else "closing stile",
        place.width,
        place.height,
        tube,
        rails,
        gap,
    )
    bays = _bays(f)
    if bays[0].width.value <= 0.0:
        return Held("the leaf is no wider than its two stiles", ("a wider leaf or a smaller tube",))
    parts = _outer_parts(f)
    chosen_braces = table.brace if braces is None else tuple(braces)
    held = wishes_held(chosen_braces, len(bays))
    if held is not None:
        return held
    wishes = [(bay, _brace_of(chosen_braces, bay.number)) for bay in bays]
    whole = [b for b in chosen_braces if b.panel == "whole leaf" and b.pattern == "rod"]
    wishes += [(_whole_leaf(f, bays), brace) for brace in whole]
    for bay, wish in wishes:
        if wish is None or wish.pattern == "none":
            continue
        braced = _brace_parts(f, bay, wish, steel, system)
        if isinstance(braced, Held):
            return braced
        parts += braced
    try:
        members = tuple(_member(place, part) for part in parts)
    except ValueError as error:
        return Held(f"a brace cannot be cut: {error}", ("a larger panel or a smaller brace",))
    panels = tuple(_panel(place, bay) for bay in bays)
    infill = infill_pieces(place.key, table.infill, panels, place.width.value, place.height.value)
    if isinstance(infill, Held):
        return infill
    weights = [(m.mass, m.bar.centroid) for m in members]
    covers = [(i.mass, ((i.left + i.right) / 2, (i.bottom + i.top) / 2)) for i in infill]
    return Leaf(
        key=place.key,
        hand=place.hand,
        width=place.width.value,
        height=place.height.value,
        members=members,
        joints=_joints(place, f, members, bays),
        root_gap=gap,
        panels=panels,
        infill=infill,
        lift_mass=sum(m for m, _ in weights),
        hung_mass=sum(m for m, _ in (*weights, *covers)),
        lift_centre=_centre(weights),
        centre=_centre([*weights, *covers]),
    )


def _panel(place: LeafPlace, bay: Bay) -> Panel:
    left, right = sorted((_as_seen(place, bay.near), _as_seen(place, bay.far)))
    return Panel(bay.number, left, right, bay.bottom, bay.top)


def _centre(weights: Sequence[tuple[float, Point2]]) -> Point2:
    mass = sum(m for m, _ in weights)
    return (
        sum(m * at[0] for m, at in weights) / mass,
        sum(m * at[1] for m, at in weights) / mass,
    )
