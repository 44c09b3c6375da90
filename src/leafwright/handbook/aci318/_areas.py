"""Projected areas of a rectangular group, shared by breakout in tension, bond and shear."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from leafwright.handbook.aisc360._values import Real, require_not_negative, require_positive


def extent(reach: Real, before: Real, spacings: Sequence[Real], after: Real) -> Real:
    """Return the length of a projected area across one row of anchors [m].

    The surface runs ``reach`` out of the outermost anchors or to the edge if that is nearer;
    between two anchors it is whole up to twice the reach.

    reach: [m]; before, after: distance from the first and the last anchor to the edge [m], inf
        where there is none; spacings: between neighbours [m], none for a single anchor.
    Raises ValueError for a distance at or below 0.
    """
    require_positive(reach=reach, before=before, after=after)
    total: Real = np.minimum(before, reach) + np.minimum(after, reach)
    for number, spacing in enumerate(spacings, start=1):
        require_positive(**{f"spacing {number}": spacing})
        total = total + np.minimum(spacing, 2.0 * reach)
    return total


def eccentricity_factor(e: Real, reach: Real) -> Real:
    """Return 1 / (1 + e / reach), the factor for a load beside the group's centroid [-]."""
    require_not_negative(e=e)
    require_positive(reach=reach)
    factor: Real = 1.0 / (1.0 + e / reach)
    return factor


def edge_factor(c: Real, reach: Real) -> Real:
    """Return 0.7 + 0.3 c / reach, at most 1, the factor for the nearest edge [-]."""
    require_positive(c=c, reach=reach)
    factor: Real = 0.7 + 0.3 * np.minimum(c / reach, 1.0)
    return factor
