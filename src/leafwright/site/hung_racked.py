"""A hung leaf that has racked: how far, in the maker's words, and what that wants.

A racked leaf has upright stiles and sloping rails. No plate puts that right: it is put square
again, or left, with its gaps as they then are.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from leafwright.chain import BAND_95
from leafwright.records import Metres
from leafwright.site.hung_fit import rack_words
from leafwright.site.pose import HungLeaf
from leafwright.site.wording import shown
from leafwright.units import Tape

#: Key of this part among those of a leaf's pose.
RACK = "rack"

NAME = "square in itself"


def diagonals_of(leaf: HungLeaf, rack: Metres) -> Metres:
    """Return how much longer its diagonal from the hinge edge's bottom is than the other [m].

    Racked by ``rack`` over the pins the closing edge comes up by that times width over spacing,
    and each diagonal changes by that times height over its length, to first order.
    """
    risen = rack * leaf.width / leaf.pin_spacing
    return 2.0 * risen * leaf.height / math.hypot(leaf.width, leaf.height)


def rack_found(
    leaf: HungLeaf, rack: Metres | None, sd: Metres | None, racked: bool, tape: Tape
) -> tuple[str, str]:
    """Return the name of this part of a pose, and how the leaf stands in it, in words.

    Args:
        leaf: the leaf.
        rack: closing edge up, over the pins' spacing; None where the readings do not tell [m].
        sd: how sure that is [m].
        racked: whether the readings agree only if it has racked.
        tape: the maker's tape.
    """
    if rack is None or sd is None:
        return NAME, f"{NAME}: not known from these readings"
    band = BAND_95 * sd * leaf.width / leaf.pin_spacing
    if racked:
        return NAME, f"the leaf itself {rack_words(leaf, rack, tape)} (± {shown(band, tape)})"
    return NAME, f"the leaf itself: square, as far as these readings tell (± {shown(band, tape)})"


def rack_remains(
    leaf: HungLeaf, values: Mapping[str, float | None], tape: Tape, square: Metres
) -> tuple[str, ...]:
    """Return what a leaf that has racked wants, in sentences; nothing for one that has not.

    Args:
        leaf: the leaf.
        values: its pose.
        tape: the maker's tape.
        square: by how much its diagonals may differ before it is put right [m].
    """
    rack = values.get(RACK)
    if rack is None:
        return ()
    longer = diagonals_of(leaf, rack)
    start, end = ("hinge edge", "closing edge") if longer > 0.0 else ("closing edge", "hinge edge")
    if abs(longer) <= square:
        return (
            f"Its diagonals differ by {shown(longer, tape)}, within what is allowed: leave it.",
        )
    return (
        f"No plate makes a racked leaf square: its diagonal from the bottom of the {start} to the "
        f"top of the {end} is {shown(longer, tape)} too long against the other. Look for a cracked "
        "seam or a slack rod first. Then take it down and push that diagonal in on the pad until "
        "both are alike, brace and seams made good; or leave it, if every gap foretold here will "
        "do.",
    )
