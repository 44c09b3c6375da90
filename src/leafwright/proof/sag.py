"""Sag and lean of a leaf under its own weight: what the gaps must allow for."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.doorway import LeafPlace
from leafwright.frame.load_cases import LiveLoads, leaf_cases, with_cases
from leafwright.frame.of_leaf import leaf_frame
from leafwright.frame.solve import solve
from leafwright.job.model import LeafTable
from leafwright.leaf import Leaf
from leafwright.proof.movement import movements
from leafwright.proof.prove import holding
from leafwright.records import Held, Metres


@dataclass(frozen=True, slots=True)
class Sag:
    """How far a leaf's nose drops, and its top leans toward what it shuts against [m]."""

    nose_drop: Metres
    nose_shift: Metres


def sag(place: LeafPlace, table: LeafTable, leaf: Leaf) -> Sag | Held:
    """Return the sag of a standing leaf [m], neither part below nothing."""
    frame = leaf_frame(leaf, holding(place, table), leaf.height / 2)
    cases = tuple(c for c in leaf_cases("ASD") if c.situation == "standing")
    result = solve(with_cases(frame, cases, LiveLoads(0.0, 0.0)))
    if isinstance(result, Held):
        return result
    move = movements(frame, result, cases)[0]
    return Sag(max(move.nose_drop, 0.0), max(move.nose_shift, 0.0))
