"""Fits, threads and drills: what always holds, and what is refused."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import get_args

import numpy as np
import pytest

from leafwright.handbook import fits, threads
from tests.sizes import cases

INCH, MM = 0.0254, 1e-3


def test_a_measured_fit_is_named_by_every_class_that_holds_it_and_no_other() -> None:
    rng = np.random.default_rng(21)
    for _ in range(cases(25, 500)):
        bore = rng.uniform(0.1, 3.15) * INCH
        pin = bore - rng.uniform(-2.0, 8.0) * 1e-3 * INCH
        found = fits.measured_fit(pin, bore)
        for name in get_args(fits.InchFit):
            fit = fits.inch_fit(bore, name)
            assert (name in found.inch) == (fit.least <= found.clearance <= fit.greatest), name
        for name in fits.PREFERRED:
            fit = fits.iso_fit(bore, name)
            assert (name in found.iso) == (fit.least <= found.clearance <= fit.greatest), name
        assert (found.clearance < 0) == (
            found.kind == "interference"
        ) or found.kind == "line to line"


def test_an_interference_that_turns_is_clearance() -> None:
    # Half a thou of air is clearance whatever the drawing called it; a tenth within a tenth is not.
    assert fits.measured_fit(1.2495 * INCH, 1.25 * INCH).kind == "clearance"
    assert fits.measured_fit(1.25 * INCH, 1.25 * INCH).kind == "line to line"
    near = fits.measured_fit(1.2501 * INCH, 1.25 * INCH, resolution=2e-4 * INCH)
    assert near.kind == "line to line"


def test_names_are_tightest_first_and_looked_up_at_the_nominal_size() -> None:
    found = fits.measured_fit(49.96 * MM, 50.02 * MM, nominal=50.0 * MM)
    widths = [
        fits.iso_fit(50.0 * MM, name).greatest - fits.iso_fit(50.0 * MM, name).least
        for name in found.iso
    ]
    assert widths == sorted(widths) and "H7/f7" in found.iso
    # By the bore's own size it would fall into the next step.
    assert "H7/g6" not in found.iso
    large = fits.measured_fit(0.1999, 0.2)
    assert large.inch == () and large.iso
    assert fits.measured_fit(0.5999, 0.6).iso == ()


def test_a_hole_mirrors_its_shaft() -> None:
    rng = np.random.default_rng(22)
    for _ in range(cases(25, 500)):
        size, grade = rng.uniform(1e-3, 0.5), int(rng.integers(5, 13))
        for letter in "defgh":
            shaft = fits.shaft_limits(size, f"{letter}{grade}")
            hole = fits.hole_limits(size, f"{letter.upper()}{grade}")
            assert (hole.lower, hole.upper) == pytest.approx((-shaft.upper, -shaft.lower))
        for one in (fits.shaft_limits(size, f"js{grade}"), fits.hole_limits(size, f"JS{grade}")):
            assert (
                one.upper == -one.lower == pytest.approx(fits.standard_tolerance(size, grade) / 2)
            )


def test_a_step_ends_with_its_own_size() -> None:
    assert fits.standard_tolerance(18 * MM, 7) == pytest.approx(18e-6)
    assert fits.standard_tolerance(18.001 * MM, 7) == pytest.approx(21e-6)
    assert fits.inch_fit(1.19 * INCH, "RC4").least == pytest.approx(0.8e-3 * INCH)
    assert fits.inch_fit(1.1901 * INCH, "RC4").least == pytest.approx(1.0e-3 * INCH)
    # Above grade 7 a k shaft begins at the nominal size.
    assert fits.shaft_limits(0.02, "k8").lower == 0.0
    # In the first step a hole's limits have no Δ.
    assert fits.hole_limits(2 * MM, "N7").upper == pytest.approx(-4e-6)


def test_a_coarser_grade_is_wider() -> None:
    for top in (3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500):
        widths = [fits.standard_tolerance(top * MM, grade) for grade in range(5, 13)]
        assert widths == sorted(set(widths))


def test_drill_and_percentage_are_each_others_inverse() -> None:
    rng = np.random.default_rng(23)
    for _ in range(cases(25, 500)):
        diameter = rng.uniform(4e-3, 0.03)
        pitch, percent = diameter * rng.uniform(0.05, 0.2), rng.uniform(40.0, 90.0)
        hole = threads.hole_for_thread(diameter, pitch, percent)
        assert threads.percent_of_thread(diameter, pitch, hole) == pytest.approx(percent)
        found = threads.tap_drill(diameter, pitch, percent=percent)
        # Half of a sixty-fourth of an inch.
        assert abs(found.drill.diameter - hole) <= 0.1985 * MM
        assert found.percent == pytest.approx(
            threads.percent_of_thread(diameter, pitch, found.drill.diameter)
        )


def test_thread_sizes_stand_in_their_order_and_scale() -> None:
    rng = np.random.default_rng(24)
    for _ in range(cases(25, 500)):
        diameter = rng.uniform(4e-3, 0.05)
        pitch = diameter * rng.uniform(0.05, 0.2)
        metric = threads.metric_thread(diameter, pitch)
        unified = threads.unified_thread(diameter, INCH / pitch)
        for found in (metric, unified):
            assert found.external_minor < found.internal_minor < found.pitch_diameter < diameter
            inner, outer = (math.pi / 4 * d**2 for d in (found.external_minor, diameter))
            assert inner < found.stress_area < outer
        assert unified.pitch_diameter == pytest.approx(metric.pitch_diameter)
        doubled = threads.metric_thread(2 * diameter, 2 * pitch)
        assert doubled.stress_area == pytest.approx(4 * metric.stress_area)


def test_nearest_drill_of_a_family() -> None:
    wanted = 6.45 * MM
    assert threads.nearest_drill(wanted, family="fraction").name == "1/4 in"
    assert threads.nearest_drill(wanted, family="letter").name == "F"
    assert threads.nearest_drill(0.201 * INCH, family="number").name == "#7"
    assert threads.nearest_drill(6.41 * MM, family="millimetre").name == "6.4 mm"
    assert threads.nearest_drill(6.41 * MM).name == "6.4 mm"
    # Letter E is 1/4 in too.
    assert threads.nearest_drill(6.41 * MM, family="inch").name == "1/4 in"
    assert threads.nearest_drill(25.4 * MM, family="fraction").name == "1 in"


REFUSED: list[tuple[Callable[[], object], str]] = [
    (lambda: fits.standard_tolerance(0.02, 4), "grade 4 is not held; give 5 to 12"),
    (lambda: fits.standard_tolerance_by_formula(0.02, 13), "grade 13 is not held"),
    (lambda: fits.standard_tolerance(0.51, 7), "give over 0 and up to 0.5"),
    (lambda: fits.step_mean(0.0), "give over 0 and up to 0.5"),
    (lambda: fits.shaft_limits(0.02, "H7"), "give one of d, e, f, g, h, js, k, n, p"),
    (lambda: fits.shaft_limits(0.02, "7"), "a shaft's letter is small, as in g6"),
    (lambda: fits.hole_limits(0.02, "g6"), "hole class 'g6' is not in the tables"),
    (lambda: fits.hole_limits(0.02, "K9"), "K or N with 6 to 8, P with 6 to 12"),
    (lambda: fits.hole_limits(0.02, "H"), "a hole's letter is a capital, as in H7"),
    (lambda: fits.iso_fit(0.02, "H7"), "give hole class / shaft class, as H7/g6"),
    (lambda: fits.inch_fit(0.09, "RC4"), "up to 3.15 in"),
    (lambda: fits.inch_fit(0.02, "FN1"), "give one of RC1, RC2"),  # type: ignore[arg-type]
    (lambda: fits.measured_fit(0.0, 0.02), "the pin's diameter is"),
    (lambda: fits.measured_fit(0.02, -0.02), "the bore's diameter is"),
    (lambda: fits.measured_fit(0.02, 0.02, resolution=-1.0), "the resolution is"),
    (lambda: threads.metric_thread(0.0, 1e-3), "the thread's diameter is"),
    (lambda: threads.metric_thread(6e-3, 0.0), "the pitch is"),
    (lambda: threads.metric_thread(6e-3, 20.0), "give pitch as crest to crest"),
    (lambda: threads.unified_thread(6e-3, 0.0), "threads on an inch is"),
    (lambda: threads.pipe_thread(0.0, 27.0), "the pipe's diameter is"),
    (lambda: threads.pipe_thread(0.01, 0.0), "threads on an inch is"),
    (lambda: threads.hole_for_thread(6e-3, 1e-3, 0.75 * 200), "50 to 75 is usual"),
    (lambda: threads.percent_of_thread(6e-3, 1e-3, 0.0), "the hole's diameter is"),
    (lambda: threads.nearest_drill(0.1), "Look among another family, or bore the hole"),
    (lambda: threads.nearest_drill(0.0), "the drill's diameter is"),
]


@pytest.mark.parametrize(("asked", "message"), REFUSED)
def test_refused(asked: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        asked()
