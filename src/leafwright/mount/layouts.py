"""Where a plate's anchors or bolts sit, from what the job says of them: for proof, bench, paper."""

from __future__ import annotations

from leafwright.job.model import Plate
from leafwright.mount.carrier import carrier_of
from leafwright.mount.envelope import floor_pivot
from leafwright.mount.head_bolts import head_layout
from leafwright.mount.head_loads import BoltKind, bolt_kind, top_plate
from leafwright.mount.plate_loads import Layout, laid_out
from leafwright.mount.records import Mounting
from leafwright.records import Metres


def anchors_laid_out(
    m: Mounting, plate: Plate, *, number: int, d: Metres, foot: Metres = 0.0
) -> Layout | str:
    """Return where so many anchors of a floor plate sit, or why they cannot.

    Args:
        m: the leaf as it hangs.
        plate: the floor plate.
        number: of anchors.
        d: their diameter [m].
        foot: half-width of what surely presses under the pin, for the proof [m].
    """
    anchor = m.job.building.anchor
    along = None if anchor is None else anchor.spacing_along
    across = None if anchor is None else anchor.spacing_across
    return laid_out(
        f"{m.key}/anchors",
        number,
        d,
        (plate.length.si, plate.width.si),
        foot,
        along=None if along is None else along.si,
        across=None if across is None else across.si,
    )


def told_anchors(m: Mounting) -> tuple[Layout | str | None, tuple[str, ...]]:
    """Return where the anchors that the job tells sit, or why they cannot; and the keys it lacks.

    Where a key of the anchors lacks there is no layout, and so without a plate.
    """
    plate, anchor = floor_pivot(m).plate, m.job.building.anchor
    lacking = tuple(
        f"building.anchor.{key}"
        for key in ("per_plate", "size")
        if anchor is None or getattr(anchor, key) is None
    )
    if plate is None or anchor is None or anchor.per_plate is None or anchor.size is None:
        return None, lacking
    return anchors_laid_out(m, plate, number=int(anchor.per_plate), d=anchor.size.si), ()


def told_bolts(m: Mounting) -> tuple[Layout | str | None, BoltKind | str | None, tuple[str, ...]]:
    """Return where the top plate's bolts sit, or why they cannot; what they are; the keys it lacks.

    Where a key lacks, or a bolt is not known, there is no layout; and so without a plate.
    """
    mount = floor_pivot(m)
    lacking = tuple(key for key in ("top_bolts", "bolt") if getattr(mount, key) is None)
    kind = None if mount.bolt is None else bolt_kind(mount.bolt)
    plate = mount.top_plate
    if plate is None or mount.top_bolts is None or kind is None or isinstance(kind, str):
        return None, kind, lacking
    gauge = None if mount.bolt_gauge is None else mount.bolt_gauge.si
    carrier = carrier_of(m)
    width = carrier.width if carrier.width > 0.0 else plate.width.si
    return head_layout(m, top_plate(m), int(mount.top_bolts), gauge, kind.d, width), kind, lacking
