"""The doorway: leaves, gaps, posts and transom in the opening as found."""

from leafwright.doorway.layout import doorway
from leafwright.doorway.records import (
    Allowances,
    AsMade,
    Doorway,
    FillerPiece,
    LeafPlace,
    MadeLeaf,
    allowances,
)

__all__ = [
    "Allowances",
    "AsMade",
    "Doorway",
    "FillerPiece",
    "LeafPlace",
    "MadeLeaf",
    "allowances",
    "doorway",
]
