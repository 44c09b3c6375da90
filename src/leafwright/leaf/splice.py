"""A member made of two pieces, welded end to end on a sleeve inside or with plates outside.

The leaf has the member whole, as it stands; the saw has its two pieces. Both are cut square at
the splice, which is open by its root: for a sleeve the wall's thickness, as a groove weld on a
backing wants it (AWS D1.1:2020, joint B-L1a; from memory), for plates the leaf's own root gap.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.handbook import sections
from leafwright.handbook.catalogue import CatalogueError
from leafwright.job.cut_wishes import Splice as Wish
from leafwright.job.defaults import System, chosen
from leafwright.job.steel import Steel
from leafwright.leaf.cope import Saddle
from leafwright.leaf.cut import Plane, cut_bar
from leafwright.leaf.records import Joint, Member, Splice, SplicedPiece
from leafwright.records import Held


def _plain(name: str) -> str:
    return " ".join(name.lower().replace("-", " ").replace("/", " ").split())


def splices_of(
    wishes: Sequence[Wish],
    members: Sequence[Member],
    joints: Sequence[Joint],
    gap: Quantity,
    shrinkage: Quantity,
    system: System,
    steel: Steel,
) -> tuple[Splice, ...] | Held:
    """Return the splices of a leaf, or why one cannot be made.

    Args:
        wishes: of the job file.
        members: of the leaf.
        joints: of the leaf.
        gap: root gap of the leaf [m].
        shrinkage: weld shrinkage of the leaf, for each joint [m].
        system: unit family of the job, for its defaults.
        steel: sections of the job, for the sleeves.
    """
    made: list[Splice] = []
    names = {_plain(m.key.split("/", 1)[1]): m for m in members if m.role != "rod"}
    for wish in wishes:
        member = names.get(_plain(wish.member))
        if member is None:
            return Held(
                f"there is no member {wish.member!r} to splice",
                (f"one of {', '.join(names)}",),
            )
        if any(other.member == member.key for other in made):
            return Held(f"{member.mark} is spliced twice", ("one splice in a member",))
        splice = _splice(wish, member, joints, gap, shrinkage, system)
        if isinstance(splice, Splice):
            splice = _with_joiner(splice, wish, member, steel)
        if isinstance(splice, Held):
            return splice
        made.append(splice)
    return tuple(made)


def _with_joiner(splice: Splice, wish: Wish, member: Member, steel: Steel) -> Splice | Held:
    """Return a splice with its sleeve or plates, as far as the job gives them."""
    given = [key for key in ("width", "thickness") if getattr(wish, key) is not None]
    if wish.by == "inner sleeve":
        if given:
            return Held(
                f"the splice in {member.mark} is by a sleeve, which has no {given[0]}",
                ('section, or by = "plates"',),
            )
        if wish.section is None:
            return splice
        try:
            return replace(splice, sleeve=steel.section(wish.section, wish.grade))
        except CatalogueError as error:
            return Held(f"the sleeve in {member.mark}: {error}", ("a section that there is",))
    if wish.section is not None:
        return Held(
            f"the splice in {member.mark} is by plates, which have no section",
            ('width and thickness, or by = "inner sleeve"',),
        )
    if wish.width is None or wish.thickness is None:
        return replace(splice, grade=wish.grade or "")
    return replace(splice, plate=(wish.width.si, wish.thickness.si), grade=wish.grade or "")


def _splice(
    wish: Wish,
    member: Member,
    joints: Sequence[Joint],
    gap: Quantity,
    shrinkage: Quantity,
    system: System,
) -> Splice | Held:
    key, section = f"{member.key}/splice", member.section
    hollow = section.shape in (sections.RECTANGULAR_TUBE, sections.ROUND_TUBE)
    if wish.by == "inner sleeve" and not hollow:
        return Held(f"{member.mark} has no inside for a sleeve", ('by = "plates"',))
    at = chain.base("wish", f"{key}/at", f"splice in {member.mark}", wish.at.si, note=wish.at.text)
    (c, s), width = member.direction, section.width
    start = min(x * c + y * s for x, y in member.bar.outline)
    first, last = (max(d for _, d in end.profile) for end in (member.bar.start, member.bar.end))
    if not first + width < at.value < member.bar.long - last - width:
        return Held(
            f"the splice in {member.mark} is in its end, or beyond it",
            ("a place at least the tube's width from both ends' cuts",),
        )
    foot = member.foot[0] * c + member.foot[1] * s
    place = (
        member.foot[0] + (start + at.value - foot) * c,
        member.foot[1] + (start + at.value - foot) * s,
    )
    for joint in joints:
        along = (joint.at[0] - place[0]) * c + (joint.at[1] - place[1]) * s
        if member.key in joint.members and abs(along) < 1.5 * width:
            return Held(
                f"the splice in {member.mark} is where something is welded to it",
                ("a place that is one and a half times the tube's width from every joint",),
            )
    reach = chosen(wish.reach, "sleeve reach", f"{key}/reach", "sleeve reach", system=system)
    root = gap
    if wish.by == "inner sleeve":
        root = chain.base(
            "table",
            f"{key}/root",
            "root opening of the splice",
            section.nominal_wall,
            note=f"the wall of {section.designation}: AWS D1.1:2020, joint B-L1a (from memory)",
        )
    middle = start + at.value
    half = root.value / 2
    cuts: tuple[tuple[tuple[Plane, ...] | Saddle, tuple[Plane, ...] | Saddle], ...] = (
        (member.bar.start.made_by, (Plane((c, s), middle - half),)),
        ((Plane((-c, -s), -(middle + half)),), member.bar.end.made_by),
    )
    rest = [(1.0, member.length), (-1.0, at), (-0.5, root)]
    if shrinkage.value:
        rest.append((1.0, shrinkage))
    pieces = []
    for number, (first_cut, last_cut) in enumerate(cuts):
        letter = "ab"[number]
        bar = cut_bar(
            section.mass_outline(),
            width,
            member.foot,
            member.direction,
            start=first_cut,
            end=last_cut,
        )
        piece = f"{member.key}/piece-{letter}"
        parts = [(1.0, at), (-0.5, root)] if number == 0 else rest
        name = f"length of {member.mark}{letter}, long point to the splice"
        pieces.append(
            SplicedPiece(
                piece,
                f"{member.mark}{letter}",
                bar,
                chain.total(f"{piece}/length", name, parts),
                bar.volume * section.density,
            )
        )
    return Splice(key, member.key, wish.by, at, place, root, reach, (pieces[0], pieces[1]))
