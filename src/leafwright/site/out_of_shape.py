"""The ways in which a leaf on the pad may be out of shape: worked out, limited, told."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

import numpy as np

from leafwright.records import Metres
from leafwright.site import pad
from leafwright.site.pad import EDGES

_INCH = 0.0254


@dataclass(frozen=True, slots=True)
class Limits:
    """How far a leaf may be out before it is put right [m] (common practice, no source).

    ``diagonals`` is for the difference of the two; the rack that goes with it follows from the
    leaf's size. ``size`` is for the width and the height, ``taper`` for one end against the other,
    ``bow`` for an edge's middle and ``twist`` for the fourth corner over the plane of the rest.
    """

    diagonals: Metres = _INCH / 16
    size: Metres = _INCH / 16
    taper: Metres = _INCH / 16
    bow: Metres = _INCH / 16
    twist: Metres = _INCH / 8


@dataclass(frozen=True, slots=True)
class Figure:
    """A number to be told from the shape in the plane: how to work it out, its limit, its words.

    ``more`` and ``less`` say it where it is positive and negative; ``why`` where it is unknown.
    """

    key: str
    name: str
    function: Callable[[np.ndarray], float]
    limit: Metres
    more: str
    less: str
    change: str
    why: str


def figures_of(width: float, height: float, limits: Limits) -> list[Figure]:
    """Return each way in which a leaf of this size may be out of shape [m]."""
    lean = limits.diagonals * math.hypot(width, height) / (2.0 * width)
    across, up = ("bottom edge", "top edge"), ("hinge edge", "closing edge")
    found = [
        Figure(
            "rack",
            "rack",
            pad.lean_over_height,
            lean,
            "top leans {} toward the closing edge over the height",
            "top leans {} toward the hinge edge over the height",
            "push the corner at the end of the long diagonal",
            "both diagonals tell it",
        ),
        Figure(
            "width",
            "width against the sheet",
            partial(pad.size_over, edges=across, size=width),
            limits.size,
            "{} wider than the sheet says",
            "{} narrower than the sheet says",
            "read the rails against their cut card; close or open the corner joints before welding",
            "diagonals hardly show it",
        ),
        Figure(
            "height",
            "height against the sheet",
            partial(pad.size_over, edges=up, size=height),
            limits.size,
            "{} taller than the sheet says",
            "{} shorter than the sheet says",
            "read the stiles against their cut card; close or open the corner joints before "
            "welding",
            "diagonals do not show it apart from the width",
        ),
        Figure(
            "width taper",
            "top against bottom width",
            partial(pad.longer, edges=across[::-1]),
            limits.taper,
            "{} wider at the top than at the bottom",
            "{} narrower at the top than at the bottom",
            "compare the two rails with their cut card; close the corner joints at the wide end",
            "a leaf wider at one end has equal diagonals all the same",
        ),
        Figure(
            "height taper",
            "closing against hinge edge",
            partial(pad.longer, edges=up[::-1]),
            limits.taper,
            "{} taller at the closing edge than at the hinge edge",
            "{} shorter at the closing edge than at the hinge edge",
            "compare the two stiles with their cut card; close the corner joints at the long side",
            "a leaf taller at one side has equal diagonals all the same",
        ),
    ]
    for edge in EDGES:
        found.append(
            Figure(
                f"{edge} bow",
                f"bow of the {edge}",
                partial(pad.bow, edge=edge),
                limits.bow,
                f"middle of the {edge} stands {{}} out",
                f"middle of the {edge} is hollow by {{}}",
                f"push the middle of the {edge} straight and clamp it to the mid rail or a bar",
                "sides and diagonals do not show it",
            )
        )
    return found
