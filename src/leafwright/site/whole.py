"""The site stage, step by step: each is made anew only where what it rests on has changed."""

from __future__ import annotations

from leafwright.doorway import Doorway, LeafPlace
from leafwright.job.model import Job
from leafwright.job.steel import Steel
from leafwright.job.tape import tape_of
from leafwright.leaf import Leaf
from leafwright.records import Held
from leafwright.runner import Runner
from leafwright.site.brought_in import hanging_of, tilt_in_of
from leafwright.site.in_doorway import swing_of, table_of
from leafwright.site.on_site import on_site
from leafwright.site.records import Site
from leafwright.site.tilt_in import TiltIn
from leafwright.site.wished import wished_of
from leafwright.survey import Survey


def site_stage(
    job: Job,
    found: Survey | Held,
    room: Doorway | Held,
    leaves: tuple[Leaf | Held, ...],
    material: Steel,
    runner: Runner,
) -> Site | Held:
    """Return the site stage: how the leaves turn, come in, stand up and hang."""
    if isinstance(found, Held):
        return found
    if isinstance(room, Held):
        return room
    surveyed, placed = found, room
    tape, wished = tape_of(job), wished_of(job)
    around = (job.doorway, job.opening, job.obstacle, job.site, job.job.system)
    swings = runner.run(
        "swing",
        lambda: swing_of(job, surveyed, placed, material, wished),
        surveyed,
        placed,
        material,
        job.leaf,
        job.hung,
        around,
    )
    tilts: list[TiltIn | Held] = []
    for place, leaf in zip(placed.leaves, leaves, strict=True):
        if isinstance(leaf, Held):
            tilts.append(leaf)
            continue

        def make(place: LeafPlace = place, leaf: Leaf = leaf) -> TiltIn | Held:
            table = table_of(job, place)
            ways = hanging_of(job, placed, place, table, wished)
            return tilt_in_of(job, placed, place, table, leaf, ways, material, wished)

        tilts.append(
            runner.run(
                f"tilt in {place.key}", make, placed, leaf, material, table_of(job, place), around
            )
        )
    ways_in = tuple(tilts)
    return runner.run(
        "site",
        lambda: on_site(
            job, surveyed, placed, leaves, material, tape=tape, swings=swings, tilts=ways_in
        ),
        surveyed,
        placed,
        leaves,
        material,
        swings,
        ways_in,
        job.leaf,
        job.fit_up,
        job.hung,
        job.job,
        around,
    )
