"""The sheets of a packet, in the order in which a maker turns them."""

from __future__ import annotations

from leafwright.paper.sheet import Sheet, numbered
from leafwright.paper.sheets.align import align_sheets
from leafwright.paper.sheets.calculation import calculation_sheets
from leafwright.paper.sheets.capture import capture_sheets
from leafwright.paper.sheets.common import Desk, desk
from leafwright.paper.sheets.cover import cover_figures, cover_sheets, notes_sheets
from leafwright.paper.sheets.cuts import card_sheets, cut_list_sheets
from leafwright.paper.sheets.holes import hole_sheets
from leafwright.paper.sheets.leaf import leaf_drawing, leaf_parts, leaf_sheets
from leafwright.paper.sheets.mount import mount_sheets
from leafwright.paper.sheets.opening import doorway_sheets, opening_sheets
from leafwright.paper.sheets.packing import packing_sheets
from leafwright.paper.sheets.pad import pad_sheets
from leafwright.paper.sheets.proof import proof_sheets
from leafwright.paper.sheets.readings import sureness_sheets
from leafwright.paper.sheets.seams import seam_sheets
from leafwright.paper.sheets.standing import standing_sheets
from leafwright.paper.sheets.sticks import stick_sheets
from leafwright.paper.sheets.swing import swing_sheets
from leafwright.paper.sheets.weld_order import weld_order_sheets
from leafwright.paper.sheets.wraps import wrap_sheets
from leafwright.pipeline import Plan

__all__ = ["Desk", "cover_figures", "desk", "leaf_drawing", "leaf_parts", "packet_sheets"]


def packet_sheets(made: Plan) -> tuple[Sheet, ...]:
    """Return every sheet of a plan's packet, numbered."""
    at = desk(made)
    return numbered(
        (
            *cover_sheets(at),
            *opening_sheets(at),
            *sureness_sheets(at),
            *capture_sheets(at),
            *doorway_sheets(at),
            *swing_sheets(at),
            *leaf_sheets(at),
            *mount_sheets(at),
            *cut_list_sheets(at),
            *card_sheets(at),
            *wrap_sheets(at),
            *stick_sheets(at),
            *hole_sheets(at),
            *seam_sheets(at),
            *packing_sheets(at),
            *pad_sheets(at),
            *weld_order_sheets(at),
            *standing_sheets(at),
            *align_sheets(at),
            *proof_sheets(at),
            *calculation_sheets(at),
            *notes_sheets(at),
        )
    )
