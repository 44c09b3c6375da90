"""Seams: hand statics at a joint, no end without a seam or a reason, no better for more load."""

from __future__ import annotations

import dataclasses
import json
import math
import random
from typing import Any

import numpy as np
import pytest

from leafwright.frame.load_cases import leaf_cases
from leafwright.handbook.aisc360 import hss_joints
from leafwright.leaf import Leaf
from leafwright.proof.seam_forces import SeamForces
from leafwright.proof.seam_group import Group, carried, group_of, landed
from leafwright.proof.seam_lines import cut_middle, ends_of
from leafwright.proof.seam_parts import WeldedEnd
from leafwright.proof.seam_sizes import Welding, welding_of
from leafwright.proof.seams import SeamProof, seam_proof
from leafwright.records import Check, Verdict, to_json
from tests.leaves import INCH, made, random_leaf
from tests.proof.proofs import Analysed, analysed, job, proved
from tests.sizes import cases

KIP = 4448.2216152605
LBF = KIP / 1000.0
HSS = "HSS 2-1/2 x 2-1/2 x 3/16"
SEEDS = range(cases(12, 150))


def welded(leaf: Leaf, method: str = "ASD", how: Welding | None = None) -> SeamProof:
    found = analysed(leaf)
    the_job = job(basis={"steel": "AISC 360-22", "method": method})
    return seam_proof(the_job, leaf, found.model, found.result, leaf_cases("ASD"), welding=how)


def by_key(proof: SeamProof) -> dict[str, Check]:
    return {check.key: check for check in proof.checks}


def ends(leaf: Leaf) -> dict[str, WeldedEnd]:
    return {end.key: end for end in ends_of(leaf)}


def how_made(**other: float) -> Welding:
    """Return how seams are made by default, with another ``leg`` or ``corner``."""
    how = welding_of(job())
    for name, value in other.items():
        how = dataclasses.replace(
            how, **{name: dataclasses.replace(getattr(how, name), value=value)}
        )
    return how


def group(leaf: Leaf, key: str, how: Welding | None = None) -> Group:
    return group_of(ends(leaf)[key], how or how_made())


def mid_railed(**wishes: Any) -> Leaf:
    return made(1.5, 3.0, **{"frame": HSS, "mid_rail": [{"at": "half"}], **wishes})[2]


# ------------------------------------------------------------------ where the seams are


def test_the_seams_of_a_leaf_with_an_x_counted_and_measured_apart() -> None:
    """2 x 2 x 0.120 in, 44 x 174 in, worked before this program: 48 seams, about 117 in."""
    leaf = made(44 * INCH, 174 * INCH, brace=[{"pattern": "X"}])[2]
    seams = welded(leaf).seams
    sums: dict[str, list[float]] = {"corner": [], "corner of a brace": [], "crossing": []}
    for seam in seams:
        kind = "corner of a brace" if "brace" in seam.member else "corner"
        sums["crossing" if "brace" in seam.onto else kind].append(seam.length / INCH)
    assert {kind: len(found) for kind, found in sums.items()} == {
        "corner": 16,
        "corner of a brace": 24,
        "crossing": 8,
    }
    assert [round(sum(found)) for found in sums.values()] == [32, 59, 26]


@pytest.mark.parametrize("seed", SEEDS)
def test_no_end_is_without_a_seam_or_a_reason(seed: int) -> None:
    leaf = random_leaf(seed)[2]
    proof = welded(leaf)
    checks, seams = by_key(proof), {seam.key: seam for seam in proof.seams}
    assert len(checks) == len(proof.checks)
    assert len(seams) == len(proof.seams)
    found = ends(leaf)
    assert len(found) == 2 * len(leaf.members)
    for key, end in found.items():
        faces = {piece.face for piece in end.pieces}
        assert {s.face for s in proof.seams if s.key.startswith(f"{key}/")} == faces
        assert bool(faces) != bool(end.reason)
        assert (f"{key}/weld" in checks) == bool(faces)
        assert (f"{key}/wall" in checks) == bool(faces or end.mate)
        if end.reason and end.mate is None:
            # It runs through: its end is an edge of the leaf.
            x, y = cut_middle(end)
            edges = (x, leaf.width - x, y, leaf.height - y)
            assert min(abs(edge) for edge in edges) < 1e-9
    joints = {joint.key for joint in leaf.joints}
    assert {seam.joint for seam in proof.seams} <= joints
    # Every joint has a seam, a mitred corner the one of its rail.
    assert {seam.joint for seam in proof.seams} == joints


def test_both_parts_of_a_mitre_share_its_seams_and_only_the_inner_corner_is_a_fillet() -> None:
    leaf = made(1.2, 2.4, frame=HSS, corners="mitred")[2]
    found = ends(leaf)
    stile, rail = found["leaf/hanging stile/lower"], found["leaf/bottom rail/hinge"]
    assert (stile.pieces, stile.reason) == ((), "the seam is that of A-BR")
    assert {p.face: p.kind for p in rail.pieces} == {
        "face": "square groove",
        "back": "square groove",
        "inner": "fillet",
        "outer": "square groove",
    }
    lengths = {p.face: p.length / INCH for p in rail.pieces}
    assert lengths == pytest.approx(
        {"face": 2.5 * math.sqrt(2), "back": 2.5 * math.sqrt(2), "inner": 2.5, "outer": 2.5}
    )
    checks = by_key(welded(leaf))
    assert "leaf/hanging stile/lower/weld" not in checks
    assert checks["leaf/hanging stile/lower/wall"].verdict is Verdict.OK


def test_a_brace_as_wide_as_its_frame_lies_in_round_corners_and_a_narrower_one_has_fillets() -> (
    None
):
    for brace, kind in (("SHS 60 x 60 x 4", "flare-bevel"), ("SHS 40 x 40 x 3", "fillet")):
        leaf = made(
            1.2, 1.6, frame="SHS 60 x 60 x 4", brace=[{"pattern": "one diagonal", "section": brace}]
        )[2]
        end = ends(leaf)["leaf/brace-1/lower"]
        assert {p.kind for p in end.pieces if not p.across} == {kind}
        # 10 mm of wall beside it, outside the corner's radius of 8 mm.
        shelf = 0.0 if kind == "flare-bevel" else 0.010
        assert [p.shelf for p in end.pieces if not p.across] == pytest.approx([shelf] * 4)


def test_sharp_corners_get_what_the_standard_says() -> None:
    leaf = made(44 * INCH, 174 * INCH, brace=[{"pattern": "one diagonal"}])[2]
    proof = welded(leaf)
    seams = {
        seam.key.removeprefix("leaf/brace-1/lower/"): seam
        for seam in proof.seams
        if seam.key.startswith("leaf/brace-1/lower/")
    }
    # atan(40/170) = 13.2° to the stile, and so 76.8° to the rail.
    assert math.degrees(seams["upper"].angle) == pytest.approx(13.2, abs=0.1)
    assert (seams["upper"].throat, seams["upper"].used) == (0.0, None)
    assert math.degrees(seams["lower"].angle) == pytest.approx(76.8, abs=0.1)
    assert seams["lower"].throat == pytest.approx(
        0.120 * INCH * math.cos(math.radians(38.4)), rel=1e-3
    )
    told = by_key(proof)["leaf/brace-1/lower/weld"].rule
    assert "a corner of 13°, under 30°, where no weld counts" in told


# ------------------------------------------------------------------ forces, by hand


def test_a_moment_on_a_butted_rail_by_hand() -> None:
    """Mid rail, HSS 2-1/2 x 2-1/2 x 3/16 on the same: t = 0.1744 in by design, both 46 ksi."""
    at = group(mid_railed(), "leaf/mid rail-1/hinge")
    M = 1000.0  # lb in
    internal = np.array([[0.0, 0.0, 0.0, 0.0, 0.0, M * LBF * INCH]])
    found = carried(at, internal)
    # B_e = 10 (2.5 t)/(2.5/t) … = 10 t = 1.74 in, but of a branch as wide as the wall half: 1.25.
    # I = 2 · 2.5³/12 + 2 · 1.25 · 1.25² = 6.510 in³ of lines one wide, c = 1.25 in.
    top = M * 1.25 / (2 * 2.5**3 / 12 + 2 * 1.25 * 1.25**2)
    sizes = np.sqrt((found.per_length**2).sum(axis=-1)) / (LBF / INCH)
    assert sizes.max() == pytest.approx(top, rel=1e-9)
    # At the two ends of a side seam it pulls and pushes along the rail, with nothing sideways.
    side = next(i for i, bead in enumerate(at.beads) if at.end.pieces[bead.piece].face == "face")
    assert found.per_length[0, side, :, 0] / (LBF / INCH) == pytest.approx([top, -top], rel=1e-9)
    assert found.per_length[0, side, :, 1:] == pytest.approx(0.0, abs=1e-9)
    # The strength there: 0.60 · 70 ksi · (5/16 · 2 t)/2.00.
    holds = 0.6 * 70.0 * (5 / 16 * 2 * 0.174375) / 2.0 * KIP / INCH
    assert at.beads[side].holds == pytest.approx(holds, rel=1e-3)
    assert found.used.max() == pytest.approx(top * LBF / INCH / holds, rel=1e-3)


def test_pull_and_shear_on_a_butted_rail_by_hand() -> None:
    at = group(mid_railed(), "leaf/mid rail-1/hinge")
    found = carried(at, np.array([[750.0, -300.0, 0.0, 0.0, 0.0, 0.0]]))
    # 2 · 2.5 + 2 · 1.25 = 7.5 in of weld count, and a force through the middle is shared alike.
    shared = np.broadcast_to([750.0, -300.0, 0.0], found.per_length[0].shape)
    assert found.per_length[0] * 7.5 * INCH == pytest.approx(shared)


def test_forces_are_those_where_the_seam_lies() -> None:
    """Half a tube in from the node of the centre lines the moment is less by V b/2."""
    leaf = mid_railed()
    found: Analysed = analysed(leaf)
    rail = next(m for m in leaf.members if m.role == "mid rail")
    forces = SeamForces(found.model, found.result, leaf_cases("ASD"))
    at = group(leaf, "leaf/mid rail-1/hinge")
    assert at.origin == pytest.approx((2.5 * INCH, rail.foot[1]))
    here = forces.at(forces.places(rail, at.origin)[:1])[:, 0]
    row = [e.key for e in found.model.elements].index("leaf/mid rail-1/1")
    node = -found.result.end_forces[:, row, :6]
    load = found.result.line_loads[:, row, 1]
    rows = [found.result.cases.index(case.key) for case in forces.cases]
    x = 1.25 * INCH
    # dM/dx = -V: what the loads between node and seam add is of second order, worked exactly.
    M_z = node[rows, 5] - node[rows, 1] * x + load[rows] * x**2 / 2
    assert here[:, 5] == pytest.approx(M_z, rel=1e-9, abs=1e-9)
    assert here[:, 0] == pytest.approx(node[rows, 0], abs=1e-6)


def test_the_group_is_that_of_table_k5() -> None:
    """With one throat all round, length and moduli are those of Eqs. K5-5 to K5-7."""
    # A corner seam as deep as the fillets: 3/16 in / √2 over R = 2 · 0.1744 in.
    even = how_made(corner=3 / 16 / math.sqrt(2) / (2 * 0.174375))
    at = group(mid_railed(), "leaf/mid rail-1/hinge", even)
    assert at.properties is not None
    B, t = 2.5 * INCH, at.end.member.section.design_wall
    B_e = hss_joints.effective_width(B, t, 46.0, B, t, 46.0)
    given = {"B_b": B, "H_b": B, "B_e": B_e, "beta": 1.0}
    assert at.properties.length == pytest.approx(hss_joints.weld_effective_length(**given))
    # S = I/c for lines of unit throat; about the member's z in the plane, about its y out of it.
    S_in = at.properties.I_zz / (B / 2)
    S_out = at.properties.I_yy / (B / 2)
    assert S_in == pytest.approx(hss_joints.weld_modulus_in_plane(1.0, **given))
    assert S_out == pytest.approx(hss_joints.weld_modulus_out_of_plane(1.0, **given))


@pytest.mark.parametrize("seed", SEEDS)
def test_the_forces_along_the_seams_are_the_members_end_force(seed: int) -> None:
    leaf = random_leaf(seed)[2]
    rng = np.random.default_rng(seed)
    for end in ends(leaf).values():
        if not end.pieces or not end.landings:
            continue
        at = group_of(end, how_made())
        internal = rng.normal(size=(3, 6)) * [1000.0, 500.0, 500.0, 50.0, 50.0, 50.0]
        found = carried(at, internal)
        sign = -1.0 if end.at_end else 1.0
        total = np.zeros((3, 6))
        dx, dy = end.member.direction
        for number, landing in enumerate(end.landings):
            on = landed(at, found.per_length, number)
            x, y = landing.centre[0] - at.origin[0], landing.centre[1] - at.origin[1]
            lever = np.array([x * dx + y * dy, y * dx - x * dy, 0.0])
            total[:, :3] += on[:, :3]
            total[:, 3:] += on[:, 3:] + np.cross(lever, on[:, :3])
        assert total == pytest.approx(sign * internal, abs=1e-6), end.key


# ------------------------------------------------------------------ what must always hold


@pytest.mark.parametrize("seed", SEEDS)
def test_more_load_never_raises_a_margin_and_a_thicker_leg_never_lowers_one(seed: int) -> None:
    leaf = random_leaf(seed)[2]
    at = group_of(next(e for e in ends_of(leaf) if e.pieces), how_made())
    internal = np.random.default_rng(seed).normal(size=(4, 6)) * 100.0
    once, twice = carried(at, internal).used, carried(at, 2.0 * internal).used
    assert twice == pytest.approx(2.0 * once)
    thin, thick = by_key(welded(leaf, how=how_made(leg=0.6))), by_key(welded(leaf))
    for key, check in thick.items():
        before = thin[key].ratio
        if key.endswith("/weld") and check.ratio is not None and before is not None:
            assert check.ratio <= before * (1.0 + 1e-9), key


@pytest.mark.parametrize("seed", SEEDS)
def test_a_mirrored_leaf_uses_its_seams_and_walls_alike(seed: int) -> None:
    left, right = (welded(random_leaf(seed, hand=hand)[2]) for hand in ("left", "right"))
    theirs = by_key(right)
    for key, check in by_key(left).items():
        assert (check.ratio is None) == (theirs[key].ratio is None), key
        if check.ratio is not None and theirs[key].ratio is not None:
            assert theirs[key].ratio == pytest.approx(check.ratio, rel=1e-6, abs=1e-9), key
        assert theirs[key].verdict is check.verdict, key


@pytest.mark.parametrize("seed", SEEDS)
def test_a_seam_tells_what_its_check_says(seed: int) -> None:
    proof = welded(random_leaf(seed)[2])
    checks = by_key(proof)
    most: dict[str, float] = {}
    for seam in proof.seams:
        end = f"{seam.member}/{seam.end}"
        if seam.used is None:
            assert (seam.counted, seam.holds, seam.at_start, seam.at_end) == (0.0, 0.0, 0.0, 0.0)
            continue
        assert 0.0 < seam.counted <= seam.length * (1.0 + 1e-9)
        assert seam.used == pytest.approx(max(seam.at_start, seam.at_end) / seam.holds)
        most[end] = max(most.get(end, 0.0), seam.used)
    assert most
    for end, used in most.items():
        check = checks[f"{end}/weld"]
        assert check.ratio == pytest.approx(used)
        assert check.demand is not None and check.available is not None
        assert check.demand / check.available == pytest.approx(used)
        # The force in the working is the demand, and the working can be done again.
        force = next(w.value for w in check.working if w.figure.endswith("force_in_space"))
        assert force.resultant == pytest.approx(check.demand)


def test_lrfd_takes_its_own_factors() -> None:
    leaf = mid_railed()
    asd, lrfd = by_key(welded(leaf)), by_key(welded(leaf, "LRFD"))
    # The same loads here: 0.75 R_n against R_n/2.00, Table J2.5.
    key = "leaf/mid rail-1/hinge/weld"
    has, may = asd[key].available, lrfd[key].available
    assert has is not None and may is not None
    assert may / has == pytest.approx(0.75 * 2.00)


# ------------------------------------------------------------------ what is asked


def test_seams_that_no_table_counts_are_asked_once_for_a_leaf() -> None:
    checks = by_key(welded(mid_railed()))
    asked = checks["leaf/seams/trial joints"]
    assert asked.verdict is Verdict.ASK
    # Round corners of 2 · 0.1744 in = 0.349 in, under 3/8 in; both sides of three rails' ends.
    assert "12 in round corners of under 3/8 in radius" in asked.rule
    assert "4 along edges that end flush" in asked.rule
    assert "weld a trial joint of each kind" in asked.change
    assert "0.109 in in round corners and 3/32 in along flush edges" in asked.change


def test_a_round_corner_large_enough_needs_no_trial() -> None:
    # R = 2 · 0.233 in = 0.466 in, over the 3/8 in of Table J2.2: 5/16 R of throat.
    leaf = mid_railed(frame="HSS 3 x 3 x 1/4")
    seams = welded(leaf).seams
    sides = [seam for seam in seams if seam.kind == "flare-bevel"]
    assert sides and not any(seam.rests_on_trial for seam in sides)
    wall = leaf.members[0].section.design_wall
    assert {round(seam.throat / wall, 9) for seam in sides} == {5 / 16 * 2}


def test_thin_walls_are_said_to_be_of_another_code() -> None:
    thin = by_key(welded(made(1.2, 2.4)[2]))["leaf/bottom rail/hinge/weld"]
    assert "AWS D1.3 for a wall under 1/8 in" in thin.source.clause
    thick = by_key(welded(mid_railed()))["leaf/bottom rail/hinge/weld"]
    assert "D1.3" not in thick.source.clause


def test_the_least_fillet_is_held() -> None:
    leaf = mid_railed()
    size = by_key(welded(leaf))["leaf/seams/size"]
    # AWS D1.1:2020, Table 7.7: 1/8 in up to 1/4 in of wall; made as large as the wall, 3/16 in.
    assert size.verdict is Verdict.OK
    assert (size.demand, size.available) == pytest.approx((INCH / 8, 3 * INCH / 16))
    small = by_key(welded(leaf, how=how_made(leg=0.5)))["leaf/seams/size"]
    assert small.verdict is Verdict.SHORT
    assert "1/8 in or more" in small.change


def test_a_brace_thicker_than_its_frame_has_no_sides_to_weld_and_is_asked() -> None:
    leaf = made(
        1.2,
        1.6,
        frame="SHS 40 x 40 x 3",
        brace=[{"pattern": "one diagonal", "section": "SHS 60 x 60 x 4"}],
    )[2]
    checks = by_key(welded(leaf))
    for tail in ("weld", "wall"):
        assert checks[f"leaf/brace-1/lower/{tail}"].verdict is Verdict.ASK
    assert "stands over the side of the tube" in checks["leaf/brace-1/lower/weld"].change


def test_a_rod_is_asked_for_its_tabs_with_its_pull() -> None:
    rod = {"pattern": "rod", "section": "round bar 1/2 in", "foot": "closing stile"}
    leaf = made(1.5, 3.0, frame=HSS, brace=[rod])[2]
    checks = by_key(welded(leaf))
    found = [c for c in checks.values() if "rod" in c.subject]
    assert {c.key.rsplit("/", 2)[1] for c in found} == {"lower", "upper"}
    pulls = {f.situation: f.greatest for f in analysed(leaf).brace_forces}
    for check in found:
        assert check.verdict is Verdict.ASK
        assert check.demand is not None
        assert check.demand <= max(pulls.values()) * (1.0 + 1e-9)
        assert check.demand >= 0.9 * max(pulls.values())
        assert "two fillets of 3/16 in" in check.change


def test_round_and_flat_braces_are_welded_all_round() -> None:
    for section, faces in (
        ("round bar 1 in", {"round on hanging stile", "round on bottom rail"}),
        ("flat 2 x 3/8 in", None),
    ):
        leaf = made(1.2, 1.6, frame=HSS, brace=[{"pattern": "one diagonal", "section": section}])[2]
        end = ends(leaf)["leaf/brace-1/lower"]
        if faces is not None:
            assert {p.face for p in end.pieces} == faces
            # Round a bar cut square it would be π d; a slanting cut is longer.
            assert sum(p.length for p in end.pieces) > math.pi * INCH
        checks = by_key(welded(leaf))
        assert checks["leaf/brace-1/lower/weld"].ratio is not None


# ------------------------------------------------------------------ in the proof


def test_the_proof_carries_its_seams_and_no_longer_leaves_them_out() -> None:
    _, proof = proved(
        1.5, 3.0, frame=HSS, mid_rail=[{"at": "half"}], brace=[{"pattern": "one diagonal"}]
    )
    assert proof.seams
    assert json.loads(json.dumps(to_json(proof.seams)))[0]["key"] == proof.seams[0].key
    keys = {check.key for check in proof.checks}
    assert {f"{seam.member}/{seam.end}/weld" for seam in proof.seams} <= keys
    assert not any("welds" in said and "not proved" in said for said in proof.assumptions)
    assert any("grinding one flush takes its throat away" in said for said in proof.assumptions)
    taken = {quantity.key for quantity in proof.wishes.taken}
    assert {"proof/seam leg", "proof/round corner seam", "mount/weld metal"} <= taken


def test_every_seam_runs_along_the_outline_of_its_member() -> None:
    rng = random.Random(3)
    for seed in rng.sample(range(200), 5):
        leaf = random_leaf(seed)[2]
        members = {m.key: m for m in leaf.members}
        for seam in welded(leaf).seams:
            member = members[seam.member]
            for x, y, z in seam.path:
                assert abs(z) == pytest.approx(member.section.height / 2)
                outline = member.bar.outline
                assert min(math.dist((x, y), corner) for corner in outline) < 1e-9
