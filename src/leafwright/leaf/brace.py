"""Braces: tubes wedged into a panel's corners, crossed bars, and rods.

A tube's centre line runs from inner corner to inner corner of its panel, so each end is cut by
two planes, the stile's face and the rail's, and its long point is the corner itself. Crossed, one
bar runs through and the other is two halves cut to its sides. A rod stops short of both corners
by the length of its tabs and is cut square.

All planes here are in hinge axes: x from the hinge edge toward the nose.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.handbook import sections
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.job.model import Brace
from leafwright.leaf.cut import Plane
from leafwright.records import Held, Point2

Rise = Literal["rising", "falling"]

#: Number of the bay that spans all panels, for a rod that passes the mid rails on their face.
WHOLE_LEAF = 0


@dataclass(frozen=True, slots=True)
class Bay:
    """The clear inside of one panel in hinge axes, with its sizes as derived quantities."""

    number: int
    near: float
    far: float
    bottom: float
    top: float
    width: Quantity
    height: Quantity

    def corner(self, *, far: bool, top: bool) -> Point2:
        """Return one of the four inner corners [m]."""
        return (self.far if far else self.near, self.top if top else self.bottom)


@dataclass(frozen=True, slots=True)
class BracePart:
    """One bar of a brace, ready to be cut; ``upper`` is the joint at its higher end."""

    name: str
    foot: Point2
    direction: Point2
    start: tuple[Plane, ...]
    end: tuple[Plane, ...]
    length: Quantity
    lower: str
    upper: str


def wishes_held(braces: Sequence[Brace], panels: int) -> Held | None:
    """Return why a leaf of so many panels cannot be braced as wished, or None where it can."""
    seen: set[int | str] = set()
    for brace in braces:
        panel = brace.panel
        if isinstance(panel, int) and not 1 <= panel <= panels:
            return Held(
                f"there is no panel {panel} to brace",
                (f"a panel from 1 (the lowest) to {panels}",),
            )
        where = {"each": "each panel", "whole leaf": "the whole leaf"}.get(
            str(panel), f"panel {panel}"
        )
        if panel in seen:
            return Held(
                f"{where} is braced twice",
                (f'one brace for {where}; two tubes that cross are pattern = "X"',),
            )
        seen.add(panel)
        if brace.pattern == "rod" and brace.section is None:
            return Held(
                f"the rod over {where} has no section",
                ('its section, as in section = "round bar 1/2 in"',),
            )
    return None


def section_held(bay: Bay, brace: Brace, section: CatalogueSection) -> Held | None:
    """Return why a section cannot be the brace of a bay, or None where it can."""
    if section.shape == sections.ANGLE:
        return Held(
            f"a brace of {section.designation} is not there yet: which way its legs point "
            "cannot be said",
            ("a brace of tube, flat or round bar",),
        )
    if brace.pattern == "rod":
        return None
    if brace.pattern == "X" and section.shape in (sections.ROUND_TUBE, sections.ROUND_BAR):
        return Held(
            f"an X of {section.designation} needs the halves coped to the round bar between "
            "them, which is not there yet",
            ("an X of square or rectangular tube, one diagonal, or a rod",),
        )
    if section.width >= min(bay.width.value, bay.height.value):
        return Held(
            f"a brace of {section.designation} is wider than panel {bay.number}",
            ("a larger panel or a smaller brace",),
        )
    return None


def _ends(bay: Bay, rise: Rise) -> tuple[Point2, Point2]:
    """Return the lower and the upper end of a diagonal; rising runs up from the hinge side."""
    lower = bay.corner(far=rise == "falling", top=False)
    upper = bay.corner(far=rise == "rising", top=True)
    return lower, upper


def _wedge(bay: Bay, corner: Point2, *, far: bool, top: bool) -> tuple[Plane, ...]:
    """Return the stile's face and the rail's face at a corner, as cuts of the brace."""
    stile = Plane((1.0, 0.0), corner[0]) if far else Plane((-1.0, 0.0), -corner[0])
    rail = Plane((0.0, 1.0), corner[1]) if top else Plane((0.0, -1.0), -corner[1])
    return stile, rail


def diagonal_length(width: float, height: float) -> float:
    """Return the clear diagonal of a panel [m]: long point to long point of a wedged brace."""
    return math.hypot(width, height)


def half_length(width: float, height: float, through: float, own: float) -> float:
    """Return the long point to long point of half a crossed brace [m].

    From the corner to the middle of the crossing, less what the through bar takes along it, plus
    what the slanting cut reaches beyond the centre line.

    Args:
        width: clear width of the panel [m].
        height: clear height of the panel [m].
        through: width of the bar that runs through [m].
        own: width of the half's own section [m].
    """
    crossing = 2.0 * math.atan2(min(width, height), max(width, height))
    half = math.hypot(width, height) / 2
    return half - through / (2 * math.sin(crossing)) + own / (2 * math.tan(crossing))


def _joint(bay: Bay, *, far: bool, top: bool) -> str:
    if bay.number == WHOLE_LEAF:
        return f"{'top' if top else 'bottom'} {'nose' if far else 'hinge'}"
    return f"panel-{bay.number} {'top' if top else 'bottom'} {'nose' if far else 'hinge'}"


def one_diagonal(key: str, bay: Bay, rise: Rise, name: str) -> BracePart:
    """Return a tube from corner to corner of a panel."""
    lower, upper = _ends(bay, rise)
    rising = rise == "rising"
    length = chain.worked(
        f"{key}/length",
        f"length of {name}, long point to long point",
        "√(clear width² + clear height²)",
        diagonal_length,
        [bay.width, bay.height],
    )
    return BracePart(
        name=name,
        foot=lower,
        direction=(upper[0] - lower[0], upper[1] - lower[1]),
        start=_wedge(bay, lower, far=not rising, top=False),
        end=_wedge(bay, upper, far=rising, top=True),
        length=length,
        lower=_joint(bay, far=not rising, top=False),
        upper=_joint(bay, far=rising, top=True),
    )


def rod(key: str, bay: Bay, rise: Rise, name: str, allowance: Quantity) -> BracePart:
    """Return a rod between two corners of a panel, square cut, short by a tab at each end."""
    lower, upper = _ends(bay, rise)
    rising = rise == "rising"
    run = (upper[0] - lower[0], upper[1] - lower[1])
    size = math.hypot(*run)
    along = (run[0] / size, run[1] / size)
    at_lower = lower[0] * along[0] + lower[1] * along[1]
    length = chain.worked(
        f"{key}/length",
        f"length of {name}",
        "√(clear width² + clear height²) − 2 × tab",
        lambda w, h, a: math.hypot(w, h) - 2 * a,
        [bay.width, bay.height, allowance],
    )
    tab = allowance.value
    return BracePart(
        name=name,
        foot=lower,
        direction=run,
        start=(Plane((-along[0], -along[1]), -(at_lower + tab)),),
        end=(Plane(along, at_lower + size - tab),),
        length=length,
        lower=_joint(bay, far=not rising, top=False),
        upper=_joint(bay, far=rising, top=True),
    )


def crossed(
    key: str, bay: Bay, through: Rise, section: CatalogueSection, name: str
) -> tuple[BracePart, BracePart, BracePart]:
    """Return an X: the bar that runs through, then the lower and upper half of the other."""
    whole = one_diagonal(f"{key}/through", bay, through, f"{name}, through")
    other: Rise = "falling" if through == "rising" else "rising"
    cut = one_diagonal(f"{key}/cut", bay, other, name)
    size = math.hypot(*whole.direction)
    along = (whole.direction[0] / size, whole.direction[1] / size)
    side = (-along[1], along[0])
    # The side of the through bar that faces the upper half.
    if side[0] * cut.direction[0] + side[1] * cut.direction[1] < 0:
        side = (-side[0], -side[1])
    middle = side[0] * whole.foot[0] + side[1] * whole.foot[1]
    halves = []
    width = chain.base(
        "table", f"{key}/bar width", "bar width", section.width, note=section.designation
    )
    for which in ("lower", "upper"):
        upper = which == "upper"
        part_key = f"{key}/{which}"
        length = chain.worked(
            f"{part_key}/length",
            f"length of {name}, {which} half, long point to long point",
            "half the clear diagonal − bar width / (2 sin crossing) + bar width / (2 tan crossing)",
            lambda w, h, b: half_length(w, h, b, b),
            [bay.width, bay.height, width],
        )
        into = Plane(side, middle - section.width / 2)
        out = Plane((-side[0], -side[1]), -(middle + section.width / 2))
        halves.append(
            BracePart(
                name=f"{name}, {which} half",
                foot=cut.foot,
                direction=cut.direction,
                start=(out,) if upper else cut.start,
                end=cut.end if upper else (into,),
                length=length,
                lower=f"panel-{bay.number} crossing" if upper else cut.lower,
                upper=cut.upper if upper else f"panel-{bay.number} crossing",
            )
        )
    return whole, halves[0], halves[1]
