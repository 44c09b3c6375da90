"""The cut list: every piece of steel in the leaves and the doorway, alike ones on one line.

Two pieces are alike where section, grade and the shape of both ends are the same; a piece that is
the other turned over is alike too, since tube has no right side before its holes are made. Each
keeps its own mark.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from leafwright.chain import Quantity
from leafwright.doorway import Doorway, FillerPiece
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.handbook.sections import ROUND_TUBE
from leafwright.job.steel import Steel
from leafwright.leaf import CutBar, EndCut, Leaf, Member, Plane, cut_bar
from leafwright.leaf.records import SplicedPiece
from leafwright.records import Check, Kilograms, Metres, Point2, Radians
from leafwright.shop.joiners import Joiner, joiners_of
from leafwright.shop.sawn import saw_checks
from leafwright.shop.saws import SawCut, Side, Tool, cuts_of, plain_tools
from leafwright.shop.wraps import Coped, Wrap, coped_wrap, wrap_of

#: Ends and lengths that differ by less than this are the same [m].
ALIKE = 1e-6

#: Shop marks of what is not part of a leaf, by key.
FILLER_MARKS = {
    "left/jamb post": "P-L",
    "right/jamb post": "P-R",
    "doorway/transom": "T",
    "left/gate post": "G-L",
    "right/gate post": "G-R",
}


@dataclass(frozen=True, slots=True)
class CutEnd:
    """One end as the saw sees it.

    ``angles`` are from square, in the order of the profile [rad]; ``sawn`` is whether the saw
    swings to every one of them and there is but one. ``offsets`` are the corners of the end:
    across from one edge, and along from the long point [m]: what to mark where no saw serves.
    ``cuts`` are how it is made, in order; ``wrap`` is the template of a round tube's end, and
    ``coped`` the round tube that it is coped to, None for none: ``offsets`` are then those of its
    outside edge.
    """

    angles: tuple[Radians, ...]
    sawn: bool
    offsets: tuple[Point2, ...]
    cuts: tuple[SawCut, ...] = ()
    wrap: Wrap | None = None
    coped: Coped | None = None


@dataclass(frozen=True, slots=True)
class NotchCut:
    """A notch half through a piece, as it is marked out.

    ``face`` is the side of the leaf it is cut from; ``lower`` and ``upper`` are where its two
    cuts meet the lower and the upper edge as drawn, from the long point of the piece's start
    [m]; ``slant`` is theirs from square [rad]; ``depth`` [m].
    """

    face: str
    lower: tuple[Metres, Metres]
    upper: tuple[Metres, Metres]
    slant: Radians
    depth: Metres


@dataclass(frozen=True, slots=True)
class CutItem:
    """One line of the cut list: pieces alike.

    ``length`` is long point to long point; ``edges`` are the lengths of the lower and the upper
    edge as drawn, what a tape laid along an edge reads; ``keys`` and ``marks`` name each piece;
    ``mass`` is of one; ``notch`` is the one to be cut in it, None for none.
    """

    keys: tuple[str, ...]
    marks: tuple[str, ...]
    roles: tuple[str, ...]
    section: CatalogueSection
    length: Quantity
    edges: tuple[Metres, Metres]
    start: CutEnd
    end: CutEnd
    outline: tuple[Point2, ...]
    mass: Kilograms
    notch: NotchCut | None = None


@dataclass(frozen=True, slots=True)
class CutList:
    """All pieces to be cut, longest first within a section; ``mass`` is of all of them.

    ``tools`` are the saws that their cuts are made by; ``joiners`` the sleeves and plates of
    splices; a sleeve of a given section is one of the pieces too, and in the mass.
    """

    items: tuple[CutItem, ...]
    mass: Kilograms
    tools: tuple[Tool, ...] = ()
    checks: tuple[Check, ...] = field(default=())
    joiners: tuple[Joiner, ...] = ()


@dataclass(frozen=True, slots=True)
class _Piece:
    key: str
    mark: str
    role: str
    section: CatalogueSection
    length: Quantity
    start: CutEnd
    end: CutEnd
    outline: tuple[Point2, ...]
    mass: float
    notch: NotchCut | None = None


def _end(cut: EndCut, mitre_range: float) -> CutEnd:
    """Return an end with its angles in the order in which its profile runs across."""
    angles = []
    for (u0, s0), (u1, s1) in itertools.pairwise(cut.profile):
        angles.append(math.atan2(abs(s1 - s0), u1 - u0))
    sawn = len(angles) == 1 and angles[0] <= mitre_range + 1e-9
    coped = Coped(cut.saddle.radius, math.pi / 2 - cut.angles[0]) if cut.saddle else None
    return CutEnd(tuple(angles), sawn, cut.profile, coped=coped)


def _straightened(outline: Sequence[Point2], direction: Point2) -> tuple[Point2, ...]:
    """Return a bar's outline laid along x from its leftmost point, edge down [m]."""
    c, s = direction
    turned = [(x * c + y * s, -x * s + y * c) for x, y in outline]
    left, low = min(x for x, _ in turned), min(y for _, y in turned)
    return tuple((x - left, y - low) for x, y in turned)


def _drawn_out(outline: Sequence[Point2], by: float) -> tuple[Point2, ...]:
    """Return an outline longer by what is added to a piece for weld shrinkage [m]."""
    middle = (min(x for x, _ in outline) + max(x for x, _ in outline)) / 2
    return tuple((x + by if x > middle else x, y) for x, y in outline)


def _notch_in(member: Member, bar: CutBar) -> NotchCut | None:
    """Return the notch of a member where it lies in a piece of it, None where it does not."""
    notch = member.notch
    if notch is None:
        return None
    c, s = member.direction
    along = [x * c + y * s for x, y in bar.outline]
    a, b, d, e = (x * c + y * s - min(along) for x, y in notch.corners)
    if min(a, e) < 0.0 or max(b, d) > max(along) - min(along):
        return None
    return NotchCut(notch.face, (a, b), (e, d), notch.slant, notch.depth)


def _of_member(m: Member, cut: Member | SplicedPiece, mitre_range: float) -> _Piece:
    """Return a member, or one piece of it where it is spliced, as the saw sees it."""
    return _Piece(
        key=cut.key,
        mark=cut.mark,
        role=m.role,
        section=m.section,
        length=cut.length,
        start=_end(cut.bar.start, mitre_range),
        end=_end(cut.bar.end, mitre_range),
        outline=_drawn_out(
            _straightened(cut.bar.outline, m.direction), cut.length.value - cut.bar.long
        ),
        mass=cut.mass,
        notch=_notch_in(m, cut.bar),
    )


def _of_leaf(leaf: Leaf, mitre_range: float) -> list[_Piece]:
    splices = {s.member: s for s in leaf.splices}
    whole = [_of_member(m, m, mitre_range) for m in leaf.members if m.key not in splices]
    halves = [
        _of_member(m, piece, mitre_range)
        for m in leaf.members
        if m.key in splices
        for piece in splices[m.key].pieces
    ]
    return whole + halves


def _of_filler(filler: FillerPiece, steel: Steel, mitre_range: float) -> _Piece | None:
    if filler.section is None:
        return None
    section = steel.section(filler.section)
    name = (filler.key, FILLER_MARKS[filler.key], filler.key.partition("/")[2])
    return _squared(name, section, filler.length, mitre_range)


def _squared(
    name: tuple[str, str, str], section: CatalogueSection, length: Quantity, mitre_range: float
) -> _Piece:
    """Return a piece that is square at both ends; its name is its key, its mark and its role."""
    size = length.value
    key, mark, role = name
    bar = cut_bar(
        section.mass_outline(),
        section.width,
        (0.0, 0.0),
        (1.0, 0.0),
        start=[Plane((-1.0, 0.0), 0.0)],
        end=[Plane((1.0, 0.0), size)],
    )
    return _Piece(
        key=key,
        mark=mark,
        role=role,
        section=section,
        length=length,
        start=_end(bar.start, mitre_range),
        end=_end(bar.end, mitre_range),
        outline=_straightened(bar.outline, (1.0, 0.0)),
        mass=bar.volume * section.density,
    )


def _edges(piece: _Piece) -> tuple[float, float]:
    """Return the lengths of the lower and the upper edge [m]: the length less both offsets."""
    lower = piece.start.offsets[0][1] + piece.end.offsets[0][1]
    upper = piece.start.offsets[-1][1] + piece.end.offsets[-1][1]
    return piece.length.value - lower, piece.length.value - upper


def _with_cuts(piece: _Piece, side: Side, tools: Sequence[Tool]) -> CutEnd:
    """Return an end of a piece with how it is made; ``sawn`` by what the saws do with it."""
    end = piece.start if side == "start" else piece.end
    cuts = cuts_of(end.offsets, side, piece.length.value, piece.section.height, tools)
    section, wrap = piece.section, None
    square = all(back < ALIKE for _, back in end.offsets)
    if end.coped is not None:
        wall = section.nominal_wall
        wrap = coped_wrap(end.offsets, side, section.width, wall, end.coped)
    elif section.shape == ROUND_TUBE and not square:
        wrap = wrap_of(end.offsets, side, section.width, section.nominal_wall)
    sawn = len(cuts) == 1 and cuts[0].way in ("saw", "jig")
    return replace(end, sawn=sawn, cuts=cuts, wrap=wrap)


def _turned_over(profile: Sequence[Point2], width: float) -> tuple[Point2, ...]:
    """Return an end's profile as read from the other side of the bar."""
    return tuple((width - u, s) for u, s in reversed(profile))


def _same_profile(a: Sequence[Point2], b: Sequence[Point2]) -> bool:
    return len(a) == len(b) and all(
        abs(u - v) < ALIKE and abs(s - t) < ALIKE for (u, s), (v, t) in zip(a, b, strict=True)
    )


def _same_end(a: CutEnd, b: CutEnd, profile: Sequence[Point2]) -> bool:
    """Return whether two ends are alike, the second read as ``profile``."""
    if (a.coped is None) != (b.coped is None):
        return False
    if a.coped and b.coped and abs(a.coped.radius - b.coped.radius) >= ALIKE:
        return False
    return _same_profile(a.offsets, profile)


def _alike(a: _Piece, b: _Piece) -> bool:
    """Return whether two pieces are alike, whichever way round or up they lie."""
    if a.notch is not None or b.notch is not None:
        # Which way round and up a notched piece lies matters: it keeps a line of its own.
        return False
    same_steel = (a.section.designation, a.section.grade.name) == (
        b.section.designation,
        b.section.grade.name,
    )
    if not same_steel or abs(a.length.value - b.length.value) >= ALIKE:
        return False
    # The profile of an end is read from its own right edge, so an end seen from the other side of
    # the bar is the flipped one; start and end swap when the bar is turned end for end.
    width = b.section.width
    for first, last in ((b.start, b.end), (b.end, b.start)):
        if _same_end(a.start, first, first.offsets) and _same_end(a.end, last, last.offsets):
            return True
        over = (_turned_over(first.offsets, width), _turned_over(last.offsets, width))
        if _same_end(a.start, first, over[0]) and _same_end(a.end, last, over[1]):
            return True
    return False


def cut_list(
    leaves: Sequence[Leaf],
    found: Doorway,
    steel: Steel,
    *,
    mitre_range: float,
    tools: Sequence[Tool] | None = None,
    standing: Sequence[FillerPiece] = (),
) -> CutList:
    """Return the cut list of a job.

    Args:
        leaves: the leaves with their members.
        found: the doorway with its posts and transom.
        steel: sections of the job.
        mitre_range: how far the saw swings from square [rad], where no ``tools`` are given.
        tools: the saws, in the order in which they are reached for.
        standing: posts that stand in the ground.
    """
    have = plain_tools(mitre_range) if tools is None else tuple(tools)
    pieces = [p for leaf in leaves for p in _of_leaf(leaf, mitre_range)]
    fillers = (*found.posts, *((found.transom,) if found.transom else ()), *standing)
    pieces += [p for f in fillers if (p := _of_filler(f, steel, mitre_range)) is not None]
    joiners = joiners_of(leaves)
    pieces += [
        _squared((one.key, one.mark, "sleeve"), one.sleeve, one.length, mitre_range)
        for one in joiners
        if one.sleeve is not None
    ]
    groups: list[list[_Piece]] = []
    for piece in pieces:
        group = next((g for g in groups if _alike(g[0], piece)), None)
        if group is None:
            groups.append([piece])
        else:
            group.append(piece)
    items = [
        CutItem(
            keys=tuple(p.key for p in group),
            marks=tuple(p.mark for p in group),
            roles=tuple(dict.fromkeys(p.role for p in group)),
            section=group[0].section,
            length=group[0].length,
            edges=_edges(group[0]),
            start=_with_cuts(group[0], "start", have),
            end=_with_cuts(group[0], "end", have),
            outline=group[0].outline,
            mass=group[0].mass,
            notch=group[0].notch,
        )
        for group in groups
    ]
    items.sort(key=lambda i: (i.section.designation, -i.length.value, i.marks))
    ends = [
        (item.keys[0], item.marks, side, end.cuts)
        for item in items
        for side, end in (("left", item.start), ("right", item.end))
    ]
    return CutList(
        tuple(items),
        sum(i.mass * len(i.marks) for i in items),
        have,
        saw_checks(ends),
        joiners,
    )
