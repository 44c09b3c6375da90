"""Which readings are in doubt, by how much, why, and what the opening is with and without them.

Nothing is dropped: what is in doubt is said, with both answers, and the maker decides. Where two
readings explain the disagreement equally well the answer is both of them, not one.

Method: W. Baarda, A Testing Procedure for Use in Geodetic Networks (1968), each reading's test at
α0 = 0.001, for several errors at once (`culprits`); a set of good readings is doubted in at most
five of a hundred cases.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from leafwright import units
from leafwright.job import marks
from leafwright.records import Metres, Number, Point2, Point3
from leafwright.survey.adjust import Survey
from leafwright.survey.culprits import AGREES, LEFT_ALPHA, Explanation, explanations
from leafwright.survey.misread import Misreading, misreadings
from leafwright.survey.observe import Observation
from leafwright.survey.pinned import inverted
from leafwright.survey.predict import Equations, equations, linearised, placed
from leafwright.survey.reliability import (
    Reliability,
    count_checked,
    critical_value,
    reliabilities,
)
from leafwright.survey.robust import SecondOpinion, robust_places, second_opinion
from leafwright.survey.together import Together, together
from leafwright.survey.words import assumption_fails, between, called, strays
from leafwright.units import Tape

Verdict = Literal["agrees", "unverified", "none stands out", "in doubt", "ambiguous"]

INCH_TAPE = Tape("feet-inch", 16)

#: How many readings to look at first where none stands out [-].
FIRST = 3


@dataclass(frozen=True, slots=True)
class Move:
    """How far a mark moves, across and up, when the readings in doubt are set aside."""

    mark: str
    by: Point2


@dataclass(frozen=True, slots=True)
class Span:
    """A distance between two marks with all readings, and with those in doubt set aside."""

    name: str
    first: str
    second: str
    with_all: Metres
    without: Metres


@dataclass(frozen=True, slots=True)
class Suspect:
    """A reading in doubt.

    ``error`` is how much too long (or high) it is, read − ``fits``, and ``sd`` its standard
    deviation; ``standardised`` is one over the other. ``fits`` is what all other readings say,
    those set aside that are blamed together with it. A suspect that is ``certain`` is wrong in
    every explanation; one that is not may well be right. ``moves`` and ``spans`` are the opening
    without it.
    """

    key: str
    words: str
    called: str
    assumed: bool
    certain: bool
    read: Metres
    fits: Metres
    error: Metres
    sd: Metres
    standardised: Number
    misread: tuple[Misreading, ...]
    sentence: str
    moves: tuple[Move, ...]
    spans: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class Group:
    """Readings of which ``wrong`` are wrong; more of them than that, and it is ambiguous which."""

    keys: tuple[str, ...]
    wrong: int

    @property
    def ambiguous(self) -> bool:
        """Whether these readings cannot tell which of them is wrong."""
        return self.wrong < len(self.keys)


@dataclass(frozen=True, slots=True)
class Doubts:
    """What is in doubt about a set of readings.

    ``explanations`` are sets of readings, each enough to explain the disagreement, best first;
    ``groups`` and ``suspects`` say the same by reading. ``first`` are those to read again first.
    ``mends`` is whether the rest agree once the best explanation is set aside. ``critical`` is the
    standardised residual from which a reading stands out. ``together`` is a slip that all readings
    of one instrument may share instead.
    """

    verdict: Verdict
    sentence: str
    critical: Number
    explanations: tuple[tuple[str, ...], ...]
    groups: tuple[Group, ...]
    suspects: tuple[Suspect, ...]
    first: tuple[str, ...]
    mends: bool | None
    reliability: tuple[Reliability, ...]
    opinion: SecondOpinion | None
    together: Together | None = None


def doubts(
    everything: Sequence[Observation],
    places: Mapping[str, Point3],
    found: Survey,
    *,
    tape: Tape = INCH_TAPE,
    pairs: Sequence[tuple[str, str]] | None = None,
) -> Doubts:
    """Return which readings are in doubt, and what the opening is with and without each.

    Args:
        everything: the observations that ``found`` was adjusted to; those set aside do not count.
        places: rough places of all marks [m].
        found: the opening adjusted to them.
        tape: the maker's tape, in which the sentences give lengths.
        pairs: marks between which the opening is compared; the corners' widths, heights and
            diagonals and the widths between marks of one height, where None.
    """
    used = tuple(o for o in everything if not o.set_aside)
    critical = critical_value(count_checked(found))
    checked = reliabilities(found)
    if found.freedom <= 0:
        return _nothing("unverified", UNVERIFIED, critical, checked, ())
    ranked = sorted(
        (a for a in found.adjusted if a.standardised is not None),
        key=lambda a: (-abs(a.standardised or 0.0), a.observation.key),
    )
    most = abs(ranked[0].standardised or 0.0) if ranked else 0.0
    first = tuple(a.observation.key for a in ranked if not a.observation.assumed)[:FIRST]
    none = "the readings do not agree, but none of them stands out; read again first "
    none += "; ".join(called(o) for key in first for o in used if o.key == key)
    if most <= critical and found.chance >= LEFT_ALPHA:
        if found.agreement == "agrees":
            return _nothing("agrees", ALL_WELL, critical, checked, ())
        return _nothing("none stands out", none, critical, checked, first)
    at_found = {mark.name: mark.at for mark in found.marks}
    laid = equations(used, found.unknowns, tuple(at_found))
    at = placed(laid.names, at_found)
    robust = robust_places(laid, at)
    # The rough places first: they rest on the middle widths and heights, which a metre's slip in
    # one reading does not turn inside out.
    blamed = explanations(
        laid,
        (placed(laid.names, places), robust),
        squares=found.weighted_sum,
        freedom=found.freedom,
        critical=critical,
    )
    if not blamed:
        return _nothing("none stands out", none, critical, checked, first)
    left = blamed[0]
    shared = together(
        used,
        laid,
        (placed(laid.names, places), robust),
        squares=found.weighted_sum,
        critical=critical,
        least=left.score,
        tape=tape,
    )
    groups = _groups(used, blamed)
    suspects = _suspects(used, laid, at, blamed, tape, pairs, alone=shared is None)
    sure = {one.key: one.certain for one in suspects}
    mends = _agrees(left.squares, found.freedom - len(left.readings))
    unclear = shared is not None or any(group.ambiguous for group in groups)
    return Doubts(
        verdict="ambiguous" if unclear else "in doubt",
        sentence=_sentence(groups, suspects, mends)
        + ("" if shared is None else f"; {shared.sentence}"),
        critical=critical,
        explanations=tuple(tuple(used[i].key for i in one.readings) for one in blamed),
        groups=groups,
        suspects=suspects,
        first=tuple(one.key for one in suspects if not one.assumed),
        mends=mends,
        reliability=checked,
        opinion=second_opinion(used, laid, robust, sure),
        together=shared,
    )


ALL_WELL = "the readings agree with one another, and none of them stands out"
UNVERIFIED = "nothing checks these readings: a wrong one would not show"


def _nothing(
    verdict: Verdict,
    sentence: str,
    critical: float,
    checked: tuple[Reliability, ...],
    first: tuple[str, ...],
) -> Doubts:
    return Doubts(verdict, sentence, critical, (), (), (), first, None, checked, None)


def _agrees(squares: float, freedom: int) -> bool | None:
    """Return whether what is left agrees (95 %), or None where nothing checks it any more."""
    if freedom <= 0:
        return None
    # scipy is slow to import, and a survey that is in doubt has it already.
    from scipy.special import chdtrc

    return bool(chdtrc(freedom, squares) >= AGREES)


def _groups(used: Sequence[Observation], blamed: tuple[Explanation, ...]) -> tuple[Group, ...]:
    """Return the certain readings one by one, and the others with what may stand for them."""
    sets = [set(one.readings) for one in blamed]
    certain = set.intersection(*sets)
    groups = [Group((used[i].key,), 1) for i in sorted(certain)]
    open_ones = sorted(set.union(*sets) - certain)
    if not open_ones:
        return tuple(groups)
    # Two readings may stand for one another where two explanations differ in just them.
    label = {i: i for i in open_ones}
    for a in sets:
        for b in sets:
            if len(a - b) == len(b - a) == 1:
                (old,), (new,) = {label[i] for i in a - b}, {label[i] for i in b - a}
                label = {i: new if at == old else at for i, at in label.items()}
    parts = [[i for i in open_ones if label[i] == name] for name in dict.fromkeys(label.values())]
    if all(len(one & set(part)) == 1 for one in sets for part in parts):
        groups += [Group(tuple(used[i].key for i in part), 1) for part in parts]
    else:
        least = min(len(one - certain) for one in sets)
        groups.append(Group(tuple(used[i].key for i in open_ones), least))
    return tuple(groups)


def _suspects(
    used: Sequence[Observation],
    laid: Equations,
    at: np.ndarray,
    blamed: tuple[Explanation, ...],
    tape: Tape,
    pairs: Sequence[tuple[str, str]] | None,
    *,
    alone: bool,
) -> tuple[Suspect, ...]:
    """Return every reading of the explanations, the best explanation's first.

    Where these do not stand ``alone``, for something else explains it as well, none is certain.
    """
    certain = set.intersection(*(set(one.readings) for one in blamed)) if alone else set()
    compared = usual_pairs(laid.names) if pairs is None else tuple(pairs)
    found: dict[int, Suspect] = {}
    for one in blamed:
        fresh = [i for i in one.readings if i not in found]
        if not fresh:
            continue
        root = laid.root.copy()
        root[list(one.readings)] = 0.0
        rows, misfit = linearised(replace(laid, root=root), one.at)
        inverse = inverted(np.delete(laid.root[:, None] * rows, list(one.readings), axis=0))
        if inverse is None:
            continue
        moves = tuple(
            Move(name, (float(by[0]), float(by[1])))
            for name, by in zip(laid.names, one.at - at, strict=True)
        )
        spans = _spans(laid.names, at, one.at, compared)
        for i in fresh:
            seen, error = used[i], float(misfit[i])
            sd = math.hypot(seen.sd, float(np.linalg.norm(rows[i] @ inverse)))
            fits = seen.quantity.value - error
            slips = misreadings(seen, fits, sd, tape=tape)
            found[i] = Suspect(
                key=seen.key,
                words=seen.words,
                called=called(seen),
                assumed=seen.assumed,
                certain=i in certain,
                read=seen.quantity.value,
                fits=fits,
                error=error,
                sd=sd,
                standardised=error / sd,
                misread=slips,
                sentence=_told(seen, error, slips, i in certain, tape),
                moves=moves,
                spans=spans,
            )
    return tuple(found.values())


def _told(
    seen: Observation,
    error: float,
    slips: tuple[Misreading, ...],
    certain: bool,
    tape: Tape,
) -> str:
    """Return what is wrong with a reading, what would fit, and what may have happened."""
    if seen.assumed:
        fails = assumption_fails(seen, error, tape)
        return f"{fails}, more than was assumed" if certain else f"it may be that {fails}"
    fits = units.show_length(seen.quantity.value - error, tape)
    if seen.relation in ("across", "straight") and fits.startswith("-"):
        fits = f"{fits[1:]} the other way"
    out = strays(seen, error, tape)
    may = f"; perhaps {slips[0].words}" if slips else ""
    if certain:
        return f"{called(seen)} is {out} against the rest; {fits} fits; read it again{may}"
    return f"if {called(seen)} is the wrong one, it is {out}, and {fits} fits{may}"


def _sentence(groups: tuple[Group, ...], suspects: tuple[Suspect, ...], mends: bool | None) -> str:
    by_key = {one.key: one for one in suspects}
    told = []
    for group in groups:
        ones = [by_key[key] for key in group.keys if key in by_key]
        if not group.ambiguous:
            told += [one.sentence for one in ones]
            continue
        names = "; ".join(one.called for one in ones)
        count = "one" if group.wrong == 1 else f"{group.wrong} or more"
        is_wrong = "is" if group.wrong == 1 else "are"
        told.append(
            f"{count} of these {is_wrong} wrong, and the readings cannot tell which: {names}"
        )
    after = {
        True: "",
        False: "even without these the rest do not quite agree",
        None: "without these nothing checks the rest",
    }[mends]
    return ". ".join([*told, after] if after else told)


def usual_pairs(names: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """Return the pairs of marks that say what an opening is, of those that are there.

    The corners' widths, heights and diagonals, and the widths between marks of one height.
    """
    wanted = [
        ("BL", "BR"),
        ("TL", "TR"),
        ("BL", "TL"),
        ("BR", "TR"),
        ("BL", "TR"),
        ("BR", "TL"),
    ]
    wanted += [(name, f"R{name[1:]}") for name in names if marks.side_mark(name) and name[0] == "L"]
    return tuple(pair for pair in wanted if set(pair) <= set(names))


def _spans(
    names: Sequence[str],
    at: np.ndarray,
    without: np.ndarray,
    pairs: Sequence[tuple[str, str]],
) -> tuple[Span, ...]:
    index = {name: i for i, name in enumerate(names)}
    return tuple(
        Span(
            between(a, b),
            a,
            b,
            float(np.linalg.norm(at[index[a]] - at[index[b]])),
            float(np.linalg.norm(without[index[a]] - without[index[b]])),
        )
        for a, b in pairs
        if a in index and b in index
    )
