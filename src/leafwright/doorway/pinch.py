"""Pinch and shear: where a gap that moves can catch a finger, toes, a hand or a person.

Cautions, not verdicts: they say where, and what would do.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from leafwright.records import Metres, Source

Place = Literal["heel", "nose", "obstacle", "floor"]

#: The figures were read in a public summary of EN 349, which this standard has replaced.
MINIMUM_GAPS = Source(
    "EN ISO 13854:2019", "minimum gaps, by a public summary of its forerunner EN 349"
)

#: A gap that changes by less than this as the leaf turns does not pinch [m]: common practice.
STILL = 0.0005


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the body: the gap that does not crush it, and the least that it gets into [m].

    What it gets into is common practice, no source.
    """

    name: str
    figure: Metres
    enters: Metres


FINGER = Part("finger", 0.025, 0.004)
TOES = Part("toes", 0.050, 0.010)
HAND = Part("hand", 0.100, 0.025)
PERSON = Part("person", 0.500, 0.200)

#: What may be caught at each place, the smallest first.
CAUGHT: dict[Place, tuple[Part, ...]] = {
    "heel": (FINGER, HAND),
    "nose": (FINGER, HAND),
    "obstacle": (HAND, PERSON),
    "floor": (TOES,),
}

_WORDS: dict[tuple[Place, str], str] = {
    ("heel", "finger"): (
        "the gap at the heel narrows on a finger as the leaf turns: cover it with a flexible "
        "guard, or keep it narrower or wider than a finger all the way"
    ),
    ("heel", "hand"): (
        "the gap at the heel narrows on a hand as the leaf turns: cover it, or widen it"
    ),
    ("nose", "finger"): (
        "the edge shuts on fingers: keep hands off it, fit a handle away from it, and a soft edge "
        "if others use the leaf"
    ),
    ("nose", "hand"): "the edge shuts on a hand: keep hands off it, and fit a handle away from it",
    ("obstacle", "hand"): (
        "the leaf closes on a hand here as it opens: stop it sooner, or pad what it comes near"
    ),
    ("obstacle", "person"): (
        "the leaf closes on a person standing here as it opens: stop it sooner, or keep the place "
        "clear"
    ),
    ("floor", "toes"): (
        "toes get under the leaf as it swings: stand clear of the arc, or close the gap with a "
        "brush or a flap"
    ),
}


@dataclass(frozen=True, slots=True)
class Caution:
    """A gap that can catch someone: where, in words, and the figure that it falls under [m].

    ``least`` and ``greatest`` are how far the gap goes over the swing [m].
    """

    key: str
    where: str
    words: str
    figure: Metres
    source: Source
    least: Metres
    greatest: Metres


def caution(
    key: str, where: str, place: Place, gaps: np.ndarray, least: float | None = None
) -> Caution | None:
    """Return the caution that a moving gap calls for, or None.

    A part of the body is caught where it gets in at the gap's widest and the narrowest is under
    its figure. Under a leaf the gap need not change: the leaf itself comes along.

    Args:
        key: of the caution.
        where: the place, in words.
        place: what kind of place it is.
        gaps: the gap over the swing [m].
        least: the exact least of it, where that is known [m].
    """
    low = max(float(gaps.min()) if least is None else min(least, float(gaps.min())), 0.0)
    high = float(gaps.max())
    if place != "floor" and high - low < STILL:
        return None
    for part in CAUGHT[place]:
        if low < part.figure and high > part.enters:
            return Caution(
                key=key,
                where=where,
                words=_WORDS[place, part.name],
                figure=part.figure,
                source=MINIMUM_GAPS,
                least=low,
                greatest=high,
            )
    return None
