"""What the leaf stage hands on: members with their cuts, joints, panels, infill and weight.

Everything is as seen from the face side, in the leaf's own axes: x to the right and y up from the
leaf's lower left corner as seen, z toward the viewer from the middle of the frame.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leafwright.chain import Quantity
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.leaf.brace_ends import Size
from leafwright.leaf.cut import CutBar
from leafwright.leaf.notch import Notch
from leafwright.records import Kilograms, Metres, Number, Point2, SquareMetres

Role = Literal[
    "hanging stile",
    "meeting stile",
    "closing stile",
    "bottom rail",
    "top rail",
    "mid rail",
    "brace",
    "rod",
]


@dataclass(frozen=True, slots=True)
class Member:
    """One piece of steel in the leaf.

    ``foot`` and ``direction`` are its centre line, from start to end; ``length`` is long point to
    long point as a derived quantity, which the solid ``bar`` must agree with: but for what is
    added to it for weld shrinkage, which the finished ``bar`` is without. ``stands`` is what the
    lower and the upper end of a brace stand on; ``notch`` that of a half-lapped one.
    """

    key: str
    mark: str
    role: Role
    section: CatalogueSection
    foot: Point2
    direction: tuple[Number, Number]
    bar: CutBar
    length: Quantity
    mass: Kilograms
    start_joint: str
    end_joint: str
    stands: tuple[Size, Size] | None = None
    notch: Notch | None = None


@dataclass(frozen=True, slots=True)
class Joint:
    """A place where members meet, where their centre lines do [m]."""

    key: str
    kind: Literal["corner", "tee", "crossing"]
    at: Point2
    members: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SplicedPiece:
    """One of the two pieces of a spliced member: ``length`` long point to long point."""

    key: str
    mark: str
    bar: CutBar
    length: Quantity
    mass: Kilograms


@dataclass(frozen=True, slots=True)
class Splice:
    """Where and how a member is made of two pieces.

    ``at`` is from the long point of the member's start: a stile's and a brace's lower end, a
    rail's at the hinge; ``place`` is that on the centre line; ``root`` how far the two pieces
    stand apart, ``reach`` how far sleeve or plates go on each way [m]; ``sleeve`` the sleeve's
    section and ``plate`` each plate's width and thickness, where the job gives them; ``grade`` the
    plates' steel.
    """

    key: str
    member: str
    by: Literal["inner sleeve", "plates"]
    at: Quantity
    place: Point2
    root: Quantity
    reach: Quantity
    pieces: tuple[SplicedPiece, SplicedPiece]
    sleeve: CatalogueSection | None = None
    plate: tuple[Metres, Metres] | None = None
    grade: str = ""


@dataclass(frozen=True, slots=True)
class Panel:
    """A bay between two rails, counted from the bottom; sizes are clear, inside the tubes [m]."""

    number: int
    left: Metres
    right: Metres
    bottom: Metres
    top: Metres


@dataclass(frozen=True, slots=True)
class InfillPiece:
    """What covers one panel on one face, out to the frame's edges and the mid rails' middles."""

    key: str
    kind: str
    panel: int
    face: Literal["face", "back"]
    left: Metres
    right: Metres
    bottom: Metres
    top: Metres
    thickness: Metres
    area: SquareMetres
    mass: Kilograms


@dataclass(frozen=True, slots=True)
class Leaf:
    """One leaf: ``lift_mass`` is its bare frame, ``hung_mass`` that with its infill.

    Pivot parts are in neither. ``centre`` is the centre of gravity of the hung leaf [m].
    ``root_gap`` is left at every joint of the frame as it is fitted up [m];
    ``weld_shrinkage`` is added for each joint to the length of a rail or stile that runs between
    others, for what the weld will pull in [m]. Braces, fitted into the frame, have none.
    """

    key: str
    hand: Literal["left", "right"]
    width: Metres
    height: Metres
    members: tuple[Member, ...]
    joints: tuple[Joint, ...]
    splices: tuple[Splice, ...]
    root_gap: Quantity
    weld_shrinkage: Quantity
    panels: tuple[Panel, ...]
    infill: tuple[InfillPiece, ...]
    lift_mass: Kilograms
    hung_mass: Kilograms
    lift_centre: Point2
    centre: Point2
