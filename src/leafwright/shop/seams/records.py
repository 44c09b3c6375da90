"""What the seams of a leaf are handed on as: numbered, located, with what each is made like."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leafwright.records import CubicMetres, Metres, Number, Point3, Radians, SquareMetres

Kind = Literal["fillet", "flare-bevel", "square groove", "bevel groove", "plug"]
Place = Literal["shop", "field"]
View = Literal["face", "back"]


@dataclass(frozen=True, slots=True)
class Positions:
    """In which positions a seam is made, by how the leaf lies; round a bar there are several.

    ``face_up`` and ``face_down`` are lying on the floor with that side on top, ``hung`` as it
    hangs; empty where the seam is not made so. ``apart`` is that of a part on the bench, before
    it comes to the leaf.
    """

    face_up: tuple[str, ...] = ()
    face_down: tuple[str, ...] = ()
    hung: tuple[str, ...] = ()
    apart: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NumberedSeam:
    """One seam: its number on the map, where it is, and what it is made like.

    ``key`` is its place and never changes with another seam; ``number`` and ``mark`` are for the
    map only. ``joint`` is the key of the leaf's joint or splice, empty for a part of the mount, and
    ``place`` that in words; ``member`` and ``onto`` are shop marks, ``end`` which end of the
    member, ``face`` the side of it, and ``where`` all of that in words. ``view`` is the side that
    shows it, ``faces`` the unit direction out of its face [-].

    ``leg`` is a fillet's; ``size`` what a symbol prints left of itself: leg, groove throat, or a
    plug's diameter; ``throat`` the effective one, 0 where none counts; ``length`` is all of it,
    ``counted`` what the proof takes of it; a plug's length is 0. Sizes are None where they are not
    given. ``angle`` is what the weld fills between the two surfaces, ``radius`` the round corner's
    that a flare-bevel lies in, ``wall`` the thinner part's thickness, a plug's depth.

    ``flush`` says that something is hung over it, so that it may not stand proud; ``before`` that
    it has to be welded before another part covers it; ``notes`` are sentences for the welder;
    ``unknown`` says what the job does not give. ``root`` is how far the parts of a groove stand
    apart where that is given, 0 where it follows from its throat [m].
    """

    key: str
    leaf: str
    number: int
    mark: str
    joint: str
    place: str
    member: str
    onto: str
    end: str
    face: str
    where: str
    kind: Kind
    leg: Metres | None
    size: Metres | None
    throat: Metres
    length: Metres | None
    counted: Metres
    angle: Radians
    radius: Metres
    wall: Metres
    path: tuple[Point3, ...]
    view: View
    faces: Point3
    all_round: bool
    done_at: Place
    positions: Positions
    flush: bool
    covered_by: str
    before: str
    used: Number | None
    case: str
    on_trial: bool
    notes: tuple[str, ...]
    unknown: str
    root: Metres = 0.0

    @property
    def about(self) -> str:
        """Return what a tick in the job's log is about."""
        return f"seam/{self.key}"

    @property
    def middle(self) -> Point3:
        """Return the point half way along its path [m]."""
        a, b = self.path[0], self.path[-1]
        if len(self.path) > 2:
            return self.path[len(self.path) // 2]
        return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)


@dataclass(frozen=True, slots=True)
class Unwelded:
    """A place where steel meets steel and no seam of its own is made, and why."""

    key: str
    where: str
    reason: str


@dataclass(frozen=True, slots=True)
class WeldLength:
    """All seams of one kind, size and place of work in a leaf: how many, how long, how much metal.

    ``volume`` is that of the joint as drawn, nothing for convexity or loss; None where a size or
    length is not given, which ``unknown`` counts.
    """

    kind: Kind
    size: Metres | None
    done_at: Place
    seams: int
    length: Metres
    area: SquareMetres | None
    volume: CubicMetres
    unknown: int


@dataclass(frozen=True, slots=True)
class LeafSeams:
    """Every seam of a leaf and of what holds it, numbered; and where none is, with why.

    ``frame`` are the seams of the leaf's own members, ``mount`` those of what holds it;
    ``symbols`` is the standard that their symbols follow.
    """

    leaf: str
    letter: str
    frame: tuple[NumberedSeam, ...]
    mount: tuple[NumberedSeam, ...]
    unwelded: tuple[Unwelded, ...]
    lengths: tuple[WeldLength, ...]
    symbols: str

    @property
    def every(self) -> tuple[NumberedSeam, ...]:
        """Return all of them, the frame's first."""
        return (*self.frame, *self.mount)


@dataclass(frozen=True, slots=True)
class Seams:
    """The seams of every leaf of a job."""

    leaves: tuple[LeafSeams, ...]
