"""A gate's posts in the ground as they are bought: lugs of hinges, caps, concrete."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from leafwright.job.model import BarrelHinge, FloorPivot
from leafwright.shop.cut_list import CutList
from leafwright.shop.gate_posts import ROLE
from leafwright.shop.pack.bill import Bill
from leafwright.units import show_length

#: Concrete over the hole as it is drawn: a hole is never so round [-]; common practice, no source.
OVER: Final = 1.10
#: What one bag of dry concrete yields [m3], and what it is called; common practice, no source:
#: the bag says its own.
BAGS: Final = {"feet-inch": (0.60 * 0.3048**3, "80 lb bag"), "metric": (0.0125, "25 kg bag")}
#: From here on ready-mixed concrete is asked for instead of bags [m3]; common practice, no source.
READY_MIX: Final = 0.5


def put_posts(made: Bill, mounts: Sequence[FloorPivot | BarrelHinge], cuts: CutList) -> None:
    """Put down what a gate's posts take beside their own tube."""
    hung = [mount for mount in mounts if isinstance(mount, BarrelHinge)]
    if not hung:
        return
    _brackets(made, hung)
    post = made.job.post
    if post is None:
        made.ask("what the hinges hang from: say it in [post], or what fixes them to the wall")
        return
    posts = [item for item in cuts.items if ROLE in item.roles]
    count = sum(len(item.marks) for item in posts)
    if not count:
        made.ask(
            f"{len(hung)} gate {'posts' if len(hung) > 1 else 'post'} of {post.section}: how long, "
            "for that say footing_depth or buried in [post]"
        )
    made.put(
        "bolts",
        "bolts/cap/posts",
        "caps of posts",
        post.section,
        count or len(hung),
        None,
        "open tops, against rain and frost; with a weep hole at the ground",
    )
    if post.footing_diameter is None or post.footing_depth is None:
        made.ask("concrete of the footings: say footing_diameter and footing_depth in [post]")
        return
    deep = post.footing_depth.si
    hole = math.pi / 4.0 * post.footing_diameter.si**2 * deep
    # The post's own tube fills by its outside where it is closed or filled: taken as solid.
    inside = 0.0
    if posts:
        section = posts[0].section
        in_it = min(posts[0].length.value - post.height.si, deep)
        inside = section.width * section.height * max(in_it, 0.0)
    number = count or len(hung)
    volume = OVER * number * (hole - inside)
    yields, bag = BAGS[made.job.job.system]
    bags = math.ceil(volume / yields - 1e-9)
    amount = f"{volume / 0.3048**3:.0f} ft³" if made.inch else f"{1e3 * volume:.0f} l"
    mixed = ""
    if volume > READY_MIX:
        mixed = f"{volume / 0.9144**3:.1f} yd³" if made.inch else f"{volume:.2f} m³"
        mixed = f"; or {mixed} of it ready mixed"
    made.put(
        "post",
        "post/concrete",
        "concrete, by the bag's own yield",
        bag,
        bags,
        None,
        f"{amount} in all, a tenth of it for a hole that is not so round: {number} × "
        f"{post.footing_diameter.text} across, {post.footing_depth.text} deep, less the "
        f"{'posts' if number > 1 else 'post'}{mixed}",
        volume=volume,
        priced=("concrete",),
    )


def _brackets(made: Bill, hung: Sequence[BarrelHinge]) -> None:
    """Put down what bridges the standoff: a lug on each half of every hinge."""
    for mount in dict.fromkeys(hung):
        count = sum(2 * len(m.heights) for m in hung if m == mount)
        half = show_length(mount.standoff.si / 2.0, made.tape)
        along = f", {mount.weld_length.text} along the tube" if mount.weld_length else ""
        made.put(
            "plate",
            f"plate/lugs/{mount.standoff.text}",
            "lugs of hinges, post and leaf",
            f"{half} from tube to the pin's middle{along}",
            count,
            None,
            "one each half of a hinge, less its barrel's own radius; thickness not given: as the "
            "hinge's own sheet has it",
        )
