"""How a hung leaf really stands: one linear model for every gap that can be read.

A leaf is a rigid body on an axis. From where it was planned it may be shifted, hang out of square
on its axis, and its axis may lean; or it is racked, no longer a rectangle. Each small motion
displaces a point of the leaf, turned to its opening, in proportion; a gap closes by as much of
that as lies along the way that it is measured. Closed, a leaf out of square on a plumb axis and a
square one on a leaning axis look alike: gaps read with the leaf open, or a plumb line, tell them
apart. A racked leaf has upright stiles and sloping rails: gaps at heel and floor tell it from a
tilted one, and so do its diagonals.

Directions are as seen from the face side: x right, y up, z toward the viewer. The leaf's own: u
from the hinge edge to the closing edge, v up from its bottom.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from leafwright.doorway import Doorway, LeafPlace
from leafwright.records import Metres, Radians
from leafwright.site import squares
from leafwright.units import show_angle

GapKind = Literal[
    "heel", "closing", "top", "floor", "plumb along wall", "plumb through wall", "diagonals"
]

KINDS = ("heel", "closing", "top", "floor", "plumb along wall", "plumb through wall", "diagonals")

#: Kinds that are read at a place along an edge.
PLACED = ("heel", "closing", "top", "floor")

#: The small motions, each as a length [m]: shifts of the axis' foot; the leaf out of square on its
#: axis, closing edge up, as the offset over the pins' spacing; the axis' top off its foot; the
#: leaf drawn out along itself on its hinges, which a closed leaf shows as a shift; and the leaf
#: itself racked, its closing edge up beside its hinge edge, by as much over the pins' spacing.
MOTIONS = ("shift x", "shift y", "out of square", "lean x", "lean z", "drawn out", "rack")

#: The motions that gaps can tell of a leaf that keeps its shape; drawn out looks like a shift.
UNKNOWNS = MOTIONS[:5]

_RIGHT, _UP = np.array([1.0, 0.0, 0.0]), np.array([0.0, 1.0, 0.0])
_TOWARD = np.array([0.0, 0.0, 1.0])


@dataclass(frozen=True, slots=True)
class HungLeaf:
    """What of a leaf and its mount the gaps hang on.

    Attributes:
        key: the leaf.
        hand: the side on which it hangs, as seen from the face side.
        width: outside, hinge edge to closing edge [m].
        height: outside, bottom to top [m].
        axis: hinge edge to axis, positive into the leaf [m].
        bottom_pin: the lower pin or hinge over the leaf's bottom [m].
        top_pin: the upper pin or hinge over the leaf's bottom [m].
        mount: on pivots in plates, or on barrel hinges.
        opens: the way in which it is opened for reading.
    """

    key: str
    hand: Literal["left", "right"]
    width: Metres
    height: Metres
    axis: Metres
    bottom_pin: Metres
    top_pin: Metres
    mount: Literal["pivot", "barrel hinge"] = "pivot"
    opens: Literal["toward", "away"] = "toward"

    @property
    def side(self) -> float:
        """Sign of x along the closed leaf, hinge to closing edge [-]."""
        return 1.0 if self.hand == "left" else -1.0

    @property
    def pin_spacing(self) -> float:
        """Lower to upper pin [m]."""
        return self.top_pin - self.bottom_pin


@dataclass(frozen=True, slots=True)
class GapReading:
    """One reading on the hung leaf.

    Attributes:
        kind: a gap at the ``heel``, ``closing`` edge, ``top`` or ``floor``, measured square to
            the jamb, head or floor; or how far the top pin stands off plumb over the bottom one,
            ``plumb along wall`` (right positive) or ``plumb through wall`` (toward you positive);
            or how much longer the ``diagonals``' one from the hinge edge's bottom is.
        along: where: up from the leaf's bottom for heel and closing, from the hinge edge for top
            and floor [m]; not used for a plumb line.
        opening: how far the leaf stands open, positive toward the viewer [rad].
        value: what was read [m].
        planned: what it should be there [m].
        least: the least that it may be, None where nothing can rub [m].
        sd: standard deviation of the reading [m].
        words: what the maker calls it; made from the rest where empty.
        planned_sd: how unsure what it should be there is: floor and opening as read, posts and
            head as set, the leaf as it came out [m].
    """

    kind: GapKind
    along: Metres
    opening: Radians
    value: Metres
    planned: Metres
    least: Metres | None = None
    sd: Metres = 0.0008
    words: str = ""
    planned_sd: Metres = 0.0

    @property
    def unsure(self) -> Metres:
        """How unsure it is what it tells of the leaf's place: standard deviation [m]."""
        return math.hypot(self.sd, self.planned_sd)


def gap_words(leaf: HungLeaf, reading: GapReading) -> str:
    """Return what a reading is, in the maker's words."""
    if reading.words:
        return reading.words
    if reading.kind.startswith("plumb"):
        return f"the {reading.kind.replace('plumb', 'plumb line', 1)}"
    if reading.kind == "diagonals":
        return "one diagonal against the other"
    if reading.kind in ("heel", "closing"):
        share, names = reading.along / leaf.height, ("bottom", "mid height", "top")
    else:
        share, names = reading.along / leaf.width, ("hinge end", "middle", "closing end")
    place = names[min(int(3.0 * share), 2)]
    side = "toward you" if reading.opening > 0.0 else "away from you"
    turned = (
        "closed"
        if abs(reading.opening) < 1e-9
        else f"open {show_angle(abs(reading.opening), decimals=0)} {side}"
    )
    return f"the {reading.kind} gap at the {place}, leaf {turned}".replace(
        "the mid height", "mid height"
    )


def displacements(
    leaf: HungLeaf, u: float, v: float, opening: float, *, of_axis: bool = False
) -> np.ndarray:
    """Return how a point follows each of `MOTIONS` [-], x, y and z × motions.

    Args:
        leaf: the leaf.
        u: of the point, from the hinge edge [m].
        v: of the point, up from the bottom [m].
        opening: how far the leaf stands open, positive toward the viewer [rad].
        of_axis: the point belongs to the axis, which the leaf's place on it does not move.
    """
    level = np.array([leaf.side * math.cos(opening), 0.0, math.sin(opening)])
    out, up = u - leaf.axis, v - leaf.bottom_pin
    from_foot = out * level + up * _UP
    held = 0.0 if of_axis else 1.0
    columns = (
        _RIGHT,
        _UP,
        held * (out * _UP - up * level) / leaf.pin_spacing,
        np.cross(-_TOWARD, from_foot) / leaf.pin_spacing,
        np.cross(_RIGHT, from_foot) / leaf.pin_spacing,
        held * level,
        held * out * _UP / leaf.pin_spacing,
    )
    return np.column_stack(columns)


def gap_row(leaf: HungLeaf, reading: GapReading) -> np.ndarray:
    """Return how a reading follows each of `MOTIONS` [-]: minus what lies along its own way."""
    if reading.kind.startswith("plumb"):
        pins = [
            displacements(leaf, leaf.axis, v, reading.opening, of_axis=True)
            for v in (leaf.top_pin, leaf.bottom_pin)
        ]
        return np.asarray(
            (_RIGHT if reading.kind == "plumb along wall" else _TOWARD) @ (pins[0] - pins[1])
        )
    if reading.kind == "diagonals":
        corners = {
            (u, v): displacements(leaf, u, v, 0.0)
            for u in (0.0, leaf.width)
            for v in (0.0, leaf.height)
        }
        long = math.hypot(leaf.width, leaf.height)
        rising = np.array([leaf.side * leaf.width, leaf.height, 0.0]) / long
        falling = np.array([-leaf.side * leaf.width, leaf.height, 0.0]) / long
        return np.asarray(
            rising @ (corners[leaf.width, leaf.height] - corners[0.0, 0.0])
            - falling @ (corners[0.0, leaf.height] - corners[leaf.width, 0.0])
        )
    # Where each gap is on the leaf, and which way the jamb, head or floor lies from there.
    u, v, way = {
        "heel": (0.0, reading.along, -leaf.side * _RIGHT),
        "closing": (leaf.width, reading.along, leaf.side * _RIGHT),
        "top": (reading.along, leaf.height, _UP),
        "floor": (reading.along, 0.0, -_UP),
    }[reading.kind]
    return np.asarray(-way @ displacements(leaf, u, v, reading.opening))


def gap_rows(leaf: HungLeaf, readings: Sequence[GapReading]) -> np.ndarray:
    """Return how readings follow `MOTIONS` [-], readings × motions."""
    if not readings:
        return np.zeros((0, len(MOTIONS)))
    return np.array([gap_row(leaf, r) for r in readings])


def problems(leaf: HungLeaf, readings: Sequence[GapReading]) -> tuple[str, ...]:
    """Return everything that is wrong with readings, in words; empty where all can be used."""
    found = []
    if not leaf.pin_spacing > 0.0:
        found.append(
            f"{leaf.key}: the upper pin at {leaf.top_pin!r} m is not over the lower one at "
            f"{leaf.bottom_pin!r} m"
        )
    for number, reading in enumerate(readings, start=1):
        start = f"reading {number}"
        if reading.kind not in KINDS:
            found.append(f"{start}: kind {reading.kind!r}: use {', '.join(KINDS)}")
            continue
        start = f"{start} ({gap_words(leaf, reading)})"
        figures = {"value": reading.value, "planned": reading.planned, "opening": reading.opening}
        for name, figure in figures.items():
            if not math.isfinite(figure):
                found.append(f"{start}: {name} {figure!r}: give a number")
        if not (math.isfinite(reading.sd) and reading.sd > 0.0):
            found.append(f"{start}: sd {reading.sd!r} m: say how well it was read, more than 0")
        long = leaf.height if reading.kind in ("heel", "closing") else leaf.width
        if reading.kind in PLACED and not 0.0 <= reading.along <= long:
            found.append(
                f"{start}: along {reading.along!r} m is not on the leaf, which is {long!r} m there"
            )
    return tuple(found)


def fitted_pose(leaf: HungLeaf, readings: Sequence[GapReading]) -> squares.Fit:
    """Return the pose that fits the readings best, in the order of `UNKNOWNS` [m].

    Raises:
        ValueError: readings that cannot be used, all named at once.
    """
    wrong = problems(leaf, readings)
    if wrong:
        raise ValueError("the gaps cannot be used:\n" + "\n".join(wrong))
    return squares.fit(
        gap_rows(leaf, readings)[:, : len(UNKNOWNS)],
        np.array([r.value - r.planned for r in readings]),
        np.array([r.unsure for r in readings]),
    )


def closed_tilt_slopes(leaf: HungLeaf) -> np.ndarray:
    """Return how the closed leaf's tilt follows `MOTIONS`, closing edge up positive [-]."""
    slopes = {"out of square": 1.0, "lean x": -leaf.side}
    return np.array([slopes.get(name, 0.0) for name in MOTIONS])


def hung_leaf(
    place: LeafPlace,
    *,
    hinges: tuple[float, float] | None = None,
) -> HungLeaf:
    """Return what the gaps of a leaf of the plan hang on.

    Args:
        place: where the leaf stands.
        hinges: its lowest and highest barrel hinge over its bottom; None for pivots at both ends
            [m].
    """
    low, high = hinges or (0.0, place.height.value)
    return HungLeaf(
        key=place.key,
        hand=place.hand,
        width=place.width.value,
        height=place.height.value,
        axis=place.axis.value,
        bottom_pin=low,
        top_pin=high,
        mount="pivot" if hinges is None else "barrel hinge",
        opens="away" if place.swing == "away" else "toward",
    )


def planned_gap(doorway: Doorway, place: LeafPlace, kind: GapKind) -> float | None:
    """Return what a gap of the closed leaf should be [m]; None where the plan does not say.

    The plan gives no one figure for the floor gap: it follows the floor, place by place.
    """
    if kind == "heel":
        return place.heel_gap.value
    if kind not in PLACED:
        return 0.0
    words = {"closing": ("meeting gap", "closing gap"), "top": ("top gap",)}.get(kind, ())
    for gap in doorway.gaps:
        if any(gap.key.startswith(f"doorway/{word}") for word in words):
            return gap.value
    return None
