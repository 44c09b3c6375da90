"""Member checks: recomputed apart, never passed without a demand, never better for more load."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import brentq

from leafwright.frame.forces import Stations, member_forces
from leafwright.frame.load_cases import LeafCase, LiveLoads, leaf_cases, with_cases
from leafwright.frame.model import FrameModel
from leafwright.frame.of_leaf import Holding, leaf_frame
from leafwright.frame.solve import FrameResult, solve
from leafwright.handbook.aisc360 import Method, bending, combined, compression, shear, tension
from leafwright.job.model import SectionTable
from leafwright.job.steel import Steel
from leafwright.leaf import Leaf, design_leaf
from leafwright.proof.members import crossing_factor, effective_lengths, member_checks
from leafwright.records import Check, Verdict
from tests.leaves import INCH, STEEL, made, place, random_leaf, table
from tests.proof.proofs import check, proved
from tests.sizes import cases

SHEET = {"kind": "sheet", "thickness": "2 mm"}


def analysed(
    leaf: Leaf, *, method: str = "ASD", person: float = 90.0, push: float = 220.0
) -> tuple[FrameModel, FrameResult, tuple[LeafCase, ...]]:
    found = leaf_cases("LRFD" if method == "LRFD" else "ASD")
    frame = leaf_frame(leaf, Holding(leaf.members[0].foot[0], (0.0, leaf.height)), 1.0)
    model = with_cases(frame, found, LiveLoads(person, push))
    result = solve(model)
    assert isinstance(result, FrameResult), result
    return model, result, found


def checked(leaf: Leaf, *, method: str = "ASD", **live: float) -> dict[str, Check]:
    model, result, found = analysed(leaf, method=method, **live)
    return {c.key: c for c in member_checks(leaf, model, result, found, Method(method))}


# ------------------------------------------------------------------ one member, worked apart


@pytest.mark.parametrize(("method", "factored"), [("ASD", "person"), ("LRFD", "person, factored")])
def test_bottom_rail_of_an_unbraced_leaf_worked_apart(method: str, factored: str) -> None:
    """HSS 2-1/2 x 2-1/2 x 3/16, A500 Gr B: design wall 0.174 in, F_y 46 ksi, F_u 58 ksi."""
    _, _, leaf = made(1.5, 3.0, frame="HSS 2-1/2 x 2-1/2 x 3/16")
    model, result, all_cases = analysed(leaf, method=method)
    only = tuple(c for c in all_cases if c.key == factored)
    found = {c.key: c for c in member_checks(leaf, model, result, only, Method(method))}
    rail = next(m for m in leaf.members if m.role == "bottom rail")
    (element,) = [e for e in model.elements if e.member == rail.key]
    c, e = result.cases.index(factored), result.elements.index(element.key)
    start, end = result.end_forces[c, e, :6], result.end_forces[c, e, 6:]
    # The rail's own weight is small beside what its ends carry, so an end governs. In the plane
    # of the leaf nothing bends, shears or twists it out of it.
    N, V, M = end[0], max(abs(start[1]), abs(end[1])), max(abs(start[5]), abs(end[5]))
    assert np.abs(result.end_forces[c, e, [2, 3, 4, 8, 9, 10]]).max() < 1e-6 * M

    p = rail.section.properties()
    F_y, F_u = 46e3 * 6894.757293168362, 58e3 * 6894.757293168362
    E = 29e6 * 6894.757293168362

    def factor(R: float | NDArray[np.float64], phi: float, Omega: float) -> float:
        return float(phi * R if method == "LRFD" else R / Omega)

    length = 1.5 - 2.5 * INCH
    if N < 0:
        P_n = compression.compression_rectangular_hss(
            F_y, p.area, length / p.radius_of_gyration_v, p.slenderness_u, p.slenderness_v, p.wall
        )
        P_c = factor(P_n, 0.90, 1.67)
    else:
        P_c = min(
            factor(tension.tension_yielding(F_y, p.area), 0.90, 1.67),
            factor(tension.tension_rupture(F_u, p.area), 0.75, 2.00),
        )
    M_n = bending.bending_rectangular_hss(
        F_y, p.plastic_modulus_v, p.section_modulus_v, p.slenderness_v, p.slenderness_u
    )
    V_n = shear.shear_rectangular_hss(F_y, 2.5 * INCH - 3 * p.wall, p.wall)
    alpha = 1.0 if method == "LRFD" else 1.6
    B_1 = 1 / (1 - alpha * max(-N, 0) * length**2 / (math.pi**2 * E * p.inertia_v))
    bent = B_1 * M / factor(M_n, 0.90, 1.67)
    wanted = {
        "axial": abs(N) / P_c,
        "bending in": bent,
        "bending out": 0.0,
        "shear": V / factor(V_n, 0.90, 1.67),
        "torsion": 0.0,
        "together": combined.interaction_axial_bending(abs(N) / P_c, bent),
    }
    for tail, ratio in wanted.items():
        got = found[f"{rail.key}/{tail}"]
        assert got.ratio == pytest.approx(ratio, rel=1e-6, abs=1e-7), tail
        if ratio:
            assert got.case == "standing, a person hanging on the nose"
            assert got.basis == method


def test_together_is_h1_of_the_worst_section_of_every_member_and_case() -> None:
    _, _, leaf = random_leaf(3)
    found = checked(leaf)
    for member in leaf.members:
        got = found[f"{member.key}/together"].ratio
        assert got is not None
        # Whatever else is in it, it is at least each of its parts under H1-1b.
        for tail, share in (("axial", 0.5), ("bending in", 1.0), ("bending out", 1.0)):
            part = found[f"{member.key}/{tail}"].ratio
            assert part is not None
            assert got >= share * part - 1e-12


@pytest.mark.parametrize("seed", range(cases(3, 50)))
def test_sections_looked_at_miss_nothing_that_matters(seed: int) -> None:
    """The frame's extreme stations, against forty-one on each element, of each force alone."""
    _, _, leaf = random_leaf(seed, infill=[SHEET])
    model, result, found = analysed(leaf)
    length = dict(zip(result.elements, result.lengths, strict=True))
    for member, case in itertools.product(leaf.members, found):
        many = {
            e.key: Stations(np.linspace(0, length[e.key], 41), np.ones(41, dtype=np.bool_))
            for e in model.elements
            if e.member == member.key
        }
        all_along = member_forces(model, result, case.key, member.key, many)
        looked_at = member_forces(model, result, case.key, member.key)
        for name in ("N", "V_y", "V_z", "T", "M_y", "M_z"):
            a = float(np.abs(getattr(looked_at, name)).max())
            b = float(np.abs(getattr(all_along, name)).max())
            assert b <= a * (1 + 1e-9) + 1e-9


# ------------------------------------------------------------------ what must always hold


@pytest.mark.parametrize("method", ["ASD", "LRFD"])
@pytest.mark.parametrize("seed", range(cases(8, 150)))
def test_more_load_never_lowers_a_strength_ratio(seed: int, method: str) -> None:
    # Every case is an envelope with the leaf's own weight alone, and each ratio grows with its
    # force either way; so a heavier person or a harder push can only add.
    _, _, leaf = random_leaf(seed)
    light = checked(leaf, method=method, person=60.0, push=150.0)
    heavy = checked(leaf, method=method, person=120.0, push=300.0)
    for key, before in light.items():
        if key.endswith("/slenderness") or before.ratio is None:
            continue
        after = heavy[key].ratio
        assert after is None or after >= before.ratio * (1 - 1e-9) - 1e-9, key


@pytest.mark.parametrize("seed", range(cases(5, 150)))
def test_ok_is_never_said_without_a_demand(seed: int) -> None:
    _, _, leaf = random_leaf(seed)
    for method in ("ASD", "LRFD"):
        for key, c in checked(leaf, method=method).items():
            if c.verdict is Verdict.ASK:
                assert c.change, key
                continue
            assert c.available is not None, key
            assert c.available > 0
            if c.ratio is None:
                assert c.verdict is Verdict.SHORT, key
                continue
            assert c.demand is not None, key
            assert math.isfinite(c.demand)
            assert c.ratio == pytest.approx(c.demand / c.available)
            if c.verdict is Verdict.SHORT:
                assert c.ratio > 1
                assert c.change, key
            if c.verdict is Verdict.OK:
                assert c.ratio < 0.9 or key.endswith("/slenderness")


def test_every_member_has_every_check_once() -> None:
    _, _, leaf = made(1.2, 3.0, frame="SHS 40 x 40 x 3", brace=[{"pattern": "X"}])
    found = checked(leaf)
    tails = ["axial", "bending in", "bending out", "shear", "torsion", "together", "slenderness"]
    assert list(found) == [f"{m.key}/{tail}" for m in leaf.members for tail in tails]


def test_steel_that_promises_no_yield_stress_asks_for_its_certificate() -> None:
    _, _, leaf = made(1.2, 3.0)
    asked = checked(leaf)["leaf/top rail/certificate"]
    assert asked.verdict is Verdict.ASK
    assert asked.change == (
        "A513 promises no yield stress: get the mill certificate, or take a grade that does"
    )


# ------------------------------------------------------------------ effective lengths


def test_effective_lengths_of_stiles_rails_and_one_diagonal() -> None:
    _, _, leaf = made(
        1.2,
        3.0,
        frame="SHS 40 x 40 x 3",
        mid_rail=[{"height": "1.0 m"}],
        brace=[{"pattern": "one diagonal", "panel": 2}],
    )
    model, _, _ = analysed(leaf)
    found = effective_lengths(leaf, model)
    # Stiles: in the plane the longest bay between rails' centres; out of it their whole height,
    # as far as they are modelled (a hanging stile from pivot to pivot).
    hanging, meeting = found["leaf/hanging stile"], found["leaf/meeting stile"]
    assert (hanging.in_plane, hanging.out_of_plane) == pytest.approx((2.98 - 1.0, 3.0))
    assert (meeting.in_plane, meeting.out_of_plane) == pytest.approx((1.98, 2.96))
    for rail in ("bottom rail", "mid rail-1", "top rail"):
        span = found[f"leaf/{rail}"]
        assert (span.in_plane, span.out_of_plane) == pytest.approx((1.16, 1.16))
    brace = found["leaf/brace-2"]
    corner = math.hypot(1.16, 1.98)
    assert (brace.in_plane, brace.out_of_plane) == pytest.approx((corner, corner))
    assert brace.crossed_by == ()


def test_effective_lengths_of_an_x() -> None:
    _, _, leaf = made(1.2, 3.0, frame="SHS 40 x 40 x 3", brace=[{"pattern": "X"}])
    model, _, _ = analysed(leaf)
    found = effective_lengths(leaf, model)
    whole = math.hypot(1.16, 2.96)
    for part in ("through", "lower", "upper"):
        span = found[f"leaf/brace-1/{part}"]
        assert (span.in_plane, span.out_of_plane) == pytest.approx((whole / 2, whole))
    assert found["leaf/brace-1/through"].crossed_by == (
        "leaf/brace-1/lower",
        "leaf/brace-1/upper",
    )
    assert found["leaf/brace-1/lower"].crossed_by == ("leaf/brace-1/through",)


def exact_factor(pull: float) -> float:
    """Return K of a pinned bar held at mid length by a like bar across it, by its own equation.

    ``pull`` is T/C. Halves of the bar, symmetric about the crossing: with φ = π/2 √(P/P_E) and
    a spring k, tan φ / φ = 1 − 4 P / (k L). The bar across is a pinned tie under a load in its
    middle: k = 4 T / (L (1 − tanh β/β)), β = π/2 √(T/P_E).
    """

    def residue(phi: float) -> float:
        P = (2 * phi / math.pi) ** 2  # in P_E; k L in P_E as well
        T = pull * P
        beta = math.pi / 2 * math.sqrt(T)
        kL = 4 * T / (1 - math.tanh(beta) / beta)
        return math.sin(phi) - phi * math.cos(phi) * (1 - 4 * P / kL)

    # Where the spring is stiff enough the bar buckles in two half waves before.
    if residue(math.pi) > 0.0:
        return 0.5
    return math.pi / 2 / float(brentq(residue, math.pi / 2 + 1e-9, math.pi))


@pytest.mark.parametrize("pull", [0.001, 0.1, 0.25, 0.4, 0.5, 0.6])
def test_crossing_holds_a_bar_as_its_stability_equation_says(pull: float) -> None:
    factor = crossing_factor(1000.0, 1000.0 * pull)
    exact = exact_factor(pull)
    assert exact <= factor + 1e-12
    assert factor <= 1.08 * exact
    # Picard and Beaulieu (1987), from memory: a fit to the same, ours being a little safer.
    published = max(0.5, math.sqrt(0.523 - 0.428 * pull))
    assert published <= factor + 5e-4
    assert factor <= 1.06 * published


def test_crossing_bar_that_does_not_pull_holds_nothing() -> None:
    assert crossing_factor(1000.0, 0.0) == 1.0
    assert crossing_factor(1000.0, -500.0) == 1.0


@pytest.mark.parametrize("pull", [0.8, 1.0, 3.0, 100.0])
def test_crossing_never_holds_a_bar_better_than_at_its_middle(pull: float) -> None:
    assert crossing_factor(1000.0, 1000.0 * pull) == 0.5


def test_bar_of_an_x_is_slender_by_how_the_other_pulls() -> None:
    _, _, leaf = made(44 * INCH, 174 * INCH, brace=[{"pattern": "X"}])
    model, result, found = analysed(leaf, person=0.0, push=0.0)
    only = tuple(c for c in found if c.key == "standing")
    checks = {c.key: c for c in member_checks(leaf, model, result, only, Method.ASD)}
    # The halves pull all along; each is straight and weighs evenly, so its mean is at mid length.
    through = member_forces(model, result, "standing", "leaf/brace-1/through").N
    halves = [
        member_forces(model, result, "standing", f"leaf/brace-1/{h}").N for h in ("lower", "upper")
    ]
    T = float(np.mean([(h[0] + h[-1]) / 2 for h in halves]))
    C = -float(through.min())
    assert 0 < T < C
    whole = math.hypot(42, 172) * INCH
    r = leaf.members[0].section.properties().radius_of_gyration_u
    demand = checks["leaf/brace-1/through/slenderness"].demand
    assert demand == pytest.approx(crossing_factor(C, T) * whole / r, rel=1e-9)
    # A half that pulls has no length to buckle; it is held to the advice for pulled members.
    lower = checks["leaf/brace-1/lower/slenderness"]
    assert lower.available == 300.0
    assert lower.demand == pytest.approx(whole / r, rel=1e-9)


# ------------------------------------------------------------------ beyond the limits


def test_brace_pressed_past_its_critical_load_is_short_in_every_way() -> None:
    # A flat of 1/8 in cannot stand upright between the corners of a leaf 174 in high.
    _, _, leaf = made(
        44 * INCH, 174 * INCH, brace=[{"pattern": "one diagonal", "section": "flat 1 x 1/8 in"}]
    )
    found = checked(leaf)
    for tail in ("axial", "bending in", "bending out", "together"):
        c = found[f"leaf/brace-1/{tail}"]
        # Nothing bends it out of the leaf's plane, and still it is not there to be bent.
        assert c.verdict is Verdict.SHORT, tail
        assert c.change
    assert found["leaf/brace-1/together"].ratio is None


def test_tube_outside_the_specification_is_asked_and_never_passed() -> None:
    # D/t = 400 is past 0.45 E/F_y = 362: no strength is given for such a wall.
    thin = SectionTable.model_validate(
        {"name": "duct", "shape": "round tube", "width": "160 mm", "wall": "0.4 mm", "grade": "A36"}
    )
    steel = Steel(STEEL.catalogue, (thin,))
    wishes = table(brace=[{"pattern": "one diagonal", "section": "duct"}])
    leaf = design_leaf(place(1.2, 3.0), wishes, steel, system="metric", pair=True)
    assert isinstance(leaf, Leaf)
    found = checked(leaf)
    for tail in ("axial", "bending in", "bending out", "together"):
        c = found[f"leaf/brace-1/{tail}"]
        assert c.verdict is Verdict.ASK, tail
        assert c.ratio is None
        assert c.change.startswith("outside what the specification covers")


def test_what_is_no_number_in_a_later_case_is_not_passed_over() -> None:
    # Falling, the brace is pulled while the leaf stands and pressed only when it is lifted: the
    # strength that is missing is that of the last case.
    thin = SectionTable.model_validate(
        {"name": "duct", "shape": "round tube", "width": "160 mm", "wall": "0.4 mm", "grade": "A36"}
    )
    steel = Steel(STEEL.catalogue, (thin,))
    wishes = table(brace=[{"pattern": "one diagonal", "section": "duct", "foot": "closing stile"}])
    leaf = design_leaf(place(1.2, 3.0), wishes, steel, system="metric", pair=True)
    assert isinstance(leaf, Leaf)
    model, result, _ = analysed(leaf)
    standing = member_forces(model, result, "standing", "leaf/brace-1").N
    lifted = member_forces(model, result, "lifted", "leaf/brace-1").N
    assert standing.min() > 0 > lifted.min()
    assert checked(leaf)["leaf/brace-1/axial"].verdict is Verdict.ASK


def test_rod_is_checked_for_its_pull_alone() -> None:
    # It hangs slack rather than be pressed or bent, and D1's advice on slenderness leaves it out.
    _, _, leaf = made(1.2, 3.0, brace=[{"pattern": "rod", "section": "round bar 1/2 in"}])
    assert [key for key in checked(leaf) if key.startswith("leaf/brace-1/")] == [
        "leaf/brace-1/axial"
    ]


def test_rod_turned_round_is_asked_nothing_of() -> None:
    rod = {"pattern": "rod", "section": "round bar 1/2 in", "foot": "hanging stile"}
    _, _, leaf = made(1.2, 3.0, brace=[rod])
    c = checked(leaf)["leaf/brace-1/axial"]
    assert c.question == "axial force against its strength, pulled"
    # Its own weight hangs from its ends, and pulls it a little at the upper one.
    assert c.demand is not None
    assert c.demand < leaf.members[-1].mass * 9.80665


def test_rod_is_proved_in_pull_by_its_bar() -> None:
    _, _, leaf = made(
        44 * INCH, 174 * INCH, brace=[{"pattern": "rod", "section": "round bar 1/2 in"}]
    )
    model, result, _ = analysed(leaf)
    rod = leaf.members[-1]
    N = member_forces(model, result, "person", rod.key).N.max()
    area = math.pi / 4 * (0.5 * INCH) ** 2
    # A36: 36 ksi and 58 ksi; ASD: F_y A / 1.67 against F_u A / 2.00.
    ksi = 6894757.293168362
    strength = min(36 * ksi * area / 1.67, 58 * ksi * area / 2.00)
    c = checked(leaf)[f"{rod.key}/axial"]
    assert c.question == "axial force against its strength, pulled"
    assert c.demand == pytest.approx(N)
    assert c.available == pytest.approx(strength, rel=1e-6)


def test_turned_section_is_stronger_the_way_it_stands() -> None:
    # 3 in deep out of the plane: the push bends it the strong way.
    def bent_out(frame: str) -> float:
        _, _, leaf = made(1.2, 3.0, frame=frame)
        ratio = checked(leaf)["leaf/meeting stile/bending out"].ratio
        assert ratio is not None
        return ratio

    assert bent_out("HSS 2 x 3 x 3/16") < bent_out("HSS 3 x 2 x 3/16")


def test_proof_lists_the_same_checks() -> None:
    leaf, proof = proved(1.2, 3.0, frame="HSS 3 x 3 x 3/16")
    # Seams, and the walls they are on, have tests of their own.
    own = [c.key for c in proof.checks if not c.key.endswith(("/weld", "/wall"))]
    assert {key for key in own if not key.startswith("leaf/seams/")} == {
        *(
            f"{m.key}/{t}"
            for m in leaf.members
            for t in (
                "axial",
                "bending in",
                "bending out",
                "shear",
                "torsion",
                "together",
                "slenderness",
            )
        ),
        "leaf/nose sag",
        "leaf/racking",
        "leaf/person on the nose",
        "leaf/wind bow",
        "leaf/sun bow",
        "leaf/hold/shut",
    }
    assert check(proof, "top rail/axial").subject == "A-TR top rail"


def test_steel_that_the_specification_does_not_name_is_asked_about() -> None:
    _, proof = proved(1.2, 3.0, frame="SHS 40 x 40 x 3")
    # Once for the leaf, however many of its tubes are of that steel.
    assert [c.key for c in proof.checks if "EN " in c.key] == ["leaf/EN 10219-1"]
    asked = check(proof, "EN 10219-1")
    assert asked.verdict is Verdict.ASK
    assert asked.change == "its wall is taken whole here: have an engineer answer"
