"""One element against exact solutions, with and without shear deformation and released ends."""

import dataclasses

import numpy as np
import pytest

from leafwright.frame.model import (
    HINGED,
    NOT_RELEASED,
    BeamSection,
    Case,
    Flags6,
    FrameModel,
    LineLoad,
    Node,
    NodeLoad,
    PointLoad,
    Support,
)
from leafwright.frame.solve import FrameResult, solve
from tests.frame.leaves import FIXED, random_flags, straight, three, tube
from tests.sizes import cases

EI = 2e5
GA = 77e9 * 4e-4
PIN: Flags6 = (True, True, True, True, False, False)
ROLLER: Flags6 = (False, True, True, False, False, False)
DOWN = (0.0, -1000.0, 0.0)


def solved(model: FrameModel, *, shear: bool = True) -> FrameResult:
    result = solve(model, shear=shear)
    assert isinstance(result, FrameResult), result
    return result


@pytest.mark.parametrize("direction", [1, 2])
@pytest.mark.parametrize("shear", [True, False])
def test_cantilever_bends_and_shears_either_way(direction: int, shear: bool) -> None:
    # Timoshenko: P L^3 / 3 E I + P L / G A_s.
    force = (0.0, *(-1000.0 if axis == direction else 0.0 for axis in (1, 2)))
    case = Case("tip", "tip", (Support("0", FIXED),), node_loads=(NodeLoad("1", force),))  # type: ignore[arg-type]
    model = straight(1, 2.0, (case,), section=tube(shear_area=4e-4))
    expected = 1000.0 * (2.0**3 / (3.0 * EI) + (2.0 / GA if shear else 0.0))
    result = solved(model, shear=shear)
    assert result.displacements[0, 1, direction] == pytest.approx(-expected, rel=1e-12)


@pytest.mark.parametrize("shear", [True, False])
def test_simple_beam_under_uniform_load(shear: bool) -> None:
    # Timoshenko: 5 w L^4 / 384 E I + w L^2 / 8 G A_s.
    case = Case(
        "w",
        "w",
        (Support("0", PIN), Support("2", ROLLER)),
        line_loads=tuple(LineLoad(f"beam/{i}", DOWN, DOWN) for i in range(2)),
    )
    model = straight(2, 3.0, (case,), section=tube(shear_area=4e-4))
    expected = 1000.0 * (5.0 * 3.0**4 / (384.0 * EI) + (3.0**2 / (8.0 * GA) if shear else 0.0))
    assert solved(model, shear=shear).displacements[0, 1, 1] == pytest.approx(-expected, rel=1e-12)


def test_propped_cantilever_with_shear_deformation() -> None:
    # Force method: the prop takes back what the load alone would move the tip by.
    case = Case(
        "w",
        "w",
        (Support("0", FIXED), Support("1", (False, True, False, False, False, False))),
        line_loads=(LineLoad("beam/0", DOWN, DOWN),),
    )
    length = 1.5
    under_load = 1000.0 * (length**4 / (8.0 * EI) + length**2 / (2.0 * GA))
    under_unit_force = length**3 / (3.0 * EI) + length / GA
    result = solved(straight(1, length, (case,), section=tube(shear_area=4e-4)))
    assert result.reactions[0, 1, 1] == pytest.approx(under_load / under_unit_force, rel=1e-12)


def test_bar_under_its_own_axial_load() -> None:
    # A pull that grows from zero to q at the tip: N(0) = q L / 2, u(L) = q L^2 / 3 E A.
    case = Case(
        "pull",
        "pull",
        (Support("0", FIXED),),
        line_loads=(LineLoad("beam/0", (0.0, 0.0, 0.0), (600.0, 0.0, 0.0)),),
    )
    result = solved(straight(1, 2.0, (case,)))
    assert result.reactions[0, 0, 0] == pytest.approx(-600.0)
    assert result.end_forces[0, 0, 0] == pytest.approx(-600.0)
    assert result.displacements[0, 1, 0] == pytest.approx(600.0 * 4.0 / (3.0 * 2e8), rel=1e-12)


def test_springs_give_way_by_force_over_stiffness() -> None:
    springs = (1e6, 2e6, 3e6, 1e5, 2e5, 3e5)
    case = Case(
        "spring",
        "spring",
        (Support("0", NOT_RELEASED, springs),),
        node_loads=(NodeLoad("0", (100.0, 100.0, 100.0), (10.0, 10.0, 10.0)),),
    )
    result = solved(straight(1, 2.0, (case,)))
    loads = np.array([100.0, 100.0, 100.0, 10.0, 10.0, 10.0])
    assert result.displacements[0, 0] == pytest.approx(loads / np.array(springs), rel=1e-9)
    assert result.reactions[0, 0] == pytest.approx(-loads, rel=1e-9)


def test_hinge_in_a_beam_carries_no_moment() -> None:
    # Two cantilevers hinged tip to tip, P on the hinge: each takes half, P/2 L^3 / 3 E I.
    case = Case(
        "hinge",
        "hinge",
        (Support("0", FIXED), Support("2", FIXED)),
        node_loads=(NodeLoad("1", DOWN),),
    )
    model = straight(2, 4.0, (case,))
    first, second = model.elements
    model = dataclasses.replace(
        model, elements=(dataclasses.replace(first, releases_end=HINGED), second)
    )
    result = solved(model)
    # The hinge is on the first element's side: node 1 turns with the second.
    assert result.displacements[0, 1, 1] == pytest.approx(-500.0 * 8.0 / (3.0 * EI), rel=1e-12)
    assert result.end_forces[0, 0, 10:] == pytest.approx([0.0, 0.0], abs=1e-9)
    assert result.end_forces[0, 0, 5] == pytest.approx(1000.0, rel=1e-12)


def cut_in_pieces(seed: int) -> tuple[FrameModel, FrameModel]:
    """Return one loaded element, and the same cut at its point loads and in between."""
    rng = np.random.default_rng(seed)
    length = float(rng.uniform(0.3, 3.0))
    iy, iz, j = rng.uniform(0.2e-6, 3e-6, 3).tolist()
    ay, az = rng.uniform(2e-4, 8e-4, 2).tolist()
    section = BeamSection("any", 1e-3, iy, iz, j, ay, az, 200e9, 77e9)
    loose_start = random_flags(rng, 0.3)
    loose_end = random_flags(rng, 0.3)
    # Released only where the element still stands: one end keeps all, or only turns are free.
    if rng.random() < 0.5:
        loose_start, loose_end = HINGED, (False, False, False, True, rng.random() < 0.5, True)
    elif rng.random() < 0.5:
        loose_start = NOT_RELEASED
    else:
        loose_end = NOT_RELEASED
    at = ((np.arange(3) + rng.uniform(0.1, 0.9, 3)) * length / 3.0).tolist()
    q_start, q_end = three(rng, 900.0), three(rng, 900.0)
    points = [PointLoad("beam/0", x, three(rng, 700.0), three(rng, 90.0)) for x in at]
    held = (Support("0", FIXED), Support("1", FIXED))
    case = Case("all", "all", held, (), (LineLoad("beam/0", q_start, q_end),), tuple(points))
    whole = straight(1, length, (case,), section=section, reference=(0.2, 1.0, 0.4))
    (one,) = whole.elements
    one = dataclasses.replace(one, releases_start=loose_start, releases_end=loose_end)
    whole = dataclasses.replace(whole, elements=(one,))

    stops = [0.0, *at, length]
    start, slope = np.array(q_start), (np.array(q_end) - np.array(q_start)) / length
    line_loads = []
    elements = []
    for i in range(4):
        low, high = (start + slope * stops[i]).tolist(), (start + slope * stops[i + 1]).tolist()
        line_loads.append(LineLoad(f"beam/{i}", tuple(low), tuple(high)))
        elements.append(
            dataclasses.replace(
                one,
                key=f"beam/{i}",
                start=str(i),
                end=str(i + 1),
                releases_start=loose_start if i == 0 else NOT_RELEASED,
                releases_end=loose_end if i == 3 else NOT_RELEASED,
            )
        )
    pieces = FrameModel(
        tuple(Node(str(i), (x, 0.0, 0.0)) for i, x in enumerate(stops)),
        tuple(elements),
        (section,),
        (
            Case(
                "all",
                "all",
                (Support("0", FIXED), Support("4", FIXED)),
                tuple(NodeLoad(str(i + 1), p.force, p.moment) for i, p in enumerate(points)),
                tuple(line_loads),
            ),
        ),
    )
    return whole, pieces


@pytest.mark.parametrize("seed", range(cases(25, 500)))
@pytest.mark.parametrize("shear", [True, False])
def test_fixed_end_forces_are_those_of_the_element_cut_at_its_loads(seed: int, shear: bool) -> None:
    whole, pieces = cut_in_pieces(seed)
    one, cut = solved(whole, shear=shear), solved(pieces, shear=shear)
    scale = np.abs(cut.end_forces).max()
    ends = np.concatenate([cut.end_forces[0, 0, :6], cut.end_forces[0, -1, 6:]])
    assert one.end_forces[0, 0] == pytest.approx(ends, abs=1e-9 * scale)
