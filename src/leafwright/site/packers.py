"""Packers under the stands or the floor points, so that a leaf is built on a true plane.

Heights are read with a level; every point comes up to the highest, so no packer is negative. The
plane is level, or lies as the floor does (flat is enough to build on, and needs less packing).
Packers come in the thicknesses that lie on the bench, stacked as few as will do.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.records import COMMON_PRACTICE, Check, Held, Metres, Radians, Verdict
from leafwright.site import squares
from leafwright.site.wording import shown
from leafwright.survey import swept
from leafwright.units import Tape, show_length

#: Stacks are worked out in whole parts of this [m]: a millionth of a millimetre, of which 1/64 in
#: is a whole number.
GRAIN = 1e-9

#: A stack is not looked for among more heights than this.
MOST_HEIGHTS = 20_000

#: How far a point may be off the plane when packed [m] (common practice, no source).
OFF_PLANE = 0.0008


@dataclass(frozen=True, slots=True)
class FloorPoint:
    """A point to be packed: where it is on the floor, how high, and how surely [m]."""

    name: str
    across: Metres
    along: Metres
    height: Metres
    sd: Metres = 0.001


@dataclass(frozen=True, slots=True)
class Packer:
    """What goes under one point.

    Attributes:
        name: the point.
        needed: exact thickness [m], with its standard deviation ``sd`` [m].
        stack: thicknesses to lay on one another, thickest first [m]; empty for none.
        left: how far the point is over the plane once packed; negative is low [m].
        floor_wave: how far the floor itself is over its own flat plane here [m].
        words: the same for the maker.
    """

    name: str
    needed: Metres
    sd: Metres
    stack: tuple[Metres, ...]
    left: Metres
    floor_wave: Metres
    words: str


@dataclass(frozen=True, slots=True)
class Packing:
    """Packers for a true plane.

    Attributes:
        packers: one for each point, in the order given.
        tilt: slope of the floor's flat plane [rad]; ``falls_across`` and ``falls_along`` are how
            much it falls per metre each way [-].
        wave: greatest less least height of the floor over its own flat plane [m].
        worst_left: greatest distance from the plane once packed [m].
        checks: whether that is near enough.
        words: what to do, highest point first.
    """

    packers: tuple[Packer, ...]
    tilt: Radians
    falls_across: float
    falls_along: float
    wave: Metres
    worst_left: Metres
    checks: tuple[Check, ...]
    words: tuple[str, ...]


def packers(
    points: Sequence[FloorPoint],
    stock: Sequence[float],
    *,
    tape: Tape,
    level: bool = True,
    near_enough: float = OFF_PLANE,
) -> Packing | Held:
    """Return what to pack under each point so that all lie in a plane.

    Args:
        points: three or more, not in one line.
        stock: thicknesses of packer at hand, each as often as wanted [m].
        tape: the maker's tape, for the words.
        level: True brings the points level; False to the floor's own tilt.
        near_enough: how far a point may be off the plane when packed [m].

    Returns:
        The packers, or what is missing to work them out.

    Raises:
        ValueError: points or packers that cannot be used, all named at once.
    """
    _refuse(points, stock)
    rows = np.array([[1.0, p.across, p.along] for p in points])
    middle, spread = rows[:, 1:].mean(axis=0), np.ptp(rows[:, 1:])
    rows[:, 1:] = (rows[:, 1:] - middle) / (spread or 1.0)
    heights = np.array([p.height for p in points])
    sds = np.array([p.sd for p in points])
    plane = squares.fit(rows, heights, sds)
    if plane.loose.shape[1]:
        return Held(
            "the floor's plane is not known from these points",
            ("three points or more that do not lie in one line",),
        )
    flat = rows @ plane.values
    wave = heights - flat
    # How far under the plane to be built each point lies, but for a lift that is the same for all.
    under = -heights if level else -wave
    highest = int(np.argmin(under))
    needed = under - under[highest]
    of_needed = _needed_sds(rows, sds, plane, highest, level=level)
    laid = _stacks(needed, stock)
    found = []
    for i, point in enumerate(points):
        left = math.fsum(laid[i]) - float(needed[i])
        words = _packer_words(point.name, laid[i], tape)
        found.append(
            Packer(
                point.name,
                float(needed[i]),
                float(of_needed[i]),
                laid[i],
                left,
                float(wave[i]),
                words,
            )
        )
    falls = -plane.values[1:] / spread
    worst = max(abs(p.left) for p in found)
    tilt = math.atan(float(np.hypot(falls[0], falls[1])))
    return Packing(
        packers=tuple(found),
        tilt=tilt,
        falls_across=float(falls[0]),
        falls_along=float(falls[1]),
        wave=float(np.ptp(wave)),
        worst_left=worst,
        checks=(_check(worst, max(of_needed), near_enough),),
        words=_words(points, found, highest, float(np.ptp(wave)), falls, tape, level),
    )


def _refuse(points: Sequence[FloorPoint], stock: Sequence[float]) -> None:
    wrong = []
    for point in points:
        values = (point.across, point.along, point.height)
        if not all(math.isfinite(v) for v in values):
            wrong.append(f"point {point.name!r}: {values!r}: give its place and height in numbers")
        if not (math.isfinite(point.sd) and point.sd > 0.0):
            wrong.append(f"point {point.name!r}: sd {point.sd!r} m: say how well it was read")
    names = [p.name for p in points]
    for name in sorted({n for n in names if names.count(n) > 1}):
        wrong.append(f"point {name!r} is given more than once: give each a name of its own")
    if not stock:
        wrong.append("no packers are given: list the thicknesses at hand")
    wrong += [
        f"packer {thickness!r} m: a thickness is more than nothing"
        for thickness in stock
        if not (math.isfinite(thickness) and thickness >= GRAIN)
    ]
    if wrong:
        raise ValueError("the packers cannot be worked out:\n" + "\n".join(wrong))


def _needed_sds(
    rows: np.ndarray, sds: np.ndarray, plane: squares.Fit, highest: int, *, level: bool
) -> np.ndarray:
    """Return the standard deviation of each packer: its own reading's and the highest point's."""
    count = len(sds)
    follows = np.eye(count)
    if not level:
        gain = plane.covariance @ (rows / sds[:, None] ** 2).T
        follows = follows - rows @ gain
    from_highest = follows[highest] - follows
    return np.asarray(np.sqrt(np.sum((from_highest * sds) ** 2, axis=1)))


def _stacks(needed: np.ndarray, stock: Sequence[float]) -> list[tuple[float, ...]]:
    """Return for each thickness the stack nearest to it, of the fewest packers.

    Raises:
        ValueError: the packers at hand have no common part to count in.
    """
    grains = sorted({round(t / GRAIN) for t in stock})
    part = math.gcd(*grains)
    sizes = [g // part for g in grains]
    thickness_of = {round(t / GRAIN) // part: float(t) for t in stock}
    top = math.ceil(float(np.max(needed)) / (part * GRAIN)) + max(sizes)
    if top > MOST_HEIGHTS:
        listed = ", ".join(repr(t) for t in stock)
        raise ValueError(
            f"packers of {listed} m have no common part to count in: give their thicknesses to a "
            "1/64 in or 0.1 mm"
        )
    # Fewest packers to each height, and the last one laid; the usual coin-changing table.
    count: list[int | None] = [0] + [None] * top
    last = [0] * (top + 1)
    for total in range(1, top + 1):
        for size in sizes:
            before = count[total - size] if size <= total else None
            if before is not None and (count[total] is None or before + 1 < (count[total] or 0)):
                count[total], last[total] = before + 1, size
    reached = np.array([h for h in range(top + 1) if count[h] is not None])
    found = []
    for thickness in needed:
        nearest = int(reached[np.argmin(np.abs(reached * part * GRAIN - thickness))])
        stack = []
        while nearest:
            stack.append(thickness_of[last[nearest]])
            nearest -= last[nearest]
        found.append(tuple(sorted(stack, reverse=True)))
    return found


def _packer_words(name: str, stack: tuple[float, ...], tape: Tape) -> str:
    if not stack:
        return f"{name}: none"
    whole = show_length(math.fsum(stack), tape)
    if len(stack) == 1:
        return f"{name}: {whole}"
    return f"{name}: {whole} ({' + '.join(show_length(t, tape) for t in stack)})"


def _check(worst: float, unsure: float, near_enough: float) -> Check:
    """Return the check of the plane: tight where the readings leave it open."""
    verdict, change = Verdict.OK, ""
    if worst > near_enough:
        verdict, change = Verdict.SHORT, "find thinner packers, or shave one to suit"
    elif worst + swept.SURE * unsure > near_enough:
        verdict, change = Verdict.TIGHT, "try the packed points with a string or a finer level"
    return Check(
        key="packers/left",
        subject="the stands when packed",
        question="does every point lie near enough in one plane with the packers at hand",
        verdict=verdict,
        source=COMMON_PRACTICE,
        unit="m",
        demand=worst,
        available=near_enough,
        ratio=worst / near_enough,
        change=change,
    )


def _words(
    points: Sequence[FloorPoint],
    found: Sequence[Packer],
    highest: int,
    wave: float,
    falls: np.ndarray,
    tape: Tape,
    level: bool,
) -> tuple[str, ...]:
    steepest = float(np.hypot(falls[0], falls[1]))
    over = 3.0 if tape.system == "mm" else 3.048
    return (
        f"{points[highest].name} is the highest: nothing goes under it.",
        *(p.words for i, p in enumerate(found) if i != highest),
        f"The floor falls {shown(steepest * over, tape)} in {show_length(over, tape)} and is "
        f"{shown(wave, tape)} out of flat.",
        "Packed, the stands are level."
        if level
        else "Packed, the stands are flat, not level: do not go by a spirit level on this leaf.",
    )
