"""The pad's readings held against one another: which may be wrong, and what would decide it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import partial

import numpy as np

from leafwright.site import squares
from leafwright.site.doubt import Doubt, Further, Trial, doubt, most_of, spare_of
from leafwright.site.pad import (
    CORNERS,
    PLANE,
    TWIST,
    PadFit,
    PadReading,
    designed,
    fitted,
    height_rows,
    out_of_plane,
    plane_rows,
    predicted,
    reading_words,
)
from leafwright.site.pad_missing import IN_PLANE, LEVELS
from leafwright.units import Tape

#: Readings that could be taken to decide: those that a maker takes first, and the width half way.
FURTHER = (
    *IN_PLANE,
    PadReading("distance", "hinge edge", "closing edge", words="the width half way up"),
    *LEVELS,
)


def pad_doubt(
    readings: Sequence[PadReading], found: PadFit, width: float, height: float, *, tape: Tape
) -> Doubt:
    """Return whether a leaf's readings on the pad agree, and which to doubt where they do not.

    Args:
        readings: what was read.
        found: the shape that fits it.
        width: designed width [m].
        height: designed height [m].
        tape: the maker's tape, for the words.
    """
    size = (width, height)
    sds = np.array([r.sd for r in readings])
    residuals = np.array([r.residual for r in found.readings])
    return doubt(
        _weighted(readings, found, size),
        residuals / sds,
        partial(_again, readings=readings, size=size),
        [reading_words(r) for r in readings],
        [r.value for r in readings],
        [r.sd for r in readings],
        planned=[predicted(r, designed(*size), np.zeros(len(CORNERS)), *size) for r in readings],
        tape=tape,
        further=[Further(r.words, partial(_foretold, r, size=size), r.sd) for r in FURTHER],
    )


def _out_of_plane(found: PadFit) -> np.ndarray:
    known = squares.is_known(TWIST, found.heights_loose)
    return out_of_plane(found.heights) if known else np.zeros(len(CORNERS))


def _rows(readings: Sequence[PadReading], found: PadFit, size: tuple[float, float]) -> np.ndarray:
    """Return how readings follow the unknowns in the plane, then the corners' heights [-]."""
    rows = np.zeros((len(readings), PLANE + len(CORNERS)))
    heights = _out_of_plane(found)
    for i, reading in enumerate(readings):
        if reading.kind == "level":
            rows[i, PLANE:] = height_rows([reading])[0]
        else:
            rows[i, :PLANE] = plane_rows([reading], found.plane, heights, *size)[0]
    return rows


def _weighted(
    readings: Sequence[PadReading], found: PadFit, size: tuple[float, float]
) -> np.ndarray:
    sds = np.array([r.sd for r in readings])
    return np.asarray(_rows(readings, found, size) / sds[:, None])


def _fits(reading: PadReading, found: PadFit, size: tuple[float, float]) -> float:
    heights = found.heights if reading.kind == "level" else _out_of_plane(found)
    return predicted(reading, found.plane, heights, *size)


def _again(kept: Sequence[int], readings: Sequence[PadReading], size: tuple[float, float]) -> Trial:
    """Return the fit to some of the readings."""
    rest = [readings[i] for i in kept]
    found = fitted(rest, *size)
    residuals = np.array([r.residual / r.sd for r in found.readings])
    spare, freedom = spare_of(_weighted(rest, found, size))
    return Trial(
        squares=float(residuals @ residuals),
        freedom=freedom,
        most=most_of(residuals, spare),
        fits=np.array([_fits(r, found, size) for r in readings]),
        state=found,
    )


def _foretold(
    reading: PadReading, found: PadFit, *, size: tuple[float, float]
) -> tuple[float, float] | None:
    """Return what a further reading would be by a fit, and that one's sd; None if not known [m]."""
    slopes = _rows([reading], found, size)[0]
    if reading.kind == "level":
        known, covariance, part = (
            squares.is_known(slopes[PLANE:], found.heights_loose),
            found.heights_covariance,
            slopes[PLANE:],
        )
    else:
        known, covariance, part = (
            squares.is_known(slopes[:PLANE], found.plane_loose),
            found.plane_covariance,
            slopes[:PLANE],
        )
    if not known:
        return None
    return _fits(reading, found, size), math.sqrt(max(float(part @ covariance @ part), 0.0))
