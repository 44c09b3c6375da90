"""Welds, bolts, plates and tube joints: what must always hold, edges, and refusals."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from leafwright.handbook import aws, bolts_steel, weld_group
from leafwright.handbook.aisc360 import (
    Method,
    bolt_holes,
    bolts,
    connecting,
    hss_joints,
    joint_limits,
    round_joints,
    walls,
    welds,
)
from leafwright.handbook.aisc360._values import Real
from tests.sizes import cases

INCH = 0.0254
KSI = 4448.2216152605 / INCH**2

# Function, arguments as (low, high, force and length exponents), and the result's exponents.
Range = tuple[float, float, int, int]
STRESS: Range = (200e6, 400e6, 1, -2)
WALL: Range = (2e-3, 6e-3, 0, 1)
SMALL: Range = (0.02, 0.04, 0, 1)
SIDE: Range = (0.05, 0.1, 0, 1)
LARGE: Range = (0.2, 0.4, 0, 1)
AREA: Range = (1e-4, 1e-3, 0, 2)
MODULUS: Range = (5e-5, 9e-5, 0, 3)
FORCE: Range = (1e3, 1e5, 1, 0)
ANGLE: Range = (0.6, 1.57, 0, 0)
RATIO: Range = (0.3, 0.8, 0, 0)
YOUNG: Range = (190e9, 210e9, 1, -2)
END: Range = (0.01, 1.0, 0, 1)

FORMULAS: dict[str, tuple[Callable[..., Real], dict[str, Range], tuple[int, int]]] = {
    "throat": (welds.fillet_throat, {"w_1": WALL, "w_2": WALL}, (0, 1)),
    "long fillet": (welds.fillet_effective_length, {"length": LARGE, "w": WALL}, (0, 1)),
    "weld": (welds.weld_shear, {"F_EXX": STRESS, "A_we": AREA}, (1, 0)),
    "groove": (welds.groove_weld_compression, {"F_EXX": STRESS, "A_we": AREA}, (1, 0)),
    "fillet group": (welds.fillet_group_strength, {"R_nwl": FORCE, "R_nwt": FORCE}, (1, 0)),
    "matching wall": (
        welds.base_metal_thickness,
        {"F_EXX": STRESS, "w": WALL, "F_u": STRESS},
        (0, 1),
    ),
    "plug": (welds.plug_area, {"d": SMALL}, (0, 2)),
    "slot": (welds.slot_area, {"width": SMALL, "length": SIDE}, (0, 2)),
    "fillet in hole": (welds.fillet_in_hole_area, {"d": SMALL, "w": WALL}, (0, 2)),
    "bolt": (bolts.bolt_strength, {"F_n": STRESS, "A_b": AREA}, (1, 0)),
    "bearing": (bolts.bearing, {"d": SMALL, "t": WALL, "F_u": STRESS}, (1, 0)),
    "tearout": (bolts.tearout, {"l_c": SMALL, "t": WALL, "F_u": STRESS}, (1, 0)),
    "tension yielding": (
        connecting.element_tension_yielding,
        {"F_y": STRESS, "A_g": AREA},
        (1, 0),
    ),
    "tension rupture": (connecting.element_tension_rupture, {"F_u": STRESS, "A_e": AREA}, (1, 0)),
    "shear yielding": (connecting.element_shear_yielding, {"F_y": STRESS, "A_gv": AREA}, (1, 0)),
    "shear rupture": (connecting.element_shear_rupture, {"F_u": STRESS, "A_nv": AREA}, (1, 0)),
    "block": (
        connecting.block_shear,
        {"F_y": STRESS, "F_u": STRESS, "A_gv": AREA, "A_nv": AREA, "A_nt": AREA},
        (1, 0),
    ),
    "pin": (connecting.pin_bearing, {"F_y": STRESS, "d": SMALL, "t": WALL}, (1, 0)),
    "flange": (
        walls.flange_local_bending,
        {"F_yf": STRESS, "t_f": WALL, "distance_to_end": END},
        (1, 0),
    ),
    "web yielding": (
        walls.web_local_yielding,
        {
            "F_yw": STRESS,
            "t_w": WALL,
            "k": SMALL,
            "l_b": SIDE,
            "d": LARGE,
            "distance_to_end": END,
        },
        (1, 0),
    ),
    "crippling": (
        walls.web_local_crippling,
        {
            "F_yw": STRESS,
            "t_w": WALL,
            "t_f": WALL,
            "l_b": SIDE,
            "d": LARGE,
            "distance_to_end": END,
            "E": YOUNG,
        },
        (1, 0),
    ),
    "web buckling": (
        walls.web_compression_buckling,
        {
            "F_yw": STRESS,
            "t_w": WALL,
            "h": LARGE,
            "d": LARGE,
            "distance_to_end": END,
            "E": YOUNG,
        },
        (1, 0),
    ),
    "B_e": (
        hss_joints.effective_width,
        {"B": SIDE, "t": WALL, "F_y": STRESS, "B_b": SMALL, "t_b": WALL, "F_yb": STRESS},
        (0, 1),
    ),
    "face": (
        hss_joints.face_plastification,
        {
            "F_y": STRESS,
            "t": WALL,
            "B": SIDE,
            "B_b": SMALL,
            "l_b": SMALL,
            "theta": ANGLE,
            "Q_f": RATIO,
        },
        (1, 0),
    ),
    "punching": (
        hss_joints.face_punching,
        {"F_y": STRESS, "t": WALL, "B": LARGE, "B_b": SMALL, "l_b": SMALL, "theta": ANGLE},
        (1, 0),
    ),
    "side walls": (
        hss_joints.sidewall_yielding,
        {"F_y": STRESS, "t": WALL, "l_b": SMALL, "k": WALL, "H": SIDE, "theta": ANGLE},
        (1, 0),
    ),
    "side walls crumpling": (
        hss_joints.sidewall_crippling,
        {
            "F_y": STRESS,
            "t": WALL,
            "l_b": SMALL,
            "H": SIDE,
            "theta": ANGLE,
            "Q_f": RATIO,
            "E": YOUNG,
        },
        (1, 0),
    ),
    "side walls buckling": (
        hss_joints.sidewall_buckling,
        {"F_y": STRESS, "t": WALL, "H": SIDE, "theta": ANGLE, "Q_f": RATIO, "E": YOUNG},
        (1, 0),
    ),
    "branch": (
        hss_joints.branch_yielding,
        {"F_yb": STRESS, "A_b": AREA, "B_b": SIDE, "H_b": SIDE, "B_e": SMALL},
        (1, 0),
    ),
    "branch bent": (
        hss_joints.branch_yielding_in_plane,
        {
            "F_yb": STRESS,
            "Z_b": MODULUS,
            "B_b": SIDE,
            "H_b": SIDE,
            "t_b": WALL,
            "B_e": SMALL,
        },
        (1, 1),
    ),
    "branch bent across": (
        hss_joints.branch_yielding_out_of_plane,
        {"F_yb": STRESS, "Z_b": MODULUS, "B_b": SIDE, "t_b": WALL, "B_e": SMALL},
        (1, 1),
    ),
    "side walls bent": (
        hss_joints.sidewall_yielding_in_plane,
        {"F_y": STRESS, "t": WALL, "H_b": SIDE},
        (1, 1),
    ),
    "side walls bent across": (
        hss_joints.sidewall_yielding_out_of_plane,
        {"F_y": STRESS, "t": WALL, "B": SIDE, "H_b": SIDE},
        (1, 1),
    ),
    "distortion": (
        hss_joints.chord_distortion,
        {"F_y": STRESS, "t": WALL, "B": SIDE, "H": SIDE, "H_b": SIDE},
        (1, 1),
    ),
    "weld length": (
        hss_joints.weld_effective_length,
        {"B_b": SIDE, "H_b": SIDE, "B_e": SMALL, "beta": RATIO, "theta": ANGLE},
        (0, 1),
    ),
    "weld modulus": (
        hss_joints.weld_modulus_in_plane,
        {"t_w": WALL, "B_b": SIDE, "H_b": SIDE, "B_e": SMALL, "beta": RATIO, "theta": ANGLE},
        (0, 3),
    ),
    "weld modulus across": (
        hss_joints.weld_modulus_out_of_plane,
        {"t_w": WALL, "B_b": SIDE, "H_b": SIDE, "B_e": SMALL, "beta": RATIO, "theta": ANGLE},
        (0, 3),
    ),
    "plate across a round": (
        round_joints.transverse_plate,
        {"F_y": STRESS, "t": WALL, "D": SIDE, "B_b": SMALL, "Q_f": RATIO},
        (1, 0),
    ),
    "plate along a round": (
        round_joints.longitudinal_plate,
        {"F_y": STRESS, "t": WALL, "D": SIDE, "l_b": SMALL, "theta": ANGLE, "Q_f": RATIO},
        (1, 0),
    ),
    "round punching": (
        round_joints.round_punching,
        {"F_y": STRESS, "t": WALL, "D": LARGE, "D_b": SMALL, "theta": ANGLE},
        (1, 0),
    ),
    "round T": (
        round_joints.round_t_joint,
        {"F_y": STRESS, "t": WALL, "D": SIDE, "D_b": SMALL, "theta": ANGLE, "Q_f": RATIO},
        (1, 0),
    ),
    "round cross": (
        round_joints.round_cross_joint,
        {"F_y": STRESS, "t": WALL, "D": SIDE, "D_b": SMALL, "theta": ANGLE, "Q_f": RATIO},
        (1, 0),
    ),
}
EACH = pytest.mark.parametrize("name", FORMULAS)


def drawn(arguments: dict[str, Range], seed: int = 22) -> dict[str, np.ndarray]:
    """Return seeded random values of every argument, one array each."""
    random = np.random.default_rng(seed)
    number = cases(25, 500)
    return {name: random.uniform(r[0], r[1], number) for name, r in arguments.items()}


@EACH
def test_the_result_does_not_depend_on_the_units(name: str) -> None:
    function, arguments, (force, length) = FORMULAS[name]
    values = drawn(arguments)
    kip, inch = 1.0 / 4448.2216152605, 1.0 / 0.0254
    in_kips = {
        key: value * kip ** arguments[key][2] * inch ** arguments[key][3]
        for key, value in values.items()
    }
    expected = np.asarray(function(**values)) * kip**force * inch**length
    np.testing.assert_allclose(np.asarray(function(**in_kips)), expected, rtol=1e-11)


@EACH
def test_arrays_give_what_a_loop_over_floats_gives(name: str) -> None:
    function, arguments, _ = FORMULAS[name]
    values = drawn(arguments)
    looped = [
        function(**dict(zip(values, row, strict=True)))
        for row in zip(*(v.tolist() for v in values.values()), strict=True)
    ]
    assert all(isinstance(x, float) for x in looped)
    np.testing.assert_allclose(np.asarray(function(**values)), np.array(looped), rtol=1e-13)


@EACH
def test_a_negative_argument_is_refused_by_name(name: str) -> None:
    function, arguments, _ = FORMULAS[name]
    for key, (_, high, _, _) in arguments.items():
        values = drawn(arguments)
        values[key][3] = -high
        with pytest.raises(ValueError, match=rf"^{key} = "):
            function(**values)


@pytest.mark.parametrize("name", [name for name, row in FORMULAS.items() if row[2][0] == 1])
def test_stronger_or_thicker_steel_is_never_weaker(name: str) -> None:
    """Strength of the part grows with its stress and thickness; `F_yb` of B_e is the branch's."""
    function, arguments, _ = FORMULAS[name]
    values = drawn(arguments)
    before = np.asarray(function(**values))
    for key in set(arguments) & {"F_y", "F_u", "F_yw", "F_yf", "F_EXX", "F_n", "t", "t_w"}:
        after = np.asarray(function(**{**values, key: 1.1 * values[key]}))
        assert (after >= before * (1.0 - 1e-12)).all(), key


@pytest.mark.parametrize("method", Method)
def test_more_load_never_leaves_a_bolt_more(method: Method) -> None:
    random = np.random.default_rng(3)
    F_nt, F_nv = random.uniform(3e8, 8e8, 30), random.uniform(2e8, 5e8, 30)
    shear = np.linspace(0.0, 6e8, 60)[:, np.newaxis]
    left = np.asarray(bolts.tensile_stress_with_shear(F_nt, F_nv, shear, method))
    assert (np.diff(left, axis=0) <= 1e-6).all()
    assert (left >= 0.0).all()
    held = np.asarray(bolts.slip_with_tension(np.linspace(0.0, 1e7, 60), 1e5, 8, method))
    assert (np.diff(held) <= 0.0).all()


def test_more_load_in_the_chord_never_strengthens_the_joint() -> None:
    U = np.linspace(0.0, 1.0, 50)[:, np.newaxis]
    flat = np.asarray(hss_joints.chord_stress_factor(U, np.linspace(0.25, 1.0, 7)))
    round_ = np.asarray(hss_joints.chord_stress_factor_round(U))
    assert (np.diff(flat, axis=0) <= 0.0).all()
    assert (np.diff(round_, axis=0) < 0.0).all()
    assert flat.min() >= 0.4


def random_group(random: np.random.Generator) -> list[weld_group.Line]:
    points = random.uniform(-0.1, 0.1, (6, 4)).tolist()
    return [((a, b), (c, d)) for a, b, c, d in points]


def test_line_forces_balance_the_load() -> None:
    """Force per length is linear along a line: Simpson's rule gives force and moment exactly."""
    random = np.random.default_rng(9)
    for _ in range(cases(25, 500)):
        lines = random_group(random)
        force, at, moment = (tuple(random.uniform(-1.0, 1.0, 3).tolist()) for _ in range(3))
        found = weld_group.line_forces(lines, force, at, moment=moment)
        total, turned = np.zeros(3), np.zeros(3)
        for start, end in zip(found[::2], found[1::2], strict=True):
            p = np.array([(*start.at, 0.0), (*end.at, 0.0)])
            f = np.array([(x.f_x, x.f_y, x.f_z) for x in (start, end)])
            length = np.linalg.norm(p[1] - p[0])
            middle_p, middle_f = p.mean(axis=0), f.mean(axis=0)
            total += length * middle_f
            turned += (
                length
                / 6.0
                * (np.cross(p[0], f[0]) + 4.0 * np.cross(middle_p, middle_f) + np.cross(p[1], f[1]))
            )
        np.testing.assert_allclose(total, force, atol=1e-9)
        np.testing.assert_allclose(turned, np.cross(at, force) + np.array(moment), atol=1e-9)


def test_more_load_and_more_offset_strain_a_weld_more() -> None:
    random = np.random.default_rng(10)
    for _ in range(cases(25, 500)):
        lines = random_group(random)
        x, y, _ = random.uniform(-1.0, 1.0, 3).tolist()
        force = (x, y, 0.5)
        once = weld_group.greatest_line_force(lines, force, (0.1, 0.2, 0.3)).resultant
        twice = weld_group.greatest_line_force(
            lines, (2 * x, 2 * y, 1.0), (0.1, 0.2, 0.3)
        ).resultant
        assert twice == pytest.approx(2.0 * once)
    lines = [((0.0, -0.05), (0.0, 0.05)), ((0.06, -0.05), (0.06, 0.05))]
    out = [
        weld_group.greatest_line_force(lines, (0.0, -1.0, 0.0), (0.03 + e, 0.0, 0.0)).resultant
        for e in np.linspace(0.0, 1.0, 20)
    ]
    assert (np.diff(out) > 0.0).all()


def test_a_turned_group_feels_a_turned_load_alike() -> None:
    random = np.random.default_rng(11)
    lines, a = random_group(random), 0.7
    c, s = math.cos(a), math.sin(a)

    def turned(p: tuple[float, float]) -> tuple[float, float]:
        return c * p[0] - s * p[1], s * p[0] + c * p[1]

    before = weld_group.line_forces(lines, (3.0, -2.0, 5.0), (0.2, 0.1, 0.3))
    fx, fy = turned((3.0, -2.0))
    px, py = turned((0.2, 0.1))
    after = weld_group.line_forces(
        [(turned(p), turned(q)) for p, q in lines], (fx, fy, 5.0), (px, py, 0.3)
    )
    assert [f.resultant for f in after] == pytest.approx([f.resultant for f in before])


def test_a_straight_weld_bends_along_itself_but_cannot_be_turned_about_itself() -> None:
    line = [((0.0, 0.0), (0.03, 0.04))]
    # Pull at 0.01 from the middle, along the weld: f = F/L + F e (L/2)/(L³/12).
    worst = weld_group.greatest_line_force(line, (0.0, 0.0, 100.0), (0.021, 0.028, 0.0))
    assert worst.resultant == pytest.approx(100 / 0.05 + 100 * 0.01 * 6 / 0.05**2)
    with pytest.raises(ValueError, match=r"turns the part about the weld itself.*weld another"):
        weld_group.line_forces(line, (0.0, 0.0, 100.0), (0.1, 0.0, 0.0))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"B": 0.06}, "chord B/t is 40, over the limit of 35"),
        ({"H": 0.06}, "chord H/t is 40, over the limit of 35"),
        ({"t_b": 0.0010}, "branch B_b/t_b is 50, over the limit of 30.1"),
        ({"H_b": 0.008}, "width ratio H_b/B is 0.16, under the limit of 0.25"),
        ({"B_b": 0.01}, "width ratio B_b/B is 0.2, under the limit of 0.25"),
        ({"B_b": 0.06}, "width ratio B_b/B is 1.2, over the limit of 1"),
        ({"F_y": 53 * KSI}, "chord F_y in ksi is 53, over the limit of 52"),
        ({"F_ub": 55 * KSI}, "branch F_y/F_u is 0.909, over the limit of 0.806"),
        ({"theta": math.radians(20.0)}, "angle of the branch in degrees is 20, under"),
        ({"H": 0.02}, "chord H/B is 0.4, under the limit of 0.5"),
    ],
)
def test_out_of_limits_is_said(change: dict[str, float], words: str) -> None:
    joint = {
        "B": 0.05,
        "H": 0.05,
        "t": 0.0015,
        "B_b": 0.05,
        "H_b": 0.05,
        "t_b": 0.0020,
        "F_y": 50 * KSI,
        "F_u": 62 * KSI,
        "F_yb": 50 * KSI,
        "F_ub": 62 * KSI,
    }
    limits: Callable[..., tuple[str, ...]] = joint_limits.rectangular_limits
    assert limits(**joint) == ()
    assert any(words in said for said in limits(**{**joint, **change}))


def test_out_of_limits_of_round_joints() -> None:
    steel = (50 * KSI, 62 * KSI, 50 * KSI, 62 * KSI)
    T, cross = joint_limits.Joint
    assert joint_limits.round_limits(0.09, 0.002, 0.05, 0.002, *steel, T) == ()
    said = joint_limits.round_limits(0.09, 0.002, 0.05, 0.002, *steel, cross)
    assert said == ("chord D/t is 45, over the limit of 40",)
    said = joint_limits.round_limits(0.09, 0.002, 0.05, 0.0015, *steel, T)
    assert said == ("branch D_b/t_b is 33.3, over the limit of 29",)
    pulled = joint_limits.round_limits(0.09, 0.002, 0.05, 0.0015, *steel, T, branch_pressed=False)
    assert pulled == ()
    plate = joint_limits.round_plate_limits(0.09, 0.002, *steel[:2], T, B_b=0.01)
    assert plate == ("width ratio B_b/D is 0.111, under the limit of 0.2",)
    with pytest.raises(ValueError, match=r"^t = 0: must be above 0; give the magnitude in SI"):
        joint_limits.round_plate_limits(0.09, 0, *steel[:2], T)


REFUSALS: dict[str, tuple[Callable[[], object], str]] = {
    "hole under its bolt": (
        lambda: bolt_holes.hole_class(0.75 * INCH, 0.7 * INCH),
        r"smaller than its bolt .*drill it to .*or give a smaller bolt",
    ),
    "no such bolt": (
        lambda: bolt_holes.hole_sizes(0.013),
        r"^d = 0.013 m: not a bolt of Table J3.3 or J3.3M; give 1/2",
    ),
    "edge of too large a hole": (
        lambda: bolt_holes.minimum_edge_distance(0.75 * INCH, hole=bolt_holes.Hole.LARGER),
        r"not permitted \(J3.3\); plate over it or use a larger bolt",
    ),
    "pretension of A307": (
        lambda: bolts.minimum_pretension(0.75 * INCH, bolts.BoltGroup.A307),
        r"^A307 has no pretension .*give Group 120",
    ),
    "pretension of no bolt": (
        lambda: bolts.minimum_pretension(0.010, bolts.BoltGroup.GROUP_120),
        r"^d = 0.01 m: not a bolt of Table J3.1",
    ),
    "too many holes": (
        lambda: connecting.net_area(0.1, 0.01, 5, 0.02),
        r"^5 holes of 0.02 m leave nothing of a width of 0.1 m; give a wider plate",
    ),
    "obtuse weld": (
        lambda: welds.directional_factor(2.0),
        r"^theta = 2.0: over a right angle; give the acute angle .*radians$",
    ),
    "weakening factor": (
        lambda: welds.weld_shear(1.0, 1.0, k_ds=0.9),
        r"^k_ds = 0.9: must be 1.0 or more; take it from directional_factor$",
    ),
    "short slot": (
        lambda: welds.slot_area(0.02, 0.01),
        r"^length = 0.01 m is under width = 0.02 m; give the slot's length over all$",
    ),
    "solid chord": (
        lambda: hss_joints.sidewall_buckling(1.0, 0.02, 0.05),
        r"^H = 0.05: must be above 0.06, what its walls take up; check the chord's size",
    ),
    "no weld": (lambda: weld_group.line_properties([]), r"a weld group needs a line"),
    "weld without length": (
        lambda: weld_group.line_properties([((0.0, 0.0), (0.0, 0.0))]),
        r"^line 1 runs from .*it has no length; give two different ends$",
    ),
    "ring": (lambda: weld_group.ring_properties(-1.0), r"^r = -1.0: must be above 0"),
    "ring's load": (
        lambda: weld_group.ring_greatest_force(0.02, pull=-1.0),
        r"^pull = -1.0: must be 0 or more; give its magnitude$",
    ),
    "thinner is thicker": (
        lambda: aws.minimum_fillet(0.01, 0.005),
        r"give them the other way round$",
    ),
    "plug without hole": (
        lambda: aws.plug_hole(0.003, 0.0),
        r"^d = 0.0: must be above 0; give it in metres$",
    ),
    "no such class": (
        lambda: bolts_steel.iso_property_class("8.9", 0.012),
        r"^property class '8.9': not one of ISO 898-1; give what is marked .*8.8",
    ),
    "class without size": (
        lambda: bolts_steel.iso_property_class("8.8", 0.0),
        r"^d = 0.0: must be above 0; give the nominal diameter in metres$",
    ),
    "no proof stress": (
        lambda: bolts_steel.proof_load(bolts_steel.ASTM["A307 Grade A"], 1e-4),
        r"^A307 Grade A: ASTM A307 gives no proof stress here; use",
    ),
    "no area": (
        lambda: bolts_steel.tensile_load(bolts_steel.ASTM["A307 Grade A"], 0.0),
        r"^stress_area = 0.0: must be above 0; give it in m2$",
    ),
    "no thread": (
        lambda: bolts_steel.stress_area_unified(0.0127, 0.0),
        r"is no thread; give the diameter in metres",
    ),
}


@pytest.mark.parametrize("name", REFUSALS)
def test_refusals_say_what_to_do(name: str) -> None:
    act, words = REFUSALS[name]
    with pytest.raises(ValueError, match=words):
        act()
