"""How far a long stile may be out of true as sold, and what its bow takes from its gap."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from leafwright.doorway import Doorway
from leafwright.handbook import mill_tolerances, sections
from leafwright.leaf import Leaf, Member
from leafwright.proof.working import Lines
from leafwright.records import Source
from leafwright.shop.pack.records import Crooked

A500 = Source("ASTM A500", "permissible variations: straightness, twist, corners (second-hand)")
EN10219 = Source("EN 10219-2:2006", "Tables 2 and 3 (second-hand)")

#: Which gap the edge of a stile makes.
_GAPS = {
    "hanging stile": "heel gap",
    "meeting stile": "meeting gap",
    "closing stile": "closing gap",
}


def crooked_of(leaves: Sequence[Leaf], room: Doorway, *, metric: bool) -> tuple[Crooked, ...]:
    """Return what each stile of tube may be out of true by its standard.

    Args:
        leaves: with their members.
        room: the doorway's gaps.
        metric: which standard a steel goes by whose own is not known.
    """
    return tuple(
        _of_stile(leaf, member, room, metric)
        for leaf in leaves
        for member in leaf.members
        if member.role in _GAPS and member.section.shape == sections.RECTANGULAR_TUBE
    )


def _of_stile(leaf: Leaf, member: Member, room: Doorway, metric: bool) -> Crooked:
    grade = member.section.grade.name
    by_en = grade.endswith("H") if not grade.startswith("A") else False
    if not by_en and not grade.startswith("A"):
        by_en = metric
    lines = Lines()
    length = member.length.value
    side, wall = max(member.section.width, member.section.height), member.section.nominal_wall
    corner: Callable[..., float]
    if by_en:
        out = lines.work(mill_tolerances.straightness_en10219, length=length)
        twist = lines.work(mill_tolerances.twist_en10219, length=length)
        corner, source = mill_tolerances.greatest_corner_en10219, EN10219
    else:
        out = lines.work(mill_tolerances.straightness_a500, length=length)
        twist = lines.work(mill_tolerances.twist_a500, side=side, length=length)
        corner, source = mill_tolerances.greatest_corner_a500, A500
    rounded = lines.work(corner, wall=wall)
    name = _GAPS[member.role]
    found = [g for g in room.gaps if g.key.startswith((f"{leaf.key}/{name}", f"doorway/{name}"))]
    # A gap that a lean eats up whole is the doorway's own trouble, told there.
    gap = min((g.value for g in found if g.value > 0.0), default=None)
    return Crooked(
        key=member.key,
        mark=member.mark,
        role=member.role,
        length=length,
        out=out,
        twist=twist,
        corner=rounded,
        gap_name=name,
        gap=gap,
        left=None if gap is None else gap - out,
        source=source,
        working=lines.kept(),
    )
