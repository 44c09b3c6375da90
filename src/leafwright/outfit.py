"""What the site stage asks for, carried to what is bought and packed."""

from __future__ import annotations

from leafwright.doorway import Doorway
from leafwright.job.model import Job
from leafwright.leaf import Leaf
from leafwright.records import Held
from leafwright.runner import Runner
from leafwright.shop.cut_list import CutList
from leafwright.shop.holes.records import Holes
from leafwright.shop.pack import Pack, SiteNeeds, packed
from leafwright.shop.seams import Seams
from leafwright.shop.stock import Stock
from leafwright.site.method import Hanging
from leafwright.site.packers import Packing
from leafwright.site.records import Site

Parts = tuple[
    Doorway | Held,
    tuple[Leaf | Held, ...],
    Seams | Held,
    Holes | Held,
    CutList | Held,
    Stock | Held,
]
"""What is packed for: the doorway, leaves, seams, holes, pieces and sticks."""


def pack_run(runner: Runner, job: Job, parts: Parts, there: Site | Held) -> Pack | Held:
    """Return what to buy and take along, from the plan before where nothing of it changed."""
    needs = site_needs(job, there)
    return runner.run(
        "pack",
        lambda: pack_of(job, *parts, needs),
        *parts,
        (needs.packers, needs.hanging, needs.lift),
        (job.leaf, job.building, job.power, job.weld, job.price, job.job, job.opening.head),
        job.post,
    )


def pack_of(
    job: Job,
    room: Doorway | Held,
    leaves: tuple[Leaf | Held, ...],
    seams: Seams | Held,
    drilled: Holes | Held,
    cuts: CutList | Held,
    bought: Stock | Held,
    needs: SiteNeeds,
) -> Pack | Held:
    """Return what to buy and take along, or why the first stage that it lacks was held."""
    if isinstance(room, Held):
        return room
    made = tuple(leaf for leaf in leaves if isinstance(leaf, Leaf))
    for leaf in leaves:
        if isinstance(leaf, Held):
            return leaf
    if isinstance(seams, Held):
        return seams
    if isinstance(cuts, Held):
        return cuts
    if isinstance(bought, Held):
        return bought
    return packed(job, room, made, seams, drilled, cuts, bought, needs)


def site_needs(job: Job, there: Site | Held) -> SiteNeeds:
    """Return what the site stage says that must be packed for; little where it was not run."""
    if isinstance(there, Held):
        return SiteNeeds(lift=job.site.lift)
    packings = [one.packing for one in there.leaves if isinstance(one.packing, Packing)]
    hanging = [
        (one.key, one.hanging.best.key)
        for one in there.leaves
        if isinstance(one.hanging, Hanging) and one.hanging.best is not None
    ]
    stacks = tuple(packer.stack for packing in packings for packer in packing.packers)
    return SiteNeeds(stacks, tuple(hanging), job.site.lift)
