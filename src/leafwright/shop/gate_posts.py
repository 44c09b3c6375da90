"""The posts that a gate hangs from, as pieces to be cut: over the ground and under it."""

from __future__ import annotations

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway import FillerPiece
from leafwright.job.defaults import chosen
from leafwright.job.model import BarrelHinge, Job

#: What a piece of a gate's post is called on the cut list.
ROLE = "gate post"


def gate_posts(job: Job) -> tuple[FillerPiece, ...]:
    """Return the post of every leaf on barrel hinges, square at both ends.

    Without a [post], or where it is not known how far it goes down, there is none to cut.
    """
    post = job.post
    if post is None:
        return ()
    tall = chain.base("wish", "post/height", "post over the ground", post.height.si,
        note=post.height.text)  # fmt: skip
    buried = _buried(job)
    if buried is None:
        return ()
    nothing = chain.base("table", "post/edge", "its edge", 0.0, note="it stands by its hinges")
    return tuple(
        FillerPiece(
            key=f"{table.hand}/{ROLE}",
            name=f"{table.hand} gate post",
            section=post.section,
            length=chain.total(
                f"{table.hand}/{ROLE}/length",
                f"length of the {table.hand} gate post",
                [(1.0, tall), (1.0, buried)],
            ),
            near_edge=nothing,
            far_edge=nothing,
            behind=(),
        )
        for table in job.leaf
        if isinstance(table.mount, BarrelHinge)
    )


def _buried(job: Job) -> Quantity | None:
    """Return how far a post goes on under the ground [m], None where nothing says it."""
    post = job.post
    assert post is not None
    if post.buried is not None:
        return chain.base("wish", "post/buried", "post under the ground", post.buried.si,
            note=post.buried.text)  # fmt: skip
    if post.footing_depth is None:
        return None
    deep = chain.base("wish", "post/footing depth", "depth of its footing", post.footing_depth.si,
        note=post.footing_depth.text)  # fmt: skip
    over = chosen(
        None, "post over footing", "post/over footing", "concrete under a post",
        system=job.job.system,
    )  # fmt: skip
    return chain.total("post/buried", "post under the ground", [(1.0, deep), (-1.0, over)])
