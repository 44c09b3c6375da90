"""How each cut is made: by which saw, at what setting, or marked by offsets and cut by hand.

A piece lies on the saw as it is drawn: drawn side up, its upper edge against the fence, the maker
in front of it. Swung to the left, the near end of the blade goes to the left, so that the blade
runs away to the right toward the fence. Turned over (drawn side down, the same end at the blade)
its lower edge lies at the fence, and the same angle needs the other swing. In a jig it lies drawn
side up, square to the fence, its kept part toward the maker: then its upper edge is to the left
for a right end, to the right for a left one. A stop is a plate square to the fence that the other
end's long point touches.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from leafwright.chain import Quantity
from leafwright.job.defaults import chosen
from leafwright.job.model import CutWith, Job
from leafwright.records import Metres, Point2, Radians

Swing = Literal["square", "left", "right"]
Way = Literal["saw", "jig", "by hand", "none"]
Side = Literal["start", "end"]

#: Kinds that are led along a line by hand, whatever its angle.
FREEHAND = ("grinder", "hacksaw")

#: Angles nearer than this to square are square [rad].
SQUARE = 1e-9

#: What keeps a saw from a cut, in a maker's words.
KEPT = {
    "swing": "it does not swing so far",
    "height": "the piece is too high for it",
    "width": "the piece is too wide for it",
}

#: What a freehand tool is called where the maker lists no saw at all.
BY_HAND = "grinder or hacksaw"


@dataclass(frozen=True, slots=True)
class Tool:
    """One saw as the shop has it.

    ``left`` and ``right`` are how far it swings [rad]; ``high`` and ``wide`` the largest piece it
    takes square and swung as far as it goes, None where the maker did not say [m]; ``listed`` is
    whether the job file names it; ``freehand`` that it follows a line led by hand.
    """

    name: str
    kind: str
    left: Radians
    right: Radians
    high: tuple[Metres | None, Metres | None]
    wide: tuple[Metres | None, Metres | None]
    kerf: Metres
    stands: Literal["shop", "site"]
    jig: bool
    freehand: bool
    listed: bool


@dataclass(frozen=True, slots=True)
class SawCut:
    """One straight cut of an end.

    ``angle`` is the cut's, from square [rad]; ``swing`` and ``setting`` are what the saw is set
    to, from square [rad]; ``way`` is how: by a saw, in a jig square to its fence, by hand along a
    line, or none. ``over`` says that the piece lies turned over. ``longer`` is the edge, as drawn,
    that this cut leaves the longer. ``marks`` are where it starts and ends: across from the lower
    edge as drawn, and back from this end's long point [m]; ``stop`` is from the other end's long
    point to the mark at ``stop_at`` [m]; ``line`` the length of the cut on the face [m]. ``why``
    says what keeps the saws from it.
    """

    angle: Radians
    swing: Swing
    setting: Radians
    way: Way
    tool: str
    kerf: Metres
    over: bool
    longer: Literal["lower", "upper", "neither"]
    marks: tuple[Point2, Point2]
    stop: Metres
    stop_at: Literal["either edge", "lower edge", "upper edge", "long point"]
    line: Metres
    why: str


def tools_of(job: Job) -> tuple[Tool, ...]:
    """Return the saws of a job, or the one of ``[saw]`` and a freehand tool where none is listed.

    What a saw does not say of itself it takes from ``[saw]`` and ``[stock]``, or their defaults.
    """
    system = job.job.system
    usual = chosen(
        job.saw.mitre_range,
        "saw mitre range",
        "shop/mitre range",
        "saw's mitre range",
        system=system,
    ).value
    kerf = kerf_of(job).value
    if not job.cut_with:
        return plain_tools(usual, kerf)
    return tuple(_tool(saw, usual, kerf) for saw in job.cut_with)


def kerf_of(job: Job) -> Quantity:
    """Return what the sticks are laid out by for each cut [m]."""
    return chosen(job.stock.kerf, "kerf", "shop/kerf", "kerf", system=job.job.system)


def plain_tools(mitre_range: Radians, kerf: Metres = 0.0) -> tuple[Tool, ...]:
    """Return a saw that swings so far each way and takes anything, and a freehand tool.

    Args:
        mitre_range: how far the saw swings from square [rad].
        kerf: what a cut takes [m].
    """
    nothing = (None, None)
    return (
        Tool(
            "saw", "mitre saw", mitre_range, mitre_range, nothing, nothing, kerf, "shop",
            jig=False, freehand=False, listed=False,
        ),
        Tool(
            BY_HAND, "grinder", 0.0, 0.0, nothing, nothing, kerf, "site",
            jig=False, freehand=True, listed=False,
        ),
    )  # fmt: skip


def _tool(saw: CutWith, usual: float, kerf: float) -> Tool:
    freehand = saw.kind in FREEHAND

    def size(square: object, swung: object) -> tuple[float | None, float | None]:
        return (getattr(square, "si", None), getattr(swung, "si", None))

    return Tool(
        name=saw.name,
        kind=saw.kind,
        left=0.0 if freehand else saw.mitre_left.si if saw.mitre_left else usual,
        right=0.0 if freehand else saw.mitre_right.si if saw.mitre_right else usual,
        high=size(saw.takes_high, saw.takes_high_swung),
        wide=size(saw.takes_wide, saw.takes_wide_swung),
        kerf=saw.kerf.si if saw.kerf else kerf,
        stands=saw.stands,
        jig=saw.jig,
        freehand=freehand,
        listed=True,
    )


# ---------------------------------------------------------------- what a saw takes


def takes(tool: Tool, angle: Radians) -> tuple[Metres, Metres]:
    """Return the highest and the widest piece that a saw takes, swung so far [m].

    Between square and its greatest swing on a straight line, which lies under the cosine that a
    blade of one stroke has; where only the square sizes are given, the width by that cosine and
    the height as square. Infinite where the maker gave none.
    """
    most = max(tool.left, tool.right)
    share = angle / most if most > 0 else 0.0

    def between(sizes: tuple[float | None, float | None], else_swung: float) -> float:
        square, swung = sizes
        if square is None:
            return math.inf if swung is None else swung
        end = swung if swung is not None else square * else_swung
        return square + (end - square) * min(share, 1.0)

    return between(tool.high, 1.0), between(tool.wide, math.cos(most))


def keeps_from(tool: Tool, angle: Radians, swing: Swing, high: Metres, wide: Metres) -> str:
    """Return what keeps a saw from a cut, or nothing where it makes it.

    Args:
        tool: a saw, not freehand.
        angle: of the cut from square [rad].
        swing: which way.
        high: size of the piece upward on the saw [m].
        wide: size of it from the fence outward [m].
    """
    room = {"left": tool.left, "right": tool.right, "square": math.inf}[swing]
    if angle > room + 1e-9:
        return f"swing {swing}"
    takes_high, takes_wide = takes(tool, angle)
    if high > takes_high + 1e-9:
        return "height"
    if wide > takes_wide + 1e-9:
        return "width"
    return ""


def jig_takes(tool: Tool, angle: Radians, high: Metres, wide: Metres) -> bool:
    """Return whether a saw makes a wide angle with the piece clamped square to its fence.

    The saw is then set to the complement φ = 90° − angle. Its blade must run the whole slant of
    the cut, wide / sin φ, and runs as far as across the widest piece it takes at φ, W / cos φ: so
    wide ≤ W tan φ. Only where the maker says that the saw takes such a jig, and what fits in it.
    """
    complement = math.pi / 2 - angle
    known = tool.wide[0] is not None and tool.high[0] is not None
    if not (tool.jig and known) or complement > min(tool.left, tool.right) + 1e-9:
        return False
    takes_high, takes_wide = takes(tool, complement)
    return high <= takes_high + 1e-9 and wide <= takes_wide * math.tan(complement) + 1e-9


# ---------------------------------------------------------------- the cuts of an end


def cuts_of(
    profile: Sequence[Point2], side: Side, length: Metres, high: Metres, tools: Sequence[Tool]
) -> tuple[SawCut, ...]:
    """Return the cuts that make one end of a piece, in the order in which they are made.

    An end of one plane is one cut. A pointed end is squared off at its long point, and then each
    side is cut back, that nearest to square first: none of them needs more than the piece.

    Args:
        profile: corners of the end, from the lower edge as drawn: across, and back from its long
            point [m].
        side: whether it is the left end as drawn (start) or the right one.
        length: of the piece, long point to long point [m].
        high: size of the section out of the drawing, upward on the saw [m].
        tools: the saws, in the order in which they are reached for.
    """
    sides = list(itertools.pairwise(profile))
    wide = profile[-1][0]
    if len(sides) == 1:
        return (_cut(sides[0], side, length, high, wide, tools),)
    flat = [s for s in sides if abs(s[1][1] - s[0][1]) <= 1e-9 and s[0][1] <= 1e-9]
    slanted = [s for s in sides if s not in flat]
    slanted.sort(key=lambda s: abs(_lean(s)))
    whole = ((0.0, 0.0), (wide, 0.0))
    return tuple(_cut(s, side, length, high, wide, tools) for s in (whole, *slanted))


def _lean(side: tuple[Point2, Point2]) -> float:
    """Return the angle of a cut from square, plus where it falls back upward [rad]."""
    (u0, s0), (u1, s1) = side
    return math.atan2(s1 - s0, u1 - u0)


def _cut(
    marks: tuple[Point2, Point2],
    side: Side,
    length: float,
    high: float,
    wide: float,
    tools: Sequence[Tool],
) -> SawCut:
    lean = _lean(marks)
    angle = abs(lean)
    longer: Literal["lower", "upper", "neither"] = "neither"
    swing: Swing = "square"
    if angle > SQUARE:
        longer = "lower" if lean > 0 else "upper"
        # Along the fence, toward it: at the left end the blade runs right as the piece falls back.
        swing = "left" if (lean > 0) == (side == "start") else "right"
    else:
        angle = 0.0
    way, tool, over, why = _made_by(angle, swing, high, wide, tools)
    if over:
        swing = "right" if swing == "left" else "left"
    stop, stop_at = _stop(marks, length, wide)
    setting = angle
    if way == "jig":
        # Turned a right angle, kept part toward the maker: the blade leans to the other side.
        setting = math.pi / 2 - angle
        swing = "right" if swing == "left" else "left"
    (u0, s0), (u1, s1) = marks
    return SawCut(
        angle=angle,
        swing=swing,
        setting=setting,
        way=way,
        tool=tool.name if tool else "",
        kerf=tool.kerf if tool else 0.0,
        over=over,
        longer=longer,
        marks=marks,
        stop=stop,
        stop_at=stop_at,
        line=math.hypot(u1 - u0, s1 - s0),
        why=why,
    )


def _made_by(
    angle: float, swing: Swing, high: float, wide: float, tools: Sequence[Tool]
) -> tuple[Way, Tool | None, bool, str]:
    """Return how a cut is made: the way, the tool, whether turned over, and why no saw does it."""
    saws = [tool for tool in tools if not tool.freehand]
    saws.sort(key=lambda tool: tool.stands == "site")
    other: Swing = "left" if swing == "right" else "right"
    why: list[str] = []
    for tool in saws:
        kept = keeps_from(tool, angle, swing, high, wide)
        if not kept:
            return "saw", tool, False, ""
        if swing != "square" and not keeps_from(tool, angle, other, high, wide):
            return "saw", tool, True, ""
        why.append(f"{tool.name}: {KEPT[kept.split()[0]]}")
    for tool in saws:
        if jig_takes(tool, angle, high, wide):
            return "jig", tool, False, "; ".join(why)
    for tool in tools:
        if tool.freehand:
            return "by hand", tool, False, "; ".join(why) or "no saw is listed"
    return "none", None, False, "; ".join(why)


def _stop(
    marks: tuple[Point2, Point2], length: float, wide: float
) -> tuple[float, Literal["either edge", "lower edge", "upper edge", "long point"]]:
    """Return where the stop is set and which mark it is set to: the longer one on an edge."""
    (u0, s0), (u1, s1) = marks
    at_low, at_high = abs(u0) < 1e-9, abs(u1 - wide) < 1e-9
    if at_low and at_high:
        if abs(s0 - s1) < 1e-9:
            return length - s0, "either edge"
        return (length - s0, "lower edge") if s0 < s1 else (length - s1, "upper edge")
    if at_low:
        return length - s0, "lower edge"
    if at_high:
        return length - s1, "upper edge"
    return length - min(s0, s1), "long point"
