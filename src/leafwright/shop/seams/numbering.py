"""Every seam of a leaf numbered by its place: bottom to top, hinge to nose, member, end, face.

The number is for the map and the chalk; who a seam is, is its key. A seam that another edit adds
moves numbers, never keys, so that a tick stays with its seam.
"""

from __future__ import annotations

from collections.abc import Sequence

from leafwright.doorway import Doorway
from leafwright.job.model import Job
from leafwright.job.steel import Steel
from leafwright.job.tape import tape_of
from leafwright.leaf import Leaf
from leafwright.leaf.design import LETTERS
from leafwright.mount import Mounting, mounting_of
from leafwright.proof import LeafProof
from leafwright.proof.seam_sizes import welding_of
from leafwright.records import Held
from leafwright.shop.holes.records import Hole, Holes
from leafwright.shop.seams.frame_seams import FrameSeams
from leafwright.shop.seams.metal import weld_lengths
from leafwright.shop.seams.mount_seams import mount_seams
from leafwright.shop.seams.records import LeafSeams, Seams

#: Between a leaf's letter and the number of a seam of what holds it.
MOUNT = "M"

AWS, ISO = "AWS A2.4:2020", "ISO 2553:2019, system A"


def leaf_seams(m: Mounting, drilled: Sequence[Hole]) -> LeafSeams:
    """Return every seam of a leaf and of what holds it, numbered and located.

    Args:
        m: the leaf as it hangs, with its proof.
        drilled: the holes of its own parts, in which its plugs are welded.
    """
    leaf = m.leaf
    letter = LETTERS[leaf.key]
    how = welding_of(m.job)
    frame, bare = FrameSeams(
        leaf, m.proof.seams, how, tape_of(m.job), f"{letter}-", m.proof.checks
    ).made()
    held, none = mount_seams(m, f"{letter}-{MOUNT}", drilled)
    return LeafSeams(
        leaf=leaf.key,
        letter=letter,
        frame=tuple(frame),
        mount=held,
        unwelded=(*bare, *none),
        lengths=weld_lengths((*frame, *held)),
        symbols=ISO if m.job.job.system == "metric" else AWS,
    )


def job_seams(
    job: Job,
    room: Doorway | Held,
    leaves: Sequence[Leaf | Held],
    proofs: Sequence[LeafProof | Held],
    material: Steel,
    drilled: Holes | Held,
) -> Seams | Held:
    """Return every seam of every leaf of a job, or what held up one of them.

    Args:
        job: the job.
        room: its doorway.
        leaves: in the order of their places there; proofs: likewise.
        material: its steel.
        drilled: its holes.
    """
    if isinstance(room, Held):
        return room
    if isinstance(drilled, Held):
        return drilled
    tape, found = tape_of(job), list[LeafSeams]()
    for place, leaf, proof in zip(room.leaves, leaves, proofs, strict=True):
        if isinstance(leaf, Held):
            return leaf
        if isinstance(proof, Held):
            return proof
        own = [hole for hole in drilled.every if hole.key.startswith(f"{place.key}/")]
        mounting = mounting_of(job, room, place, leaf, proof, material, tape)
        found.append(leaf_seams(mounting, own))
    return Seams(tuple(found))
