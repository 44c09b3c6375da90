"""Whether the holes lie inside their parts: clear of edges, of one another, of what lands there.

Sizes of bolt holes, and edges and spacing of the top plate's bolts, are checked with the mount
(`mount.head_holes`), reach of the access hole and rows of plugs with the stack (`mount.sleeve`):
they are not asked again here.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from leafwright.handbook.aisc360 import bolt_holes
from leafwright.mount.parts import size
from leafwright.proof.working import Lines
from leafwright.records import COMMON_PRACTICE, Check, Metres, Source, Working, graded, ratio_of
from leafwright.shop.holes.bench import Bench, weld_clear
from leafwright.shop.holes.records import Hole, Plate
from leafwright.shop.holes.stile import WALLS
from leafwright.shop.holes.tube import Tube

_AISC = Source("ANSI/AISC 360-22", "J3.5, Table J3.4")


def half_along(hole: Hole) -> Metres:
    """Return half of a hole's length along its part [m]."""
    return max(hole.slot, hole.diameter.value) / 2.0


def tube_checks(b: Bench) -> list[Check]:
    """Return whether the holes of each tube that has some lie where they may."""
    return [
        _tube_check(b, tube, b.holes[tube.member.key])
        for tube in b.tubes
        if b.holes.get(tube.member.key)
    ]


def margins(b: Bench, tube: Tube, holes: Iterable[Hole]) -> list[tuple[str, Metres, Metres]]:
    """Return what each hole keeps from what is near it: in words, wanted, and there is [m]."""
    found = []
    holes = list(holes)
    corner = tube.member.section.nominal_radii()[0]
    least = WALLS * tube.wall
    for hole in holes:
        r, half = hole.diameter.value / 2.0, half_along(hole)
        at, across = hole.along.value, hole.across.value
        wide = tube.width if hole.face in ("face", "back", "round") else tube.depth
        if not tube.is_round:
            rim = min(across, wide - across) - r
            found.append((f"{hole.use}: rim to the side of its face", corner, rim))
        low, high = tube.clear_end(hole.face, True), tube.clear_end(hole.face, False)
        found.append((f"{hole.use}: rim to the tube's end", least, min(at - low, high - at) - half))
        clear = weld_clear(tube)
        for one in b.landed[tube.member.key]:
            if one.face != hole.face:
                continue
            gap = max(one.low - at, at - one.high) - half
            if gap < 2.0 * clear:
                found.append((f"{hole.use}: rim to {one.who}, which lands there", clear, gap))
    for i, first in enumerate(holes):
        for other in holes[i + 1 :]:
            if first.face != other.face:
                continue
            apart = math.hypot(
                first.along.value - other.along.value, first.across.value - other.across.value
            )
            gap = apart - half_along(first) - half_along(other)
            found.append((f"{first.use} and {other.use}: rim to rim", least, gap))
    return found


def _tube_check(b: Bench, tube: Tube, holes: list[Hole]) -> Check:
    found = margins(b, tube, holes)
    what, wanted, there = max(found, key=lambda one: ratio_of(one[1], max(one[2], 0.0)))
    ratio = ratio_of(wanted, max(there, 0.0))
    role = tube.member.role
    verdict = graded(ratio, tight_from=math.inf)
    return Check(
        key=f"{tube.member.key}/holes",
        subject=f"holes of the {role} {tube.member.mark}",
        question="do they keep clear of its edges, of one another and of what lands there",
        verdict=verdict,
        source=COMMON_PRACTICE,
        unit="m",
        demand=wanted,
        available=max(there, 0.0),
        ratio=ratio if math.isfinite(ratio) else None,
        change="" if ratio <= 1.0 else f"{what}: move it, or make it smaller",
        rule=f"{what}, the nearest of all; two walls of steel between rims and to an open end, the "
        "corner's radius beside it, and the weld's leg and 3 mm to what lands there",
    )


# ---------------------------------------------------------------- plates


def plate_checks(b: Bench) -> list[Check]:
    """Return whether each plate's holes are far enough from its edges and from the pin's weld."""
    return [check for plate in b.plates if plate.holes for check in _plate_check(b, plate)]


def _plate_check(b: Bench, plate: Plate) -> list[Check]:
    long, wide = plate.length.value, plate.width.value
    edge = min(
        min(h.along.value, long - h.along.value, h.across.value, wide - h.across.value)
        for h in plate.holes
    )
    weld = plate.pin / 2.0 + plate.weld
    near = min(
        math.hypot(h.along.value - long / 2.0, h.across.value - wide / 2.0) for h in plate.holes
    )
    checks = []
    is_floor = plate.name == "floor plate"
    anchor = b.m.job.building.anchor
    d = plate.holes[0].diameter.value
    if is_floor and anchor is not None and anchor.size is not None:
        d = anchor.size.si
        lines = Lines()
        try:
            least, source = lines.work(bolt_holes.minimum_edge_distance, d=d), _AISC
        except ValueError:
            least, source = 1.5 * d, COMMON_PRACTICE
        checks.append(
            _of_plate(
                b, plate, "edge", "are the holes far enough from its edges", least, edge, source,
                "least edge distance of a bolt of this size, against that of the outer holes",
                f"{size(b.m, least)} or more from a hole's middle to the edge: spread the anchors "
                "less, or a larger plate",
                lines.kept(),
            )
        )  # fmt: skip
    if plate.pin > 0.0:
        checks.append(
            _of_plate(
                b, plate, "pin weld", "do washers and nuts clear the pin's weld", weld + d, near,
                COMMON_PRACTICE,
                "half of pin, its weld and a washer's radius, taken as a bolt's diameter, against "
                "how near the holes are to the pin",
                "set the holes farther from the pin",
                (),
            )
        )  # fmt: skip
    return checks


def _of_plate(
    b: Bench,
    plate: Plate,
    tail: str,
    question: str,
    wanted: Metres,
    there: Metres,
    source: Source,
    rule: str,
    change: str,
    working: tuple[Working, ...],
) -> Check:
    ratio = ratio_of(wanted, there)
    verdict = graded(ratio, tight_from=math.inf)
    return Check(
        key=f"{plate.key}/{tail}",
        subject=f"{plate.name} of {b.m.who}",
        question=question,
        verdict=verdict,
        source=source,
        unit="m",
        demand=wanted,
        available=there,
        ratio=ratio if math.isfinite(ratio) else None,
        change="" if ratio <= 1.0 else change,
        rule=rule,
        working=working,
    )
