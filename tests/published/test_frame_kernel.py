"""The frame kernel against published beam and frame formulas.

The numbers are those formulas worked for round inputs; where axial deformation is not in the
source, the area is made so large that it does not matter.
"""

import dataclasses
import math

import pytest

from leafwright.frame.forces import forces_along
from leafwright.frame.model import (
    HINGED,
    BeamSection,
    Case,
    Element,
    Flags6,
    FrameModel,
    LineLoad,
    Node,
    NodeLoad,
    Support,
)
from leafwright.frame.solve import FrameResult, solve
from tests.frame.leaves import FIXED, straight, tube

INCH = 0.0254
KIP = 4448.2216
PSI = 6894.757293


def solved(model: FrameModel) -> FrameResult:
    result = solve(model)
    assert isinstance(result, FrameResult), result
    return result


def test_cantilever_with_tip_load() -> None:
    """P = 1 kN, L = 2 m, E = 200 GPa, I = 1e-6 m4.

    Roark's Formulas, Table 8.1 case 1a; AISC Manual Table 3-23: M = P L, P L^3 / 3 E I,
    slope P L^2 / 2 E I.
    """
    case = Case(
        "tip", "tip", (Support("0", FIXED),), node_loads=(NodeLoad("4", (0.0, -1000.0, 0.0)),)
    )
    result = solved(straight(4, 2.0, (case,)))
    assert result.reactions[0, 0, 5] == pytest.approx(2000.0)
    assert result.displacements[0, 4, 1] == pytest.approx(-13.333e-3, rel=1e-3)
    assert result.displacements[0, 4, 5] == pytest.approx(-0.01000, rel=1e-3)


def test_propped_cantilever_under_uniform_load() -> None:
    """w = 2 kN/m, L = 4 m. AISC Manual Table 3-23 case 12."""
    prop: Flags6 = (False, True, False, False, False, False)
    case = Case(
        "w",
        "w",
        (Support("0", FIXED), Support("1", prop)),
        line_loads=(LineLoad("beam/0", (0.0, -2000.0, 0.0), (0.0, -2000.0, 0.0)),),
    )
    model = straight(1, 4.0, (case,))
    result = solved(model)
    assert result.reactions[0, 0, 5] == pytest.approx(4000.0)
    assert result.reactions[0, 1, 1] == pytest.approx(3000.0)
    # The greatest span moment is 9 w L^2 / 128, 3 L / 8 from the prop.
    forces = forces_along(model, result, "w", "beam/0", [4.0 - 1.5])
    assert forces.M_z[0] == pytest.approx(2250.0)


def test_simple_beam_under_uniform_load() -> None:
    """w = 0.5 kip/ft, L = 10 ft, I = 7.80 in4, E = 29000 ksi: 6.25 kip-ft, 0.4973 in.

    AISC Manual Table 3-23 case 1.
    """
    section = dataclasses.replace(tube(), inertia_z=7.80 * INCH**4, elastic_modulus=29.0e6 * PSI)
    down = (0.0, -0.5 * KIP / (12.0 * INCH), 0.0)
    case = Case(
        "w",
        "w",
        (
            Support("0", (True, True, True, True, True, False)),
            Support("2", (False, True, True, False, False, False)),
        ),
        line_loads=(LineLoad("beam/0", down, down), LineLoad("beam/1", down, down)),
    )
    model = straight(2, 120.0 * INCH, (case,), section=section)
    result = solved(model)
    assert result.displacements[0, 1, 1] == pytest.approx(-0.4973 * INCH, rel=1e-4)
    middle = forces_along(model, result, "w", "beam/1", [0.0])
    assert middle.M_z[0] == pytest.approx(6.25 * KIP * 12.0 * INCH, rel=1e-4)


def portal(base: Flags6) -> FrameModel:
    """Return a portal h = 3 m, b = 4 m, E I = 2e6 N m2 throughout, 1 kN at the left eaves."""
    section = BeamSection("stiff", 1.0, 1e-5, 1e-5, 1e-5, None, None, 200e9, 77e9)
    across: Flags6 = (False, False, True, True, True, False)
    nodes = (
        Node("base left", (0.0, 0.0, 0.0)),
        Node("knee left", (0.0, 3.0, 0.0)),
        Node("knee right", (4.0, 3.0, 0.0)),
        Node("base right", (4.0, 0.0, 0.0)),
    )
    keys = [node.key for node in nodes]
    elements = tuple(
        Element(name, name, a, b, "stiff", (0.0, 0.0, 1.0))
        for name, a, b in zip(("left", "beam", "right"), keys[:-1], keys[1:], strict=True)
    )
    case = Case(
        "push",
        "push",
        (
            Support("base left", base),
            Support("base right", base),
            Support("knee left", across),
            Support("knee right", across),
        ),
        node_loads=(NodeLoad("knee left", (1000.0, 0.0, 0.0)),),
    )
    return FrameModel(nodes, elements, (section,), (case,))


def test_portal_with_pinned_bases() -> None:
    """Knee moment H h / 2, sway H h^2 (2 h + b) / (12 E I).

    Kleinlogel's frame formulas (second-hand), and two-way check with another frame program.
    """
    result = solved(portal((True, True, True, True, True, False)))
    # The local y of the left post is z of the frame, so its in-plane moment is about local y.
    assert abs(result.end_forces[0, 0, 10]) == pytest.approx(1500.0, rel=1e-4)
    assert result.reactions[0, [0, 3], 0] == pytest.approx([-500.0, -500.0], rel=1e-4)
    assert result.reactions[0, [0, 3], 1] == pytest.approx([-750.0, 750.0], rel=1e-4)
    assert result.displacements[0, 1, 0] == pytest.approx(3.750e-3, rel=1e-3)


def test_portal_with_fixed_bases() -> None:
    """Knee 0.6136 kN m, base 0.8864 kN m, sway H h^3 (3 k + 2) / (12 E I (6 k + 1)), k = 0.75.

    Kleinlogel's frame formulas (second-hand), and two-way check with another frame program.
    """
    result = solved(portal(FIXED))
    assert abs(result.end_forces[0, 0, 10]) == pytest.approx(613.6, rel=2e-4)
    assert abs(result.reactions[0, 0, 5]) == pytest.approx(886.4, rel=2e-4)
    assert result.displacements[0, 1, 0] == pytest.approx(0.8693e-3, rel=2e-3)


@pytest.mark.parametrize(
    ("foot", "head", "force"),
    [("bottom heel", "top free", -1667.0), ("top heel", "bottom free", 1667.0)],
)
def test_hung_leaf_of_pinned_bars(foot: str, head: str, force: float) -> None:
    """b = 4 m, h = 3 m, 2.0 kN, half at the free stile: V / sin = 1.667 kN; couple 1.333 kN.

    Statics: a rising diagonal is pressed, a falling one pulled.
    """
    corners = {
        "bottom heel": (0.0, 0.0, 0.0),
        "bottom free": (4.0, 0.0, 0.0),
        "top free": (4.0, 3.0, 0.0),
        "top heel": (0.0, 3.0, 0.0),
    }
    bars = [
        ("bottom rail", "bottom heel", "bottom free"),
        ("meeting stile", "bottom free", "top free"),
        ("top rail", "top heel", "top free"),
        ("hanging stile", "bottom heel", "top heel"),
        ("brace", foot, head),
    ]
    flat: Flags6 = (False, False, True, True, True, True)
    held = {
        "bottom heel": (True, True, True, True, True, True),
        "top heel": (True, False, True, True, True, True),
    }
    model = FrameModel(
        tuple(Node(key, at) for key, at in corners.items()),
        tuple(
            Element(bar, bar, a, b, "tube", (0.0, 0.0, 1.0), HINGED, HINGED) for bar, a, b in bars
        ),
        (tube(),),
        (
            Case(
                "hung",
                "hung",
                tuple(Support(key, held.get(key, flat)) for key in corners),
                node_loads=tuple(NodeLoad(key, (0.0, -500.0, 0.0)) for key in corners),
            ),
        ),
    )
    result = solved(model)
    assert result.end_forces[0, 4, 6] == pytest.approx(force, rel=1e-3)
    top = result.nodes.index("top heel")
    bottom = result.nodes.index("bottom heel")
    assert result.reactions[0, top, 0] == pytest.approx(-1333.0, rel=1e-3)
    assert result.reactions[0, bottom, :2] == pytest.approx([1333.0, 2000.0], rel=1e-3)


def test_twist_of_a_square_tube() -> None:
    """2 x 2 x 1/8 in tube, J = 0.796 in4, T = 1000 lb in: 1.122e-4 rad/in.

    Roark's Formulas, chapter 10 (thin closed sections), with G = 11200 ksi.
    """
    section = dataclasses.replace(tube(), torsion=0.796 * INCH**4, shear_modulus=11.2e6 * PSI)
    torque = 1000.0 * PSI * INCH**3
    case = Case(
        "twist",
        "twist",
        (Support("0", FIXED),),
        node_loads=(NodeLoad("3", (0.0, 0.0, 0.0), (torque, 0.0, 0.0)),),
    )
    result = solved(straight(3, 30.0 * INCH, (case,), section=section))
    assert result.displacements[0, 3, 3] / 30.0 == pytest.approx(1.122e-4, rel=5e-3)
    assert math.isclose(result.end_forces[0, 0, 9], torque, rel_tol=1e-9)
