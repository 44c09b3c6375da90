"""The cases of a leaf: their factors, which way the loads act, and what is on the leaf in each."""

from __future__ import annotations

from typing import Literal

import numpy as np
import pytest

from leafwright.frame.equilibrium import balance
from leafwright.frame.load_cases import (
    BARE,
    NAMES,
    LiveLoads,
    NosePlace,
    WindFactors,
    leaf_cases,
    with_cases,
)
from leafwright.frame.of_leaf import GRAVITY, Holding, MemberLoad, leaf_frame
from leafwright.frame.solve import FrameResult, solve
from leafwright.leaf import Leaf
from tests.leaves import made, random_leaf
from tests.sizes import cases

LIVE = LiveLoads(person=90.0, push=220.0)
# ASCE/SEI 7-22, 2.4.1 and 2.3.1 (from memory): 0.6 W and 1.0 W.
WIND = {"ASD": WindFactors(0.6, 0.6), "LRFD": WindFactors(1.0, 0.6)}
FREE = [s for s in NAMES if not s.endswith(", clamped")]
CALM = [s for s in FREE if not s.startswith(("wind", "open stop"))]
SHEET = {"kind": "sheet", "thickness": "2 mm"}


def loads_on(leaf: Leaf, method: Literal["ASD", "LRFD"]) -> dict[str, np.ndarray]:
    """Return the sum of the loads in each case [N], x, y, z."""
    frame = leaf_frame(leaf, Holding(leaf.members[0].foot[0], (0.0, leaf.height)), 1.0)
    model = with_cases(frame, leaf_cases(method), LIVE)
    result = solve(model)
    assert isinstance(result, FrameResult)
    sums = balance(model, result)
    return {case: total[:3] for case, total in zip(sums.cases, sums.loads, strict=True)}


def test_allowable_strength_takes_loads_as_they_are() -> None:
    # ASCE/SEI 7-22, 2.4.1, combinations 1 and 2: D, D + L (from memory).
    found = leaf_cases("ASD")
    assert [c.situation for c in found] == CALM
    assert all((c.dead, c.live) == (1.0, 1.0) for c in found)
    assert all(c.for_strength and c.for_movement for c in found)
    # With wind, its own factor; clamped pins serve strength alone.
    every = leaf_cases("ASD", WIND["ASD"], clamped=True, stop=True)
    assert [c.situation for c in every] == list(NAMES)
    for c in every:
        assert (c.dead, c.live) == (1.0, 0.6 if c.situation.startswith("wind") else 1.0)
        assert c.for_strength
        assert c.for_movement == (c.situation in FREE)


def test_load_factors_serve_strength_and_never_movement() -> None:
    # ASCE/SEI 7-22, 2.3.1, combinations 1 and 2: 1.4 D, 1.2 D + 1.6 L (from memory).
    found = leaf_cases("LRFD")
    moving = [c for c in found if c.for_movement]
    strong = {c.situation: (c.dead, c.live) for c in found if c.for_strength}
    assert [c.situation for c in moving] == CALM
    assert all((c.dead, c.live) == (1.0, 1.0) and not c.for_strength for c in moving)
    assert strong == {
        "standing": (1.4, 0.0),
        "person": (1.2, 1.6),
        "pushed": (1.2, 1.6),
        "trestles": (1.4, 0.0),
        "three points": (1.4, 0.0),
        "tipped": (1.4, 0.0),
        "lifted": (1.4, 0.0),
    }
    assert len({c.key for c in found}) == len(found)
    # A knock on the open stop is a live load.
    knock = {c.situation: (c.dead, c.live) for c in leaf_cases("LRFD", stop=True) if c.for_strength}
    assert knock["open stop"] == (1.2, 1.6)


def test_wind_has_one_factor_for_strength_and_one_for_movement() -> None:
    # ASCE/SEI 7-22, 2.3.1, combination 4: 1.2 D + 1.0 W (from memory).
    found = leaf_cases("LRFD", WIND["LRFD"], clamped=True)
    windy = [c for c in found if c.situation.startswith("wind")]
    assert {(c.situation, c.dead, c.live) for c in windy if c.for_movement} == {
        ("wind on face", 1.0, 0.6),
        ("wind on back", 1.0, 0.6),
    }
    strong = [c for c in windy if c.for_strength]
    assert len(strong) == 4
    assert all((c.dead, c.live, c.for_movement) == (1.2, 1.0, False) for c in strong)
    assert len({c.key for c in found}) == len(found)


@pytest.mark.parametrize("nose", [("bottom",), ("top",), ("bottom", "top")])
def test_wind_presses_on_either_face_of_a_leaf_held_at_its_nose(
    nose: tuple[NosePlace, ...],
) -> None:
    _, _, leaf = made(1.2, 3.0, infill=[SHEET])
    frame = leaf_frame(leaf, Holding(leaf.members[0].foot[0], (0.0, leaf.height)), 1.0)
    stile = [e for e in frame.model.elements if e.member == "leaf/meeting stile"]
    blown = tuple(MemberLoad(e.key, 100.0) for e in stile)
    live = LiveLoads(90.0, 220.0, blown, nose)
    model = with_cases(frame, leaf_cases("ASD", WIND["ASD"], clamped=True), live)
    result = solve(model)
    assert isinstance(result, FrameResult)
    sums = balance(model, result)
    at = dict(zip(sums.cases, sums.loads, strict=True))
    height = {n.key: n.at[1] for n in model.nodes}
    force = 0.6 * 100.0 * sum(height[e.end] - height[e.start] for e in stile)
    hung = leaf.hung_mass * GRAVITY
    for clamped in ("", ", clamped"):
        assert tuple(at[f"wind on face{clamped}"][:3]) == pytest.approx((0.0, -hung, -force))
        assert tuple(at[f"wind on back{clamped}"][:3]) == pytest.approx((0.0, -hung, force))
    assert float(np.max(sums.relative)) < 1e-9
    for case in model.cases:
        held = [s for s in case.supports if "nose" in s.node]
        if case.key.startswith("wind"):
            assert [s.node for s in held] == [f"{where} nose" for where in nose]
            assert all(s.fixed == (False, False, True, False, False, False) for s in held)
        pivots = [s for s in case.supports if s.node.startswith("pivot")]
        if case.key not in BARE:
            # A clamped pin holds the stile from tilting; about its axis the leaf still turns.
            assert all(s.fixed[3] == s.fixed[5] == case.key.endswith("clamped") for s in pivots)


def test_loads_act_down_and_the_push_away_from_the_viewer() -> None:
    _, _, leaf = made(1.2, 3.0, infill=[SHEET])
    hung, bare = leaf.hung_mass * GRAVITY, leaf.lift_mass * GRAVITY
    P = LIVE.person * GRAVITY
    assert {k: tuple(v) for k, v in loads_on(leaf, "ASD").items()} == {
        "standing": pytest.approx((0.0, -hung, 0.0)),
        "person": pytest.approx((0.0, -hung - P, 0.0)),
        "pushed": pytest.approx((0.0, -hung, -LIVE.push)),
        # Laid down and lifted before it is clad.
        "trestles": pytest.approx((0.0, 0.0, -bare)),
        "three points": pytest.approx((0.0, 0.0, -bare)),
        "tipped": pytest.approx((0.0, 0.0, -bare)),
        "lifted": pytest.approx((0.0, -bare, 0.0)),
    }


def test_factored_cases_carry_their_factors() -> None:
    _, _, leaf = made(1.2, 3.0, infill=[SHEET])
    hung, bare = leaf.hung_mass * GRAVITY, leaf.lift_mass * GRAVITY
    P = LIVE.person * GRAVITY
    found = loads_on(leaf, "LRFD")
    assert tuple(found["standing, factored"]) == pytest.approx((0.0, -1.4 * hung, 0.0))
    assert tuple(found["person, factored"]) == pytest.approx((0.0, -1.2 * hung - 1.6 * P, 0.0))
    assert tuple(found["pushed, factored"]) == pytest.approx((0.0, -1.2 * hung, -1.6 * LIVE.push))
    assert tuple(found["trestles, factored"]) == pytest.approx((0.0, 0.0, -1.4 * bare))
    assert tuple(found["lifted, factored"]) == pytest.approx((0.0, -1.4 * bare, 0.0))
    assert tuple(found["person"]) == pytest.approx((0.0, -hung - P, 0.0))


@pytest.mark.parametrize("seed", range(cases(5, 100)))
def test_factored_forces_are_the_sum_of_their_factored_parts(seed: int) -> None:
    _, _, leaf = random_leaf(seed)
    frame = leaf_frame(leaf, Holding(leaf.members[0].foot[0], (0.0, leaf.height)), 1.0)
    result = solve(with_cases(frame, leaf_cases("LRFD"), LIVE))
    assert isinstance(result, FrameResult)
    at = {case: result.end_forces[i] for i, case in enumerate(result.cases)}
    dead = at["standing"]
    person = at["person"] - dead
    largest = np.abs(at["person"]).max()
    assert np.abs(at["person, factored"] - 1.2 * dead - 1.6 * person).max() < 1e-7 * largest
    assert np.abs(at["standing, factored"] - 1.4 * dead).max() < 1e-7 * largest


def test_person_hangs_on_the_nose_and_the_stop_is_at_its_foot() -> None:
    _, _, leaf = made(1.2, 3.0)
    frame = leaf_frame(leaf, Holding(leaf.members[0].foot[0], (0.0, 3.0)), 1.1)
    model = with_cases(frame, leaf_cases("ASD"), LIVE)
    by_key = {c.key: c for c in model.cases}
    at = {n.key: n.at for n in model.nodes}
    (person,) = by_key["person"].node_loads
    (push,) = by_key["pushed"].node_loads
    nose = leaf.members[1].foot[0]
    assert at[person.node] == at[push.node] == pytest.approx((nose, 1.1, 0.0))
    stop = by_key["pushed"].supports[-1]
    assert stop.node == "bottom nose"
    assert stop.fixed == (False, False, True, False, False, False)


def test_swinging_leaf_is_free_to_turn_and_only_the_lowest_pivot_carries() -> None:
    _, _, leaf = made(1.2, 3.0)
    frame = leaf_frame(leaf, Holding(leaf.members[0].foot[0], (0.0, 1.5, 3.0)), 1.0)
    model = with_cases(frame, leaf_cases("ASD"), LIVE)
    pushed = next(c for c in model.cases if c.key == "pushed")
    fixed = {s.node: s.fixed for s in pushed.supports}
    assert fixed["pivot 1"] == (True, True, True, False, False, False)
    assert fixed["pivot 2"] == fixed["pivot 3"] == (True, False, True, False, False, False)
