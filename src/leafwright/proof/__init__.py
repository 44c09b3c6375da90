"""The proof: forces, movements and checks of a leaf, and what must be asked."""

from leafwright.proof.asks import answered, asks, in_force
from leafwright.proof.prove import prove
from leafwright.proof.records import (
    BraceForce,
    Bracing,
    LeafProof,
    Movement,
    PivotLoad,
    Reaction,
)

__all__ = [
    "BraceForce",
    "Bracing",
    "LeafProof",
    "Movement",
    "PivotLoad",
    "Reaction",
    "answered",
    "asks",
    "in_force",
    "prove",
]
