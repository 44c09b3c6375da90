"""The one further measurement: made, it tells apart what could not be told apart."""

from __future__ import annotations

import itertools
import math
import random

import pytest

from leafwright import chain
from leafwright.records import Point3
from leafwright.survey import Observation, Survey
from leafwright.survey.adjust import adjust
from leafwright.survey.doubt import Doubts, doubts
from leafwright.survey.further import FurtherReading, Instruments, further
from leafwright.survey.observe import observations, starting_places
from leafwright.survey.predict import equations, linearised, placed
from tests.sizes import cases
from tests.survey.blunders import Read, planted, read
from tests.survey.openings import distance, job_of, level, plumb, rise
from tests.survey.test_doubt import of_example, one_to_spare


def asked(opening: Read, *, most: int = 3) -> tuple[Doubts, tuple[FurtherReading, ...]]:
    doubted = opening.doubted()
    return doubted, further(opening.seen, opening.places, opening.adjusted(), doubted, most=most)


def made(one: FurtherReading, true: dict[str, Point3], error: float, sd: float) -> Observation:
    """Return the further measurement as it comes out in an opening whose marks are known."""
    relation = {"distance": "distance", "plumb": "across", "rise": "up", "offset": "straight"}
    ends = (one.first, one.second) + ((one.third,) if one.third else ())
    quantity = chain.base("reading", "further", "further", 0.0, sd=sd)
    seen = Observation("further", "further", relation[one.kind], ends, quantity, sd)  # type: ignore[arg-type]
    names = tuple(true)
    _, misfit = linearised(equations([seen], (), names), placed(names, true))
    value = -float(misfit[0]) + error
    quantity = chain.base("reading", "further", "further", value, sd=sd)
    return Observation("further", "further", relation[one.kind], ends, quantity, sd)  # type: ignore[arg-type]


def test_the_measurement_tells_apart_what_the_readings_could_not() -> None:
    # Each explanation in turn is taken to be the truth; the measurement comes out as it foretells
    # and with an error of its own; the fewest weighted squares then name the explanation.
    rng = random.Random(101)
    right, promised, tried = 0, 0.0, 0
    while tried < cases(25, 400):
        opening, _ = planted(rng, read(rng, well=False), 1, times=1.2)
        doubted, best = asked(opening)
        if doubted.verdict != "ambiguous" or not best:
            continue
        one = best[0]
        world = rng.randrange(len(one.foretold))
        value = one.foretold[world].value + rng.gauss(0.0, one.foretold[world].sd)
        likely = [-(((value - f.value) / f.sd) ** 2) / 2 - math.log(f.sd) for f in one.foretold]
        right += max(range(len(likely)), key=likely.__getitem__) == world
        promised += one.right
        tried += 1
    # As often as is said: five standard deviations of a binomial.
    share = promised / tried
    assert abs(right / tried - share) < 5.0 * math.sqrt(0.25 / tried)


def test_with_the_measurement_made_fewer_readings_are_in_doubt() -> None:
    opening = one_to_spare()
    doubted, (best, *_) = asked(opening)
    assert best.words == "measure the diagonal from bottom right to top left"
    # The diagonal is the one that is wrong; the opening is in truth a rectangle.
    true = {"BL": (0.0, 0.0, 0.0), "BR": (3.0, 0.0, 0.0), "TL": (0.0, 4.0, 0.0)}
    true["TR"] = (3.0, 4.0, 0.0)
    more = Read([*opening.seen, made(best, true, 0.0, 0.003)], opening.places)
    left = more.doubted()
    assert ("reading/BL to TR",) in left.explanations
    assert len(left.explanations) < len(doubted.explanations)
    assert "reading/TL left of plumb from BL" not in {s.key for s in left.suspects}


def test_every_explanation_foretells_what_would_come_out() -> None:
    opening = one_to_spare()
    _, (best, *_) = asked(opening)
    by_words = {f.words: f.value for f in best.foretold}
    assert by_words["the diagonal from bottom left to top right"] == pytest.approx(5.0, abs=1e-6)
    plumb_wrong = by_words["the plumb line from BL to TL"]
    rest = [o for o in opening.seen if o.relation != "across"]
    found = adjust(rest, opening.places)
    assert isinstance(found, Survey)
    at = {mark.name: mark.at for mark in found.marks}
    assert plumb_wrong == pytest.approx(math.dist(at["BR"], at["TL"]), abs=1e-6)
    assert best.why.startswith("it would come out at 16'-4 7/8\" if the ")
    assert best.why.endswith("the plumb line from BL to TL or the rise from BL to BR is wrong")
    # Five explanations in two lots: one measurement does not do.
    assert best.decides_by == pytest.approx(0.0, abs=0.1)
    assert 0.35 < best.right < 0.5
    assert 0.3 < best.answers < 0.5


def test_a_width_that_may_be_misread_or_between_bowed_sides_is_read_again() -> None:
    everything, places, found, doubted = of_example("yard-gate")
    best = further(everything, places, found, doubted)
    assert len(best) == 3
    assert best[0].kind == "again"
    assert best[0].words == "read the width half way up again, from the other end"
    assert best[0].why == (
        "it would come out at 20'-4\" if the width half way up is wrong; 20'-2 1/16\" if the "
        "straightness taken for the left side at L@mid or the straightness taken for the right "
        "side at R@mid is wrong"
    )
    strings = [
        one for one in further(everything, places, found, doubted, most=99) if one.kind == "offset"
    ]
    assert strings[0].words.startswith("stretch a string from B")
    assert "to the right" in strings[0].why or "to the left" in strings[0].why


def test_a_measurement_that_was_made_is_not_asked_for_again() -> None:
    _, all_of = asked(one_to_spare(), most=99)
    distances = {frozenset((one.first, one.second)) for one in all_of if one.kind == "distance"}
    assert distances == {frozenset(("BR", "TL"))}
    assert {one.kind for one in all_of} == {"again", "distance", "plumb", "rise"}
    answers = [one.answers for one in all_of]
    assert all(a >= b - 0.01 for a, b in itertools.pairwise(answers))


def test_a_surer_instrument_tells_more() -> None:
    opening = one_to_spare()
    doubted, found = opening.doubted(), opening.adjusted()
    rough = Instruments(0.05, 0.05, 4.0, 0.05, 0.05, 0.05)

    def told(sure: Instruments | None) -> float:
        all_of = further(opening.seen, opening.places, found, doubted, instruments=sure, most=99)
        return next(one.answers for one in all_of if one.kind == "distance")

    assert told(rough) < 0.5 * told(None)


def test_where_nothing_checks_the_readings_the_one_that_checks_most() -> None:
    job = job_of(
        [
            distance("BL", "BR", 3.0),
            distance("BL", "TL", 4.0),
            distance("BR", "TR", 4.0),
            distance("TL", "TR", 3.0),
            plumb("BL", "TL", 0.0, "left"),
            rise("BL", "BR", 0.0),
        ]
    )
    everything, _ = observations(job)
    opening = Read(list(everything), starting_places(job, everything))
    doubted, best = asked(opening)
    assert doubted.verdict == "unverified"
    assert best[0].why == f"it would check {best[0].checks} readings that nothing checks now"
    assert best[0].checks >= best[1].checks >= best[2].checks >= 1
    assert (best[0].answers, best[0].foretold) == (0.0, ())
    true = {mark.name: mark.at for mark in opening.adjusted().marks}
    more = Read([*opening.seen, made(best[0], true, 0.0, 0.0015)], opening.places)
    checked = [
        one
        for one in more.doubted().reliability
        if one.redundancy >= 0.17 and one.key != "further" and not one.assumed
    ]
    assert len(checked) == best[0].checks


def test_nothing_is_asked_for_where_nothing_is_open() -> None:
    rng = random.Random(102)
    good = read(rng)
    assert asked(good)[1] == ()
    named = good.wrong_by(good.index("BL to TR"), 0.1)
    doubted, best = asked(named)
    assert doubted.verdict == "in doubt"
    assert best == ()
    lone = job_of([distance("BL", "BR", 3.0), level("BL", 0.0), level("BR", 0.0)])
    everything, _ = observations(lone)
    places = starting_places(lone, everything)
    found = adjust(everything, places)
    assert isinstance(found, Survey)
    # Two marks, and all is measured between them but the plumb lines and the rise.
    left = further(everything, places, found, doubts(everything, places, found))
    assert {one.kind for one in left} <= {"rise", "plumb"}
