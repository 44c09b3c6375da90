"""What the doorway stage hands on: leaves in their places, gaps, posts and transom."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway.budget import GapBudget
from leafwright.records import Check, Metres

Side = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Allowances:
    """What the gaps must allow for that only later stages know.

    ``nose_drop`` [m] is how far a leaf's nose sags under its own weight, ``nose_shift`` [m] how
    far the top of its nose leans away from the hinge; neither is negative.
    """

    nose_drop: Quantity
    nose_shift: Quantity


def allowances(nose_drop: float, nose_shift: float, note: str) -> Allowances:
    """Return allowances [m] found by a later stage, with where they come from."""
    return Allowances(
        chain.base("table", "allowance/nose drop", "sag of the nose", nose_drop, note=note),
        chain.base("table", "allowance/nose shift", "lean of the nose", nose_shift, note=note),
    )


@dataclass(frozen=True, slots=True)
class LeafPlace:
    """Where one leaf stands in the doorway, as seen from the face side.

    ``hinge_edge`` is the x of its hinge edge and ``bottom`` the y of its bottom edge (survey
    axes); ``axis`` is from the hinge edge to the pivot axis, positive into the leaf; ``packing``
    is what goes under the pivot plate (None for a barrel hinge). ``half_face`` and ``half_back``
    are from the frame's middle to its outermost face on either side, infill included. Of a leaf
    that is made ``width`` is as made, where it is widest, and ``designed`` what it was cut to;
    ``height`` is as made too, where it is tallest, and ``drawn_height`` what it was cut to.
    """

    key: str
    hand: Side
    swing: str
    width: Quantity
    height: Quantity
    hinge_edge: Quantity
    bottom: Quantity
    axis: Quantity
    heel_gap: Quantity
    packing: Quantity | None
    half_face: Quantity
    half_back: Quantity
    designed: Quantity | None = None
    drawn_height: Quantity | None = None

    @property
    def height_on_sheet(self) -> Quantity:
        """Height that the leaf's own sheet and cards give [m]: as drawn, though made another."""
        return self.height if self.drawn_height is None else self.drawn_height

    @property
    def on_sheet(self) -> Quantity:
        """Width that the leaf's own sheet and cards give [m]: as designed, though made another."""
        return self.width if self.designed is None else self.designed


@dataclass(frozen=True, slots=True)
class MadeLeaf:
    """A leaf that is welded, as it was read: it is taken as it came out.

    ``width`` is its width where it is widest, ``at`` how far up that is [m]; ``designed`` is the
    width that it was cut to. ``closing`` is its height at the closing edge, where its top meets the
    other leaf's, ``tallest`` the larger of its two heights, and ``drawn`` the height that it was
    cut to; the first two are None where they were not read. ``risen`` is how far its closing edge
    stands up beside its hinge edge, as it is racked; None where that was not read.
    """

    hand: Side
    width: Quantity
    at: Metres
    designed: Quantity
    closing: Quantity | None
    tallest: Quantity | None
    drawn: Quantity
    risen: Quantity | None = None


@dataclass(frozen=True, slots=True)
class AsMade:
    """The leaves that are made, and what those that are not were before these were read.

    ``before`` is by side their width, and ``high`` the height of all leaves.
    """

    leaves: tuple[MadeLeaf, ...]
    before: tuple[tuple[Side, Quantity], ...]
    high: Quantity

    def of(self, hand: Side) -> MadeLeaf | None:
        """Return the leaf that hangs on a side, where it is made."""
        return next((leaf for leaf in self.leaves if leaf.hand == hand), None)


@dataclass(frozen=True, slots=True)
class FillerPiece:
    """A post or a transom that makes the opening smaller, with the space left behind it.

    ``near_edge`` faces the leaves and ``far_edge`` the building (x of a post, y of a transom);
    ``behind`` is the distance on to the building at each named place: what is shimmed there.
    A filler without a section is a size to be filled, of whatever the maker chooses.
    """

    key: str
    name: str
    section: str | None
    length: Quantity
    near_edge: Quantity
    far_edge: Quantity
    behind: tuple[Quantity, ...]


@dataclass(frozen=True, slots=True)
class Doorway:
    """The opening with its leaves in it; every size is a derived quantity.

    ``as_made`` is what the leaves that are welded already came out as; None before that.
    """

    width: Quantity
    height: Quantity | None
    leaves: tuple[LeafPlace, ...]
    gaps: tuple[Quantity, ...]
    posts: tuple[FillerPiece, ...]
    transom: FillerPiece | None
    clear_opening: Quantity
    budgets: tuple[GapBudget, ...]
    checks: tuple[Check, ...]
    as_made: AsMade | None = None

    @property
    def top_gap(self) -> Quantity | None:
        """Return the gap over the leaves, as hung where cut to fill [m]; None with no head."""
        named = {gap.key: gap for gap in self.gaps}
        return named.get("doorway/top gap as hung", named.get("doorway/top gap"))

    def over(self, key: str) -> Quantity | None:
        """Return the room over a leaf at its pivot, its top plate taken off where it is given [m].

        Args:
            key: the leaf.
        """
        named = {gap.key: gap for gap in self.gaps}
        return named.get(f"{key}/gap under top plate", self.top_gap)
