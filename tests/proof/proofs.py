"""Jobs and proofs made for tests."""

from __future__ import annotations

from typing import Any

from leafwright import chain
from leafwright.job.model import Job
from leafwright.leaf import Leaf
from leafwright.proof import LeafProof, prove
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


def check(proof: LeafProof, key: str) -> Check:
    """Return the check of a key, without the leaf's own part."""
    return next(c for c in proof.checks if c.key == f"leaf/{key}")
