"""Leaves on floor pivots made for tests: the boathouse's left leaf, with loads of round numbers."""

from __future__ import annotations

import functools
from dataclasses import replace
from pathlib import Path
from typing import Any

from leafwright import load_job, plan
from leafwright.doorway import Doorway
from leafwright.doorway.heel import Heel, heel_of
from leafwright.doorway.over import under_plates
from leafwright.handbook.aisc360 import Method
from leafwright.job.model import FloorPivot, LeafTable
from leafwright.job.steel import steel
from leafwright.job.tape import tape_of
from leafwright.leaf import Leaf
from leafwright.mount import Mounting, Proved
from leafwright.proof import LeafProof, PivotLoad
from leafwright.records import Check
from leafwright.units import read_length

EXAMPLES = Path(__file__).parents[2] / "examples"
INCH = 0.0254
LBF = 4.4482216152605
KIP = 1000 * LBF
KSI = KIP / INCH**2
KIP_IN = KIP * INCH

#: A pivot all of whose sizes are said, in round inches, of steel that is known.
SIZES: dict[str, Any] = {
    "kind": "floor pivot",
    "spacer": "1/2 in",
    "plate": {"thickness": "1/2 in", "width": "6 in", "length": "8 in", "grade": "A36"},
    "pin_diameter": "1.5 in",
    "sleeve_bore": "1.51 in",
    "sleeve_outside": "2 in",
    "ball_diameter": "1.5 in",
    "bottom_pin_length": "4 in",
    "top_pin_length": "3 in",
    "slug_length": "1 in",
    "sleeve_length": "4.5 in",
    "access_hole": "1.25 in",
    "pin_grade": "A36",
    "pin_weld": "1/4 in",
    "slug_weld": "3/16 in",
    "plug_hole": "9/16 in",
    "plug_holes": 4,
    "ball_seat": "mild",
    "top_plate": {"thickness": "1/2 in", "width": "6 in", "length": "8 in", "grade": "A36"},
}


@functools.cache
def _boathouse() -> Mounting:
    job = load_job(EXAMPLES / "boathouse.toml").job
    wishes = job.doorway.model_copy(update={"top_gap": read_length("1/2 in")})
    job = job.model_copy(update={"doorway": wishes})
    made = plan(job, upto="proof")
    leaf, proof = made.leaves[0], made.proofs[0]
    assert isinstance(made.doorway, Doorway)
    assert isinstance(leaf, Leaf)
    assert isinstance(proof, LeafProof)
    job = job.model_copy(update={"building": job.building.model_copy(update={"beam_rise": None})})
    return Mounting(
        job=job,
        room=made.doorway,
        place=made.doorway.leaves[0],
        table=job.leaf[0],
        leaf=leaf,
        proof=proof,
        steel=steel(job),
        method=Method.ASD,
        tape=tape_of(job),
    )


def hung(
    *loads: PivotLoad, method: Method = Method.ASD, stile: str | None = None, **sizes: Any
) -> Mounting:
    """Return the leaf with these loads on its pivots, or its own where none are given.

    ``stile`` is the section of its hanging stile; ``sizes`` are keys of the mount over `SIZES`,
    None to leave one out.
    """
    base = _boathouse()
    given = {key: value for key, value in {**SIZES, **sizes}.items() if value is not None}
    mount = FloorPivot.model_validate(given)
    table: LeafTable = base.table.model_copy(update={"mount": mount})
    leaf = base.leaf
    if stile is not None:
        section = base.steel.section(stile)
        members = tuple(
            replace(member, section=section) if member.role == "hanging stile" else member
            for member in leaf.members
        )
        leaf = replace(leaf, members=members)
    proof = base.proof if not loads else replace(base.proof, pivot_loads=loads)
    room = with_plates(base.room, heel_of(base.steel, table, base.key))
    return replace(base, room=room, table=table, leaf=leaf, proof=proof, method=method)


def with_plates(room: Doorway, heel: Heel) -> Doorway:
    """Return the doorway with the left leaf's top plate in the gap over it."""
    assert room.top_gap is not None
    others = [gap for gap in room.gaps if gap.key != f"{heel.key}/gap under top plate"]
    return replace(room, gaps=(*others, *under_plates({"left": heel}, room.top_gap)))


def check(proved: Proved, key: str) -> Check:
    """Return the check of a key, without the leaf's own part."""
    return next(c for c in proved.checks if c.key == f"left/{key}")
