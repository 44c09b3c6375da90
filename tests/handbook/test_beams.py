"""Closed forms for beams and frames: the values at their limits, and an independent program."""

import math

import numpy as np
import pytest
from Pynite import FEModel3D

from leafwright.handbook import beams

EI = 2.0e6


def test_a_cantilever_bends_as_its_curvature_integrates() -> None:
    found = beams.cantilever_tip_load(1000.0, 2.0, EI)
    x = np.linspace(0.0, 2.0, 20001)
    curvature = 1000.0 * (2.0 - x) / EI
    assert found.slope == pytest.approx(np.trapezoid(curvature, x), rel=1e-8)
    assert found.deflection == pytest.approx(np.trapezoid(curvature * (2.0 - x), x), rel=1e-8)


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.8])
def test_a_point_load_bends_a_simple_beam_as_its_curvature_integrates(share: float) -> None:
    L, a = 3.0, 3.0 * share
    found = beams.simple_beam_point_load(500.0, L, a, EI)
    x = np.linspace(0.0, L, 60001)
    moment = np.where(x < a, 500.0 * (L - a) * x / L, 500.0 * a * (L - x) / L)
    slope = np.concatenate(([0.0], np.cumsum(0.5 * (moment[1:] + moment[:-1]) * np.diff(x)))) / EI
    sag = np.concatenate(([0.0], np.cumsum(0.5 * (slope[1:] + slope[:-1]) * np.diff(x))))
    sag -= sag[-1] * x / L
    assert found.deflection == pytest.approx(-sag.min(), rel=1e-6)
    assert found.moment == pytest.approx(moment.max(), rel=1e-4)
    assert sum(found.reactions) == pytest.approx(500.0)
    assert found.slopes[0] == pytest.approx(-(sag[1] - sag[0]) / x[1], rel=1e-3)
    assert found.slopes[1] == pytest.approx((sag[-1] - sag[-2]) / x[1], rel=1e-3)


def test_many_point_loads_are_a_uniform_one() -> None:
    L, w, count = 4.0, 300.0, 400
    places = (np.arange(count) + 0.5) * L / count
    moments = [
        beams.simple_beam_point_load(w * L / count, L, place, EI).reactions[0] for place in places
    ]
    uniform = beams.simple_beam_uniform_load(w, L, EI)
    assert sum(moments) == pytest.approx(uniform.reactions[0])
    assert uniform.deflection == pytest.approx(5.0 * w * L**4 / 384.0 / EI)


def test_a_propped_cantilever_sags_most_where_it_is_level() -> None:
    L, w = 4.0, 300.0
    found = beams.propped_cantilever_uniform_load(w, L, EI)
    x = np.linspace(0.0, L, 40001)
    sag = w * x * (L**3 - 3.0 * L * x**2 + 2.0 * x**3) / (48.0 * EI)
    assert found.deflection == pytest.approx(sag.max(), rel=1e-8)
    assert found.deflection_at == pytest.approx(x[sag.argmax()], abs=2e-4)
    assert found.prop_reaction + found.fixed_reaction == pytest.approx(w * L)
    assert found.fixed_moment == pytest.approx(w * L * L / 2.0 - found.prop_reaction * L)
    # The AISC Manual's rounded form is wL⁴/185EI.
    assert found.deflection == pytest.approx(w * L**4 / 185.0 / EI, rel=3e-3)


@pytest.mark.parametrize("fixed", [False, True])
@pytest.mark.parametrize(("columns", "beam"), [(2.0e6, 2.0e6), (2.0e6, 5.0e5), (4.0e5, 3.0e6)])
def test_portals_agree_with_a_frame_program(fixed: bool, columns: float, beam: float) -> None:
    h, b, H = 3.0, 4.0, 1000.0
    model = FEModel3D()
    model.add_material("steel", 2.0e11, 8.0e10, 0.3, 7850.0)
    # So stout along their length that they do not stretch, as the closed forms take it.
    for name, stiffness in (("column", columns), ("beam", beam)):
        model.add_section(name, 10.0, stiffness / 2.0e11, stiffness / 2.0e11, 1e-3)
    for name, x, y in (("A", 0, 0), ("B", 0, h), ("C", b, h), ("D", b, 0)):
        model.add_node(name, x, y, 0.0)
    model.add_member("AB", "A", "B", "steel", "column")
    model.add_member("BC", "B", "C", "steel", "beam")
    model.add_member("CD", "C", "D", "steel", "column")
    for name in "AD":
        model.def_support(name, True, True, True, True, True, fixed)
    for name in "BC":
        model.def_support(name, False, False, True, True, True, False)
    model.add_node_load("B", "FX", H)
    model.analyze_linear()
    form = beams.portal_fixed_side_load if fixed else beams.portal_pinned_side_load
    found = form(H, h, b, columns, beam)
    nodes, member = model.nodes, model.members["BC"]
    assert nodes["B"].DX["Combo 1"] == pytest.approx(found.sway, rel=1e-4)
    assert abs(member.moment("Mz", 0.0)) == pytest.approx(found.knee_moment, rel=1e-4)
    assert abs(nodes["A"].RxnMZ["Combo 1"]) == pytest.approx(found.base_moment, abs=1e-4 * H)
    assert nodes["A"].RxnFX["Combo 1"] == pytest.approx(-found.horizontal_reaction, rel=1e-4)
    assert nodes["A"].RxnFY["Combo 1"] == pytest.approx(-found.vertical_reaction, rel=1e-4)
    assert nodes["D"].RxnFY["Combo 1"] == pytest.approx(found.vertical_reaction, rel=1e-4)


def test_a_portal_is_in_equilibrium() -> None:
    for form in (beams.portal_pinned_side_load, beams.portal_fixed_side_load):
        found = form(1000.0, 3.0, 4.0, 2.0e6, 1.0e6)
        overturning = found.vertical_reaction * 4.0 + 2.0 * found.base_moment
        assert overturning == pytest.approx(1000.0 * 3.0)
        column = found.knee_moment + found.base_moment
        assert column == pytest.approx(found.horizontal_reaction * 3.0)


def test_a_round_tube_in_torsion_agrees_with_its_exact_form() -> None:
    D, t, T, G = 0.1, 0.001, 50.0, 8.0e10
    r = 0.5 * (D - t)
    J = 2.0 * math.pi * r**3 * t
    found = beams.closed_tube_torsion(T, math.pi * r**2, t, J, G)
    exact = T * 0.05 / (math.pi / 32.0 * (0.1**4 - 0.098**4))
    # A thin wall: the stress differs across it by t/D.
    assert found.shear_stress == pytest.approx(exact, rel=t / D * 1.1)
    assert found.twist_per_metre == pytest.approx(T / (G * J))


def test_a_rising_diagonal_is_pushed_and_a_falling_one_pulled() -> None:
    leaf = beams.hung_leaf(1.1, 4.4, 860.0)
    assert leaf.rising_diagonal < 0.0 < leaf.falling_diagonal
    # The diagonal's vertical part carries half the weight at the free stile.
    assert leaf.falling_diagonal * 4.4 / math.hypot(1.1, 4.4) == pytest.approx(430.0)
    assert leaf.hinge_couple * 4.4 == pytest.approx(860.0 * 0.55)


def test_a_load_off_the_beam_is_refused() -> None:
    with pytest.raises(ValueError, match=r"stands 4\.0 m along a beam of 3\.0 m"):
        beams.simple_beam_point_load(1.0, 3.0, 4.0, EI)
