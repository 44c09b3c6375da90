"""Screws in thin steel, against the tables of public evaluation reports on self-drilling screws."""

from __future__ import annotations

import pytest

from leafwright.handbook import screws

INCH, LBF = 0.0254, 4.4482216152605
KSI_45 = 45000 * LBF / INCH**2


# An evaluation report's table of allowable pull-out, F_u = 45 ksi, safety factor 3.0 (read):
# diameter and wall [in], load [lbf] to whole pounds.
@pytest.mark.parametrize(
    ("diameter", "wall", "load"),
    [
        (0.190, 0.018, 44),
        (0.190, 0.060, 145),
        (0.190, 0.125, 303),
        (0.216, 0.024, 66),
        (0.216, 0.105, 289),
        (0.216, 0.187, 515),
        (0.250, 0.048, 153),
        (0.250, 0.250, 797),
    ],
)
def test_pull_out(diameter: float, wall: float, load: float) -> None:
    found = screws.pull_out(diameter * INCH, wall * INCH, KSI_45) / screws.SAFETY / LBF
    assert found == pytest.approx(load, abs=0.51)


# A table of ultimate pull-over of a head of 1/2 in, F_u = 45 ksi (read): sheet [in], load [lbf],
# given to tens.
@pytest.mark.parametrize(
    ("sheet", "load"),
    [(0.030, 1010), (0.036, 1220), (0.048, 1620), (0.060, 2030), (0.075, 2530), (0.105, 3540)],
)
def test_pull_over(sheet: float, load: float) -> None:
    found = screws.pull_over(0.5 * INCH, sheet * INCH, KSI_45) / LBF
    assert found == pytest.approx(load, abs=6.0)


def test_head_is_counted_up_to_three_quarters_of_an_inch() -> None:
    # AISI S100, J4.4.2: d'_w not larger than 3/4 in (from memory).
    widest = screws.pull_over(0.75 * INCH, 1e-3, KSI_45)
    assert screws.pull_over(1.0 * INCH, 1e-3, KSI_45) == widest
    assert screws.pull_over(0.5 * INCH, 1e-3, KSI_45) < widest


@pytest.mark.parametrize(
    ("given", "word"),
    [
        ({"diameter": 0.0}, "the screw's diameter is 0.0 m"),
        ({"wall": -1e-3}, "the wall is -0.001 m"),
        ({"F_u": 0.0}, "the tensile strength is 0.0 Pa"),
    ],
)
def test_what_pulls_nothing_out_is_refused(given: dict[str, float], word: str) -> None:
    with pytest.raises(ValueError, match=word):
        screws.pull_out(**{"diameter": 5e-3, "wall": 2e-3, "F_u": 4e8, **given})


def test_small_head_wants_a_washer() -> None:
    with pytest.raises(ValueError, match="put a washer under it"):
        screws.pull_over(0.25 * INCH, 1e-3, KSI_45)
