"""Leaves on barrel hinges made for tests: the yard gate's leaf, with loads of round numbers."""

from __future__ import annotations

import functools
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, Literal

from leafwright import load_job, plan
from leafwright.doorway import Doorway
from leafwright.frame.load_cases import LeafCase
from leafwright.handbook.aisc360 import Method
from leafwright.job.model import BarrelHinge, Job, LeafTable, Post
from leafwright.job.steel import steel
from leafwright.job.tape import tape_of
from leafwright.leaf import Leaf
from leafwright.mount import Mounting, Proved
from leafwright.proof import LeafProof, PivotLoad, Reaction
from leafwright.records import Check
from tests.mount.proved import load

EXAMPLES = Path(__file__).parents[2] / "examples"
INCH = 0.0254
LBF = 4.4482216152605
LB_IN = LBF * INCH
KIP = 1000 * LBF
KIP_IN = KIP * INCH
KSI = KIP / INCH**2

#: What a hinge gives the leaf at rest, where nothing else is said.
resting = functools.partial(load, situation="standing")

#: Hinges all of whose sizes are said, in round inches, of steel that is known.
SIZES: dict[str, Any] = {
    "kind": "barrel hinge",
    "standoff": "3 in",
    "heights": ["8 in", "70 in"],
    "pin_diameter": "3/4 in",
    "clearance": "0.010 in",
    "pin_grade": "A36",
    "barrel_length": "4 in",
    "weld": "3/16 in",
    "weld_length": "4 in",
}

#: A post all of whose sizes are said.
POST: dict[str, Any] = {
    "section": "HSS 6 x 6 x 1/4",
    "height": "90 in",
    "footing_diameter": "24 in",
    "footing_depth": "5 ft",
    "soil_pressure": "150 psf",
}


@functools.cache
def gate(
    hand: Literal["left", "right"] = "left", method: Literal["ASD", "LRFD"] = "ASD"
) -> Mounting:
    """Return a leaf of the yard gate as it hangs, its own loads on it."""
    job = load_job(EXAMPLES / "yard-gate.toml").job
    basis = job.basis.model_copy(update={"method": method})
    job = job.model_copy(update={"basis": basis})
    made = plan(job, upto="proof")
    assert isinstance(made.doorway, Doorway)
    at = next(i for i, place in enumerate(made.doorway.leaves) if place.hand == hand)
    leaf, proof = made.leaves[at], made.proofs[at]
    assert isinstance(leaf, Leaf)
    assert isinstance(proof, LeafProof)
    return Mounting(
        job=job,
        room=made.doorway,
        place=made.doorway.leaves[at],
        table=next(table for table in job.leaf if table.hand == hand),
        leaf=leaf,
        proof=proof,
        steel=steel(job),
        method=Method(method),
        tape=tape_of(job),
    )


def at_rest(pull: float = 300.0, weight: float = 400.0, across: float = 0.0) -> list[PivotLoad]:
    """Return a left leaf's loads at rest: its weight, pull and what lies across, in pounds."""
    return [
        resting("pivot 1", x=pull * LBF, y=weight * LBF),
        resting("pivot 2", x=-pull * LBF, z=across * LBF),
    ]


def hung(
    *loads: PivotLoad,
    base: Mounting | None = None,
    post: dict[str, Any] | None = None,
    job: dict[str, Any] | None = None,
    **sizes: Any,
) -> Mounting:
    """Return the leaf with these loads on its hinges, or its own where none are given.

    ``post`` are keys over `POST` and ``sizes`` over `SIZES`, None to leave one out; ``job`` are
    tables of the job.
    """
    base = gate() if base is None else base
    given = {key: value for key, value in {**SIZES, **sizes}.items() if value is not None}
    mount = BarrelHinge.model_validate(given)
    table: LeafTable = base.table.model_copy(update={"mount": mount})
    stands = {key: value for key, value in {**POST, **(post or {})}.items() if value is not None}
    updated: Job = base.job.model_copy(update={"post": Post.model_validate(stands), **(job or {})})
    proof = base.proof if not loads else _loaded(base.proof, loads)
    return replace(base, job=updated, table=table, proof=proof)


def _loaded(proof: LeafProof, loads: Sequence[PivotLoad]) -> LeafProof:
    cases = tuple(
        LeafCase(situation, situation, 1.0, 1.0, True, True)
        for situation in dict.fromkeys(found.situation for found in loads)
    )
    there = tuple(
        Reaction(found.situation, found.place, found.x, found.y, found.z)
        for found in loads
        if not found.clamped
    )
    return replace(proof, pivot_loads=tuple(loads), cases=cases, reactions=there)


def check(proved: Proved, key: str) -> Check:
    """Return the check of a key, without the leaf's own part."""
    return next(c for c in proved.checks if c.key.split("/", 1)[1] == key)
