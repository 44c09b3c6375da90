"""What to buy and what to take along, put together from leaf, mount, cuts and site."""

from __future__ import annotations

from collections.abc import Sequence

from leafwright.doorway import Doorway
from leafwright.job.model import FloorPivot, Job, LeafTable
from leafwright.job.tape import tape_of
from leafwright.leaf import Leaf
from leafwright.records import Held
from leafwright.shop.cut_list import CutList
from leafwright.shop.holes.records import Holes
from leafwright.shop.pack.bag import Work
from leafwright.shop.pack.buying import buying
from leafwright.shop.pack.metal import wall_welded
from leafwright.shop.pack.operations import operations
from leafwright.shop.pack.power import powered
from leafwright.shop.pack.records import Outlet, Pack, SiteNeeds
from leafwright.shop.pack.straight import crooked_of
from leafwright.shop.pack.use import weld_use
from leafwright.shop.seams import Seams
from leafwright.shop.stock import Stock


def packed(
    job: Job,
    room: Doorway,
    leaves: Sequence[Leaf],
    seams: Seams,
    drilled: Holes | Held,
    cuts: CutList,
    bought: Stock,
    needs: SiteNeeds,
) -> Pack:
    """Return what to buy and what to take along.

    Args:
        job: its mounts, anchors, power, welding and prices.
        room: the gaps that the stiles' edges make.
        leaves: all of them.
        seams: of every leaf.
        drilled: every hole; what was held brings no drills.
        cuts: the pieces.
        bought: the sticks.
        needs: what the site stage says that must be packed for.
    """
    tape = tape_of(job)
    tables = [_table_of(job, leaf) for leaf in leaves]
    use, used = weld_use(job, seams, wall_welded(leaves))
    outlet, checks, taken = powered(job, use, _thickest_plate(tables))
    bought_all = buying(
        job,
        tables,
        leaves,
        bought,
        use,
        tape,
        room=room,
        cuts=cuts,
        drilled=drilled if isinstance(drilled, Holes) else None,
    )
    return Pack(
        weld=use,
        outlet=outlet,
        operations=operations(
            Work(
                job,
                tables,
                leaves,
                cuts,
                drilled if isinstance(drilled, Holes) else None,
                use,
                outlet if isinstance(outlet, Outlet) else None,
                needs,
                tape,
                bought_all,
            )
        ),
        buying=bought_all,
        crooked=crooked_of(leaves, room, metric=job.job.system == "metric"),
        checks=checks,
        defaults=(*used, *taken),
    )


def _table_of(job: Job, leaf: Leaf) -> LeafTable:
    return next(table for table in job.leaf if table.hand == leaf.hand)


def _thickest_plate(tables: Sequence[LeafTable]) -> float:
    """Return the thickest pivot plate that a pin is welded to [m]; 0 without one."""
    plates = [
        plate.thickness.si
        for table in tables
        if isinstance(table.mount, FloorPivot)
        for plate in (table.mount.plate, table.mount.top_plate)
        if plate is not None
    ]
    return max(plates, default=0.0)
