"""The seams of every leaf: numbered and located, how much metal they take, what is left to weld."""

from leafwright.shop.seams.metal import weld_area, weld_lengths, weld_volume
from leafwright.shop.seams.numbering import job_seams, leaf_seams
from leafwright.shop.seams.records import LeafSeams, NumberedSeam, Seams, Unwelded, WeldLength
from leafwright.shop.seams.ticks import Left, SeamTick, left, left_of, seam_hash, ticked

__all__ = [
    "LeafSeams",
    "Left",
    "NumberedSeam",
    "SeamTick",
    "Seams",
    "Unwelded",
    "WeldLength",
    "job_seams",
    "leaf_seams",
    "left",
    "left_of",
    "seam_hash",
    "ticked",
    "weld_area",
    "weld_lengths",
    "weld_volume",
]
