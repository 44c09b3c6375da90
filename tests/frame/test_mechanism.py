"""Frames that cannot stand: which node, which direction, in which case."""

import dataclasses
import itertools

import numpy as np
import pytest

from leafwright.frame.model import (
    HINGED,
    Case,
    Element,
    Flags6,
    FrameModel,
    Node,
    NodeLoad,
    Support,
)
from leafwright.frame.solve import FrameResult, solve
from leafwright.records import Held
from tests.frame.leaves import FIXED, PINNED, random_leaf, straight, tube, with_cases
from tests.sizes import cases

TOP_PIN: Flags6 = (True, False, True, False, False, False)
FLAT: Flags6 = (False, False, True, True, True, False)


def leaf(*cases: Case) -> FrameModel:
    """Return a welded rectangle 2 m wide and 3 m high with a free-standing node on each side."""
    corners = {
        "bottom heel": (0.0, 0.0, 0.0),
        "bottom nose": (2.0, 0.0, 0.0),
        "top nose": (2.0, 3.0, 0.0),
        "top heel": (0.0, 3.0, 0.0),
    }
    keys = [*corners, "bottom heel"]
    return FrameModel(
        tuple(Node(key, at) for key, at in corners.items()),
        tuple(
            Element(f"side-{i}", f"side-{i}", a, b, "tube", (0.0, 0.0, 1.0))
            for i, (a, b) in enumerate(itertools.pairwise(keys))
        ),
        (tube(),),
        cases,
    )


def held(model: FrameModel) -> Held:
    result = solve(model)
    assert isinstance(result, Held)
    return result


def test_a_leaf_on_two_pins_swings() -> None:
    pins = (Support("bottom heel", PINNED), Support("top heel", TOP_PIN))
    found = held(leaf(Case("hung", "hung on its pins", pins)))
    assert found.why == (
        "case 'hung': nothing holds the frame as a whole (all 4 nodes) from turning about y"
    )
    assert found.needs == (
        "a support or a stiff joint that keeps node 'bottom heel' from turning about y",
    )


def test_a_latch_at_the_nose_holds_it() -> None:
    latch: Flags6 = (False, False, True, False, False, False)
    pins = (Support("bottom heel", PINNED), Support("top heel", TOP_PIN))
    result = solve(leaf(Case("shut", "shut", (*pins, Support("bottom nose", latch)))))
    assert isinstance(result, FrameResult)


def test_a_weak_spring_is_enough_to_hold() -> None:
    spring = (0.0, 0.0, 0.0, 0.0, 5.0, 0.0)
    pins = (Support("bottom heel", PINNED, spring), Support("top heel", TOP_PIN))
    push = (NodeLoad("top nose", (0.0, 0.0, 1.0)),)
    result = solve(leaf(Case("drag", "drag", pins, push)))
    assert isinstance(result, FrameResult)
    # 1 N two metres from the axis against 5 N m/rad: -0.4 rad, and that bends nothing to speak of.
    assert result.displacements[0, :, 4] == pytest.approx([-0.4] * 4, rel=1e-4)


def test_only_the_case_that_is_loose_is_named() -> None:
    pins = (Support("bottom heel", PINNED), Support("top heel", TOP_PIN))
    fixed = (Support("bottom heel", FIXED),)
    found = held(leaf(Case("fixed", "fixed", fixed), Case("hung", "hung", pins)))
    assert "'hung'" in found.why
    assert "'fixed'" not in found.why


def test_two_loose_cases_are_both_named() -> None:
    pins = (Support("bottom heel", PINNED), Support("top heel", TOP_PIN))
    found = held(leaf(Case("hung", "hung", pins), Case("loose", "loose", ())))
    assert found.why == (
        "case 'hung': nothing holds the frame as a whole (all 4 nodes) from turning about y; "
        "case 'loose': nothing holds the frame as a whole (all 4 nodes) from moving along x or "
        "moving along y or moving along z or turning about x or turning about y or turning about z"
    )


def test_a_node_whose_bars_are_all_hinged_can_turn() -> None:
    model = leaf(Case("c", "c", (Support("bottom heel", FIXED), Support("top heel", FIXED))))
    elements = list(model.elements)
    elements[1] = dataclasses.replace(elements[1], releases_end=HINGED)
    elements[2] = dataclasses.replace(elements[2], releases_start=HINGED)
    found = held(dataclasses.replace(model, elements=tuple(elements)))
    # Both bars twist with the node about their own axes, so only the turn about z is free.
    assert found.why == "case 'c': nothing holds node 'top nose' from turning about z"


def test_two_loose_nodes_are_named_apart() -> None:
    case = Case("c", "c", tuple(Support(k, FIXED) for k in ("bottom heel", "top heel")))
    model = leaf(case)
    model = dataclasses.replace(
        model,
        elements=tuple(
            dataclasses.replace(e, releases_start=HINGED, releases_end=HINGED)
            for e in model.elements
        ),
    )
    brace = Element("brace", "brace", "bottom heel", "top nose", "tube", (0.0, 0.0, 1.0))
    brace = dataclasses.replace(brace, releases_start=HINGED, releases_end=HINGED)
    found = held(dataclasses.replace(model, elements=(*model.elements, brace)))
    assert found.why == (
        "case 'c': "
        "nothing holds node 'bottom nose' from moving along z or turning about z, and "
        "nothing holds node 'top nose' from moving along z or turning about z"
    )


def test_a_panel_of_hinged_rails_racks() -> None:
    flat = tuple(Support(key, FLAT) for key in ("bottom nose", "top nose", "top heel"))
    model = leaf(Case("c", "c", (Support("bottom heel", FIXED), *flat)))
    elements = list(model.elements)
    for rail in (0, 2):
        elements[rail] = dataclasses.replace(
            elements[rail], releases_start=HINGED, releases_end=HINGED
        )
    # The meeting stile hangs on the hanging stile by two parallel links.
    assert held(dataclasses.replace(model, elements=tuple(elements))).why == (
        "case 'c': nothing holds nodes 'bottom nose' and 'top nose' from moving along y"
    )


@pytest.mark.parametrize("angle", [0.0, 1e-9, 0.3])
def test_a_straight_pair_of_hinged_bars_is_loose_across(angle: float) -> None:
    # Rounding in the direction of the bars must not pass for stiffness.
    model = straight(2, 2.0, (), along=(1.0 - angle**2 / 2.0, angle, 0.0), reference=(0, 0, 1))
    turns: Flags6 = (False, False, True, True, True, True)
    case = Case("c", "c", (Support("0", FIXED), Support("1", turns), Support("2", FIXED)))
    model = dataclasses.replace(
        with_cases(model, case),
        elements=tuple(
            dataclasses.replace(e, releases_start=HINGED, releases_end=HINGED)
            for e in model.elements
        ),
    )
    assert held(model).why == "case 'c': nothing holds node '1' from moving along y"


@pytest.mark.parametrize("seed", range(5))
def test_a_random_leaf_without_supports_is_loose_every_way(seed: int) -> None:
    model = random_leaf(seed)
    model = with_cases(model, dataclasses.replace(model.cases[0], supports=()))
    found = held(model)
    for way in ("moving along", "turning about"):
        for axis in "xyz":
            assert f"{way} {axis}" in found.why


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_a_leaf_on_two_ball_joints_spins_about_their_line_however_it_stands(seed: int) -> None:
    model = random_leaf(seed)
    rng = np.random.default_rng(seed)
    first, second = (model.nodes[i].key for i in rng.choice(len(model.nodes), 2, replace=False))
    joints = (Support(first, PINNED), Support(second, PINNED))
    spin = with_cases(model, dataclasses.replace(model.cases[0], supports=joints))
    assert "nothing holds" in held(spin).why
    stopped = (*joints[:1], Support(second, FIXED))
    result = solve(with_cases(model, dataclasses.replace(model.cases[0], supports=stopped)))
    assert isinstance(result, FrameResult)
