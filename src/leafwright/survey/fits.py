"""The largest upright rectangle that the opening takes, as sure as is asked.

Widths and heights are differences between marks, each with its own standard deviation from the
joint covariance of the survey. A rectangle fits where none of the differences that it needs is
smaller than it. Of n differences each is taken so short that it is shorter still but once in
n / (1 − confidence) times. By Bonferroni's inequality, P(all hold) ≥ 1 − Σ P(one fails), they then
hold together at least as often as asked, whatever their correlation: the answer is on the safe
side. Between two marks a side and the head are taken as straight, and what is taken off there
is taken in proportion from what is taken off at the marks, which is never too little.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np

from leafwright.records import Held, Metres, Number
from leafwright.survey.adjust import Survey, SurveyedMark, at, floor_marks, side_marks
from leafwright.survey.swept import head_points

#: Heights between nothing and the greatest that are tried for the largest rectangle.
TRIED = 40
#: How closely the highest rectangle of a width, and the largest of all, are found [m].
CLOSE = 1e-7


@dataclass(frozen=True, slots=True)
class Rectangle:
    """An upright rectangle that fits the opening, in survey axes.

    ``left``, ``bottom``, ``right`` and ``top`` place it in the middle of the room that it has.
    ``confidence`` is how surely it fits, at least [-]; ``governed_by`` names what keeps it from
    being wider, and from being higher.
    """

    width: Metres
    height: Metres
    left: Metres
    bottom: Metres
    right: Metres
    top: Metres
    confidence: Number
    governed_by: tuple[str, str]


@dataclass(frozen=True, slots=True)
class _Line:
    """Marks on a side from below up, or on the head from left to right.

    ``along`` are their places along it and ``off`` across it [m].
    """

    names: tuple[str, ...]
    along: np.ndarray
    off: np.ndarray


@dataclass(frozen=True, slots=True)
class _Room:
    """The opening as differences that are sure.

    ``wide`` is from each mark of the left side to each of the right, ``high`` from each point of
    the floor to each of the head, both as short as they may be [m]. ``floor`` is the highest of
    the floor and ``lift`` half of what is taken off the heights [m].
    """

    left: _Line
    right: _Line
    head: _Line
    ground: tuple[str, ...]
    wide: np.ndarray
    high: np.ndarray
    floor: Metres
    lift: Metres


@dataclass(frozen=True, slots=True)
class _Width:
    """How wide a rectangle of some height may be, where, and what governs that."""

    width: Metres
    left: Metres
    words: str


def largest_rectangle(
    found: Survey,
    *,
    confidence: Number = 0.95,
    width: Metres | None = None,
    height: Metres | None = None,
) -> Rectangle | Held:
    """Return the largest upright rectangle that fits the opening, or why none does.

    Largest by area; of a stated height it is the widest, of a stated width the highest. It clears
    every point of the floor that was read, for a leaf swings over them.

    Args:
        found: the adjusted opening.
        confidence: how surely it is to fit, from 0.5 up to 1 [-].
        width: the width that it is to have [m]; not together with a height.
        height: the height that it is to have [m].

    Raises:
        ValueError: the confidence is out of range, both sizes are stated, or one is not above 0.
    """
    if not 0.5 <= confidence < 1.0:
        raise ValueError(f"confidence {confidence!r}: give one from 0.5 up to, but not, 1")
    if width is not None and height is not None:
        raise ValueError("width and height: state one of them, and the other is found")
    for name, size in (("width", width), ("height", height)):
        if size is not None and not 0.0 < size < math.inf:
            raise ValueError(f"{name} {size!r}: give one of more than 0 m")
    known = {mark.name for mark in found.marks}
    lacking = [name for name in ("BR", "TL", "TR") if name not in known]
    if lacking:
        needs = ("a reading from or to each corner of the opening",)
        return Held(f"no reading reaches {', '.join(lacking)}", needs)
    room = _room(found, confidence)
    most = max((_height_over(room, x) for x in room.head.along), default=0.0)
    if height is not None:
        best = height
    elif width is not None:
        best = _highest(room, width, most)
    else:
        best = _best_area(room, most)
    across = _width_of(room, best) if 0.0 < best <= most else None
    if across is None or across.width <= 0.0 or (width and across.width < width - 10 * CLOSE):
        asked = "" if width is None else " of that width"
        asked = asked if height is None else " of that height"
        return Held(
            f"no rectangle{asked} fits at {100 * confidence:g} % confidence",
            ("a smaller one, a lower confidence, or more and surer readings",),
        )
    return _placed(room, across, best, width, confidence)


def _placed(
    room: _Room, across: _Width, height: float, width: float | None, confidence: float
) -> Rectangle:
    wide = across.width if width is None else width
    left = across.left + (across.width - wide) / 2
    bottom = room.floor + room.lift
    return Rectangle(
        width=wide,
        height=height,
        left=left,
        bottom=bottom,
        right=left + wide,
        top=bottom + height,
        confidence=confidence,
        governed_by=(across.words, _over(room, left, left + wide)),
    )


# ---------------------------------------------------------------- differences that are sure


def _room(found: Survey, confidence: float) -> _Room:
    left, right = (side_marks(found, side) for side in ("left", "right"))
    head = sorted((at(found, name) for name in head_points(found)), key=lambda m: m.at[0])
    corners = (at(found, name) for name in ("BL", "BR"))
    ground = [*corners, *(m for m in floor_marks(found) if (m.name, "y") in found.unknowns)]
    count = len(left) * len(right) + len(ground) * len(head)
    times = NormalDist().inv_cdf(1.0 - (1.0 - confidence) / count)
    wide, _ = _sure(found, left, right, 0, times)
    high, off = _sure(found, ground, head, 1, times)
    return _Room(
        left=_line(left, 1),
        right=_line(right, 1),
        head=_line(head, 0),
        ground=tuple(m.name for m in ground),
        wide=wide,
        high=high,
        floor=max(m.at[1] for m in ground),
        lift=float(np.max(off)) / 2,
    )


def _line(of: Iterable[SurveyedMark], along: int) -> _Line:
    points = tuple(of)
    places = np.array([(m.at[along], m.at[1 - along]) for m in points])
    return _Line(tuple(m.name for m in points), places[:, 0], places[:, 1])


def _sure(
    found: Survey,
    first: Iterable[SurveyedMark],
    second: Iterable[SurveyedMark],
    axis: int,
    times: float,
) -> tuple[np.ndarray, np.ndarray]:
    """Return each difference (first × second) as short as it may be, and what was taken off [m]."""
    column = {unknown: i for i, unknown in enumerate(found.unknowns)}
    letter = "xy"[axis]
    sides = []
    for of in (tuple(first), tuple(second)):
        index = [column.get((m.name, letter), -1) for m in of]
        sides.append((np.array([m.at[axis] for m in of]), index))
    (a, of_a), (b, of_b) = sides
    joint = np.pad(found.covariance, ((0, 1), (0, 1)))
    variance = joint[of_a, of_a][:, None] + joint[of_b, of_b][None, :]
    off = times * np.sqrt(np.maximum(variance - 2.0 * joint[np.ix_(of_a, of_b)], 0.0))
    return b[None, :] - a[:, None] - off, off


# ---------------------------------------------------------------- widths and heights


def _share(along: np.ndarray, place: float) -> np.ndarray:
    """Return the share of each mark in a place on the line through them; beyond, the last's."""
    share = np.zeros(len(along))
    after = int(np.searchsorted(along, place))
    if after == 0:
        share[0] = 1.0
    elif after == len(along):
        share[-1] = 1.0
    else:
        before = along[after - 1]
        part = (place - before) / (along[after] - before)
        share[after - 1], share[after] = 1.0 - part, part
    return share


def _shares(line: _Line, low: float, high: float) -> tuple[np.ndarray, list[str]]:
    """Return the shares of a line's marks in what decides between two places, with their names."""
    inside = [i for i, place in enumerate(line.along) if low < place < high]
    rows = [_share(line.along, low), *np.eye(len(line.along))[inside], _share(line.along, high)]
    named = []
    for row in rows:
        ends = [line.names[i] for i in np.flatnonzero(row > 1e-9)]
        named.append(ends[0] if len(ends) == 1 else f"between {ends[0]} and {ends[1]}")
    return np.array(rows), named


def _width_of(room: _Room, height: float) -> _Width | None:
    """Return how wide a rectangle of some height may be; None where the head is nowhere as high."""
    top = room.floor + room.lift + height
    lefts, left_names = _shares(room.left, room.floor, top)
    rights, right_names = _shares(room.right, room.floor, top)
    sure = lefts @ room.wide @ rights.T
    i, j = np.unravel_index(int(np.argmin(sure)), sure.shape)
    width = float(sure[i, j])
    start, end = float(np.max(lefts @ room.left.off)), float(np.min(rights @ room.right.off))
    words = f"from {left_names[i]} to {right_names[j]}"
    taken_off = end - start - width
    best: _Width | None = None
    for low, high in _high_enough(room, height):
        left, right = max(start, low), min(end, high)
        # Where the head alone bounds it nothing of the sides need be taken off.
        off = taken_off if left == start or right == end else 0.0
        if best is None or right - left - off > best.width:
            whole = left == start and right == end
            told = words if whole else f"{words}, under the head where it is high enough"
            best = _Width(right - left - off, left + off / 2, told)
    return best


def _height_over(room: _Room, x: float) -> float:
    """Return the least height at one place across that is sure [m]."""
    return float(np.min(room.high @ _share(room.head.along, x)))


def _high_enough(room: _Room, height: float) -> list[tuple[float, float]]:
    """Return the stretches across over which the head is at least so high [m].

    The head does not end at its outermost marks: beyond them it is as high as there.
    """
    along = room.head.along
    places = [float(x) for x in along]
    for row in room.high:
        for k in range(len(along) - 1):
            rise = row[k + 1] - row[k]
            if rise and 0.0 < (part := (height - row[k]) / rise) < 1.0:
                places.append(float(along[k] + part * (along[k + 1] - along[k])))
    places.sort()
    ends = [-math.inf, *places, math.inf]
    stretches: list[tuple[float, float]] = []
    for low, high in itertools.pairwise(ends):
        inside = (max(low, places[0]) + min(high, places[-1])) / 2
        if low == high or _height_over(room, inside) < height - CLOSE:
            continue
        if stretches and stretches[-1][1] == low:
            stretches[-1] = (stretches[-1][0], high)
        else:
            stretches.append((low, high))
    return stretches


def _over(room: _Room, left: float, right: float) -> str:
    """Return in words which height governs over a stretch."""
    heads, names = _shares(room.head, left, right)
    sure = room.high @ heads.T
    i, j = np.unravel_index(int(np.argmin(sure)), sure.shape)
    return f"from {room.ground[i]} to the head, {names[j]}"


# ---------------------------------------------------------------- the best of them


def _size(room: _Room, height: float) -> float:
    across = _width_of(room, height)
    return 0.0 if across is None else across.width


def _highest(room: _Room, width: float, most: float) -> float:
    """Return the greatest height at which a rectangle is still so wide [m]; 0 where none is."""
    if _size(room, most) >= width:
        return most
    low, high = 0.0, most
    if _size(room, CLOSE) < width:
        return 0.0
    while high - low > CLOSE:
        middle = (low + high) / 2
        low, high = (middle, high) if _size(room, middle) >= width else (low, middle)
    return low


def _best_area(room: _Room, most: float) -> float:
    """Return the height at which a rectangle's area is greatest [m]."""
    foot = room.floor + room.lift
    tried = [most * (i + 1) / TRIED for i in range(TRIED)]
    # Where a mark of a side or of the head begins to count the width changes its course.
    tried += [y - foot for y in (*room.left.along, *room.right.along)]
    tried += [float(h) for h in np.unique(room.high)]
    tried = sorted(h for h in tried if 0.0 < h <= most)
    if not tried:
        return 0.0
    areas = [h * _size(room, h) for h in tried]
    best = int(np.argmax(areas))
    low, high = tried[max(best - 1, 0)], tried[min(best + 1, len(tried) - 1)]
    peak, area = tried[best], areas[best]
    while high - low > CLOSE * 100:
        for h in (low + (high - low) / 3, high - (high - low) / 3):
            if (here := h * _size(room, h)) > area:
                peak, area = h, here
        step = (high - low) / 3
        low, high = max(low, peak - step), min(high, peak + step)
    return peak
