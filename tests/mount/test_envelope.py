"""What the leaf gives each pin: free to tilt, and bound in its bore after its play."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from leafwright.frame.load_cases import LiveLoads, leaf_cases, with_cases
from leafwright.frame.model import Case, FrameModel, NodeLoad
from leafwright.frame.of_leaf import Holding, leaf_frame
from leafwright.frame.solve import FrameResult, solve
from leafwright.job.defaults import DEFAULTS
from leafwright.mount.envelope import pin_envelope, pin_place
from tests.leaves import random_leaf
from tests.mount.pivots import INCH, hung
from tests.mount.proved import load
from tests.sizes import cases

FREE = load("pivot 1", x=300.0, y=2000.0, z=-400.0, turn_x=0.008, turn_z=-0.006)
BOUND = load("pivot 1", situation="person, clamped", x=300.0, y=2000.0, mx=60.0, mz=80.0)


def test_what_the_leaf_gives_is_the_opposite_of_what_its_pivot_gives() -> None:
    (given,) = pin_envelope(hung(FREE), "pivot 1")
    assert (given.x, given.z) == (-300.0, 400.0)
    assert given.shear == pytest.approx(500.0)
    # The pivot holds the leaf up, so the leaf presses down.
    assert given.axial == 2000.0
    assert given.moment == 0.0


def test_a_pin_carries_what_is_left_of_the_clamped_moment_after_its_play() -> None:
    # Engagement 4.5 - 1 - 1.5 = 2 in, clearance 0.01 in: play 0.005 of a tilt of 0.010.
    m = hung(FREE, BOUND)
    assert pin_place(m, "pivot 1").play == pytest.approx(0.005)
    free, bound = pin_envelope(m, "pivot 1")
    assert free.moment == 0.0
    assert bound.share == pytest.approx(0.5)
    assert bound.moment == pytest.approx(0.5 * 100.0)


def test_a_pin_whose_play_takes_its_whole_tilt_does_not_bind() -> None:
    free = replace(FREE, turn_x=0.00297, turn_z=0.00396)
    assert pin_envelope(hung(free, BOUND), "pivot 1")[1].moment == 0.0
    # A hair more tilt than play, and it begins to.
    free = replace(FREE, turn_x=0.00303, turn_z=0.00404)
    assert pin_envelope(hung(free, BOUND), "pivot 1")[1].moment == pytest.approx(0.99, rel=0.01)


@pytest.mark.parametrize(
    "lacking",
    [{"sleeve_bore": None}, {"pin_diameter": None}, {"bottom_pin_length": None}],
)
def test_play_that_is_not_known_is_taken_both_ways(lacking: dict[str, Any]) -> None:
    free, bound = pin_envelope(hung(FREE, BOUND, **lacking), "pivot 1")
    assert free.moment == 0.0
    assert bound.moment == pytest.approx(100.0)
    assert "not known" in bound.how


def test_what_is_out_of_true_uses_play_up() -> None:
    out = math.degrees(0.0025)
    m = hung(FREE, BOUND, pin_square=f"{out:.6f} deg")
    assert pin_envelope(m, "pivot 1")[1].moment == pytest.approx(75.0, rel=1e-4)
    m = hung(FREE, BOUND, pin_square=f"{out:.6f} deg", plate_level=f"{out + 0.1:.6f} deg")
    assert pin_envelope(m, "pivot 1")[1].moment == pytest.approx(100.0)


def test_a_pin_that_binds_alone_takes_about_half_of_the_others_moment_too() -> None:
    other = load("pivot 2", situation="person, clamped", mx=-40.0, mz=20.0)
    bound = pin_envelope(hung(FREE, BOUND, other), "pivot 1")[1]
    # Half of its own is left after its play, as above.
    assert (bound.mx, bound.mz) == pytest.approx((-0.5 * (60.0 + 22.0), -0.5 * (80.0 + 11.0)))


def test_the_sleeve_presses_in_the_middle_of_its_engagement_or_at_the_pins_end() -> None:
    at = pin_place(hung(FREE), "pivot 1")
    assert at.engagement == pytest.approx(2 * INCH)
    assert at.lever == pytest.approx((4 - 1) * INCH)
    unknown = pin_place(hung(FREE, sleeve_length=None), "pivot 1")
    assert unknown.lever == pytest.approx(4 * INCH)
    assert unknown.engagement == pytest.approx(3.5 * INCH)
    assert unknown.least_engagement == pytest.approx(1.5 * INCH)


def test_a_sleeve_counts_no_lower_than_the_leafs_edge() -> None:
    at = pin_place(hung(FREE, sleeve_length="12 in"), "pivot 1")
    assert at.engagement == pytest.approx(3.5 * INCH)


def _moments(model: FrameModel, case: Case, nodes: list[str]) -> tuple[dict[str, float], ...]:
    """Return the moments about x at nodes [N m], and their tilts [rad], in one case."""
    result = solve(replace(model, cases=(case,)))
    assert isinstance(result, FrameResult)
    index = {key: i for i, key in enumerate(result.nodes)}
    return (
        {n: float(result.reactions[0, index[n], 3]) for n in nodes},
        {n: float(result.displacements[0, index[n], 3]) for n in nodes},
    )


def _loosened(case: Case, *nodes: str) -> Case:
    """Return a case with these nodes free to tilt."""
    return replace(
        case,
        supports=tuple(
            replace(s, fixed=(*s.fixed[:3], False, s.fixed[4], False)) if s.node in nodes else s
            for s in case.supports
        ),
    )


@pytest.mark.parametrize("seed", range(cases(6, 60)))
def test_play_and_carry_over_hold_in_the_leaf_as_a_frame(seed: int) -> None:
    # The two lines that the module derives, against the frame itself, pushed out of its plane.
    _, _, leaf = random_leaf(seed)
    frame = leaf_frame(leaf, Holding(leaf.members[0].foot[0], (0.0, leaf.height)), 1.0)
    model = with_cases(frame, leaf_cases("ASD", clamped=True), LiveLoads(90.0, 220.0))
    case = next(c for c in model.cases if c.key == "pushed, clamped")
    pins = [frame.places[p] for p in ("pivot 1", "pivot 2")]
    both, _ = _moments(model, case, pins)
    for one, other in (pins, pins[::-1]):
        alone, _ = _moments(model, _loosened(case, other), pins)
        most = abs(both[one]) + DEFAULTS["carry-over"].inch * abs(both[other])
        assert abs(alone[one]) <= most * (1.0 + 1e-6)
        # With half of its tilt taken by play, half of that moment brings the tilt down to it.
        free = _loosened(case, *pins)
        _, tilt = _moments(model, free, pins)
        moment = NodeLoad(one, (0.0, 0.0, 0.0), (0.5 * alone[one], 0.0, 0.0))
        _, left = _moments(model, replace(free, node_loads=(*free.node_loads, moment)), pins)
        assert left[one] == pytest.approx(0.5 * tilt[one], rel=1e-6)
