"""How a leaf is held: every link from the leaf to the floor, the beam and the post, proved."""

from leafwright.mount.mounted import mounted
from leafwright.mount.records import LeafMount, Mounting, Proved, mounting_of

__all__ = ["LeafMount", "Mounting", "Proved", "mounted", "mounting_of"]
