"""Tension-only elements: taut or slack, case by case."""

import dataclasses
import itertools

import numpy as np
import pytest

from leafwright.frame.arrays import Variants, variant_model
from leafwright.frame.equilibrium import balance
from leafwright.frame.model import (
    Case,
    Element,
    Flags6,
    FrameModel,
    LineLoad,
    Node,
    NodeLoad,
    PointLoad,
    Support,
)
from leafwright.frame.solve import FrameResult, solve, solve_batch
from leafwright.records import Held
from tests.frame.leaves import FIXED, random_leaf, tube
from tests.sizes import cases

HEEL: Flags6 = (True, True, True, True, True, False)
HEEL_TOP: Flags6 = (True, False, True, True, True, False)
DOWN = (0.0, -1500.0, 0.0)
UP = (0.0, 1500.0, 0.0)


def gate(*loads: tuple[str, tuple[float, float, float]], rods: bool = True) -> FrameModel:
    """Return a rectangle 4 m by 3 m, hung at the heel, with crossed rods, a case for each load."""
    corners = {
        "heel low": (0.0, 0.0, 0.0),
        "nose low": (4.0, 0.0, 0.0),
        "nose high": (4.0, 3.0, 0.0),
        "heel high": (0.0, 3.0, 0.0),
    }
    keys = [*corners, "heel low"]
    sides = [
        Element(f"side-{i}", f"side-{i}", a, b, "tube", (0.0, 0.0, 1.0))
        for i, (a, b) in enumerate(itertools.pairwise(keys))
    ]
    crossed = [
        Element(key, key, a, b, "rod", (0.0, 0.0, 1.0), tension_only=True)
        for key, a, b in (
            ("rising", "heel low", "nose high"),
            ("falling", "heel high", "nose low"),
        )
    ]
    supports = (Support("heel low", HEEL), Support("heel high", HEEL_TOP))
    return FrameModel(
        tuple(Node(key, at) for key, at in corners.items()),
        tuple(sides + crossed * rods),
        (tube(), dataclasses.replace(tube("rod"), area=1e-4)),
        tuple(
            Case(f"case-{i}", f"case-{i}", supports, (NodeLoad(node, force),))
            for i, (node, force) in enumerate(loads)
        ),
    )


def solved(model: FrameModel) -> FrameResult:
    result = solve(model)
    assert isinstance(result, FrameResult), result
    return result


def without(model: FrameModel, *keys: str) -> FrameModel:
    return dataclasses.replace(
        model, elements=tuple(e for e in model.elements if e.key not in keys)
    )


def as_bar(model: FrameModel, key: str) -> FrameModel:
    """Return the model with a rod that may also push, hinged so that it does nothing else."""
    ends: Flags6 = (False, False, False, False, True, True)
    spun: Flags6 = (False, False, False, True, True, True)
    elements = tuple(
        dataclasses.replace(e, tension_only=False, releases_start=ends, releases_end=spun)
        if e.key == key
        else e
        for e in model.elements
    )
    return dataclasses.replace(model, elements=elements)


def test_under_its_weight_the_falling_rod_pulls_and_the_rising_one_hangs_slack() -> None:
    result = solved(gate(("nose low", DOWN), ("nose low", UP)))
    rising, falling = result.elements.index("rising"), result.elements.index("falling")
    assert result.slack[0].tolist() == [False] * 4 + [True, False]
    assert result.slack[1].tolist() == [False] * 4 + [False, True]
    assert result.end_forces[0, falling, 6] > 0.0
    assert result.end_forces[1, rising, 6] > 0.0
    assert np.abs(result.end_forces[0, rising]).max() == 0.0


def test_a_slack_rod_is_as_good_as_none_and_a_taut_one_as_a_bar() -> None:
    model = gate(("nose low", DOWN))
    result = solved(model)
    plain = solved(as_bar(without(model, "rising"), "falling"))
    assert result.displacements == pytest.approx(plain.displacements, abs=1e-12)
    assert result.reactions == pytest.approx(plain.reactions, abs=1e-6)
    assert result.end_forces[:, [0, 1, 2, 3, 5]] == pytest.approx(plain.end_forces, abs=1e-6)


def test_without_load_rods_stay_taut_and_carry_nothing() -> None:
    result = solved(gate(("nose low", (0.0, 0.0, 0.0))))
    assert not result.slack.any()
    assert np.abs(result.end_forces).max() == 0.0


def test_the_load_on_a_rod_goes_to_its_ends_as_from_a_simple_beam_slack_or_taut() -> None:
    weight = (0.0, -20.0, 0.0)
    model = gate(("nose low", DOWN), ("nose low", UP))
    on_rods = tuple(LineLoad(key, weight, weight) for key in ("rising", "falling"))
    point = (PointLoad("rising", 1.0, (0.0, 0.0, 50.0)),)
    model = dataclasses.replace(
        model,
        cases=tuple(
            dataclasses.replace(c, line_loads=on_rods, point_loads=point) for c in model.cases
        ),
    )
    result = solved(model)
    assert balance(model, result).relative.max() < 1e-9
    rod = result.elements.index("rising")
    # 5 m of rod sloping 3 in 5: of its 100 N, 40 N go across it to each end. Of the 50 N toward
    # the viewer, 1 m from the start, four fifths go there. Local y is toward the viewer.
    assert result.end_forces[:, rod, [1, 7]] == pytest.approx(np.array([[-40.0, -10.0]] * 2))
    assert np.abs(result.end_forces[:, rod, [2, 8]]) == pytest.approx(np.full((2, 2), 40.0))
    assert result.end_forces[:, rod, [3, 4, 5, 9, 10, 11]] == pytest.approx(0.0, abs=1e-9)


def test_a_frame_that_only_a_slack_rod_could_hold_is_held_by_name() -> None:
    nodes = (Node("wall", (0.0, 0.0, 0.0)), Node("tip", (2.0, 0.0, 0.0)))
    rod = Element("tie", "tie", "wall", "tip", "tube", (0.0, 1.0, 0.0), tension_only=True)
    slide: Flags6 = (False, True, True, True, True, True)
    supports = (Support("wall", FIXED), Support("tip", slide))
    pull = Case("pull", "pull", supports, (NodeLoad("tip", (100.0, 0.0, 0.0)),))
    push = Case("push", "push", supports, (NodeLoad("tip", (-100.0, 0.0, 0.0)),))
    model = FrameModel(nodes, (rod,), (tube(),), (pull,))
    assert solved(model).end_forces[0, 0, 6] == pytest.approx(100.0)
    found = solve(dataclasses.replace(model, cases=(pull, push)))
    assert isinstance(found, Held)
    assert found.why == (
        "case 'push' with 'tie' slack: nothing holds node 'tip' from moving along x"
    )


def test_rods_that_do_not_settle_hold_the_case(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("leafwright.frame.cases.MOST_ROUNDS", 1)
    found = solve(gate(("nose low", DOWN)))
    assert isinstance(found, Held)
    assert found.why == "case 'case-0': which rods are taut did not settle in 1 rounds"
    assert found.needs == ("fewer rods, or braces that can also push",)


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_every_rod_is_taut_and_longer_or_slack_and_shorter(seed: int) -> None:
    model = with_rods(seed)
    result = solved(model)
    assert balance(model, result).relative.max() < 1e-8
    for e, element in enumerate(model.elements):
        if not element.tension_only:
            continue
        start, end = result.nodes.index(element.start), result.nodes.index(element.end)
        moved = result.displacements[:, end, :3] - result.displacements[:, start, :3]
        stretch = moved @ result.axes[e, 0]
        size = np.abs(result.displacements[:, :, :3]).max()
        assert (stretch[~result.slack[:, e]] >= -1e-9 * size).all()
        assert (stretch[result.slack[:, e]] <= 1e-9 * size).all()


def with_rods(seed: int) -> FrameModel:
    """Return a random leaf with rods between nodes chosen anyhow."""
    model = random_leaf(seed)
    rng = np.random.default_rng(seed)
    rods = []
    for i in range(int(rng.integers(1, 7))):
        a, b = rng.choice(len(model.nodes), 2, replace=False)
        rods.append(
            dataclasses.replace(
                model.elements[0],
                key=f"rod-{i}",
                member=f"rod-{i}",
                start=model.nodes[a].key,
                end=model.nodes[b].key,
                reference=(0.123, 0.456, 0.789),
                tension_only=True,
            )
        )
    return dataclasses.replace(model, elements=(*model.elements, *rods))


@pytest.mark.parametrize("seed", range(cases(5, 50)))
def test_a_batch_settles_each_variant_by_itself(seed: int) -> None:
    model = with_rods(seed)
    rng = np.random.default_rng(seed)
    variants = Variants(load_scale=rng.uniform(-1.0, 1.0, (6, len(model.cases))))
    batch = solve_batch(model, variants)
    assert not batch.held
    for v in range(6):
        alone = solved(variant_model(model, variants, v))
        assert (batch.slack[v] == alone.slack).all()
        size = np.abs(alone.end_forces).max()
        assert batch.end_forces[v] == pytest.approx(alone.end_forces, abs=1e-10 * size)
