"""Random openings with errors such as instruments have, and blunders planted in their readings."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass

from scipy.stats import binom

from leafwright.records import Point3
from leafwright.survey import Observation, Survey
from leafwright.survey.adjust import adjust
from leafwright.survey.doubt import Doubts, doubts
from leafwright.survey.observe import observations, starting_places
from leafwright.survey.reliability import reliabilities
from tests.survey.openings import (
    Reading,
    along,
    distance,
    job_of,
    random_marks,
    rise,
    shifted,
    true_readings,
)

SD = "1.5 mm"


@dataclass(frozen=True)
class Read:
    """An opening as read: the observations, where to start, and their adjustment."""

    seen: list[Observation]
    places: dict[str, Point3]

    def adjusted(self) -> Survey:
        found = adjust(self.seen, self.places)
        assert isinstance(found, Survey), found
        return found

    def doubted(self) -> Doubts:
        return doubts(self.seen, self.places, self.adjusted())

    def index(self, words: str) -> int:
        return next(i for i, seen in enumerate(self.seen) if seen.words == words)

    def wrong_by(self, index: int, metres: float) -> Read:
        changed = [shifted(o, metres) if i == index else o for i, o in enumerate(self.seen)]
        return Read(changed, self.places)


def readings_of(rng: random.Random, *, well: bool) -> list[Reading]:
    """Return true readings of a random opening: some to spare, or many."""
    marks = random_marks(rng)
    if not well:
        up = rng.choice([None, f"{rng.uniform(600, 1500):.0f} mm"])
        return true_readings(marks, up=up, sd=SD)
    found = true_readings(marks, sd=SD)
    for metres in sorted(rng.sample(range(5, 17), 2)):
        up = f"{100 * metres} mm"
        left, right = (along(marks, side, metres / 10) for side in ("left", "right"))
        ends = {f"L@{up}": left, f"R@{up}": right, "BL": marks["BL"], "TR": marks["TR"]}
        for a, b in ((f"L@{up}", f"R@{up}"), ("BL", f"R@{up}"), (f"L@{up}", "TR")):
            found.append(distance(a, b, math.dist(ends[a], ends[b]), sd=SD))
    for a, b in (("BL", "BR"), ("TL", "TR")):
        found.append(rise(a, b, marks[b][1] - marks[a][1], sd=SD))
    return found


def read(rng: random.Random, *, well: bool = True, noise: float = 1.0) -> Read:
    """Return a random opening, every observation with an error as large as it promises."""
    job = job_of(readings_of(rng, well=well))
    everything, _ = observations(job)
    wrong = [shifted(seen, noise * rng.gauss(0.0, seen.sd)) for seen in everything]
    return Read(wrong, starting_places(job, everything))


def planted(
    rng: random.Random, opening: Read, count: int, *, times: float = 2.0, metres: float = 0.0
) -> tuple[Read, frozenset[str]]:
    """Return the opening with blunders in readings that are checked, and those readings' keys.

    Each is so many times the smallest that would show, or so many metres if given.
    """
    sure = reliabilities(opening.adjusted())
    checked = [i for i, one in enumerate(sure) if one.smallest is not None and not one.assumed]
    keys = []
    for i in rng.sample(checked, count):
        size = metres or times * (sure[i].smallest or 0.0)
        opening = opening.wrong_by(i, rng.choice((-1.0, 1.0)) * size)
        keys.append(sure[i].key)
    return opening, frozenset(keys)


def named(doubted: Doubts, keys: frozenset[str]) -> bool:
    """Return whether just these readings are one of the explanations."""
    return keys in {frozenset(one) for one in doubted.explanations}


def allowed(count: int, promise: float) -> int:
    """Return how many of so many may fail before one in a million is passed.

    ``promise`` is the share that may fail.
    """
    return int(binom.isf(1e-6, count, promise))


def swapped(seen: Observation) -> list[float]:
    """Return a distance in whole millimetres with two neighbouring figures changed about [m]."""
    figures = f"{1000 * seen.quantity.value:.0f}"
    return [
        float(figures[:i] + figures[i + 1] + figures[i] + figures[i + 2 :]) / 1000.0
        for i in range(len(figures) - 1)
        if figures[i] != figures[i + 1]
    ]
