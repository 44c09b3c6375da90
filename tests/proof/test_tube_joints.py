"""Tube walls at the joints: each limit state by hand, more load never better, what is outside."""

from __future__ import annotations

import dataclasses
import math
from typing import Any

import numpy as np
import pytest

from leafwright.frame.load_cases import leaf_cases
from leafwright.handbook.aisc360 import Method
from leafwright.handbook.aisc360.constants import KSI
from leafwright.leaf import Leaf
from leafwright.proof.seam_lines import ends_of
from leafwright.proof.seam_parts import WeldedEnd
from leafwright.proof.seam_states import strengths
from leafwright.proof.seam_walls import Wall, out_of_limits, too_sharp, wall_of
from leafwright.proof.seams import SeamProof, seam_proof
from leafwright.proof.tube_joints import AtWall, mitre_check, wall_check
from leafwright.records import Check, Verdict
from tests.leaves import INCH, made, random_leaf
from tests.proof.proofs import analysed, job
from tests.sizes import cases

KIP = 4448.2216152605
HSS = "HSS 2-1/2 x 2-1/2 x 3/16"
CASES = leaf_cases("ASD")
STRONG = tuple(case for case in CASES if case.for_strength)


def ends(leaf: Leaf) -> dict[str, WeldedEnd]:
    return {end.key: end for end in ends_of(leaf)}


def mid_railed(**wishes: Any) -> Leaf:
    return made(1.5, 3.0, **{"frame": HSS, "mid_rail": [{"at": "half"}], **wishes})[2]


def proved(leaf: Leaf, **tables: Any) -> SeamProof:
    found = analysed(leaf)
    return seam_proof(job(**tables), leaf, found.model, found.result, CASES)


def checks(leaf: Leaf) -> dict[str, Check]:
    return {check.key: check for check in proved(leaf).checks}


def checked(
    end: WeldedEnd,
    *,
    P: float = 0.0,
    M_in: float = 0.0,
    M_out: float = 0.0,
    chord: tuple[float, ...] = (0.0,) * 6,
    method: Method = Method.ASD,
) -> Check:
    """Return the check of one end of a square-cut member under given loads.

    P pulls the member [N]; M_in and M_out bend it [N m]; ``chord`` are the forces in what it
    stands on.
    """
    own = np.array([[P, 0.0, 0.0, 0.0, M_out, M_in]])
    brought = own.copy() if not end.at_end else -own
    at = AtWall(0, brought, own, np.array([[chord]], dtype=float))
    return wall_check(end, [at], STRONG[:1], method)[0]


def ratio(check: Check) -> float:
    assert check.ratio is not None
    return check.ratio


# ------------------------------------------------------------------ by hand

# HSS 2-1/2 x 2-1/2 x 3/16 to itself, in inches and kips: design wall 0.93 of 3/16, corner 2 t.
B, T, F_Y = 2.5, 0.93 * 0.1875, 46.0


def test_a_pull_is_held_by_the_side_walls_or_the_branch_by_hand() -> None:
    end = ends(mid_railed())["leaf/mid rail-1/hinge"]
    area = end.member.section.properties().area / INCH**2
    # J10.2 for both walls with k = 2 t, over 1.50; J4.1 with B_e = 10 t/B · B_b, over 1.67.
    walls = 2 * F_Y * T * (5 * 2 * T + B) / 1.50
    branch = F_Y * area * (10 * T + B) / (2 * B) / 1.67
    assert ratio(checked(end, P=1.0 * KIP)) == pytest.approx(1.0 / min(walls, branch), rel=1e-6)


def test_a_push_may_also_crumple_the_side_walls_by_hand() -> None:
    wall = wall_of(*_stood(mid_railed(), "leaf/mid rail-1/hinge"))
    found = {h.state.words: h.value for h in strengths(wall, Method.ASD) if "push" in h.state.load}
    # J10.3, Eq. J10-4 for both walls with depth H - 3 t, over 2.00; E = 29,000 ksi.
    crumple = 1.6 * T**2 * (1 + 3 * B / (B - 3 * T)) * math.sqrt(29_000 * F_Y) / 2.00
    assert found["the side walls crumpling"] / KIP == pytest.approx(crumple, rel=1e-6)
    assert "the face bending" not in found


def test_moments_both_ways_and_a_pull_are_added_by_hand() -> None:
    end = ends(mid_railed())["leaf/mid rail-1/hinge"]
    Z = end.member.section.properties().plastic_modulus_v / INCH**3
    # In the plane: Eq. K4-8 over 1.50, and the branch of Table C-K1.1 over 1.67.
    walls = 0.5 * F_Y * T * (B + 5 * T) ** 2 / 1.50
    uneven = F_Y * (Z - (1 - 10 * T / B) * B * B * T) / 1.67
    # Out of it: Eq. K4-6 over 1.50, Eq. K4-7 over 1.58, the branch over 1.67.
    sides = F_Y * T * (B - T) * (B + 5 * T) / 1.50
    square = 2 * F_Y * T * (B * T + math.sqrt(B * B * T * 2 * B)) / 1.58
    branch = F_Y * (Z - 0.5 * (1 - 10 * T / B) ** 2 * B * B * T) / 1.67
    pull = ratio(checked(end, P=1.0 * KIP))
    M = 5.0  # kip in
    found = checked(end, P=1.0 * KIP, M_in=M * KIP * INCH, M_out=M * KIP * INCH)
    expected = pull + M / min(walls, uneven) + M / min(sides, square, branch)
    assert ratio(found) == pytest.approx(expected, rel=1e-6)
    assert "the tube going out of square" in found.rule
    assert found.source.clause.startswith("K1 to K4")
    assert found.working


def test_a_narrow_branch_bends_the_face_by_hand() -> None:
    """SHS 40 x 40 x 3 across the face of SHS 80 x 80 x 4: beta = 0.5, worked in mm and N."""
    wall = dataclasses.replace(
        wall_of(*_stood(mid_railed(frame="SHS 80 x 80 x 4"), "leaf/mid rail-1/hinge")),
        B_b=0.040,
        H_b=0.040,
        l_b=0.040,
        t_b=0.003,
    )
    found = {(h.state.load, h.state.words): h.value for h in strengths(wall, Method.ASD)}
    F_y, t = wall.F_y / 1e6, wall.t * 1000
    # J10.10, the yield lines of Eq. K2-7 (2010): F_y t² (2 eta/(1 - beta) + 4/√(1 - beta))/1.50.
    face = F_y * t**2 * (2 * 0.5 / 0.5 + 4 / math.sqrt(0.5)) / 1.50
    assert found[("pull", "push"), "the face bending"] == pytest.approx(face, rel=1e-6)
    # J4.2 through the face: 0.60 F_y t (2 · 40 + 2 · 10 · 40 t/80)/1.58.
    punch = 0.60 * F_y * t * (80 + 2 * min(10 * t / 80 * 40, 40)) / 1.58
    assert found[("pull", "push"), "punching through the face"] == pytest.approx(punch, rel=1e-6)
    assert not any(words == "the side walls yielding" for _, words in found)


def _stood(leaf: Leaf, key: str) -> tuple[Any, Any]:
    end = ends(leaf)[key]
    return end.member, end.landings[0]


def test_a_corner_at_an_open_end_is_weaker_than_a_tee() -> None:
    """At the stile's end the load spreads one way only, as Eq. J10-3 has it for a force."""
    found = ends(mid_railed())
    tee, corner = found["leaf/mid rail-1/hinge"], found["leaf/bottom rail/hinge"]
    assert tee.landings[0].to_end > 1.0
    assert corner.landings[0].to_end == pytest.approx(1.25 * INCH)
    for P, M_in, M_out in ((1e3, 0.0, 0.0), (-1e3, 0.0, 0.0), (0.0, 50.0, 0.0), (0.0, 0.0, 50.0)):
        at_end = ratio(checked(corner, P=P, M_in=M_in, M_out=M_out))
        assert at_end >= ratio(checked(tee, P=P, M_in=M_in, M_out=M_out))
    walls = 0.5 * F_Y * T * (B + 2.5 * T) ** 2 / 1.50
    expected = 5.0 / walls
    assert ratio(checked(corner, M_in=5.0 * KIP * INCH)) == pytest.approx(expected, rel=1e-6)


def test_a_rail_between_two_stiles_has_no_open_end() -> None:
    leaf = mid_railed(brace=[{"pattern": "one diagonal"}])
    rails = [
        landing
        for end in ends_of(leaf)
        for landing in end.landings
        if landing.onto.role.endswith("rail")
    ]
    assert rails and all(math.isinf(landing.to_end) for landing in rails)


# ------------------------------------------------------------------ the chord's own stress


def test_only_what_presses_the_wall_itself_weakens_it() -> None:
    leaf = mid_railed(frame="SHS 80 x 80 x 4", brace=[{"pattern": "X", "section": HSS_40}])
    end = ends(leaf)["leaf/brace-1/lower/upper"]
    narrow = dataclasses.replace(
        end.landings[0], onto=next(m for m in leaf.members if m.role == "mid rail")
    )
    end = dataclasses.replace(
        end, landings=(dataclasses.replace(narrow, along=narrow.onto.direction, normal=(0.0, 1.0)),)
    )
    bare = ratio(checked(end, P=100.0))
    p = narrow.onto.section.properties()
    squeezed = -0.6 * narrow.onto.section.yield_stress * p.area
    bending = 0.6 * narrow.onto.section.yield_stress * p.section_modulus_v

    def of(N: float = 0.0, M_z: float = 0.0) -> float:
        return ratio(checked(end, P=100.0, chord=(N, 0.0, 0.0, 0.0, 0.0, M_z)))

    # U = 1, beta = 0.5: Q_f = 1.3 - 0.4/0.5 = 0.5 (K1.3, Eq. K1-4).
    assert of(N=squeezed) == pytest.approx(bare / 0.5)
    assert of(N=-squeezed) == pytest.approx(bare)
    # The upper wall is pressed where the chord sags.
    assert of(M_z=bending) == pytest.approx(bare / 0.5)
    assert of(M_z=-bending) == pytest.approx(bare)


HSS_40 = "SHS 40 x 40 x 3"


# ------------------------------------------------------------------ what must always hold


@pytest.mark.parametrize("seed", range(cases(10, 120)))
def test_more_load_never_raises_a_margin(seed: int) -> None:
    leaf = random_leaf(seed)[2]
    rng = np.random.default_rng(seed)
    for end in ends_of(leaf):
        if not end.landings:
            continue
        loads = rng.normal(size=(2, 6)) * [2000.0, 500.0, 500.0, 50.0, 50.0, 50.0]
        chord = rng.normal(size=(2, 2, 6)) * [20000.0, 0.0, 0.0, 0.0, 0.0, 500.0]
        found = []
        for by in (1.0, 1.3):
            walls = [
                AtWall(number, by * loads, by * loads, by * chord)
                for number in range(len(end.landings))
            ]
            found.append(ratio(wall_check(end, walls, STRONG[:2], Method.ASD)[0]))
        assert found[1] >= 1.3 * found[0] * (1.0 - 1e-9), end.key


@pytest.mark.parametrize("seed", range(cases(10, 120)))
def test_every_wall_has_a_strength_for_every_load(seed: int) -> None:
    for end in ends_of(random_leaf(seed)[2]):
        for landing in end.landings:
            wall = wall_of(end.member, landing)
            known = strengths(wall, Method.LRFD)
            for load in ("pull", "push", "in", "out", "across"):
                values = [h.value for h in known if load in h.state.load]
                assert values and min(values) > 0.0 and all(math.isfinite(v) for v in values)


def test_lrfd_takes_its_own_factors() -> None:
    end = ends(mid_railed())["leaf/mid rail-1/hinge"]
    asd, lrfd = (checked(end, M_out=200.0, method=m) for m in (Method.ASD, Method.LRFD))
    # Eq. K4-7: 0.95 M_n against M_n/1.58.
    assert ratio(asd) / ratio(lrfd) == pytest.approx(0.95 * 1.58)


# ------------------------------------------------------------------ outside the tables


def _wall(**other: Any) -> Wall:
    wall = wall_of(*_stood(mid_railed(), "leaf/mid rail-1/hinge"))
    return dataclasses.replace(wall, **other)


def test_what_is_outside_is_named() -> None:
    assert out_of_limits(_wall(), pressed=True) == ()
    thin = _wall(t=2.5 * INCH / 40)
    assert out_of_limits(thin, pressed=True) == (
        "chord B/t is 40, over the limit of 35",
        "chord H/t is 40, over the limit of 35",
    )
    assert any("F_y in ksi" in said for said in out_of_limits(_wall(F_y=60 * KSI), pressed=False))
    assert not too_sharp(_wall())
    # K3, commentary: 30 degrees at least.
    assert too_sharp(_wall(theta=math.radians(29.9)))
    assert not too_sharp(_wall(theta=math.radians(30.0)))


def test_a_joint_outside_the_tables_is_asked_with_what_is_out_and_its_use_kept() -> None:
    found = checks(made(1.5, 2.5, frame="mechanical tube 3 x 3 x 0.083 in")[2])
    check = found["leaf/bottom rail/hinge/wall"]
    assert check.verdict is Verdict.ASK
    assert check.ratio is not None
    assert "chord B/t is 36.1, over the limit of 35" in check.change
    assert "have an engineer answer" in check.change
    assert "worked all the same it would use" in check.rule


def test_sharp_brace_ends_are_asked_once_for_a_leaf() -> None:
    leaf = made(44 * INCH, 174 * INCH, brace=[{"pattern": "X"}])[2]
    found = checks(leaf)
    asked = found["leaf/seams/sharp ends"]
    assert asked.verdict is Verdict.ASK
    # 13.2° to the stiles, 26.5° at the crossing.
    assert "13° to 26°" in asked.change or "13° to 27°" in asked.change
    ended = [end for end in ends_of(leaf) if "brace" in end.key]
    for end in ended:
        assert f"{end.member.mark} {end.name}" in asked.change
        check = found[f"{end.key}/wall"]
        assert check.verdict is Verdict.OK
        assert "under 30°: asked for the leaf" in check.rule
    wide = made(1.2, 1.3, frame=HSS, brace=[{"pattern": "X"}])[2]
    assert "leaf/seams/sharp ends" not in checks(wide)


def test_a_wedged_brace_is_held_by_both_walls() -> None:
    leaf = mid_railed(brace=[{"pattern": "one diagonal"}])
    check = checks(leaf)["leaf/brace-1/lower/wall"]
    assert check.subject == "A-B1 brace, lower end on the hanging stile and the bottom rail"
    assert "each of the two walls takes what the seams on it bring" in check.rule


def test_a_crossing_is_squeezed_and_a_round_brace_is_asked() -> None:
    leaf = made(1.2, 1.3, frame=HSS, brace=[{"pattern": "X"}])[2]
    wall = wall_of(*_stood(leaf, "leaf/brace-1/lower/upper"))
    words = {h.state.words for h in strengths(wall, Method.ASD)}
    assert wall.cross
    assert "the side walls squeezed" in words and "the side walls crumpling" not in words
    bar = {"pattern": "one diagonal", "section": "round bar 1 in"}
    round_brace = checks(made(1.2, 1.6, frame=HSS, brace=[bar])[2])["leaf/brace-1/lower/wall"]
    assert round_brace.verdict is Verdict.ASK
    assert "a round brace on a flat wall is not in chapter K" in round_brace.change


def test_a_frame_of_solid_bar_has_no_walls_to_prove() -> None:
    leaf = made(1.0, 1.5, frame="flat 2 x 3/4 in")[2]
    check = checks(leaf)["leaf/bottom rail/hinge/wall"]
    assert check.verdict is Verdict.ASK
    assert "is no tube" in check.change


# ------------------------------------------------------------------ mitres


def test_a_mitred_corner_by_hand() -> None:
    """HSS 2-1/2 x 2-1/2 x 3/16: alpha = 3/(2.5/0.1744)^0.8 + 1/3 = 0.690."""
    leaf = made(1.2, 2.4, frame=HSS, corners="mitred")[2]
    end = ends(leaf)["leaf/bottom rail/hinge"]
    section = end.member.section.properties()
    alpha = 3 / (B / T) ** 0.8 + 1 / 3
    F_y = 46 * KSI
    M, N = 0.2 * F_y * section.plastic_modulus_v / 1.67, 0.01 * F_y * section.area / 1.67
    internal = np.array([[N, 0.0, 0.0, 0.0, 0.0, M]])
    check = mitre_check(end, internal, STRONG[:1], Method.ASD)
    # A500 Grade B pulled: yielding governs over rupture, 46/1.67 under 58/2.00.
    assert ratio(check) == pytest.approx((0.2 + 0.01) / alpha, rel=1e-3)
    assert "alpha = 0.69" in check.rule
    # More axial force than a fifth of the tube's is outside what was tested.
    pulled = mitre_check(end, internal * [[30.0] + [0.0] * 5], STRONG[:1], Method.ASD)
    assert ratio(pulled) == pytest.approx(0.3 / 0.2, rel=1e-3)
    assert pulled.verdict is Verdict.SHORT
    assert "a plate in the mitre" in pulled.change
