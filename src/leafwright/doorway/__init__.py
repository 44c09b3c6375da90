"""The doorway: leaves, gaps, posts and transom in the opening as found."""

from leafwright.doorway.layout import doorway
from leafwright.doorway.records import Allowances, Doorway, FillerPiece, LeafPlace, allowances

__all__ = ["Allowances", "Doorway", "FillerPiece", "LeafPlace", "allowances", "doorway"]
