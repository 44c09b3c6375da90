"""How long the bolts of a top plate are: what they go through, and the next length that is sold."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from leafwright.doorway import Doorway
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.handbook.rolled_beams import rolled_beam
from leafwright.job.model import FloorPivot, Job
from leafwright.mount.head_loads import bolt_kind
from leafwright.records import Metres
from leafwright.shop.cut_list import CutList
from leafwright.units.typed import mixed

_INCH: Final = 0.0254
#: Over the grip, in the bolt's diameter: a nut as thick as the bolt, a washer under head and nut,
#: and what stands out of the nut [-]; common practice, no source.
NUT: Final = 1.0
WASHERS: Final = 2 * 0.31
OUT: Final = 0.25


@dataclass(frozen=True, slots=True)
class BoltLength:
    """How long a bolt is: ``grip`` is what it goes through, ``through`` that in words [m]."""

    grip: Metres
    through: str
    length: Metres


def bolt_length(job: Job, room: Doorway, cuts: CutList, mount: FloorPivot) -> BoltLength | str:
    """Return how long the bolts of a top plate are, or what is missing to say so.

    Args:
        job: the beam over the opening.
        room: the transom, and what it is shimmed by.
        cuts: the transom's tube.
        mount: the plate, the bolts and how far apart they are.
    """
    plate, bolt, gauge = mount.top_plate or mount.plate, mount.bolt, mount.bolt_gauge
    kind = bolt_kind(bolt) if bolt is not None else ""
    if plate is None or bolt is None or isinstance(kind, str):
        return "top_plate and bolt"
    tube = _transom(cuts)
    beam = rolled_beam(job.building.beam) if job.opening.head else None
    d, thick = kind.d, plate.thickness.si
    parts: list[tuple[float, str]] = [(thick, "plate")]
    if tube is not None:
        if gauge is None:
            return "bolt_gauge"
        # Two bolts that do not fit across the plate sit along it, in the transom's middle.
        along = mount.top_bolts == 2 and plate.width.si - gauge.si < 2.0 * d
        across, hole = 0.0 if along else gauge.si, bolt.hole.si if bolt.hole is not None else d
        if across + hole <= tube.height:
            parts.append((tube.width, "transom"))
            return _made(job, d, parts)
        if across - hole < tube.height:
            return "bolt_gauge, clear of the transom's walls"
        assert room.transom is not None
        shims = max((gap.value for gap in room.transom.behind), default=0.0)
        parts += [(tube.width, "transom beside them"), (max(shims, 0.0), "shims over it")]
    if beam is None:
        return "beam, as W12x26: how thick its flange is"
    parts.append((beam.flange, f"flange of {beam.name}"))
    return _made(job, d, parts)


def _transom(cuts: CutList) -> CatalogueSection | None:
    return next((item.section for item in cuts.items if "doorway/transom" in item.keys), None)


def _made(job: Job, d: Metres, parts: list[tuple[float, str]]) -> BoltLength:
    grip = math.fsum(size for size, _ in parts)
    words = " + ".join(name for size, name in parts if size > 0.0)
    metric = job.job.system == "metric"
    return BoltLength(grip, words, sold_length(grip + (NUT + WASHERS + OUT) * d, metric=metric))


def sold_length(least: Metres, *, metric: bool) -> Metres:
    """Return the next length that bolts are sold in [m].

    By quarters of an inch to 6 in, by halves over it; by 5 mm to 70 mm, by 10 mm to 160 mm, by
    20 mm over it (ISO 888, from memory; common practice in inches, no source).

    Args:
        least: what is needed [m].
        metric: whether lengths are millimetres.
    """
    if metric:
        for step, top in ((0.005, 0.070), (0.010, 0.160), (0.020, math.inf)):
            found = math.ceil(least / step - 1e-9) * step
            if found <= top + 1e-9:
                return found
    for step, top in ((0.25 * _INCH, 6.0 * _INCH), (0.5 * _INCH, math.inf)):
        found = math.ceil(least / step - 1e-9) * step
        if found <= top + 1e-9:
            return found
    raise AssertionError(least)


def length_words(length: Metres, *, metric: bool) -> str:
    """Return a bolt's length as it is asked for over a counter."""
    if metric:
        return f"{1000.0 * length:.0f} mm"
    return f"{mixed(Fraction(round(length / _INCH * 4), 4))} in"
