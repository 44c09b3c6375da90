"""Internal forces along elements and members: signs, exactness, jumps and extremes."""

import dataclasses

import numpy as np
import pytest

from leafwright.frame.forces import (
    Forces,
    Stations,
    every_member_force,
    extreme_stations,
    forces_along,
    member_forces,
)
from leafwright.frame.model import (
    Case,
    Flags6,
    FrameError,
    FrameModel,
    LineLoad,
    NodeLoad,
    PointLoad,
    Support,
)
from leafwright.frame.solve import FrameResult, solve
from tests.frame.leaves import FIXED, random_leaf, straight
from tests.sizes import cases

NAMES = ("N", "V_y", "V_z", "T", "M_y", "M_z")
PIN: Flags6 = (True, True, True, True, False, False)
ROLLER: Flags6 = (False, True, True, False, False, False)


def solved(model: FrameModel) -> FrameResult:
    result = solve(model)
    assert isinstance(result, FrameResult), result
    return result


def table(forces: Forces) -> np.ndarray:
    return np.stack([getattr(forces, name) for name in NAMES], axis=-1)


def beam(case: Case, pieces: int = 1) -> tuple[FrameModel, FrameResult]:
    model = straight(pieces, 4.0, (case,))
    return model, solved(model)


def test_a_beam_loaded_down_sags_with_a_positive_moment_about_z() -> None:
    down = (0.0, -100.0, 0.0)
    case = Case(
        "w", "w", (Support("0", PIN), Support("1", ROLLER)), (), (LineLoad("beam/0", down, down),)
    )
    forces = forces_along(*beam(case), "w", "beam/0", [0.0, 1.0, 2.0, 4.0])
    assert forces.M_z == pytest.approx([0.0, 150.0, 200.0, 0.0], abs=1e-9)
    # The part beyond the cut pushes down at the start and up at the end.
    assert forces.V_y == pytest.approx([-200.0, -100.0, 0.0, 200.0], abs=1e-9)


def test_a_push_toward_the_viewer_bends_about_y() -> None:
    # Held at both ends, pushed along z: fibres on the positive z side are pulled in the middle.
    push = (0.0, 0.0, 100.0)
    case = Case(
        "w", "w", (Support("0", PIN), Support("1", ROLLER)), (), (LineLoad("beam/0", push, push),)
    )
    forces = forces_along(*beam(case), "w", "beam/0", [0.0, 2.0, 4.0])
    assert forces.M_y == pytest.approx([0.0, 200.0, 0.0], abs=1e-9)
    assert forces.V_z == pytest.approx([200.0, 0.0, -200.0], abs=1e-9)


def test_pull_is_positive_and_a_torque_turns_y_toward_z() -> None:
    case = Case(
        "tip",
        "tip",
        (Support("0", FIXED),),
        (NodeLoad("1", (70.0, 0.0, 0.0), (9.0, 0.0, 0.0)),),
    )
    forces = forces_along(*beam(case), "tip", "beam/0", [0.0, 4.0])
    assert pytest.approx([70.0, 70.0]) == forces.N
    assert pytest.approx([9.0, 9.0]) == forces.T


def test_both_sides_of_a_point_load_are_shown() -> None:
    # P = 100 N down at 1 m of 4 m, with 40 N m about z put on there: statics by hand.
    case = Case(
        "p",
        "p",
        (Support("0", PIN), Support("1", ROLLER)),
        point_loads=(PointLoad("beam/0", 1.0, (0.0, -100.0, 0.0), (0.0, 0.0, 40.0)),),
    )
    model, result = beam(case)
    sides = Stations(np.array([1.0, 1.0]), np.array([False, True]))
    forces = forces_along(model, result, "p", "beam/0", sides)
    assert forces.V_y == pytest.approx([-85.0, 15.0])
    assert forces.M_z == pytest.approx([85.0, 45.0])
    stations = extreme_stations(model, result, "p", "beam/0")
    assert list(zip(stations.at.tolist(), stations.after.tolist(), strict=True)) == [
        (0.0, False),
        (0.0, True),
        (1.0, False),
        (1.0, True),
        (4.0, False),
        (4.0, True),
    ]
    after = forces_along(model, result, "p", "beam/0", [1.0])
    assert after.M_z == pytest.approx([45.0])


def test_the_greatest_moment_under_a_growing_load_is_found() -> None:
    # Zero to w over L: w L^2 / (9 sqrt 3) at L / sqrt 3 (Roark Table 8.1, from memory).
    case = Case(
        "w",
        "w",
        (Support("0", PIN), Support("1", ROLLER)),
        (),
        (LineLoad("beam/0", (0.0, 0.0, 0.0), (0.0, -90.0, 0.0)),),
    )
    model, result = beam(case)
    stations = extreme_stations(model, result, "w", "beam/0")
    forces = forces_along(model, result, "w", "beam/0", stations)
    top = int(np.argmax(forces.M_z))
    assert forces.at[top] == pytest.approx(4.0 / 3.0**0.5)
    assert forces.M_z[top] == pytest.approx(90.0 * 16.0 / (9.0 * 3.0**0.5))


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_the_far_end_agrees_with_the_solver(seed: int) -> None:
    # Statics from the start must arrive at what the stiffness gives for the end.
    model = random_leaf(seed)
    result = solved(model)
    for c, case in enumerate(model.cases):
        size = np.abs(result.end_forces[c]).max()
        for e, element in enumerate(model.elements):
            length = float(result.lengths[e])
            first = Stations(np.array([0.0]), np.array([False]))
            start = forces_along(model, result, case.key, element.key, first)
            end = forces_along(model, result, case.key, element.key, [length])
            at_ends = result.end_forces[c, e]
            assert np.abs(table(start)[0] + at_ends[:6]).max() <= 1e-9 * size
            assert np.abs(table(end)[0] - at_ends[6:]).max() <= 1e-9 * size


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_no_station_beats_the_extreme_ones(seed: int) -> None:
    model = random_leaf(seed)
    result = solved(model)
    for element, length in zip(model.elements, result.lengths.tolist(), strict=True):
        places = (model, result, model.cases[0].key, element.key)
        extreme = table(forces_along(*places, extreme_stations(*places)))
        dense = table(forces_along(*places, np.linspace(0.0, length, 301)))
        slack = 1e-9 * np.abs(extreme).max()
        assert (dense.max(axis=0) <= extreme.max(axis=0) + slack).all()
        assert (dense.min(axis=0) >= extreme.min(axis=0) - slack).all()


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_shear_is_the_slope_of_the_moment(seed: int) -> None:
    model = random_leaf(seed)
    result = solved(model)
    case = model.cases[0]
    loaded = {point.element for point in case.point_loads}
    for element, length in zip(model.elements, result.lengths.tolist(), strict=True):
        if element.key in loaded:
            continue
        at = np.linspace(0.0, length, 21)
        forces = forces_along(model, result, case.key, element.key, at)
        least = 1e-9 * np.abs(table(forces)).max()
        # Simpson's rule is exact for a shear that is a parabola.
        for moment, shear in ((forces.M_z, -forces.V_y), (forces.M_y, forces.V_z)):
            area = (at[2] / 6.0) * (shear[:-2:2] + 4.0 * shear[1:-1:2] + shear[2::2])
            assert np.abs(np.diff(moment[::2]) - area).max() <= least


def test_a_member_is_its_elements_in_order_whatever_the_order_of_the_list() -> None:
    down = (0.0, -100.0, 0.0)
    case = Case(
        "w",
        "w",
        (Support("0", PIN), Support("4", ROLLER)),
        (),
        tuple(LineLoad(f"beam/{i}", down, down) for i in range(4)),
    )
    model = straight(4, 4.0, (case,))
    first, second, third, fourth = model.elements
    model = dataclasses.replace(model, elements=(third, first, fourth, second))
    forces = member_forces(model, solved(model), "w", "beam")
    assert list(dict.fromkeys(forces.element)) == ["beam/0", "beam/1", "beam/2", "beam/3"]
    assert (np.diff(forces.at) >= 0.0).all()
    assert forces.M_z == pytest.approx(50.0 * forces.at * (4.0 - forces.at), abs=1e-8)


def test_a_member_with_stations_of_ones_own() -> None:
    model, result = beam(Case("c", "c", (Support("0", FIXED),)), pieces=2)
    only = Stations(np.array([0.5]), np.array([True]))
    forces = member_forces(model, result, "c", "beam", {"beam/0": only, "beam/1": only})
    assert forces.at == pytest.approx([0.5, 2.5])


def test_what_is_not_there_is_named() -> None:
    model, result = beam(Case("c", "c", (Support("0", FIXED),)), pieces=2)
    with pytest.raises(FrameError) as caught:
        forces_along(model, result, "d", "beam/0", [0.0])
    assert str(caught.value) == "there is no case 'd' in the result; it has ['c']"
    with pytest.raises(FrameError) as caught:
        forces_along(model, result, "c", "beam", [0.0])
    assert str(caught.value) == (
        "there is no element 'beam' in the result; it has ['beam/0', 'beam/1']"
    )
    with pytest.raises(FrameError) as caught:
        forces_along(model, result, "c", "beam/0", [0.0, 2.5])
    assert str(caught.value) == (
        "stations of element 'beam/0' run from 0.0 to 2.5 m; it is 2.0 m long"
    )
    with pytest.raises(FrameError) as caught:
        member_forces(model, result, "c", "post")
    assert str(caught.value) == "there is no member 'post'; the frame has ['beam']"


def test_elements_that_are_no_chain_are_refused() -> None:
    model = straight(2, 4.0, (Case("c", "c", (Support("0", FIXED),)),))
    first, second = model.elements
    backward = dataclasses.replace(second, start="2", end="1")
    model = dataclasses.replace(model, elements=(first, backward))
    with pytest.raises(FrameError) as caught:
        member_forces(model, solved(model), "c", "beam")
    assert str(caught.value) == (
        "the elements of member 'beam' are no chain: 'beam/0' from '0' to '1', "
        "'beam/1' from '2' to '1'; let each start where another ends"
    )


def _without_point_loads(model: FrameModel) -> FrameModel:
    bare = tuple(dataclasses.replace(case, point_loads=()) for case in model.cases)
    return dataclasses.replace(model, cases=bare)


def test_every_member_at_once_is_each_member_by_itself() -> None:
    for seed in range(cases(5, 50)):
        model = _without_point_loads(random_leaf(seed))
        result = solved(model)
        members = sorted({e.member for e in model.elements})
        together = every_member_force(model, result, members)
        assert len(together) == len(members) * len(model.cases)
        for (member, case), forces in together.items():
            alone = member_forces(model, result, case, member)
            for name in NAMES:
                ours, theirs = getattr(forces, name), getattr(alone, name)
                scale = 1e-9 * max(1.0, float(np.max(np.abs(theirs))))
                assert float(np.max(ours)) == pytest.approx(float(np.max(theirs)), abs=scale)
                assert float(np.min(ours)) == pytest.approx(float(np.min(theirs)), abs=scale)
            assert np.all(np.diff(forces.at) >= 0.0)


def test_every_member_at_once_refuses_point_loads() -> None:
    model = random_leaf(1)
    case = model.cases[0]
    load = PointLoad(model.elements[0].key, 0.0, (0.0, -1.0, 0.0))
    changed = dataclasses.replace(case, point_loads=(load,))
    loaded = dataclasses.replace(model, cases=(changed, *model.cases[1:]))
    with pytest.raises(FrameError, match="put a node under each"):
        every_member_force(loaded, solved(loaded), [model.elements[0].member])
