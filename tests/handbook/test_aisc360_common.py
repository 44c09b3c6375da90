"""What every formula of `handbook.aisc360` owes its caller: broadcasting, units, nan, refusals."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pytest
from numpy.typing import NDArray

from leafwright.handbook import aisc360
from leafwright.handbook.aisc360 import (
    LimitState,
    Method,
    available,
    bending,
    classification,
    combined,
    compression,
    shear,
    tension,
)
from leafwright.handbook.aisc360.safety import FACTORS
from tests.sizes import cases


@dataclass(frozen=True, slots=True)
class Argument:
    """An argument's range for drawing, and its dimensions (exponents of force and length)."""

    low: float
    high: float
    force: int = 0
    length: int = 0


@dataclass(frozen=True, slots=True)
class Formula:
    """A function, its arguments, the dimensions of its result, and what it may leave unread."""

    function: Callable[..., aisc360._values.Real]
    arguments: dict[str, Argument]
    force: int
    length: int
    sometimes_unread: frozenset[str] = frozenset()


F_Y = Argument(200e6, 700e6, 1, -2)
YOUNG = Argument(150e9, 210e9, 1, -2)
STRESS = Argument(20e6, 200e6, 1, -2)
AREA = Argument(1e-4, 1e-2, 0, 2)
MODULUS = Argument(1e-6, 1e-4, 0, 3)
WALL = Argument(2e-3, 2e-2, 0, 1)
SIDE = Argument(0.08, 0.4, 0, 1)
SPAN = Argument(0.1, 20.0, 0, 1)
FLAT = Argument(5.0, 130.0)
ROUND = Argument(10.0, 400.0)
SLENDERNESS = Argument(1.0, 250.0)
RATIO = Argument(0.0, 0.6)
FACTOR = Argument(1.0, 2.3)

FORMULAS = {
    "flat width": Formula(classification.flat_width, {"outside": SIDE, "t": WALL}, 0, 1),
    "yielding": Formula(tension.tension_yielding, {"F_y": F_Y, "A_g": AREA}, 1, 0),
    "rupture": Formula(tension.tension_rupture, {"F_u": F_Y, "A_e": AREA}, 1, 0),
    "F_e": Formula(
        compression.elastic_buckling_stress, {"L_c_over_r": SLENDERNESS, "E": YOUNG}, 1, -2
    ),
    "F_n": Formula(compression.column_stress, {"F_y": F_Y, "F_e": STRESS}, 1, -2),
    "column": Formula(
        compression.compression_nonslender,
        {"F_y": F_Y, "A_g": AREA, "L_c_over_r": SLENDERNESS, "E": YOUNG},
        1,
        0,
    ),
    "wall width": Formula(
        compression.effective_wall_width,
        {"b_over_t": FLAT, "t": WALL, "F_y": F_Y, "F_n": STRESS, "E": YOUNG},
        0,
        1,
    ),
    "rectangular column": Formula(
        compression.compression_rectangular_hss,
        {
            "F_y": F_Y,
            "A_g": Argument(0.25, 0.5, 0, 2),
            "L_c_over_r": SLENDERNESS,
            "b_over_t": FLAT,
            "h_over_t": FLAT,
            "t": WALL,
            "E": YOUNG,
        },
        1,
        0,
    ),
    "round column": Formula(
        compression.compression_round_hss,
        {"F_y": F_Y, "A_g": AREA, "L_c_over_r": SLENDERNESS, "D_over_t": ROUND, "E": YOUNG},
        1,
        0,
    ),
    "rectangular bending": Formula(
        bending.bending_rectangular_hss,
        {
            "F_y": F_Y,
            "Z": MODULUS,
            "S": MODULUS,
            "b_over_t": FLAT,
            "h_over_t": FLAT,
            "S_e": MODULUS,
            "E": YOUNG,
        },
        1,
        1,
        frozenset({"S_e"}),
    ),
    "flange width": Formula(
        bending.effective_flange_width,
        {"b_over_t": FLAT, "t": WALL, "F_y": F_Y, "E": YOUNG},
        0,
        1,
    ),
    "S_e": Formula(
        bending.effective_section_modulus,
        {
            "F_y": F_Y,
            "I_x": Argument(1e-4, 1e-3, 0, 4),
            "A_g": Argument(0.1, 0.2, 0, 2),
            "H": SIDE,
            "b_over_t": FLAT,
            "t": WALL,
            "E": YOUNG,
        },
        0,
        3,
    ),
    "S_e, both flanges": Formula(
        bending.effective_section_modulus_both_flanges,
        {
            "F_y": F_Y,
            "I_x": Argument(1e-4, 1e-3, 0, 4),
            "H": SIDE,
            "b_over_t": FLAT,
            "t": WALL,
            "E": YOUNG,
        },
        0,
        3,
    ),
    "lateral-torsional": Formula(
        bending.lateral_torsional_rectangular_hss,
        {
            "F_y": F_Y,
            "Z_x": Argument(1.2e-4, 1.5e-4, 0, 3),
            "S_x": Argument(1.0e-4, 1.2e-4, 0, 3),
            "A_g": AREA,
            "r_y": WALL,
            "J": Argument(1e-7, 1e-6, 0, 4),
            "L_b": SPAN,
            "C_b": FACTOR,
            "E": YOUNG,
        },
        1,
        1,
        frozenset({"S_x", "C_b"}),
    ),
    "round bending": Formula(
        bending.bending_round_hss,
        {"F_y": F_Y, "Z": MODULUS, "S": MODULUS, "D_over_t": ROUND, "E": YOUNG},
        1,
        1,
        frozenset({"S"}),
    ),
    "bar": Formula(
        bending.bending_rectangular_bar,
        {"F_y": F_Y, "d": SIDE, "t": SIDE, "L_b": SPAN, "C_b": FACTOR, "E": YOUNG},
        1,
        1,
        frozenset({"L_b", "C_b", "E"}),
    ),
    "round bar": Formula(bending.bending_round_bar, {"F_y": F_Y, "D": SIDE}, 1, 1),
    "C_v2": Formula(
        shear.shear_buckling_coefficient, {"h_over_t": FLAT, "F_y": F_Y, "E": YOUNG}, 0, 0
    ),
    "rectangular shear": Formula(
        shear.shear_rectangular_hss, {"F_y": F_Y, "h": SIDE, "t": WALL, "E": YOUNG}, 1, 0
    ),
    "round shear": Formula(
        shear.shear_round_hss,
        {"F_y": F_Y, "A_g": AREA, "D": SIDE, "t": WALL, "L_v": SPAN, "E": YOUNG},
        1,
        0,
    ),
    "C, rectangular": Formula(
        combined.torsional_constant_rectangular_hss, {"B": SIDE, "H": SIDE, "t": WALL}, 0, 3
    ),
    "C, round": Formula(combined.torsional_constant_round_hss, {"D": SIDE, "t": WALL}, 0, 3),
    "rectangular torsion": Formula(
        combined.torsion_rectangular_hss,
        {"F_y": F_Y, "C": MODULUS, "h_over_t": Argument(5.0, 300.0), "E": YOUNG},
        1,
        1,
    ),
    "round torsion": Formula(
        combined.torsion_round_hss,
        {"F_y": F_Y, "C": MODULUS, "D": SIDE, "t": WALL, "L": SPAN, "E": YOUNG},
        1,
        1,
    ),
    "H1": Formula(
        combined.interaction_axial_bending,
        {"P_r_over_P_c": RATIO, "M_rx_over_M_cx": RATIO, "M_ry_over_M_cy": RATIO},
        0,
        0,
    ),
    "H3": Formula(
        combined.interaction_with_torsion,
        {
            "P_r_over_P_c": RATIO,
            "M_rx_over_M_cx": RATIO,
            "M_ry_over_M_cy": RATIO,
            "V_r_over_V_c": RATIO,
            "T_r_over_T_c": RATIO,
        },
        0,
        0,
        frozenset({"V_r_over_V_c"}),
    ),
}
EACH = pytest.mark.parametrize("formula", FORMULAS.values(), ids=FORMULAS.keys())


def drawn(formula: Formula, seed: int = 360) -> dict[str, NDArray[np.float64]]:
    """Return seeded random values of every argument, one array each."""
    random = np.random.default_rng(seed)
    number = cases(25, 500)
    return {name: random.uniform(a.low, a.high, number) for name, a in formula.arguments.items()}


@EACH
def test_arrays_give_what_a_loop_over_floats_gives(formula: Formula) -> None:
    values = drawn(formula)
    together = np.asarray(formula.function(**values))
    names = list(values)
    looped = [
        formula.function(**dict(zip(names, row, strict=True)))
        for row in zip(*(v.tolist() for v in values.values()), strict=True)
    ]
    assert all(isinstance(x, float) for x in looped), "floats in must give a float"
    np.testing.assert_allclose(together, np.array(looped), rtol=1e-14)


@EACH
def test_a_column_and_a_row_give_a_table(formula: Formula) -> None:
    values = drawn(formula)
    first, *others = values
    table = formula.function(
        **{first: values[first][:, np.newaxis]}, **{name: values[name][:7] for name in others}
    )
    row = {name: values[name][:7] for name in others}
    for i, value in enumerate(values[first]):
        np.testing.assert_allclose(
            np.asarray(table)[i], formula.function(**{first: value}, **row), rtol=1e-14
        )


@EACH
def test_the_result_does_not_depend_on_the_units(formula: Formula) -> None:
    """The specification's own unit is the kip and the inch; a formula may hold neither."""
    values = drawn(formula)
    kip, inch = 1.0 / 4448.2216152605, 1.0 / 0.0254
    in_kips = {
        name: value * kip ** formula.arguments[name].force * inch ** formula.arguments[name].length
        for name, value in values.items()
    }
    expected = np.asarray(formula.function(**values)) * kip**formula.force * inch**formula.length
    np.testing.assert_allclose(np.asarray(formula.function(**in_kips)), expected, rtol=1e-12)


@EACH
def test_an_unknown_argument_gives_an_unknown_result(formula: Formula) -> None:
    values = drawn(formula)
    for name in set(formula.arguments) - formula.sometimes_unread:
        unknown = {**values, name: np.full_like(values[name], np.nan)}
        assert np.isnan(np.asarray(formula.function(**unknown))).all(), name


@EACH
def test_a_negative_argument_is_refused_by_name_and_value(formula: Formula) -> None:
    for name, argument in formula.arguments.items():
        values = drawn(formula)
        values[name][3] = -argument.high
        with pytest.raises(
            ValueError, match=rf"^{name} = {-argument.high!r}: must be ".replace("+", r"\+")
        ):
            formula.function(**values)


@EACH
def test_no_warning_at_the_ends_of_the_ranges(formula: Formula) -> None:
    with np.errstate(all="raise"):
        for end in ("low", "high"):
            formula.function(**{n: getattr(a, end) for n, a in formula.arguments.items()})


@pytest.mark.parametrize(
    ("state", "phi", "omega"),
    [
        # ANSI/AISC 360-22, read: D2(a), D2(b), E1, F1(a), G1(a), H3.1.
        (LimitState.TENSION_YIELDING, 0.90, 1.67),
        (LimitState.TENSION_RUPTURE, 0.75, 2.00),
        (LimitState.COMPRESSION, 0.90, 1.67),
        (LimitState.BENDING, 0.90, 1.67),
        (LimitState.SHEAR, 0.90, 1.67),
        (LimitState.TORSION, 0.90, 1.67),
    ],
)
def test_available_strength_by_both_methods(state: LimitState, phi: float, omega: float) -> None:
    assert available(1000.0, state, Method.LRFD) == pytest.approx(phi * 1000.0)
    assert available(1000.0, state, Method.ASD) == pytest.approx(1000.0 / omega)


def test_every_limit_state_has_factors_and_a_clause() -> None:
    assert set(FACTORS) == set(LimitState)
    for factors in FACTORS.values():
        # 1.5/phi to two or three figures: how the specification sets Omega (commentary B3.2).
        assert factors.Omega == pytest.approx(1.5 / factors.phi, rel=0.003)
        assert factors.clause


def test_a_method_that_is_neither_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^method = 'asd': must be Method.ASD or Method.LRFD$"):
        available(1.0, LimitState.SHEAR, "asd")  # type: ignore[arg-type]


def test_steel_is_29000_ksi_exactly() -> None:
    modulus, shear_modulus = aisc360.constants.E, aisc360.constants.G
    assert modulus == pytest.approx(199_947_961_501.88, rel=1e-12)
    assert shear_modulus / modulus == pytest.approx(11_200 / 29_000, rel=1e-15)
