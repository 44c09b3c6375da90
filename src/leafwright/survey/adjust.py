"""The opening as found: marks in space adjusted to all readings at once, and how sure they are.

Every reading is an observation with a standard deviation. Weighted least squares finds the marks
that fit them best; the weighted sum of squared residuals says whether the readings agree with one
another as well as their instruments promise (the global test). Directions: x to the right, y up,
z toward the viewer, as seen from the face side; the bottom left corner is the origin, and levels
or plumb lines say which way is up.

Method: W. Baarda, A Testing Procedure for Use in Geodetic Networks (1968), as commonly taught:
residuals v, redundancy numbers r, standardised residuals v / (σ √r), global test of vᵀPv.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.job import marks
from leafwright.job.model import Job
from leafwright.records import (
    Check,
    Held,
    Metres,
    Number,
    Point3,
    Source,
    Stop,
    Verdict,
    read_only,
)
from leafwright.survey.observe import Observation, observations, starting_places
from leafwright.survey.pinned import ORIGIN, Unknown, heights_only, same_place, unpinned

#: Confidence of the global test [-].
CONFIDENCE = 0.95

#: Plain steps have settled when they are this small; after these rounds, or when one is as large
#: as this, they are given up [m].
SETTLED = 1e-10
ROUNDS = 20
FAR = 1e3

#: With less redundancy than this nothing else checks a reading: an error in it would have to be
#: over a hundred standard deviations to be seen, and what little shows says nothing about it [-].
CHECKED = 1e-3

#: Standardised residuals nearer to one another than this cannot be told apart [-].
ALIKE = 0.01

Agreement = Literal["agrees", "does not agree", "unverified"]


@dataclass(frozen=True, slots=True)
class Adjusted:
    """What the adjustment made of one observation.

    ``residual`` is adjusted − read. ``redundancy`` runs from 0 (nothing else knows this) to 1.
    ``standardised`` is residual / its own standard deviation; None where next to nothing checks
    the reading. What is set aside has no redundancy; a mark that is then lost has no place (NaN).
    """

    observation: Observation
    read: Metres
    adjusted: Metres
    residual: Metres
    redundancy: Number
    standardised: Number | None


@dataclass(frozen=True, slots=True)
class SurveyedMark:
    """A mark where the adjustment puts it, with standard deviations sideways and up."""

    name: str
    at: Point3
    sd_x: Metres
    sd_y: Metres


@dataclass(frozen=True, slots=True)
class Survey:
    """The adjusted opening.

    ``gain`` (unknowns × used observations) is how each unknown follows each reading [-], to the
    first order: it is the exact slope where the readings agree.
    ``weighted_sum`` is vᵀPv, to be compared with ``critical`` (χ² at 95 %, ``freedom`` degrees).
    """

    marks: tuple[SurveyedMark, ...]
    adjusted: tuple[Adjusted, ...]
    set_aside: tuple[Adjusted, ...]
    freedom: int
    weighted_sum: Number
    critical: Number
    chance: Number
    agreement: Agreement
    unknowns: tuple[tuple[str, str], ...]
    gain: np.ndarray
    covariance: np.ndarray
    defaults: tuple[Quantity, ...]
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]


Places = dict[str, list[float]]
Slopes = list[tuple[str, int, float]]


def _distance(places: Places, first: str, second: str) -> tuple[float, Slopes]:
    a, b = places[first], places[second]
    step = [b[i] - a[i] for i in range(3)]
    length = math.sqrt(sum(s * s for s in step)) or 1e-9
    slopes = [(second, axis, step[axis] / length) for axis in (0, 1)]
    return length, slopes + [(first, axis, -step[axis] / length) for axis in (0, 1)]


def _off_line(places: Places, point: str, foot: str, head: str) -> tuple[float, Slopes]:
    p, a, b = places[point], places[foot], places[head]
    along = (b[0] - a[0], b[1] - a[1])
    length = math.hypot(*along) or 1e-9
    unit = (along[0] / length, along[1] / length)
    normal = (unit[1], -unit[0])
    from_foot = (p[0] - a[0], p[1] - a[1])
    share = (from_foot[0] * unit[0] + from_foot[1] * unit[1]) / length
    weights = ((point, 1.0), (foot, share - 1.0), (head, -share))
    slopes = [(name, axis, by * normal[axis]) for name, by in weights for axis in (0, 1)]
    return from_foot[0] * normal[0] + from_foot[1] * normal[1], slopes


def _predicted(seen: Observation, places: Places) -> tuple[float, Slopes]:
    """Return what an observation should read with the marks here [m], and its slopes [-]."""
    names = seen.between
    if seen.relation == "distance":
        return _distance(places, names[0], names[1])
    if seen.relation == "middle":
        near, slopes = _distance(places, names[0], names[1])
        far, others = _distance(places, names[0], names[2])
        return near - far, slopes + [(name, axis, -by) for name, axis, by in others]
    if seen.relation == "straight":
        return _off_line(places, names[0], names[1], names[2])
    if seen.relation == "level":
        # A plane's height is kept as the y of a mark of its own.
        return places[names[0]][1] - places[names[1]][1], [(names[0], 1, 1.0), (names[1], 1, -1.0)]
    axis = 0 if seen.relation == "across" else 1
    step = places[names[1]][axis] - places[names[0]][axis]
    return seen.sign * step, [(names[1], axis, seen.sign), (names[0], axis, -seen.sign)]


def _unknowns(used: Sequence[Observation]) -> tuple[Unknown, ...]:
    """Return what is to be found: x and y of every mark, y of planes and floor points."""
    only_height = heights_only(used)
    found: dict[Unknown, None] = {}
    for seen in used:
        for name in seen.between:
            if name == ORIGIN:
                continue
            if name not in only_height:
                found[name, "x"] = None
            found[name, "y"] = None
    return tuple(found)


def _design(
    used: Sequence[Observation], places: Places, column: dict[Unknown, int]
) -> tuple[np.ndarray, np.ndarray]:
    """Return the slopes (observations × unknowns) [-] and misfits read − predicted [m]."""
    rows = np.zeros((len(used), len(column)))
    misfit = np.zeros(len(used))
    for i, seen in enumerate(used):
        value, slopes = _predicted(seen, places)
        misfit[i] = seen.quantity.value - value
        for name, axis, by in slopes:
            index = column.get((name, "xy"[axis]))
            if index is not None:
                rows[i, index] += by
    return rows, misfit


def survey(job: Job) -> Survey | Held:
    """Return the opening adjusted to the job's readings, or what is missing to find it.

    Readings that the maker has set aside are left out of the adjustment and compared with it.
    """
    everything, defaults = observations(job)
    used = [o for o in everything if not o.set_aside]
    return adjust(everything, starting_places(job, used), defaults=defaults)


def adjust(
    everything: Sequence[Observation],
    places: Mapping[str, Point3],
    *,
    defaults: tuple[Quantity, ...] = (),
) -> Survey | Held:
    """Return the marks that fit all observations best, or what is missing to find them.

    Args:
        everything: what is known about the marks; those set aside are only compared.
        places: rough places of all marks to start from [m]; the mark ``BL`` stays in its place,
            and the z of all.
        defaults: the defaults that the observations used, handed on.
    """
    used = tuple(o for o in everything if not o.set_aside)
    if all(o.assumed for o in used):
        return Held("every reading is set aside", ("at least one reading that is used",))
    if (held := same_place(used, places)) is not None:
        return held
    start: Places = {name: list(point) for name, point in places.items()}
    unknowns = _unknowns(used)
    root = np.array([1.0 / o.sd for o in used])
    rows, _ = _design(used, start, {unknown: i for i, unknown in enumerate(unknowns)})
    if (held := unpinned(root[:, None] * rows, unknowns, start, used)) is not None:
        return held
    fitted = _fitted(used, start, unknowns, root)
    found = None if fitted is None else _settled(everything, used, fitted, unknowns, root, defaults)
    return found or Held(
        "the readings contradict one another so much that no opening fits them",
        ("readings that belong to one opening; look for a foot or a digit misread",),
    )


def _moved(places: Places, unknowns: tuple[Unknown, ...], by: np.ndarray) -> Places:
    moved = {name: list(point) for name, point in places.items()}
    for (name, axis), step in zip(unknowns, by, strict=True):
        moved[name]["xy".index(axis)] += float(step)
    return moved


def _fitted(
    used: tuple[Observation, ...], start: Places, unknowns: tuple[Unknown, ...], root: np.ndarray
) -> Places | None:
    """Return the places with the least weighted squares [m], or None where none settle."""
    column = {unknown: i for i, unknown in enumerate(unknowns)}
    places = start
    for _ in range(ROUNDS):
        rows, misfit = _design(used, places, column)
        step, *_ = np.linalg.lstsq(root[:, None] * rows, root * misfit, rcond=None)
        places = _moved(places, unknowns, step)
        most = float(np.max(np.abs(step), initial=0.0))
        if most < SETTLED:
            return places
        if most > FAR:
            break
    # Plain steps overshoot where a reading is far out. It is found all the same, so that the
    # maker is told which; scipy is slow to import, and only here is it needed.
    from scipy.optimize import least_squares

    def misfits(by: np.ndarray) -> np.ndarray:
        _, misfit = _design(used, _moved(start, unknowns, by), column)
        return np.asarray(root * misfit)

    def slopes(by: np.ndarray) -> np.ndarray:
        rows, _ = _design(used, _moved(start, unknowns, by), column)
        return np.asarray(-root[:, None] * rows)

    found = least_squares(misfits, np.zeros(len(unknowns)), slopes, method="lm", max_nfev=200)
    return _moved(start, unknowns, found.x) if found.success else None


def _settled(
    everything: Sequence[Observation],
    used: tuple[Observation, ...],
    places: Places,
    unknowns: tuple[Unknown, ...],
    root: np.ndarray,
    defaults: tuple[Quantity, ...],
) -> Survey | None:
    """Return the survey with the marks here, or None where here they are loose."""
    column = {unknown: i for i, unknown in enumerate(unknowns)}
    rows, misfit = _design(used, places, column)
    weighted = root[:, None] * rows
    if unpinned(weighted, unknowns, places, used) is not None:
        return None
    inverse = np.linalg.pinv(weighted)
    gain = inverse * root
    redundancy = 1.0 - np.einsum("ij,ji->i", rows, gain)
    covariance = inverse @ inverse.T
    adjusted = tuple(
        _compared(o, float(-misfit[i]), float(redundancy[i])) for i, o in enumerate(used)
    )
    aside = tuple(_left_out(o, places) for o in everything if o.set_aside)
    freedom = len(used) - len(unknowns)
    weighted_sum = float(np.sum((root * misfit) ** 2))
    critical, chance = _global_test(weighted_sum, freedom)
    agreement: Agreement = "unverified"
    if freedom > 0:
        agreement = "agrees" if weighted_sum <= critical else "does not agree"
    return Survey(
        marks=_marks(places, column, covariance),
        adjusted=adjusted,
        set_aside=aside,
        freedom=freedom,
        weighted_sum=weighted_sum,
        critical=critical,
        chance=chance,
        agreement=agreement,
        unknowns=unknowns,
        gain=read_only(gain),
        covariance=read_only(covariance),
        defaults=defaults,
        checks=(_agreement_check(agreement, weighted_sum, critical),),
        stops=_stops(agreement, adjusted),
    )


def _compared(seen: Observation, residual: float, redundancy: float) -> Adjusted:
    read = seen.quantity.value
    known = redundancy >= CHECKED
    standardised = residual / (seen.sd * math.sqrt(redundancy)) if known else None
    return Adjusted(seen, read, read + residual, residual, max(redundancy, 0.0), standardised)


def _left_out(seen: Observation, places: Places) -> Adjusted:
    read = seen.quantity.value
    if any(name not in places for name in seen.between):
        return Adjusted(seen, read, math.nan, math.nan, 0.0, None)
    value, _ = _predicted(seen, places)
    return Adjusted(seen, read, value, value - read, 0.0, None)


def _marks(
    places: Places, column: dict[Unknown, int], covariance: np.ndarray
) -> tuple[SurveyedMark, ...]:
    def sd(name: str, axis: str) -> float:
        index = column.get((name, axis))
        return 0.0 if index is None else math.sqrt(max(covariance[index, index], 0.0))

    return tuple(
        SurveyedMark(name, (at[0], at[1], at[2]), sd(name, "x"), sd(name, "y"))
        for name, at in places.items()
    )


def _global_test(weighted_sum: float, freedom: int) -> tuple[float, float]:
    """Return the critical value of vᵀPv at 95 % and the chance of one this large [-]."""
    if freedom <= 0:
        return math.nan, math.nan
    # scipy is slow to import, and only this line needs it.
    from scipy.special import chdtrc, chdtri

    critical = float(chdtri(freedom, 1.0 - CONFIDENCE))
    return critical, float(chdtrc(freedom, weighted_sum))


def _agreement_check(agreement: Agreement, weighted_sum: float, critical: float) -> Check:
    """Return whether the readings agree, as a check among the others."""
    known = agreement != "unverified"
    verdict = {"agrees": Verdict.OK, "does not agree": Verdict.SHORT, "unverified": Verdict.ASK}
    change = {
        "agrees": "",
        "does not agree": "one reading or more is wrong: read the likeliest again",
        "unverified": "nothing checks these readings: measure both diagonals, or a width more",
    }
    return Check(
        key="survey/global test",
        subject="the readings of the opening",
        question="do they agree with one another as well as their instruments promise",
        verdict=verdict[agreement],
        source=Source(
            "Baarda (1968), A Testing Procedure for Use in Geodetic Networks",
            "global test of the weighted squares, 95 %",
        ),
        demand=weighted_sum if known else None,
        available=critical if known else None,
        ratio=weighted_sum / critical if known else None,
        change=change[agreement],
    )


def _stops(agreement: Agreement, adjusted: tuple[Adjusted, ...]) -> tuple[Stop, ...]:
    if agreement != "does not agree":
        return ()
    ranked = sorted(
        (a for a in adjusted if a.standardised is not None),
        key=lambda a: -abs(a.standardised or 0.0),
    )
    most = abs(ranked[0].standardised or 0.0) if ranked else 0.0
    alike = [a for a in ranked if abs(a.standardised or 0.0) > (1.0 - ALIKE) * most]
    read = [a.observation.words for a in ranked if not a.observation.assumed]
    tied = [a.observation.words for a in alike if not a.observation.assumed]
    if len(tied) > 1:
        first = f"read again {'; '.join(tied)}: these readings cannot tell which of them is wrong"
    else:
        first = f"read again, first: {'; '.join(read[:3]) or 'all of them'}"
    if any(a.observation.relation == "straight" for a in alike):
        first += ". If it reads the same again, the sides are less straight there than assumed"
    return (
        Stop(
            key="survey/global test",
            why="the readings of the opening do not agree with one another: at least one is wrong",
            decide=(
                f'{first}. Then give the wrong reading a set_aside = "why" in the job file and '
                "write the new one beside it"
            ),
        ),
    )


def at(found: Survey, name: str) -> SurveyedMark:
    """Return a mark of the survey by name.

    Raises:
        KeyError: the survey has no mark of that name.
    """
    for mark in found.marks:
        if mark.name == name:
            return mark
    raise KeyError(f"the survey has no mark {name!r}")


def coordinate(found: Survey, name: str, axis: Literal["x", "y"]) -> Quantity:
    """Return a mark's x or y [m] as a quantity that follows every reading it rests on.

    Raises:
        KeyError: the survey has no mark of that name, or knows only its height.
    """
    value = at(found, name).at[0 if axis == "x" else 1]
    key, words = f"survey/{name}/{axis}", f"{name} {'across' if axis == 'x' else 'up'}"
    if (name, axis) not in found.unknowns:
        if name != ORIGIN:
            raise KeyError(f"of {name!r} the survey knows only the height")
        return chain.base("default", key, words, value, note="the origin of the survey")
    row = found.gain[found.unknowns.index((name, axis))]
    parts = [
        (float(by), a.observation.quantity)
        for by, a in zip(row, found.adjusted, strict=True)
        if abs(by) > 1e-9
    ]
    return chain.linear(key, words, "fitted to all readings by least squares", value, parts)


def side_marks(found: Survey, side: marks.Side) -> tuple[SurveyedMark, ...]:
    """Return the marks that stand on one side of the opening, lowest first."""
    of_side = (m for m in found.marks if marks.side_of(m.name) == side)
    return tuple(sorted(of_side, key=lambda m: m.at[1]))


def floor_marks(found: Survey, hand: marks.Side | None = None) -> tuple[SurveyedMark, ...]:
    """Return the floor points read along the swing of one leaf, or of all."""
    start = f"floor {hand} " if hand else "floor "
    return tuple(m for m in found.marks if m.name.startswith(start))
