"""The one further measurement that would tell most, computed from the covariance.

Where readings cannot be told apart, each explanation foretells what a new measurement would come
out at, and how surely; the best measurement is the one that tells most about which of them is right
(mutual information). Where nothing checks the readings, it is the one that checks most of them.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import NormalDist
from typing import Literal

import numpy as np

from leafwright import chain, units
from leafwright.job import marks
from leafwright.records import Metres, Number, Point3
from leafwright.survey.adjust import Survey, adjust
from leafwright.survey.doubt import INCH_TAPE, Doubts
from leafwright.survey.observe import Observation, Relation
from leafwright.survey.pinned import heights_only
from leafwright.survey.predict import equations, linearised, placed
from leafwright.survey.words import between, called
from leafwright.units import Tape

FurtherKind = Literal["distance", "rise", "plumb", "offset", "again"]

#: A tape is read again so that a slip at its start is not made twice.
OTHER_END = {"distance": ", from the other end"}

#: Kinds of measurement, the least trouble first.
TROUBLE: tuple[FurtherKind, ...] = ("again", "distance", "plumb", "rise", "offset")

#: Slices of a distribution, and the difference of log likelihoods that counts as none [-].
SLICES = 41
SAME = 1e-6

#: Redundancy from which a reading counts as checked [-]: the least error that shows is then ten of
#: its standard deviations, 4.13 / √0.17.
WELL_CHECKED = 0.17


@dataclass(frozen=True, slots=True)
class Instruments:
    """Standard deviations of the measurements that could still be made [m].

    Distances beyond ``long_from`` take the long tape. The values are those that a metric job takes
    by default; common practice, no source.
    """

    tape: Metres = 0.0015
    long_tape: Metres = 0.003
    long_from: Metres = 4.0
    level: Metres = 0.0015
    plumb: Metres = 0.0015
    rule: Metres = 0.001


@dataclass(frozen=True, slots=True)
class Foretold:
    """What a further measurement would come out at if one explanation is right."""

    wrong: tuple[str, ...]
    words: str
    value: Metres
    sd: Metres


@dataclass(frozen=True, slots=True)
class FurtherReading:
    """A measurement worth making, and what it would decide.

    ``first`` and ``second`` are its marks, ``third`` the far end of a string where it is an
    offset. ``answers`` is the share of the question that it answers, ``right`` the chance that the
    explanation that is likeliest after it is the right one, and ``decides_by`` by how many
    standard deviations the two that are hardest to tell apart would come out differently: 0 where
    more than one measurement is needed. Where nothing checks the readings these are 0, and
    ``checks`` counts the readings that it would check.
    """

    kind: FurtherKind
    first: str
    second: str
    third: str
    words: str
    why: str
    answers: Number
    right: Number
    decides_by: Number
    checks: int
    foretold: tuple[Foretold, ...]


@dataclass(frozen=True, slots=True)
class _Candidate:
    kind: FurtherKind
    words: str
    seen: Observation


@dataclass(frozen=True, slots=True)
class _Hypothesis:
    wrong: tuple[str, ...]
    words: str
    found: Survey


def further(
    everything: Sequence[Observation],
    places: Mapping[str, Point3],
    found: Survey,
    doubted: Doubts,
    *,
    instruments: Instruments | None = None,
    tape: Tape = INCH_TAPE,
    most: int = 3,
) -> tuple[FurtherReading, ...]:
    """Return the measurements that would decide best, the best first.

    Those where readings cannot be told apart, or where nothing checks them; none otherwise.

    Args:
        everything: the observations; those set aside do not count.
        places: rough places of all marks [m].
        found: the opening adjusted to them.
        doubted: what is in doubt about them.
        instruments: how sure a new measurement would be; a metric job's defaults where None.
        tape: the maker's tape, in which the sentences give lengths.
        most: how many to return [-].
    """
    used = tuple(o for o in everything if not o.set_aside)
    sure = instruments or Instruments()
    if doubted.verdict == "ambiguous":
        return tuple(_deciding(used, found, doubted, sure, tape)[:most])
    if doubted.verdict == "unverified":
        return tuple(_checking(used, found, sure)[:most])
    return ()


def _deciding(
    used: tuple[Observation, ...],
    found: Survey,
    doubted: Doubts,
    sure: Instruments,
    tape: Tape,
) -> list[FurtherReading]:
    start = {mark.name: mark.at for mark in found.marks}
    by_key = {seen.key: seen for seen in used}
    worlds: list[_Hypothesis] = []
    for keys in doubted.explanations:
        rest = adjust([seen for seen in used if seen.key not in keys], start)
        if isinstance(rest, Survey) and set(rest.unknowns) == set(found.unknowns):
            words = " and ".join(called(by_key[key]) for key in keys)
            worlds.append(_Hypothesis(keys, words, rest))
    if len(worlds) < 2:
        return []
    again = [by_key[one.key] for one in doubted.suspects if not one.assumed]
    candidates = _candidates(used, found, sure, again)
    values, variances = [], []
    for world in worlds:
        seen = [one.seen for one in candidates]
        laid = equations(seen, world.found.unknowns, tuple(start))
        at = placed(laid.names, {mark.name: mark.at for mark in world.found.marks})
        rows, misfit = linearised(laid, at)
        values.append(laid.read - misfit)
        spread = np.einsum("ij,jk,ik->i", rows, world.found.covariance, rows)
        variances.append(spread + 1.0 / laid.root**2)
    value, variance = np.array(values), np.array(variances)
    share, right = _told_by(value, np.sqrt(variance))
    apart = np.full(len(candidates), math.inf)
    for i, j in itertools.combinations(range(len(worlds)), 2):
        sd = np.sqrt((variance[i] + variance[j]) / 2.0)
        apart = np.minimum(apart, np.abs(value[i] - value[j]) / sd)
    # Among those that tell as much, to a hundredth, the least trouble first.
    order = sorted(
        range(len(candidates)),
        key=lambda k: (
            -round(float(share[k]), 2),
            TROUBLE.index(candidates[k].kind),
            -float(apart[k]),
        ),
    )
    result = []
    for k in order:
        foretold = tuple(
            Foretold(world.wrong, world.words, float(value[w, k]), math.sqrt(variance[w, k]))
            for w, world in enumerate(worlds)
        )
        result.append(
            _deciding_reading(
                candidates[k],
                foretold,
                tape,
                answers=float(share[k]),
                right=float(right[k]),
                apart=float(apart[k]),
            )
        )
    return result


def _told_by(value: np.ndarray, sd: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return which share of the question each measurement answers, and how often it is right [-].

    The share is the mutual information of explanation and outcome, over what there is to know; a
    measurement is right as often as the explanation that is likeliest after it. Each explanation
    in turn is taken to be right, all with equal chances, and the measurement to come out anywhere
    in its distribution, cut into SLICES of equal chance.

    Args:
        value: what each measurement comes out at (explanations × measurements) [m].
        sd: standard deviation of that, the same shape [m].
    """
    normal = NormalDist()
    steps = np.array([normal.inv_cdf((k + 0.5) / SLICES) for k in range(SLICES)])
    count = len(value)
    known, right = np.zeros(value.shape[1]), np.zeros(value.shape[1])
    for i in range(count):
        outcome = value[i] + steps[:, None] * sd[i]
        # Explanations × slices × measurements: how likely each explanation makes the outcome.
        likely = -(((outcome - value[:, None]) / sd[:, None]) ** 2) / 2.0 - np.log(sd)[:, None]
        best = likely.max(axis=0)
        as_good = np.sum(likely >= best - SAME, axis=0)
        right += np.mean((likely[i] >= best - SAME) / as_good, axis=0)
        all_of = best + np.log(np.mean(np.exp(likely - best), axis=0))
        known += np.mean(likely[i] - all_of, axis=0)
    return np.asarray(known / count / math.log(count)), np.asarray(right / count)


def _deciding_reading(
    one: _Candidate,
    foretold: tuple[Foretold, ...],
    tape: Tape,
    *,
    answers: float,
    right: float,
    apart: float,
) -> FurtherReading:
    outcomes: dict[str, list[str]] = {}
    for world in foretold:
        outcomes.setdefault(_shown(one, world.value, tape), []).append(world.words)
    told = [f"{size} if {_either(words)} is wrong" for size, words in outcomes.items()]
    return FurtherReading(
        kind=one.kind,
        first=one.seen.between[0],
        second=one.seen.between[1],
        third=one.seen.between[2] if len(one.seen.between) > 2 else "",
        words=one.words,
        why=f"it would come out at {'; '.join(told)}",
        answers=answers,
        right=right,
        decides_by=apart,
        checks=0,
        foretold=foretold,
    )


def _either(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"


def _shown(one: _Candidate, value: float, tape: Tape) -> str:
    """Return what a measurement comes out at, with its direction in words."""
    ways = {
        "plumb": ("to the right", "to the left"),
        "offset": ("to the right", "to the left"),
        "rise": ("higher", "lower"),
    }.get(one.kind)
    if ways is None or units.rounded_to_tape(value, tape) == 0:
        return units.show_length(value, tape)
    return f"{units.show_length(abs(value), tape)} {ways[0] if value > 0.0 else ways[1]}"


def _checking(
    used: tuple[Observation, ...], found: Survey, sure: Instruments
) -> list[FurtherReading]:
    """Return the measurements that would check most readings, and of those the surest opening."""
    start = {mark.name: mark.at for mark in found.marks}
    candidates = _candidates(used, found, sure, ())
    laid = equations([one.seen for one in candidates], found.unknowns, tuple(start))
    old = equations(used, found.unknowns, tuple(start))
    at = placed(laid.names, start)
    rows, _ = linearised(laid, at)
    of_old, _ = linearised(old, at)
    across = found.covariance @ rows.T
    spread = np.einsum("ij,ji->i", rows, across) + 1.0 / laid.root**2
    # A new reading lowers the covariance by C h hᵀ C / s², and each old one gains that much
    # redundancy.
    gained = (old.root[:, None] * (of_old @ across)) ** 2 / spread
    loose = np.array(
        [not a.observation.assumed and a.redundancy < WELL_CHECKED for a in found.adjusted]
    )
    share = np.array([a.redundancy for a in found.adjusted])[:, None] + gained
    counts = np.sum((share >= WELL_CHECKED) & loose[:, None], axis=0)
    falls = np.sum(across**2, axis=0) / spread
    order = sorted(range(len(candidates)), key=lambda k: (-counts[k], -falls[k]))
    return [_checking_reading(candidates[k], int(counts[k])) for k in order if counts[k] > 0]


def _checking_reading(one: _Candidate, checks: int) -> FurtherReading:
    what = "one reading" if checks == 1 else f"{checks} readings"
    return FurtherReading(
        kind=one.kind,
        first=one.seen.between[0],
        second=one.seen.between[1],
        third=one.seen.between[2] if len(one.seen.between) > 2 else "",
        words=one.words,
        why=f"it would check {what} that nothing checks now",
        answers=0.0,
        right=0.0,
        decides_by=0.0,
        checks=checks,
        foretold=(),
    )


def _candidates(
    used: tuple[Observation, ...],
    found: Survey,
    sure: Instruments,
    again: Sequence[Observation],
) -> list[_Candidate]:
    """Return what could still be measured: distances, rises, plumb lines, offsets, repeats."""
    only_height = heights_only(used)
    at = {mark.name: mark.at for mark in found.marks}
    names = [name for name in at if name not in only_height]
    done = {(seen.relation, frozenset(seen.between)) for seen in used if not seen.assumed}
    candidates = [
        _Candidate("again", f"read {called(seen)} again{OTHER_END.get(seen.relation, '')}", seen)
        for seen in again
    ]

    def add(kind: FurtherKind, relation: Relation, words: str, ends: tuple[str, ...]) -> None:
        if (relation, frozenset(ends)) in done:
            return
        length = math.dist(at[ends[0]], at[ends[1]])
        long = kind == "distance" and length > sure.long_from
        sd = {
            "distance": sure.long_tape if long else sure.tape,
            "rise": sure.level,
            "plumb": sure.plumb,
            "offset": sure.rule,
        }[kind]
        quantity = chain.base("reading", f"further/{words}", words, 0.0, sd=sd)
        seen = Observation(quantity.key, words, relation, ends, quantity, sd)
        candidates.append(_Candidate(kind, words, seen))

    for a, b in itertools.combinations(names, 2):
        add("distance", "distance", f"measure {between(a, b)}", (a, b))
        side = marks.side_of(a)
        if side is not None and side == marks.side_of(b):
            low, high = sorted((a, b), key=lambda name: at[name][1])
            add("plumb", "across", f"drop a plumb line from {high} to {low}", (low, high))
        add("rise", "up", f"level {a} against {b}", (a, b))
    for name in names:
        if (along := marks.side_mark(name)) is not None:
            foot, head = ("BL", "TL") if along.side == "left" else ("BR", "TR")
            if {foot, head} <= set(names):
                words = f"stretch a string from {foot} to {head} and measure its offset at {name}"
                add("offset", "straight", words, (name, foot, head))
    return candidates
