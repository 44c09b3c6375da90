"""The ends of a leaf's members as joints: the walls they stand on, and the seams round them.

In leaf axes: x to the right, y up, z toward the viewer, from the middle of the frame.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from leafwright.handbook import sections
from leafwright.leaf import Member
from leafwright.records import Metres, Point2, Point3, Radians

#: Most that a gap at the root may be before a fillet's leg grows by it: AWS D1.1:2020, 7.21.1
#: (clause number from memory), 1/16 in [m].
ROOT_GAP = 0.0254 / 16

Kind = Literal["fillet", "flare-bevel", "square groove", "none"]


@dataclass(frozen=True, slots=True)
class Landing:
    """One wall that a member's end stands on.

    ``normal`` points out of that wall toward the member and ``along`` lies along the wall [-];
    ``centre`` is the middle of the landing and ``length`` its length along the wall [m];
    ``angle`` is the acute angle between the two members; ``to_end`` is how far the landing's
    middle is from the nearer open end of what it stands on, inf where both are welded shut;
    ``cross`` says that another member stands opposite.
    """

    onto: Member
    normal: Point2
    along: Point2
    centre: Point2
    length: Metres
    angle: Radians
    to_end: Metres
    cross: bool


@dataclass(frozen=True, slots=True)
class Piece:
    """One straight piece of a seam.

    ``face`` names the seam; ``angle`` is the one that the weld fills, between the two surfaces;
    ``shelf`` is how much of the wall there is beside the seam [m]; ``landing`` is the number of
    the wall it lies on, -1 at a mitre; ``across`` says that it lies across the wall; ``whole`` is
    the length of the one weld that a short piece is part of, None where it is that itself [m].
    """

    face: str
    kind: Kind
    start: Point3
    end: Point3
    angle: Radians
    shelf: Metres
    landing: int
    across: bool
    whole: Metres | None = None

    @property
    def length(self) -> Metres:
        """Return the length of the piece [m]."""
        return math.dist(self.start, self.end)


@dataclass(frozen=True, slots=True)
class WeldedEnd:
    """One end of a member with the seams round it.

    ``name`` is which end, as in a key; ``mate`` the member it is mitred with; ``gap`` is the root
    gap that its seams bridge [m]. Where it has no seam ``reason`` says why; where it has, ``bare``
    says which stretch of its cut has none and why, ``bare_length`` how long that is [m].
    """

    member: Member
    name: str
    at_end: bool
    joint: str
    landings: tuple[Landing, ...] = ()
    pieces: tuple[Piece, ...] = ()
    mate: Member | None = None
    reason: str = ""
    gap: Metres = 0.0
    bare: str = ""
    bare_length: Metres = 0.0

    @property
    def key(self) -> str:
        """Return the key of the end: its member's, and which end."""
        return f"{self.member.key}/{self.name}"

    @property
    def subject(self) -> str:
        """Return what a check calls the end."""
        words = f"{self.member.mark} {self.member.role}, {self.name} end"
        if self.mate is not None:
            return f"{words}, mitred with {self.mate.mark} {self.mate.role}"
        stood_on = sorted(self.landings, key=lambda landing: "stile" not in landing.onto.role)
        onto = " and ".join(_on_words(landing.onto) for landing in stood_on)
        return f"{words} on {onto}" if onto else words


def thickness(member: Member, *, design: bool) -> Metres:
    """Return a tube's wall, nominal or by design, or the thickness of a solid bar [m]."""
    section = member.section
    wall = section.design_wall if design else section.nominal_wall
    return wall or min(section.width, section.height)


def is_tube(member: Member) -> bool:
    """Return whether a member is a square or rectangular tube."""
    return member.section.shape == sections.RECTANGULAR_TUBE


def is_round(member: Member) -> bool:
    """Return whether a member is a round tube or bar."""
    return member.section.shape in (sections.ROUND_TUBE, sections.ROUND_BAR)


def is_coped(end: WeldedEnd) -> bool:
    """Return whether an end is coped to a round tube."""
    cut = end.member.bar.end if end.at_end else end.member.bar.start
    return cut.saddle is not None and bool(end.landings)


def _on_words(member: Member) -> str:
    frame = member.role not in ("brace", "rod", "mid rail")
    return f"the {member.role}" if frame else f"{member.mark} {member.role}"
