"""Jobs and proofs made for tests."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from leafwright import chain
from leafwright.frame.load_cases import LiveLoads, leaf_cases, with_cases
from leafwright.frame.model import FrameModel
from leafwright.frame.of_leaf import Holding, leaf_frame
from leafwright.frame.solve import FrameResult, solve
from leafwright.job.model import Job
from leafwright.leaf import Leaf
from leafwright.proof import BraceForce, LeafProof, Movement, Reaction, prove
from leafwright.proof.movement import brace_forces, movements, reactions
from leafwright.records import Check
from tests.leaves import STEEL, made

POUND = 0.45359237
LBF = 4.4482216152605


def job(**tables: Any) -> Job:
    """Return a job with these tables beside what every job must have."""
    given: dict[str, Any] = {
        "leafwright": 1,
        "job": {"name": "test", "seen_from": "yard", "system": "feet-inch"},
        "reading": [{"kind": "distance", "from": "BL", "to": "BR", "is": "8 ft"}],
        "doorway": {"leaves": "pair"},
        "leaf": [
            {"hand": hand, "frame": "SHS 40 x 40 x 3", "mount": {"kind": "floor pivot"}}
            for hand in ("left", "right")
        ],
        **tables,
    }
    return Job.model_validate(given)


def proved(
    width: float,
    height: float,
    *,
    clearance: float = 0.05,
    tables: dict[str, Any] | None = None,
    **wishes: Any,
) -> tuple[Leaf, LeafProof]:
    """Return a leaf of a given size [m] with its proof; ``tables`` go into the job."""
    where, what, leaf = made(width, height, **wishes)
    room = chain.base("wish", "doorway/floor clearance", "floor clearance", clearance)
    found = prove(job(**(tables or {})), where, what, leaf, STEEL, clearance=room)
    assert isinstance(found, LeafProof), found
    return leaf, found


@dataclass(frozen=True, slots=True)
class Analysed:
    """A leaf's frame in all its cases, without the checks: quicker than its proof."""

    leaf: Leaf
    model: FrameModel
    result: FrameResult
    movements: tuple[Movement, ...]
    reactions: tuple[Reaction, ...]
    brace_forces: tuple[BraceForce, ...]

    def moved(self, situation: str) -> Movement:
        return next(m for m in self.movements if m.situation == situation)

    def force(self, mark: str, situation: str) -> BraceForce:
        return next(f for f in self.brace_forces if (f.mark, f.situation) == (mark, situation))


def analysed(leaf: Leaf, *, person: float = 90.0, push: float = 220.0) -> Analysed:
    """Return the analysis of a leaf held on its stile's centre line at foot and head."""
    cases = leaf_cases("ASD")
    frame = leaf_frame(leaf, Holding(leaf.members[0].foot[0], (0.0, leaf.height)), 1.0)
    model = with_cases(frame, cases, LiveLoads(person, push))
    result = solve(model)
    assert isinstance(result, FrameResult), result
    return Analysed(
        leaf,
        model,
        result,
        movements(frame, result, cases),
        reactions(frame, model, result, cases),
        brace_forces(leaf, model, result, cases),
    )


def check(proof: LeafProof, key: str) -> Check:
    """Return the check of a key, without the leaf's own part."""
    return next(c for c in proof.checks if c.key == f"leaf/{key}")
