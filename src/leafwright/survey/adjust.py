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
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from leafwright import chain, units
from leafwright.chain import Quantity
from leafwright.job import marks
from leafwright.job.model import Job
from leafwright.job.readings import NOT_READ
from leafwright.job.tape import tape_of
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
from leafwright.survey.pinned import (
    ORIGIN,
    Unknown,
    heights_only,
    inverted,
    same_place,
    unpinned,
)
from leafwright.survey.predict import (
    Equations,
    equations,
    linearised,
    moved,
    placed,
    places_of,
)
from leafwright.units import Tape

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


def survey(job: Job) -> Survey | Held:
    """Return the opening adjusted to the job's readings, or what is missing to find it.

    Readings that the maker has set aside are left out of the adjustment and compared with it.
    """
    everything, defaults = observations(job)
    used = [o for o in everything if not o.set_aside]
    found = adjust(everything, starting_places(job, used), defaults=defaults)
    if isinstance(found, Held):
        return found
    beyond = _beyond_its_side(used, found, tape_of(job))
    return replace(found, checks=(*found.checks, *_between_corners(used), *beyond))


#: A mark this much of a side's length above its top is still taken for one of the side [-].
OVER_SIDE = 1.02


def _beyond_its_side(used: Sequence[Observation], found: Survey, tape: Tape) -> Iterator[Check]:
    """Yield what asks of each mark that stands higher than its side is long."""
    at = {mark.name: mark.at for mark in found.marks}
    for name in sorted({name for seen in used for name in seen.between}):
        along = marks.side_mark(name)
        foot, head = ("BL", "TL") if name.startswith("L") else ("BR", "TR")
        if along is None or along.up is None or not {foot, head} <= at.keys():
            continue
        long = math.dist(at[foot][:2], at[head][:2])
        if along.up.si <= OVER_SIDE * long:
            continue
        yield Check(
            key=f"survey/{name} beyond its side",
            subject=f"the mark {name}",
            question=f"does it stand on the {along.side} side",
            verdict=Verdict.ASK,
            source=Source("the readings", "geometry of the opening"),
            unit="m",
            demand=along.up.si,
            available=long,
            ratio=along.up.si / long,
            change=(
                f"the {along.side} side is only {units.show_length(long, tape)} long: "
                "put right how far up the mark is"
            ),
        )


def _between_corners(used: Sequence[Observation]) -> tuple[Check, ...]:
    """Return what asks for a width between bottom and top, where none was read."""
    names = {name for seen in used for name in seen.between}
    corners = {"BL", "BR", "TL", "TR"} <= names
    if not corners or any(marks.side_mark(name) is not None for name in names):
        return ()
    return (
        Check(
            key="survey/between corners",
            subject="the sides of the opening",
            question="are they straight between their corners",
            verdict=Verdict.ASK,
            source=Source("the readings", "widths at three heights; common practice, no source"),
            change=(
                "no width was read between bottom and top, so that a side which bows in would not "
                "show: read the width half way up, from L@mid to R@mid"
            ),
        ),
    )


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
        if any(o.set_aside == NOT_READ for o in everything):
            return Held(
                "nothing of the opening is read yet",
                ("widths, heights, both diagonals, and a plumb line or levels",),
            )
        return Held("every reading is set aside", ("at least one reading that is used",))
    if (held := same_place(used, places)) is not None:
        return held
    laid = equations(used, _unknowns(used), tuple(places))
    start = placed(laid.names, places)
    rows, _ = linearised(laid, start)
    if (held := unpinned(laid.root[:, None] * rows, laid.unknowns, places, used)) is not None:
        return held
    at = fitted(laid, start)
    found = None if at is None else _settled(everything, used, laid, at, defaults)
    return found or Held(
        "the readings contradict one another so much that no opening fits them",
        ("readings that belong to one opening; look for a foot or a digit misread",),
    )


def fitted(laid: Equations, start: np.ndarray, *, settled: float = SETTLED) -> np.ndarray | None:
    """Return the places with the least weighted squares (marks × 3) [m], None where none settle.

    Args:
        laid: the observations; those whose ``root`` is 0 do not count.
        start: rough places of the marks (marks × 3) [m].
        settled: the step below which they have settled [m].
    """
    at = start
    for _ in range(ROUNDS):
        rows, misfit = linearised(laid, at)
        step = _step(laid.root[:, None] * rows, laid.root * misfit)
        at = moved(laid, at, step)
        most = float(np.max(np.abs(step), initial=0.0))
        if most < settled:
            return at
        if not most < FAR:
            break
    # Plain steps overshoot where a reading is far out. It is found all the same, so that the
    # maker is told which; scipy is slow to import, and only here is it needed.
    from scipy.optimize import least_squares

    def misfits(by: np.ndarray) -> np.ndarray:
        _, misfit = linearised(laid, moved(laid, start, by))
        return np.asarray(laid.root * misfit)

    def slopes(by: np.ndarray) -> np.ndarray:
        rows, _ = linearised(laid, moved(laid, start, by))
        return np.asarray(-laid.root[:, None] * rows)

    found = least_squares(misfits, np.zeros(len(laid.unknowns)), slopes, method="lm", max_nfev=200)
    return moved(laid, start, found.x) if found.success else None


def _step(rows: np.ndarray, misfit: np.ndarray) -> np.ndarray:
    """Return the step that takes most of the weighted misfit away [m], NaN where none does.

    By the normal equations: their rounding slows the last rounds down and moves nothing, because
    each round starts from misfits worked out afresh.
    """
    try:
        return np.asarray(np.linalg.solve(rows.T @ rows, rows.T @ misfit))
    except np.linalg.LinAlgError:
        return np.full(rows.shape[1], np.nan)


def _settled(
    everything: Sequence[Observation],
    used: tuple[Observation, ...],
    laid: Equations,
    at: np.ndarray,
    defaults: tuple[Quantity, ...],
) -> Survey | None:
    """Return the survey with the marks here, or None where here they are loose."""
    rows, misfit = linearised(laid, at)
    inverse = inverted(laid.root[:, None] * rows)
    if inverse is None:
        return None
    gain = inverse * laid.root
    redundancy = 1.0 - np.einsum("ij,ji->i", rows, gain)
    covariance = inverse @ inverse.T
    adjusted = tuple(
        _compared(o, float(-misfit[i]), float(redundancy[i])) for i, o in enumerate(used)
    )
    places = places_of(laid, at)
    freedom = len(used) - len(laid.unknowns)
    weighted_sum = float(np.sum((laid.root * misfit) ** 2))
    critical, chance = _global_test(weighted_sum, freedom)
    agreement: Agreement = "unverified"
    if freedom > 0:
        agreement = "agrees" if weighted_sum <= critical else "does not agree"
    return Survey(
        marks=_marks(places, laid.unknowns, covariance),
        adjusted=adjusted,
        set_aside=tuple(
            _left_out(o, places) for o in everything if o.set_aside not in ("", NOT_READ)
        ),
        freedom=freedom,
        weighted_sum=weighted_sum,
        critical=critical,
        chance=chance,
        agreement=agreement,
        unknowns=laid.unknowns,
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


def _left_out(seen: Observation, places: Mapping[str, Point3]) -> Adjusted:
    read = seen.quantity.value
    if any(name not in places for name in seen.between):
        return Adjusted(seen, read, math.nan, math.nan, 0.0, None)
    names = tuple(dict.fromkeys(seen.between))
    _, misfit = linearised(equations((seen,), (), names), placed(names, places))
    return Adjusted(seen, read, read - float(misfit[0]), -float(misfit[0]), 0.0, None)


def _marks(
    places: Mapping[str, Point3], unknowns: tuple[Unknown, ...], covariance: np.ndarray
) -> tuple[SurveyedMark, ...]:
    sd = dict(zip(unknowns, np.sqrt(np.diag(covariance)).tolist(), strict=True))
    return tuple(
        SurveyedMark(name, at, sd.get((name, "x"), 0.0), sd.get((name, "y"), 0.0))
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
