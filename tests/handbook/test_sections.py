"""Section properties: closed forms, an independent program, and what must always hold."""

import dataclasses
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sectionproperties.analysis.section import Section
from sectionproperties.pre.library.steel_sections import (
    angle_section,
    rectangular_hollow_section,
)

from leafwright.handbook import outlines, sections
from leafwright.handbook.sections import SectionProperties

TUBE = sections.properties_of_rectangular_tube(0.100, 0.060, 0.004)


def test_axes_are_named_for_the_leaf() -> None:
    # Wide along u: stiff in the leaf's plane (about v), softer across it (about u).
    assert (TUBE.width, TUBE.height) == (0.100, 0.060)
    assert TUBE.inertia_v > TUBE.inertia_u
    assert TUBE.section_modulus_u == pytest.approx(TUBE.inertia_u / 0.030, rel=1e-14)
    assert TUBE.section_modulus_v == pytest.approx(TUBE.inertia_v / 0.050, rel=1e-14)
    assert TUBE.radius_of_gyration_v == pytest.approx(math.sqrt(TUBE.inertia_v / TUBE.area))
    assert TUBE.least_radius_of_gyration == TUBE.radius_of_gyration_u
    assert TUBE.flat_u == pytest.approx(0.100 - 0.012)
    assert TUBE.slenderness_u == pytest.approx(0.088 / 0.004)
    assert TUBE.slenderness_v == pytest.approx(0.048 / 0.004)
    assert TUBE.shear_area_v == pytest.approx(2.0 * 0.048 * 0.004)


def test_a_turned_tube_swaps_its_axes() -> None:
    turned = sections.properties_of_rectangular_tube(0.060, 0.100, 0.004)
    for name in ("inertia", "section_modulus", "plastic_modulus", "shear_area", "flat"):
        assert getattr(turned, f"{name}_u") == pytest.approx(getattr(TUBE, f"{name}_v"), rel=1e-12)
        assert getattr(turned, f"{name}_v") == pytest.approx(getattr(TUBE, f"{name}_u"), rel=1e-12)
    assert turned.torsion_constant == pytest.approx(TUBE.torsion_constant, rel=1e-12)


@given(
    width=st.floats(0.02, 0.2),
    height=st.floats(0.02, 0.2),
    share=st.floats(0.02, 0.15),
    scale=st.floats(0.1, 10.0),
)
def test_every_property_scales_by_its_power_of_length(
    width: float, height: float, share: float, scale: float
) -> None:
    wall = share * min(width, height)
    one = sections.properties_of_rectangular_tube(width, height, wall)
    other = sections.properties_of_rectangular_tube(scale * width, scale * height, scale * wall)
    powers = {"area": 2, "inertia_u": 4, "section_modulus_u": 3, "plastic_modulus_v": 3}
    powers |= {"torsion_constant": 4, "torsional_shear_constant": 3, "shear_area_u": 2}
    powers |= {"slenderness_u": 0, "perimeter": 1, "least_radius_of_gyration": 1}
    for name, power in powers.items():
        expected = getattr(one, name) * scale**power
        assert getattr(other, name) == pytest.approx(expected, rel=1e-11)


@given(width=st.floats(0.02, 0.2), height=st.floats(0.02, 0.2), share=st.floats(0.02, 0.15))
def test_a_plastic_modulus_lies_between_the_elastic_one_and_half_as_much_again(
    width: float, height: float, share: float
) -> None:
    tube = sections.properties_of_rectangular_tube(width, height, share * min(width, height))
    for axis in "uv":
        elastic = getattr(tube, f"section_modulus_{axis}")
        plastic = getattr(tube, f"plastic_modulus_{axis}")
        assert elastic < plastic < 1.5 * elastic


def test_a_sharp_tube_has_its_closed_forms() -> None:
    b, h, t = 0.100, 0.060, 0.004
    tube = sections.properties_of_rectangular_tube(b, h, t, outer_radius=0.0, inner_radius=0.0)
    bi, hi = b - 2.0 * t, h - 2.0 * t
    assert tube.area == pytest.approx(b * h - bi * hi, rel=1e-13)
    assert tube.inertia_u == pytest.approx((b * h**3 - bi * hi**3) / 12.0, rel=1e-13)
    assert tube.plastic_modulus_u == pytest.approx((b * h**2 - bi * hi**2) / 4.0, rel=1e-13)
    A_m, s = (b - t) * (h - t), 2.0 * (b + h - 2.0 * t)
    assert tube.torsion_constant == pytest.approx(4.0 * A_m**2 * t / s, rel=1e-13)


def test_the_torsional_shear_constant_is_that_of_aisc() -> None:
    # ANSI/AISC 360-22 H3.1, user note: 2(B - t)(H - t)t - 4.5(4 - π)t³.
    B, H, t = 0.100, 0.060, 0.004
    C = 2.0 * (B - t) * (H - t) * t - 4.5 * (4.0 - math.pi) * t**3
    assert TUBE.torsional_shear_constant == pytest.approx(C, rel=1e-13)
    tube = sections.properties_of_round_tube(0.060, 0.003)
    C = math.pi * (0.060 - 0.003) ** 2 * 0.003 / 2.0
    assert tube.torsional_shear_constant == pytest.approx(C, rel=1e-14)


def test_a_round_tube_has_its_closed_forms() -> None:
    D, d = 0.060, 0.054
    tube = sections.properties_of_round_tube(D, 0.003)
    assert tube.inertia_u == pytest.approx(math.pi * (D**4 - d**4) / 64.0, rel=1e-13)
    assert tube.plastic_modulus_u == pytest.approx((D**3 - d**3) / 6.0, rel=1e-13)
    assert tube.torsion_constant == pytest.approx(2.0 * tube.inertia_u, rel=1e-13)
    assert tube.slenderness_u == tube.slenderness_v == pytest.approx(20.0)
    assert tube.shear_area_u == pytest.approx(tube.area / 2.0)


# Timoshenko and Goodier, Theory of Elasticity, table of k, k1, k2 for rectangular bars (from
# memory): long / short, J / (long short³), C / (long short²); three printed digits.
TORSION_OF_RECTANGLES = [
    (1.0, 0.1406, 0.208),
    (1.5, 0.196, 0.231),
    (2.0, 0.229, 0.246),
    (3.0, 0.263, 0.267),
    (5.0, 0.291, 0.291),
    (10.0, 0.312, 0.312),
]


@pytest.mark.parametrize(("ratio", "k1", "k2"), TORSION_OF_RECTANGLES)
def test_torsion_of_solid_rectangles(ratio: float, k1: float, k2: float) -> None:
    for width, thickness in ((ratio, 1.0), (1.0, ratio)):
        bar = sections.properties_of_flat_bar(width, thickness)
        assert bar.torsion_constant == pytest.approx(k1 * ratio, abs=0.0006 * ratio)
        assert bar.torsional_shear_constant == pytest.approx(k2 * ratio, abs=0.0006 * ratio)


def test_a_very_thin_flat_tends_to_a_third() -> None:
    bar = sections.properties_of_flat_bar(1.0, 1e-4)
    assert bar.torsion_constant == pytest.approx(1e-12 / 3.0, rel=1e-4)
    assert bar.torsional_shear_constant == pytest.approx(1e-8 / 3.0, rel=1e-4)


def test_solid_bars_have_no_wall_to_buckle() -> None:
    for bar in (
        sections.properties_of_round_bar(0.02),
        sections.properties_of_flat_bar(0.05, 0.01),
    ):
        assert (bar.wall, bar.flat_u, bar.slenderness_u, bar.slenderness_v) == (0.0, 0.0, 0.0, 0.0)
    flat = sections.properties_of_flat_bar(0.05, 0.01)
    assert flat.plastic_modulus_v == pytest.approx(0.01 * 0.05**2 / 4.0, rel=1e-13)


def finite_elements(section: Section) -> Section:
    section.calculate_geometric_properties()
    section.calculate_warping_properties()
    section.calculate_plastic_properties()
    return section


def test_a_tube_agrees_with_a_finite_element_program() -> None:
    t = 4.0
    geometry = rectangular_hollow_section(d=60.0, b=100.0, t=t, r_out=2.0 * t, r_in=t, n_r=12)
    found = finite_elements(Section(geometry.create_mesh(mesh_sizes=[6.0])))
    # 11 chords to a corner leave out (π/22)²/6 of it, part in 1e3 of the section.
    plastic_x, plastic_y = found.get_s()
    assert TUBE.plastic_modulus_u == pytest.approx(plastic_x * 1e-9, rel=1e-3)
    assert TUBE.plastic_modulus_v == pytest.approx(plastic_y * 1e-9, rel=1e-3)
    # Bredt leaves out each wall's own torsion, which EN 10219-2 adds.
    assert TUBE.torsion_constant == pytest.approx(found.get_j() * 1e-12, rel=1e-2)
    by_en = sections.en10219_properties(0.100, 0.060, 0.004)
    assert by_en.torsion_constant == pytest.approx(found.get_j() * 1e-12, rel=5e-3)


def test_an_angle_agrees_with_a_finite_element_program() -> None:
    geometry = angle_section(d=60.0, b=90.0, t=8.0, r_r=7.0, r_t=3.5, n_r=16)
    found = finite_elements(Section(geometry.create_mesh(mesh_sizes=[4.0])))
    angle = sections.properties_of_angle(0.090, 0.060, 0.008, root_radius=0.007, toe_radius=0.0035)
    assert angle.area == pytest.approx(found.get_area() * 1e-6, rel=1e-4)
    inertia_x, inertia_y, product = found.get_ic()
    assert angle.inertia_u == pytest.approx(inertia_x * 1e-12, rel=3e-4)
    assert angle.inertia_v == pytest.approx(inertia_y * 1e-12, rel=3e-4)
    assert angle.product_uv == pytest.approx(product * 1e-12, rel=3e-4)
    _, least = found.get_rp()
    assert angle.least_radius_of_gyration == pytest.approx(least * 1e-3, rel=3e-4)
    # sectionproperties gives plastic moduli about the centroidal axes as s_xx, s_yy.
    plastic_x, plastic_y = found.get_s()
    assert angle.plastic_modulus_u == pytest.approx(plastic_x * 1e-9, rel=1e-3)
    assert angle.plastic_modulus_v == pytest.approx(plastic_y * 1e-9, rel=1e-3)
    # Σbt³/3 leaves out the fillet, which stiffens by some 5 to 10 %: safe.
    assert 0.88 * found.get_j() < angle.torsion_constant * 1e12 < found.get_j()


def test_a_plastic_modulus_halves_the_area() -> None:
    # A tee: 100 x 10 mm flange above a 10 x 90 mm stem; areas 1000 and 900 mm².
    corners = [
        (-0.005, 0.0), (0.005, 0.0), (0.005, 0.09), (0.05, 0.09),
        (0.05, 0.1), (-0.05, 0.1), (-0.05, 0.09), (-0.005, 0.09),
    ]  # fmt: skip
    ends = [*corners[1:], corners[0]]
    tee = outlines.Outline((tuple(map(outlines.Line, corners, ends)),))
    # Half of 1900 mm² lies in the top 9.5 mm: lever arms 4.75 mm above, 0.25 and 45.5 below.
    expected = 950e-6 * 4.75e-3 + 50e-6 * 0.25e-3 + 900e-6 * 45.5e-3
    found = sections.plastic_modulus(outlines.quarter_turned(tee))
    assert found == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("wall", "outer", "inner"),
    [
        (0.003, 2.0, 1.0),
        (0.006, 2.0, 1.0),
        (0.008, 2.5, 1.5),
        (0.010, 2.5, 1.5),
        (0.0125, 3.0, 2.0),
    ],
)
def test_corner_radii_of_cold_formed_tube(wall: float, outer: float, inner: float) -> None:
    assert sections.en10219_radii(wall) == pytest.approx((outer * wall, inner * wall))


def test_properties_are_plain_numbers() -> None:
    for section in (TUBE, sections.properties_of_angle(0.05, 0.03, 0.005)):
        for field in dataclasses.fields(SectionProperties):
            value = getattr(section, field.name)
            assert isinstance(value, str if field.name == "shape" else float)
