"""Whether readings of a leaf agree, and which of them is wrong where they do not.

Nothing is moved on readings that disagree. The fewest readings that, left out, let the rest agree
are named with what would fit; where several explain it as well, the one further reading that
tells them apart best is named. The maker sets a reading aside: nothing is dropped here.

Method: W. Baarda, A Testing Procedure for Use in Geodetic Networks (1968): global test, then the
likelihood ratio T = eᵀ R⁻¹ e of each set of one or two readings, from weighted residuals e and
their part R of the projection I − A (AᵀA)⁻¹ Aᵀ; the best are left out in earnest.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from leafwright import records
from leafwright.records import Check, Metres, Number, Source
from leafwright.site.squares import CHECKED, SEEN, STANDS_OUT
from leafwright.site.wording import listed, shown
from leafwright.survey.culprits import ALIKE
from leafwright.survey.reliability import critical_value
from leafwright.units import Tape, show_length

#: Chance of good readings to come out no better, below which they do not agree; and below which
#: the rest, one set aside, still do not [-].
DISAGREES, REST_DISAGREES = 0.001, 0.01

#: Sets of readings that are left out in earnest, and alternatives that are named [-].
TRIED, NAMED = 8, 3

#: A further reading tells two answers apart from so many standard deviations on [-].
DECIDES = 3.0

_INCH = 0.0254
#: Usual slips of a tape by the maker's system [m] (common practice, no source).
_SLIPS = {
    "mm": ((1.0, "a metre"), (0.1, "100 mm"), (0.01, "10 mm")),
    "inch": ((12 * _INCH, "a foot"), (_INCH, "an inch")),
}

Verdict = Literal["agree", "unchecked", "out of shape", "in doubt", "ambiguous", "not explained"]


@dataclass(frozen=True, slots=True)
class Culprit:
    """A reading that may be wrong: how much too long it is against the rest, what would fit [m]."""

    number: int
    words: str
    off: Metres
    fits: Metres
    slip: str


@dataclass(frozen=True, slots=True)
class Doubt:
    """What readings of a leaf are worth together.

    Attributes:
        verdict: whether they agree; unchecked where nothing checks them; out of shape where they
            agree once something is taken to have lost its shape, and no wrong reading explains it.
        most: the greatest standardised residual; ``critical``: what good readings stay under [-].
        suspects: sets of readings, each of which alone would explain it; likeliest first.
        words: which reading is wrong and what to read, in sentences without a full stop.
        shape: the number of what lost its shape, where that alone explains it.
    """

    verdict: Verdict
    most: Number
    critical: Number
    suspects: tuple[tuple[Culprit, ...], ...]
    words: tuple[str, ...]
    shape: int | None = None

    @property
    def holds(self) -> bool:
        """Return whether nothing may be moved on these readings."""
        return self.verdict not in ("agree", "unchecked", "out of shape")


@dataclass(frozen=True, slots=True)
class Answer:
    """What readings come to without the readings that may be wrong, or with all of them."""

    without: str
    words: str


@dataclass(frozen=True, slots=True)
class Trial:
    """A fit to some of the readings: weighted squares and what it says of every reading [m].

    ``state`` is whatever else the caller needs of it, for `Further`.
    """

    squares: float
    freedom: int
    most: float
    fits: np.ndarray
    state: Any


@dataclass(frozen=True, slots=True)
class Further:
    """A reading that could be taken: what it would be by a trial's state, and that one's sd [m].

    ``foretold`` returns None where the trial does not tell.
    """

    words: str
    foretold: Callable[[Any], tuple[float, float] | None]
    sd: Metres


@dataclass(frozen=True, slots=True)
class Shape:
    """Something that may have lost its shape, in words, and the fit to all readings if so."""

    number: int
    words: str
    trial: Trial


#: Where the test of readings comes from.
BAARDA = Source("W. Baarda, A Testing Procedure for Use in Geodetic Networks (1968)", "tests")


def agreement_check(key: str, subject: str, doubted: Doubt, done: str) -> Check:
    """Return the question of whether readings agree, before anything is ``done`` on them."""
    return Check(
        key=key,
        subject=subject,
        question="do they agree with one another",
        verdict=records.Verdict.ASK,
        source=BAARDA,
        demand=doubted.most,
        available=doubted.critical,
        ratio=doubted.most / doubted.critical,
        change=f"nothing is {done} on readings that disagree: take the one named again, then give "
        'the wrong one set_aside = "why" and write the new one beside it',
    )


def spare_of(weighted: np.ndarray) -> tuple[np.ndarray, int]:
    """Return the projection onto what readings check [-], and how many they are too many [-].

    Args:
        weighted: rows over standard deviations, readings × unknowns.
    """
    count = len(weighted)
    if not count:
        return np.zeros((0, 0)), 0
    left, sizes, _ = np.linalg.svd(weighted, full_matrices=False)
    rank = int(np.sum(sizes > SEEN * sizes[0])) if sizes[0] > 0.0 else 0
    kept = left[:, :rank]
    return np.eye(count) - kept @ kept.T, count - rank


def most_of(residuals: np.ndarray, spare: np.ndarray) -> float:
    """Return the greatest standardised residual of weighted residuals [-]."""
    share = np.diag(spare)
    checked = share >= CHECKED
    if not np.any(checked):
        return 0.0
    return float(np.max(np.abs(residuals[checked]) / np.sqrt(share[checked])))


def doubt(
    weighted: np.ndarray,
    residuals: np.ndarray,
    again: Callable[[Sequence[int]], Trial],
    names: Sequence[str],
    values: Sequence[float],
    sds: Sequence[float],
    *,
    planned: Sequence[float],
    tape: Tape,
    further: Sequence[Further] = (),
    shapes: Callable[[], Sequence[Shape]] = tuple,
) -> Doubt:
    """Return whether readings agree, and which to doubt where they do not.

    Args:
        weighted: rows over standard deviations at the fit, readings × unknowns.
        residuals: (fitted − read) / sd at the fit [-].
        again: fits the readings of these numbers, and no others.
        names: what the maker calls each.
        values: what was read [m].
        sds: standard deviations [m].
        planned: what each would be by the plan: the likelier of two that explain it as well is
            the one which then comes nearer to it [m].
        tape: the maker's tape, for the words.
        further: readings that could be taken to decide.
        shapes: returns what may have lost its shape: one more unknown, weighed as one wrong
            reading is.
    """
    spare, freedom = spare_of(weighted)
    checked = int(np.sum(np.diag(spare) >= CHECKED))
    critical = max(critical_value(checked), STANDS_OUT)
    most = most_of(residuals, spare)
    if freedom <= 0:
        return Doubt("unchecked", 0.0, critical, (), ())
    squares = float(residuals @ residuals)
    if most <= critical and _chance(squares, freedom) >= DISAGREES:
        return Doubt("agree", most, critical, (), ())
    found: list[tuple[float, tuple[int, ...], Trial]] = []
    bent = [shape for shape in shapes() if _agrees(shape.trial, critical)]
    for count in (1, 2):
        for out in _likeliest(residuals, spare, count):
            trial = again([i for i in range(len(names)) if i not in out])
            if _agrees(trial, critical):
                found.append((trial.squares, out, trial))
        if found or bent:
            break
    lefts = [*(one[0] for one in found), *(shape.trial.squares for shape in bent)]
    least = min(lefts, default=0.0)
    bent = [shape for shape in bent if shape.trial.squares <= least + ALIKE]
    share = np.diag(spare)
    explained = []
    for left, out, trial in sorted(found, key=lambda one: (one[0], one[1])):
        if left <= least + ALIKE:
            sure = [sds[i] / math.sqrt(max(share[i], CHECKED)) for i in out]
            blamed = tuple(
                _culprit(i, names[i], values[i], trial, of, tape)
                for i, of in zip(out, sure, strict=True)
            )
            explained.append((blamed, trial))
    # Of what explains it as well, a usual slip of the tape is likelier than any odd size.
    explained.sort(
        key=lambda one: sum(abs(c.fits - planned[c.number]) * (1 if c.slip else 3) for c in one[0])
    )
    suspects = tuple(blamed for blamed, _ in explained)
    if not suspects and len(bent) == 1:
        words: tuple[str, ...] = (bent[0].words,)
        return Doubt("out of shape", most, critical, (), words, bent[0].number)
    if not suspects and not bent:
        words = (
            "these readings do not agree, and no one or two of them explain it: read them all "
            "again, and from where they are measured",
        )
        return Doubt("not explained", most, critical, (), words)
    verdict: Verdict = "in doubt" if len(suspects) == 1 and not bent else "ambiguous"
    words = _words(suspects, [trial for _, trial in explained], further, tape, bent)
    return Doubt(verdict, most, critical, suspects, words)


def _chance(squares: float, freedom: int) -> float:
    """Return the chance that good readings come out no better [-]."""
    # scipy is slow to import, and the doorway has it already.
    from scipy.special import chdtrc

    return float(chdtrc(freedom, squares)) if freedom > 0 else 1.0


def _agrees(trial: Trial, critical: float) -> bool:
    return trial.most <= critical and _chance(trial.squares, trial.freedom) >= REST_DISAGREES


def _likeliest(residuals: np.ndarray, spare: np.ndarray, count: int) -> list[tuple[int, ...]]:
    """Return the sets of so many readings that explain most, best first."""
    checked = [i for i in range(len(residuals)) if spare[i, i] >= CHECKED]
    scored = []
    for out in itertools.combinations(checked, count):
        part = spare[np.ix_(out, out)]
        if np.linalg.cond(part) > 1.0 / CHECKED:
            continue
        e = residuals[list(out)]
        scored.append((-float(e @ np.linalg.solve(part, e)), out))
    return [out for _, out in sorted(scored)[:TRIED]]


def _culprit(
    number: int, words: str, value: float, trial: Trial, sure: float, tape: Tape
) -> Culprit:
    fits = float(trial.fits[number])
    off = value - fits
    slip = ""
    for size, said in _SLIPS["mm" if tape.system == "mm" else "inch"]:
        if not slip and size > 2.0 * sure and abs(abs(off) - size) <= 3.0 * sure:
            slip = f"{said} too {'much' if off > 0.0 else 'little'}"
    if not slip and abs(value) > 3.0 * sure and abs(value + fits) <= 3.0 * sure:
        slip = "right if it is the other way"
    return Culprit(number, words, off, fits, slip)


def _of_one(culprit: Culprit, tape: Tape) -> str:
    way = "long" if culprit.off > 0.0 else "short"
    fits = (
        f"-{show_length(-culprit.fits, tape)}"
        if culprit.fits < 0.0
        else (show_length(culprit.fits, tape))
    )
    slip = f", {culprit.slip}" if culprit.slip else ""
    return (
        f"{culprit.words} is about {shown(culprit.off, tape)} {way} against the rest{slip}: "
        f"{fits} would fit"
    )


def _words(
    suspects: Sequence[tuple[Culprit, ...]],
    trials: Sequence[Trial],
    further: Sequence[Further],
    tape: Tape,
    bent: Sequence[Shape],
) -> tuple[str, ...]:
    if len(suspects) == 1 and not bent:
        said = [_of_one(c, tape) for c in suspects[0]]
        it = "it" if len(said) == 1 else "them"
        return (f"{'; and '.join(said)}. Read {it} again",)
    named = [" and ".join(_of_one(c, tape) for c in one) for one in suspects[:NAMED]]
    more = "" if len(suspects) <= NAMED else "; or yet another"
    tried = [*trials[:NAMED], *(shape.trial for shape in bent)]
    if bent:
        # What is left of the leaf itself is no reading: it is told beside them, and weighed first.
        named = [*(shape.words for shape in bent), *named]
        tried = [*(shape.trial for shape in bent), *trials[:NAMED]]
    decide = _deciding(tried, further)
    if not decide:
        each = dict.fromkeys(c.words for one in suspects[:NAMED] for c in one)
        decide = f"Read again, each by itself, until one comes out another: {listed(list(each))}"
    start = "the readings do not agree, and cannot tell for sure which is wrong. Likeliest: "
    if bent:
        start = "the readings do not agree, and cannot tell a wrong one from a leaf that is no "
        start += "longer square. It may be: "
    return (f"{start}{named[0]}. Or else: {'; or '.join(named[1:])}{more}. {decide}",)


def _deciding(trials: Sequence[Trial], further: Sequence[Further]) -> str:
    """Return the further reading that tells the answers apart best, with what each foretells."""
    places = list(itertools.combinations(range(len(trials)), 2))
    # Where none tells all of them apart, one that tells the likeliest from the others.
    for pairs, said in (
        (places, "that decides it"),
        ([p for p in places if p[0] == 0], "that decides whether it is the first"),
    ):
        best, chosen = DECIDES, ""
        for one in further:
            known = [t for trial in trials if (t := one.foretold(trial.state)) is not None]
            if len(known) < len(trials):
                continue
            apart = min(
                abs(known[a][0] - known[b][0])
                / math.sqrt(known[a][1] ** 2 + known[b][1] ** 2 + one.sd**2)
                for a, b in pairs
            )
            # A little better is not worth another reading than the handier one before it.
            if apart > 1.2 * best or (not chosen and apart > best):
                best, chosen = apart, one.words
        if chosen:
            return f"Read {chosen}: {said}"
    return ""
