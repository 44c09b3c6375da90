"""One leaf: members with their exact cuts, joints, panels, infill and weight."""

from leafwright.leaf.cope import Saddle
from leafwright.leaf.cut import CutBar, EndCut, Plane, cut_bar
from leafwright.leaf.design import design_leaf
from leafwright.leaf.records import InfillPiece, Joint, Leaf, Member, Panel

__all__ = [
    "CutBar",
    "EndCut",
    "InfillPiece",
    "Joint",
    "Leaf",
    "Member",
    "Panel",
    "Plane",
    "Saddle",
    "cut_bar",
    "design_leaf",
]
