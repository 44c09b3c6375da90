"""Area J of the check values, on blunders: which line of a level net is wrong, and which is not."""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest

from leafwright.survey import Observation, Survey, at
from leafwright.survey.adjust import adjust
from leafwright.survey.doubt import Doubts, doubts
from leafwright.survey.reliability import critical_value, noncentrality
from tests.published.test_area_j import BLUNDERED, GAMA, Line
from tests.survey.openings import observation


def doubted(lines: Sequence[Line], sd: float) -> tuple[Survey, Doubts]:
    """Return a level net, fixed at the mark ``BL``, and what is in doubt about its lines."""
    names = dict.fromkeys(name for first, second, _ in lines for name in (first, second))
    seen: list[Observation] = [
        observation(f"{first}-{second}", "up", (first, second), by, sd)
        for first, second, by in lines
    ]
    seen += [
        observation(f"{name} across", "across", ("BL", name), 0.0, 0.001)
        for name in names
        if name != "BL"
    ]
    places = dict.fromkeys(names, (0.0, 0.0, 0.0))
    found = adjust(seen, places)
    assert isinstance(found, Survey), found
    return found, doubts(seen, places, found)


def test_no_line_of_the_loop_is_rejected() -> None:
    # J03: GNU Gama, 1D sample output of version 1.5.09; |w| = 1.676 for 2 to 3, no rejection.
    _, said = doubted(GAMA, 0.005)
    assert said.suspects == ()
    assert said.verdict == "agrees"


def test_the_blundered_line_is_named_alone_and_sized() -> None:
    # J05 and J06, recomputed: d-a is rejected first, its error is −28 mm, and the rest agree:
    # b 2.0020, c 3.0040, d 2.5020 m. Critical value 3.29 at 0.001 (Baarda 1968).
    found, said = doubted(BLUNDERED, 0.003)
    assert said.critical == pytest.approx(3.29, abs=0.005)
    assert found.weighted_sum == pytest.approx(44.89, abs=0.01)
    (suspect,) = said.suspects
    assert suspect.key == "d-BL"
    assert suspect.certain
    assert suspect.error == pytest.approx(-0.028, abs=1e-5)
    # σ / √r with r = 0.5, and w = 6.600 of the row.
    assert suspect.sd == pytest.approx(0.003 / math.sqrt(0.5), rel=1e-6)
    assert abs(suspect.standardised) == pytest.approx(6.600, abs=0.01)
    assert said.mends is True
    moved = {move.mark: move.by[1] for move in suspect.moves}
    expected = {"b": 2.0020, "c": 3.0040, "d": 2.5020}
    for name, height in expected.items():
        assert at(found, name).at[1] + moved[name] == pytest.approx(height, abs=1e-6)


def test_internal_reliability_of_the_net() -> None:
    # Baarda (1968): δ0 = 4.13 at α0 = 0.001 and a power of 80 %; σ δ0 / √r with σ = 3 mm, r = 0.5.
    assert noncentrality(critical_value(6)) == pytest.approx(4.13, abs=0.005)
    _, said = doubted(BLUNDERED, 0.003)
    lines = [one for one in said.reliability if "across" not in one.key]
    for one in lines:
        assert one.redundancy == pytest.approx(0.5)
        assert one.smallest == pytest.approx(0.003 * 4.13 / math.sqrt(0.5), rel=2e-3)
