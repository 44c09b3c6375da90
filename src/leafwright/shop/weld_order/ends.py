"""The ends of a leaf's members as the order of welding sees them: beads, where they lie and pull.

Each member's end is joined to its node by its own beads. A bead draws the end toward the wall that
it stands on, where the bead lies; and it bends that wall's own tube, by what it shrinks along it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from leafwright.handbook.weld_shrinkage import bead_bend, fillet_shrinkage
from leafwright.leaf import Leaf, Member
from leafwright.proof.seam_parts import thickness
from leafwright.proof.seam_records import Seam
from leafwright.records import Metres, Number, Point2, Point3, Radians

#: From which side of a leaf that lies flat a bead can be laid.
Side = Literal["face", "back", "edge"]

#: A tack is so many times the thinner wall long, and at least this [-, m]: common practice.
TACK_WALLS = 4.0
SHORTEST_TACK = 0.012

_SAME = 1e-6


@dataclass(frozen=True, slots=True)
class Bead:
    """A seam, or the half of a round one that can be reached from one side.

    ``seam`` is the seam's key and ``part`` which of it, "" for all; ``end`` the number of its
    member's end; ``side`` from where it can be laid with the leaf flat. ``lines`` are its straight
    pieces in the member's own section, (y, z) from its middle [m]: y to the left of its direction.
    ``throat`` and ``draws`` are what it is worth and how much it draws in across itself if nothing
    holds it; ``tack`` how long its tack is; ``bends`` by what it turns the tube it stands on, in
    the leaf's plane and out of it, about that tube's own axes. ``covered_by`` is the mark of the
    member that will lie over it, so that it is laid before that one is put in; "" for none.
    """

    seam: str
    part: str
    end: int
    side: Side
    lines: tuple[tuple[Point2, Point2], ...]
    length: Metres
    throat: Metres
    wall: Metres
    draws: Metres
    tack: Metres
    onto: str
    at: Point3
    bends: tuple[Radians, Radians]
    covered_by: str


@dataclass(frozen=True, slots=True)
class End:
    """One end of a member that has beads: ``at`` is where they are, in leaf axes [m].

    ``later`` says that the member is put in once the beads that it covers are laid.
    """

    key: str
    member: str
    at_end: bool
    joint: str
    at: Point2
    later: bool


def ends_and_beads(
    leaf: Leaf, seams: Sequence[Seam], covered: Mapping[str, str]
) -> tuple[tuple[End, ...], tuple[Bead, ...]]:
    """Return the welded ends of a leaf, and every bead that is laid, in the order of its seams.

    ``covered`` says of a seam's key which member's mark will lie over it.
    """
    later = any(covered.get(seam.key) for seam in seams)
    members = {member.key: member for member in leaf.members}
    ends: dict[str, End] = {}
    beads: list[Bead] = []
    groups: dict[str, list[Seam]] = {}
    for seam in seams:
        if seam.kind != "none" and seam.length > 0.0:
            groups.setdefault(f"{seam.member}/{seam.end}", []).append(seam)
    for number, (key, mine) in enumerate(groups.items()):
        member = members[mine[0].member]
        places = [p for seam in mine for p in seam.path]
        at = (
            sum(p[0] for p in places) / len(places),
            sum(p[1] for p in places) / len(places),
        )
        ends[key] = End(
            key,
            member.key,
            _at_end(member, at),
            mine[0].joint,
            at,
            later and member.role == "brace",
        )
        for seam in mine:
            over = covered.get(seam.key, "")
            beads += _beads(number, seam, member, members[seam.onto], over)
    return tuple(ends.values()), tuple(beads)


def side_of(path: Sequence[Point3]) -> Side:
    """Return from which side of the leaf a seam can be laid: an edge one from either."""
    if all(z > _SAME for _, _, z in path):
        return "face"
    return "back" if all(z < -_SAME for _, _, z in path) else "edge"


def _at_end(member: Member, at: Point2) -> bool:
    along = _along(member, at)
    marks = [_along(member, p) for p in member.bar.outline]
    return along > (min(marks) + max(marks)) / 2


def _along(member: Member, at: Point2) -> float:
    return (at[0] - member.foot[0]) * member.direction[0] + (
        at[1] - member.foot[1]
    ) * member.direction[1]


def _off(member: Member, at: Sequence[float]) -> float:
    """Return how far to the left of a member's centre line a place lies [m]."""
    return (at[1] - member.foot[1]) * member.direction[0] - (
        at[0] - member.foot[0]
    ) * member.direction[1]


def _beads(end: int, seam: Seam, member: Member, onto: Member, over: str) -> list[Bead]:
    """Return a seam as one bead, or as two where it goes round and so has to be laid from both."""
    pairs = list(itertools.pairwise(seam.path))
    closed = len(pairs) > 2 and side_of(seam.path) == "edge"
    if not closed:
        return [_bead(end, seam, "", pairs, member, onto, over)]
    halves = [
        ("face half", [p for p in pairs if p[0][2] + p[1][2] > 0.0]),
        ("back half", [p for p in pairs if p[0][2] + p[1][2] <= 0.0]),
    ]
    return [_bead(end, seam, part, mine, member, onto, over) for part, mine in halves if mine]


def _bead(
    end: int,
    seam: Seam,
    part: str,
    pairs: Sequence[tuple[Point3, Point3]],
    member: Member,
    onto: Member,
    over: str,
) -> Bead:
    wall = min(thickness(member, design=False), thickness(onto, design=False))
    leg = seam.leg or math.sqrt(2.0) * seam.throat or wall
    length = sum(math.dist(a, b) for a, b in pairs)
    middle = tuple(
        sum((a[i] + b[i]) / 2 * math.dist(a, b) for a, b in pairs) / length for i in range(3)
    )
    at: Point3 = (middle[0], middle[1], middle[2])
    side: Side = "face" if part == "face half" else "back" if part else side_of(seam.path)
    inertias = onto.section.properties()
    area = leg**2 / 2.0
    off, z = _off(onto, at), at[2]
    bends = (
        _signed(off, area, length, inertias.inertia_v),
        -_signed(z, area, length, inertias.inertia_u),
    )
    return Bead(
        seam=seam.key,
        part=part,
        end=end,
        side=side,
        lines=tuple(((_off(member, a), a[2]), (_off(member, b), b[2])) for a, b in pairs),
        length=length,
        throat=leg / math.sqrt(2.0),
        wall=wall,
        draws=fillet_shrinkage(leg, wall),
        tack=min(length, max(TACK_WALLS * wall, SHORTEST_TACK)),
        onto=onto.key,
        at=at,
        bends=bends,
        covered_by=over,
    )


def _signed(lever: Metres, area: Number, length: Metres, inertia: Number) -> Radians:
    """Return the turn that a bead gives a tube, with the sign of its lever [rad]."""
    if abs(lever) < _SAME:
        return 0.0
    return math.copysign(bead_bend(area, abs(lever), length, inertia), lever)
