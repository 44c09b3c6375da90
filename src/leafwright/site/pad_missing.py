"""Which further readings would fix what the pad's readings leave unknown: the fewest that do."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np

from leafwright.records import Metres
from leafwright.site import squares
from leafwright.site.pad import (
    CORNERS,
    TWIST,
    PadFit,
    PadReading,
    height_rows,
    out_of_plane,
    plane_rows,
)

#: What a maker would read next in the leaf's plane, easiest first.
IN_PLANE = (
    PadReading("distance", "bottom hinge", "bottom closing", words="the width along the bottom"),
    PadReading("distance", "top hinge", "top closing", words="the width along the top"),
    PadReading("distance", "bottom hinge", "top hinge", words="the height along the hinge edge"),
    PadReading(
        "distance", "bottom closing", "top closing", words="the height along the closing edge"
    ),
    PadReading(
        "distance",
        "bottom hinge",
        "top closing",
        words="the diagonal from the bottom hinge corner to the top closing corner",
    ),
    PadReading(
        "distance",
        "bottom closing",
        "top hinge",
        words="the diagonal from the bottom closing corner to the top hinge corner",
    ),
    PadReading("string", "hinge edge", words="a string along the hinge edge"),
    PadReading("string", "closing edge", words="a string along the closing edge"),
    PadReading("string", "bottom edge", words="a string along the bottom edge"),
    PadReading("string", "top edge", words="a string along the top edge"),
)

#: And of heights.
LEVELS = tuple(
    PadReading("level", corner, words=f"the height of the {corner} corner") for corner in CORNERS
)

#: No more readings than this are tried at once.
AT_ONCE = 3


def missing_in_plane(
    readings: Sequence[PadReading],
    found: PadFit,
    slopes: np.ndarray,
    width: Metres,
    height: Metres,
) -> tuple[str, ...]:
    """Return the fewest further readings, in words, that would fix a number in the leaf's plane.

    Args:
        readings: what has been read.
        found: the shape that fits it.
        slopes: how the number follows the unknowns in the plane.
        width: designed width [m].
        height: designed height [m].
    """
    twisted = out_of_plane(found.heights)
    flat = [r for r in readings if r.kind != "level"]
    has = plane_rows(flat, found.plane, twisted, width, height)
    extra = plane_rows(IN_PLANE, found.plane, twisted, width, height)
    for count in range(1, AT_ONCE + 1):
        for chosen in itertools.combinations(range(len(IN_PLANE)), count):
            if _fixes(np.vstack([has, extra[list(chosen)]]), slopes):
                return tuple(IN_PLANE[i].words for i in chosen)
    return tuple(r.words for r in IN_PLANE)


def missing_levels(readings: Sequence[PadReading]) -> tuple[str, ...]:
    """Return the heights of corners that are still to be read before a twist is known."""
    read = {r.from_ for r in readings if r.kind == "level"}
    return tuple(level.words for level in LEVELS if level.from_ not in read)


def _fixes(rows: np.ndarray, slopes: np.ndarray) -> bool:
    even = squares.fit(rows, np.zeros(len(rows)), np.ones(len(rows)))
    return squares.is_known(slopes, even.loose)


def twist_is_known(readings: Sequence[PadReading]) -> bool:
    """Return whether the heights that were read fix the twist."""
    levels = [r for r in readings if r.kind == "level"]
    return _fixes(height_rows(levels), TWIST)
