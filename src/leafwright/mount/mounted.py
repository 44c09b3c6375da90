"""A mount's links, in the order in which the load runs through them."""

from __future__ import annotations

from collections.abc import Callable

from leafwright.mount.anchors import floor_anchors
from leafwright.mount.fit import fits
from leafwright.mount.head import head_fixing
from leafwright.mount.hinges import barrel_hinges
from leafwright.mount.pivot import bottom_pivot, seat, top_pivot
from leafwright.mount.posts import post
from leafwright.mount.records import LeafMount, Mounting, Proved
from leafwright.mount.stack import stack
from leafwright.mount.stops import stops

Link = tuple[str, Callable[[Mounting], Proved]]

_FLOOR_PIVOT: tuple[Link, ...] = (
    ("bottom pivot", bottom_pivot),
    ("ball", seat),
    ("top pivot", top_pivot),
    ("floor anchors", floor_anchors),
    ("head", head_fixing),
    ("vertical stack", stack),
)

_BARREL_HINGES: tuple[Link, ...] = (
    ("hinges", barrel_hinges),
    ("post", post),
)

_BOTH: tuple[Link, ...] = (
    ("pin fits", fits),
    ("stops", stops),
)


def mounted(leaf: Mounting) -> LeafMount:
    """Return the proof of how a leaf is held.

    Args:
        leaf: the leaf as it hangs.
    """
    links = _FLOOR_PIVOT if leaf.table.mount.kind == "floor pivot" else _BARREL_HINGES
    return LeafMount(leaf.key, tuple((name, prove(leaf)) for name, prove in (*links, *_BOTH)))
