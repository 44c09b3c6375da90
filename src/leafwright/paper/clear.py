"""Words set where they stand clear of other words: each has places to choose from."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from leafwright.paper.annotate import Paper, flat_item
from leafwright.paper.drawing import DrawingItem, Leader
from leafwright.paper.font import ink_corners
from leafwright.paper.inspect import boxes_meet, grown, segment_meets_box, segments
from leafwright.paper.pens import HEAVY_LAYERS
from leafwright.paper.scale import Scale
from leafwright.paper.scene import Point, Primitive, Text

#: Air round words [mm].
AIR_MM = 0.4
#: How often a drawing is laid out anew because its words changed the scale that it fits at.
_TRIES = 5
#: Words on words are worse than a thin line through words [-].
_OVERLAP, _CROSSED = 10, 3

#: Where else a leader's words may stand from its point: to a side, and up or down [mm].
_ACROSS, _RISES = (5.0, 9.0, 14.0, 20.0), tuple(3.0 * i for i in range(-7, 8))

_Corners = tuple[Point, ...]

Laid = TypeVar("Laid")


@dataclass(frozen=True, slots=True)
class _Flat:
    """What one item puts on the paper: its words, and the lines that words should keep off."""

    words: tuple[tuple[_Corners, bool], ...]
    heavy: tuple[tuple[Point, Point], ...]
    thin: tuple[tuple[Point, Point], ...]


def set_clear(
    fixed: Sequence[DrawingItem],
    choices: Iterable[Sequence[DrawingItem]],
    scale: Scale,
) -> tuple[DrawingItem, ...]:
    """Return one item of each choice, as clear of the words and lines before it as can be.

    Args:
        fixed: what is drawn already; its thin lines may be crossed by words.
        choices: for each item the ways to set it, the best first; the first that touches nothing
            is taken, else the one that touches the least.
        scale: what the drawing is drawn at: words are as large on every scale.
    """
    paper = Paper(scale.mm_per_m, (0.0, 0.0))
    laid = [_flat(item, paper, thin=False) for item in fixed]
    taken = []
    for options in choices:
        best: tuple[int, DrawingItem, _Flat] | None = None
        for option in options:
            flat = _flat(option, paper, thin=True)
            cost = _clashes(flat, laid)
            if best is None or cost < best[0]:
                best = (cost, option, flat)
            if cost == 0:
                break
        if best is not None:
            taken.append(best[1])
            laid.append(best[2])
    return tuple(taken)


def is_clear(items: Sequence[DrawingItem], scale: Scale) -> bool:
    """Return whether no item's words touch another's words or a heavy line at a scale."""
    paper = Paper(scale.mm_per_m, (0.0, 0.0))
    flat = [_flat(item, paper, thin=False) for item in items]
    return not any(_clashes(one, flat[:n]) for n, one in enumerate(flat))


def laid_out(lay: Callable[[Scale], Laid], scale_of: Callable[[Laid], Scale], about: Scale) -> Laid:
    """Return what is laid out for the scale that it then has, or for a smaller one.

    Words that are set for a smaller scale stand clear at a larger one too.

    Args:
        lay: lays it out for a scale.
        scale_of: the scale at which that fits its place.
        about: where to begin.
    """
    tried: dict[float, Laid] = {}
    scale = about
    for _ in range(_TRIES):
        made = lay(scale)
        tried[scale.mm_per_m] = made
        fits = scale_of(made)
        if fits.mm_per_m == scale.mm_per_m:
            return made
        if fits.mm_per_m in tried:
            break
        scale = fits
    return tried[min(tried)]


def other_reaches(leader: Leader) -> list[Leader]:
    """Return a leader with its words at other places round its point, the nearest first."""
    x, y = leader.to_mm
    places = [
        (right * across, rise)
        for right in ((1.0, -1.0) if x >= 0.0 else (-1.0, 1.0))
        for across in _ACROSS
        for rise in _RISES
    ]
    places.sort(key=lambda place: math.dist(place, (x, y)))
    return [replace(leader, to_mm=place) for place in places]


def _flat(item: DrawingItem, paper: Paper, *, thin: bool) -> _Flat:
    parts: tuple[Primitive, ...] = flat_item(item, paper)
    lines = [part for part in parts if not isinstance(part, Text)]
    heavy = [part for part in lines if part.layer in HEAVY_LAYERS]
    light = [part for part in lines if part.layer == "dimension"] if thin else []
    return _Flat(
        tuple(
            (grown(ink_corners(part), AIR_MM), part.knockout)
            for part in parts
            if isinstance(part, Text)
        ),
        tuple(piece for part in heavy for piece in segments(part)),
        tuple(piece for part in light for piece in segments(part)),
    )


def _clashes(one: _Flat, others: Sequence[_Flat]) -> int:
    cost = 0
    for other in others:
        for words, knockout in one.words:
            cost += _OVERLAP * sum(boxes_meet(words, theirs) for theirs, _ in other.words)
            if not knockout:
                cost += _OVERLAP * _met(words, other.heavy)
                cost += _CROSSED * _met(words, other.thin)
        for theirs, knockout in other.words:
            if not knockout:
                cost += _OVERLAP * _met(theirs, one.heavy) + _CROSSED * _met(theirs, one.thin)
    return cost


def _met(words: _Corners, lines: Sequence[tuple[Point, Point]]) -> bool:
    return any(segment_meets_box(a, b, words) for a, b in lines)
