"""Holes for the top plate's bolts, their spacing and their edges: AISC 360-22, J3.3 to J3.5."""

from __future__ import annotations

import math

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.handbook.aisc360 import bolt_holes
from leafwright.handbook.aisc360.bolt_holes import Hole
from leafwright.mount.envelope import floor_pivot
from leafwright.mount.head_bolts import Bolted, bolt_check
from leafwright.mount.head_loads import pretension
from leafwright.mount.parts import size
from leafwright.mount.records import Mounting
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres

_KIND_WORDS = {
    Hole.STANDARD: "a standard hole",
    Hole.OVERSIZE: "an oversize hole",
    Hole.LARGER: "larger than an oversize hole, which is not allowed",
}


def hole_check(b: Bolted) -> Check | None:
    """Return whether the hole is one for this bolt; None where the job gives none.

    The standard hole is then taken, and is listed with the defaults.
    """
    given = floor_pivot(b.m).bolt
    if given is None or given.hole is None:
        return None
    d, lines = b.bolt.d, Lines()
    sizes = lines.work(bolt_holes.hole_sizes, d=d)
    right = f"drill {size(b.m, sizes.standard)}, the standard hole for a {size(b.m, d)} bolt"
    question = "is the hole the right one for its bolt"
    if b.hole < d - 1e-6:
        change = f"{right}: the bolt does not go through {size(b.m, b.hole)}"
        return bolt_check(
            b, "hole", "does the bolt go through its hole", "Table J3.3", d, b.hole, change,
            "the bolt against its hole", lines, unit="m", tight_from=math.inf,
        )  # fmt: skip
    kind = lines.work(bolt_holes.hole_class, d=d, d_h=b.hole)
    oversize = kind is Hole.OVERSIZE
    tightened = oversize and pretension(b.bolt) is not None
    limit = sizes.oversize if tightened else sizes.standard
    rule = f"by the table it is {_KIND_WORDS[kind]}"
    if oversize:
        rule += (
            "; it may only be used with bolts that are tightened to hold by friction, with a "
            "hardened washer over it (J3.3(d))"
        )
    change = right
    if oversize and not tightened:
        change += "; or A325 bolts, tightened to their pretension, with hardened washers"
    return bolt_check(
        b, "hole", question, "J3.3, Table J3.3", b.hole, limit, change, rule, lines,
        unit="m", tight_from=math.inf,
    )  # fmt: skip


def place_checks(b: Bolted) -> list[Check]:
    """Return the checks of spacing and of edges, in the plate and in what carries it."""
    kind = Hole.STANDARD
    if b.hole >= b.bolt.d - 1e-6:
        kind = bolt_holes.hole_class(b.bolt.d, b.hole)
    kind = Hole.OVERSIZE if kind is Hole.LARGER else kind
    lines = Lines()
    least = lines.work(bolt_holes.minimum_edge_distance, d=b.bolt.d, hole=kind)
    found = [
        bolt_check(
            b, "edge of plate", "are the bolts far enough from the plate's edge",
            "J3.5, Tables J3.4 and J3.5", least, b.layout.edge,
            f"{size(b.m, least)} or more from a hole's middle to the edge: a wider plate, or "
            "another bolt_gauge",
            "least edge distance against that of the outer holes; along the plate they stand "
            "1.5 diameters from its ends, as they are set out here", lines,
            unit="m", tight_from=math.inf,
        )
    ]  # fmt: skip
    gaps = [gap for gap in (b.layout.along, b.layout.across) if gap > 0.0]
    if gaps:
        lines = Lines()
        apart = lines.work(bolt_holes.minimum_spacing, d=b.bolt.d, d_h=b.hole)
        found.append(
            bolt_check(
                b, "bolt spacing", "are the bolts far enough apart", "J3.4", apart, min(gaps),
                f"{size(b.m, apart)} or more apart", "2-2/3 diameters, and one clear", lines,
                unit="m", tight_from=math.inf,
            )
        )  # fmt: skip
    lines = Lines()
    least = lines.work(bolt_holes.minimum_edge_distance, d=b.bolt.d, hole=kind)
    there = b.carrier.width / 2.0 - max(b.layout.rows)
    name = b.carrier.name
    found.append(
        bolt_check(
            b, "edge of carrier", f"are the bolts far enough from the edge of the {name}",
            "J3.5, Tables J3.4 and J3.5", least, max(there, 0.0),
            f"a gauge of {size(b.m, max(b.carrier.width - 2.0 * least, 0.0))} or less",
            "least edge distance against that of the outer holes", lines,
            unit="m", tight_from=math.inf,
        )
    )  # fmt: skip
    return found


def standard_hole(m: Mounting, d: Metres) -> tuple[Metres, tuple[Quantity, ...]] | str:
    """Return the standard hole for a bolt as a listed default [m], or why there is none."""
    try:
        hole = bolt_holes.hole_sizes(d).standard
    except ValueError:
        return (
            f"a bolt of {size(m, d)} is in no table of holes: 1/2 in and up by eighths, or M12 "
            "and up"
        )
    used = chain.base(
        "default", f"{m.key}/top bolt hole", "hole for the top plate's bolts", hole,
        note="standard hole, ANSI/AISC 360-22, Tables J3.3 and J3.3M",
    )  # fmt: skip
    return hole, (used,)
