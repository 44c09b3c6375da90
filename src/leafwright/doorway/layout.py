"""The doorway stage: the opening as found and the maker's wishes to leaves in their places."""

from __future__ import annotations

from leafwright.doorway.across import Across, across
from leafwright.doorway.heel import Heel, heel_of
from leafwright.doorway.records import Allowances, AsMade, Doorway, LeafPlace, Side
from leafwright.doorway.up import Up, opens_to, sweep_of, transom, up
from leafwright.job.model import Job
from leafwright.job.steel import Steel
from leafwright.records import Held
from leafwright.survey import Survey


def leaf_key(job: Job, hand: Side) -> str:
    """Return how a leaf is called in keys: ``left`` or ``right`` of a pair, else ``leaf``."""
    return hand if len(job.leaf) == 2 else "leaf"


def _place(heel: Heel, hand: Side, found: Across, found_up: Up, made: AsMade | None) -> LeafPlace:
    cut = made.of(hand) if made is not None else None
    return LeafPlace(
        key=heel.key,
        hand=hand,
        swing=heel.table.swing,
        width=found.widths[hand],
        height=found_up.heights[hand],
        hinge_edge=found.hinge_edges[hand],
        bottom=found_up.bottoms[hand],
        axis=heel.axis,
        heel_gap=found.heel_gaps[hand],
        packing=found_up.packing.get(hand),
        half_face=heel.half_face,
        half_back=heel.half_back,
        designed=None if cut is None else cut.designed,
        drawn_height=None if cut is None else cut.drawn,
    )


def doorway(
    job: Job, found: Survey, steel: Steel, allow: Allowances, made: AsMade | None = None
) -> Doorway | Held:
    """Return the leaves, gaps and fillers that close the opening, or why none can.

    Args:
        job: wishes; what is not wished is solved for, or a default that is listed.
        found: the adjusted opening.
        steel: sections and grades of the job.
        allow: sag and lean known from an earlier pass.
        made: leaves that are welded already: what is left is divided anew.
    """
    heels: dict[Side, Heel] = {}
    for side in ("left", "right"):
        hand: Side = "left" if side == "left" else "right"
        for table in job.leaf:
            if table.hand == hand:
                heels[hand] = heel_of(steel, table, leaf_key(job, hand))
    found_across = across(job, found, steel, heels, allow, made)
    if isinstance(found_across, Held):
        return found_across
    wide = opens_to(job).value
    sweeps = {
        hand: sweep_of(
            heel, hand, found_across.hinge_edges[hand].value, found_across.widths[hand].value, wide
        )
        for hand, heel in heels.items()
    }
    found_up = up(job, found, steel, heels, sweeps, allow, made)
    if isinstance(found_up, Held):
        return found_up
    return Doorway(
        width=found_across.width,
        height=found_up.clear_height,
        leaves=tuple(
            _place(heel, hand, found_across, found_up, made) for hand, heel in heels.items()
        ),
        gaps=(
            *found_across.heel_gaps.values(),
            found_across.nose_gap,
            found_across.nose_gap_as_hung,
            *found_up.gaps,
        ),
        posts=found_across.posts,
        transom=transom(job, found, steel, found_up, found_across.lines),
        clear_opening=found_across.clear_opening,
        budgets=(*found_across.budgets, *found_up.budgets),
        checks=(*found_across.checks, *found_up.checks),
        as_made=made,
    )
