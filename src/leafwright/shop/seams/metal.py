"""How long the seams of a leaf are together, by what they are, and how much metal is in them."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from leafwright.handbook import weld_metal
from leafwright.records import CubicMetres, SquareMetres
from leafwright.shop.seams.records import NumberedSeam, WeldLength


def weld_area(seam: NumberedSeam) -> SquareMetres | None:
    """Return the cross-section of a seam's metal as drawn [m2].

    None for a plug, and where its size is not given. A square groove is filled to its throat, its
    parts as far apart as is given, or as that throat asks for; a bevel groove is cut at 45°.
    """
    if seam.size is None or seam.kind == "plug":
        return None
    if seam.kind == "fillet":
        return weld_metal.fillet_area(seam.size, seam.angle)
    if seam.kind == "flare-bevel":
        return weld_metal.flare_bevel_area(seam.radius)
    if not seam.throat > 0.0:
        return None
    if seam.kind == "bevel groove":
        # Beveled at 45°, as deep as its throat: the half of a square, as a fillet's.
        return weld_metal.fillet_area(seam.throat)
    root = seam.root or weld_metal.square_groove_root(seam.wall)
    return weld_metal.square_groove_area(root, seam.throat)


def weld_volume(seam: NumberedSeam) -> CubicMetres | None:
    """Return how much metal a seam takes as drawn [m3]; None where its size is not given.

    Nothing is in it for convexity, wider gaps, spatter or stubs.
    """
    if seam.kind == "plug":
        return None if seam.size is None else weld_metal.plug_volume(seam.size, seam.wall)
    area = weld_area(seam)
    return None if area is None or seam.length is None else area * seam.length


def weld_lengths(seams: Sequence[NumberedSeam]) -> tuple[WeldLength, ...]:
    """Return the lengths of seams by kind, size and where they are made, shop first."""

    def group(seam: NumberedSeam) -> tuple[bool, str, float]:
        size = -1.0 if seam.size is None else round(seam.size, 9)
        return (seam.done_at == "field", seam.kind, size)

    rows = []
    for _, found in itertools.groupby(sorted(seams, key=group), key=group):
        alike = tuple(found)
        volumes = [weld_volume(seam) for seam in alike]
        areas = {weld_area(seam) for seam in alike}
        rows.append(
            WeldLength(
                kind=alike[0].kind,
                size=alike[0].size,
                done_at=alike[0].done_at,
                seams=len(alike),
                length=sum(seam.length or 0.0 for seam in alike),
                area=next(iter(areas)) if len(areas) == 1 else None,
                volume=sum(volume or 0.0 for volume in volumes),
                unknown=sum(volume is None for volume in volumes),
            )
        )
    return tuple(rows)
