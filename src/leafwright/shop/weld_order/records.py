"""What the study of the order of welding hands on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leafwright.records import Kilograms, Metres, Number, Point2, Point3, Source
from leafwright.shop.weld_order.ends import Side

StepKind = Literal["tack", "check", "weld", "cool", "fit", "turn"]


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do, in order. ``up`` is the side of the leaf that is up.

    A weld names its ``seam``'s key, and which ``part`` of it where that is not all; ``at`` is its
    middle in leaf axes [m]. ``first`` says that it is the first bead at its end of the member.
    Nothing else has a seam. ``fit`` is to put in the braces, which cover what was laid before.
    ``number`` counts the welds from 1, and is 0 for all else.
    """

    kind: StepKind
    up: Literal["face", "back"]
    number: int = 0
    seam: str = ""
    part: str = ""
    side: Side = "face"
    at: Point3 = (0.0, 0.0, 0.0)
    length: Metres = 0.0
    first: bool = False


@dataclass(frozen=True, slots=True)
class Tacks:
    """The tacks at one joint of a leaf: how many, how long; ``at`` is the joint's place [m].

    ``later`` of them are those of braces that are put in later.
    """

    joint: str
    at: Point2
    count: int
    later: int
    length: Metres
    seams: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OutBy:
    """One way in which a leaf comes out of shape, as parts of what the plain order leaves in all.

    ``kind`` is ``square``, ``twist``, ``flat`` (bows out of the leaf's plane) or ``edge`` (bows in
    it); ``plain`` and ``best`` are how much of it each order leaves [-].
    """

    kind: str
    plain: Number
    best: Number


@dataclass(frozen=True, slots=True)
class Left:
    """What the best order leaves, the greatest first: which way, and its ``share`` of all [-].

    ``member`` is the key of what bows, "" for the leaf. ``way`` is, for ``square``, the diagonal
    that comes out shorter: ``rising`` from the bottom at the hinge, or ``falling`` to it; for
    ``twist`` the ends of the diagonal whose corners stand up: the same two words; for ``flat``
    the ``face`` or ``back``; for ``edge`` ``out``, ``in``, ``up`` or ``down``.
    """

    kind: str
    member: str
    way: str
    share: Number


@dataclass(frozen=True, slots=True)
class Turned:
    """The best order found for a number of turns of the leaf, over the plain order [-]."""

    turns: int
    share: Number


@dataclass(frozen=True, slots=True)
class WeldOrder:
    """The order found for one leaf.

    ``share`` is how far out of shape it leaves the leaf, over the plain order [-]; ``least`` and
    ``most`` that share over all that was tried of what is not known. ``dogged`` is the
    share with the leaf held down flat until it is cold. ``worked`` counts orders. ``no_length``
    says why no length is given. ``like`` is the leaf whose order it mirrors, "" for its own.
    """

    key: str
    mass: Kilograms
    turns: int
    steps: tuple[Step, ...]
    tacks: tuple[Tacks, ...]
    share: Number
    least: Number
    most: Number
    dogged: Number
    parts: tuple[OutBy, ...]
    left: tuple[Left, ...]
    tried: tuple[Turned, ...]
    worked: int
    like: str
    longest: Metres
    sources: tuple[Source, ...]
    assumptions: tuple[str, ...]
    no_length: str
