"""What drawings of pivots and hinges share: who hangs where, sizes in words, cut steel, labels."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright import units
from leafwright.doorway import Doorway
from leafwright.job.steel import steel
from leafwright.leaf import Leaf, Member
from leafwright.mount import LeafMount, Mounting, mounting_of
from leafwright.paper.drawing import DrawingItem, Hatch, RunningDimensions, Symbol
from leafwright.paper.font import missing_characters
from leafwright.paper.scene import Fill, Layer, Line, Point, Polyline, Text
from leafwright.paper.sheets.common import Desk
from leafwright.paper.sheets.elevation import box
from leafwright.paper.wrapping import wrapped
from leafwright.proof import LeafProof
from leafwright.units import Typed, show_machined

#: Height of a label's capitals, and how wide a label may be [mm].
LABEL_MM, LABEL_WIDE = 2.8, 46.0
#: A label has no more lines than these; what a maker wrote at length is cut short.
MOST_LINES = 6
#: Distance of a running dimension's line from what it measures, and from there to its words [mm].
OFF, TO_WORDS = 5.0, 8.9


@dataclass(frozen=True, slots=True)
class Sized:
    """A size as it is drawn [m]; where the job does not give it, one in proportion, dashed.

    ``key`` is what to write in the job file.
    """

    size: float
    given: bool
    key: str

    @property
    def layer(self) -> Layer:
        """Return the line that it is drawn with."""
        return "cut" if self.given else "hidden"


def sized(typed: Typed | None, key: str, nominal: float) -> Sized:
    """Return a size of the job, or a nominal one [m] to draw in its place."""
    if typed is None:
        return Sized(nominal, False, key)
    return Sized(typed.si, True, key)


def mountings(at: Desk) -> tuple[tuple[Mounting, LeafMount], ...]:
    """Return each leaf that is proved with its mount, as it hangs."""
    made, room = at.plan, at.plan.doorway
    if not isinstance(room, Doorway):
        return ()
    material = steel(made.job)
    found = []
    for place, leaf, proof, mount in zip(
        room.leaves, made.leaves, made.proofs, made.mounts, strict=False
    ):
        if isinstance(leaf, Leaf) and isinstance(proof, LeafProof) and isinstance(mount, LeafMount):
            hangs = mounting_of(made.job, room, place, leaf, proof, material, at.words.tape)
            found.append((hangs, mount))
    return tuple(found)


def member(m: Mounting, role: str) -> Member:
    """Return the leaf's one member of a role."""
    return next(one for one in m.leaf.members if one.role == role)


def shown(at: Desk, size: float) -> str:
    """Return a size as the tape shows it where it is on one of its marks, else as machined."""
    tape = at.words.tape
    if abs(float(units.rounded_to_tape(size, tape)) - size) < 1e-6:
        return at.words.length(size)
    return machined(at, size)


def machined(at: Desk, size: float) -> str:
    """Return a size in ten-thousandths of an inch or hundredths of a millimetre, unbroken."""
    return show_machined(size, at.words.tape.system).replace(" ", "\u00a0")


def plain(words: str) -> str:
    """Return a maker's own words without what the drawing font cannot write."""
    missing = missing_characters(words)
    return "".join(" " if letter in missing or letter == "\n" else letter for letter in words)


def steel_words(grade: str) -> str:
    """Return a part's steel, or that it is not known."""
    return "steel not given" if grade.strip().lower() in ("", "unknown") else plain(grade)


def label(words: str, *, wide: float = LABEL_WIDE, height: float = LABEL_MM) -> str:
    """Return words broken into the lines of a label ``wide`` at most [mm]."""
    lines = wrapped(words, wide, height_mm=height)
    if len(lines) > MOST_LINES:
        lines = (*lines[: MOST_LINES - 1], f"{lines[MOST_LINES - 1].rstrip('.,; ')} …")
    return "\n".join(lines)


@dataclass(frozen=True, slots=True)
class Labels:
    """How a drawing's labels are set, to be tried until none lies on another.

    ``wide`` is how wide one may be and ``height`` how high its capitals are [mm]. ``apart`` sets
    labels that are beside each other one behind the other. ``broken`` breaks a long part off near
    its middle.
    """

    wide: float = LABEL_WIDE
    height: float = LABEL_MM
    apart: bool = False
    broken: bool = False


@dataclass(frozen=True, slots=True)
class Station:
    """A point that a running dimension measures to [m], and what is written there."""

    at: Point
    words: str


def running(
    origin: Station,
    stations: Sequence[Station],
    *,
    base: float,
    side: float,
    off: float = OFF,
    how: Labels | None = None,
) -> RunningDimensions:
    """Return upright running dimensions with their labels, as far apart as the longest asks for.

    Args:
        origin: where the tape hooks.
        stations: what it measures to.
        base: the x that the line stands off from [m].
        side: 1 to the right, −1 to the left.
        off: how far it stands off [mm].
        how: how the labels are set; None takes the usual.
    """
    how = how or Labels()
    texts = [label(one.words, wide=how.wide, height=how.height) for one in (origin, *stations)]
    lines = max(text.count("\n") + 1 for text in texts)
    return RunningDimensions(
        origin.at,
        tuple(one.at for one in stations),
        side * off,
        tuple(texts[1:]),
        "y",
        base=base,
        zero=texts[0],
        apart=1.65 * lines + 0.15,
        height_mm=how.height,
        knockout=True,
    )


# ---------------------------------------------------------------- cut steel


def rect(
    left: float,
    bottom: float,
    right: float,
    top: float,
    layer: Layer = "cut",
    *,
    key: str = "",
) -> Polyline:
    """Return a rectangle that covers what is under it, its sides in either order [m]."""
    x0, x1 = sorted((left, right))
    y0, y1 = sorted((bottom, top))
    return Polyline(box(x0, y0, x1, y1), layer, closed=True, fill="white", key=key)


def cut_steel(
    left: float,
    bottom: float,
    right: float,
    top: float,
    *,
    layer: Layer = "cut",
    spacing: float = 1.3,
    key: str = "",
) -> list[DrawingItem]:
    """Return a rectangle of steel that is cut through, hatched; a dashed one is left blank [m]."""
    x0, x1 = sorted((left, right))
    y0, y1 = sorted((bottom, top))
    if x1 - x0 < 1e-9 or y1 - y0 < 1e-9:
        return []
    corners = box(x0, y0, x1, y1)
    items: list[DrawingItem] = [Fill(corners, "white")]
    if layer != "hidden":
        items.append(Hatch(corners, "steel", spacing, key=key))
    return [*items, Polyline(corners, layer, closed=True, key=key)]


def zigzag(a: Point, b: Point, *, tooth: float = math.inf) -> list[DrawingItem]:
    """Return a break line from ``a`` to ``b`` [m]: what goes on beyond it is not drawn.

    ``tooth`` is how far it swings out at most [m].
    """
    (x0, y0), (x1, y1) = a, b
    long = math.hypot(x1 - x0, y1 - y0)
    if long < 1e-9:
        return []
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    t = min(0.1 * long, tooth)

    def on(along: float, across: float) -> Point:
        return (x0 + along * ux - across * uy, y0 + along * uy + across * ux)

    m = long / 2.0
    teeth = (on(m - 0.8 * t, 0.0), on(m - 0.3 * t, t), on(m + 0.3 * t, -t), on(m + 0.8 * t, 0.0))
    return [Polyline((on(-1.2 * t, 0.0), *teeth, on(long + 1.2 * t, 0.0)), "thin")]


def fillet(corner: Point, along: float, up: float, *, given: bool) -> list[DrawingItem]:
    """Return a fillet weld in a corner, its legs along x and up y, signed [m]."""
    x, y = corner
    points = (corner, (x + along, y), (x, y + up))
    if not given:
        return [Polyline(points, "hidden", closed=True)]
    return [Fill(points, "black", layer="note")]


def words_above(at_point: Point, words: str, up_mm: float, *, wide: float = 70.0) -> Symbol:
    """Return words over a point, centred, their foot ``up_mm`` above it [mm]."""
    lines = wrapped(words, wide, height_mm=LABEL_MM)
    return Symbol(
        at_point,
        (Text((0.0, up_mm), "\n".join(lines), height_mm=LABEL_MM, anchor="centre-bottom"),),
    )


def words_below(at_point: Point, words: str, down_mm: float, *, wide: float = 70.0) -> Symbol:
    """Return words under a point, centred, their head ``down_mm`` below it [mm]."""
    lines = wrapped(words, wide, height_mm=LABEL_MM)
    return Symbol(
        at_point,
        (Text((0.0, -down_mm), "\n".join(lines), height_mm=LABEL_MM, anchor="centre-top"),),
    )


def up_mark(at_point: Point, off: Point) -> Symbol:
    """Return the word UP under an arrow that points up, ``off`` a point [mm]."""
    x, y = off
    return Symbol(
        at_point,
        (
            Text((x, y), "UP", height_mm=3.0, anchor="centre-bottom", bold=True),
            Fill(((x - 2.0, y + 4.2), (x + 2.0, y + 4.2), (x, y + 7.2)), "black", layer="note"),
        ),
    )


def hinge_edge_mark(at_point: Point, out: float, up_mm: float) -> Symbol:
    """Return the words HINGE EDGE beside a point.

    Args:
        at_point: on the leaf's hinge edge [m].
        out: −1 where the edge is on the left of the leaf, 1 where it is on the right.
        up_mm: height of the words over the point [mm].
    """
    x = 2.5 * out
    return Symbol(
        at_point,
        (
            Text(
                (x, up_mm),
                "HINGE EDGE",
                height_mm=3.0,
                bold=True,
                anchor="right-middle" if out < 0.0 else "left-middle",
            ),
        ),
    )


def axis_line(x: float, low: float, high: float) -> Line:
    """Return the line that a pin turns on [m]."""
    return Line((x, low), (x, high), "centre")
