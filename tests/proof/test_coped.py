"""The joint of round tube on round tube: where its seam lies, what it and the walls hold."""

from __future__ import annotations

import math

import numpy as np
import pytest

from leafwright.leaf import Leaf
from leafwright.proof.seam_lines import ends_of
from leafwright.proof.seam_parts import WeldedEnd
from leafwright.records import Verdict
from tests.leaves import made
from tests.proof.proofs import proved

PIPE = "pipe 1-1/2 STD"
X = [{"pattern": "X", "section": PIPE}]


def coped(leaf: Leaf) -> dict[str, WeldedEnd]:
    """Return the coped ends of a leaf by key."""
    return {
        e.key: e
        for e in ends_of(leaf)
        if (e.member.bar.end if e.at_end else e.member.bar.start).saddle is not None
    }


@pytest.mark.parametrize("gap", ["0 mm", "1/16 in"])
def test_the_seam_lies_where_the_two_tubes_meet(gap: str) -> None:
    # Each point lies on the outside of the half, and no farther off the through bar than the root
    # gap. Its length against the same line walked in ten thousand steps.
    leaf = made(1.4, 3.2, root_gap=gap, brace=X)[2]
    ends = coped(leaf)
    assert set(ends) == {"leaf/brace-1/lower/upper", "leaf/brace-1/upper/lower"}
    for end in ends.values():
        (landing,) = end.landings
        assert landing.onto.key == "leaf/brace-1/through" and landing.cross
        r = end.member.section.width / 2
        d, f = np.array(end.member.direction), np.array(end.member.foot)
        t, g = np.array(landing.onto.direction), np.array(landing.onto.foot)
        for piece in end.pieces:
            for x, y, z in (piece.start, piece.end):
                off = (y - f[1]) * d[0] - (x - f[0]) * d[1]
                assert math.hypot(off, z) == pytest.approx(r, abs=1e-9)
                v = (y - g[1]) * t[0] - (x - g[0]) * t[1]
                assert -1e-9 < math.hypot(v, z) - r < leaf.root_gap.value + 1e-9
        # The edge of equal tubes lies in two planes that halve the angle between them.
        turn = np.linspace(0, 2 * np.pi, 10_001)
        u, deep = r * np.cos(turn), r * np.sin(turn)
        theta = landing.angle
        s = np.abs(u) / math.sin(theta) + u / math.tan(theta)
        true = float(np.sqrt(np.diff(u) ** 2 + np.diff(deep) ** 2 + np.diff(s) ** 2).sum())
        assert sum(p.length for p in end.pieces) == pytest.approx(true, rel=0.004)
        # Heel and toe open by the angle of the bars, the flanks lie flush.
        assert min(p.angle for p in end.pieces) == pytest.approx(theta, abs=0.03)
        assert max(p.angle for p in end.pieces) > math.radians(170)


def test_the_wall_is_worked_by_the_tables_for_round_tube() -> None:
    leaf, proof = proved(1.4, 3.2, brace=X)
    for key in coped(leaf):
        check = next(c for c in proof.checks if c.key == f"{key}/wall")
        assert "K4" in check.source.clause and check.verdict is Verdict.OK
        worked = {w.figure.rsplit(".", 1)[-1] for w in check.working}
        # Pipe 1-1/2 STD: 1.900 in, design wall 0.93 × 0.145 in; both bars alike cannot punch.
        assert {"round_t_joint", "round_cross_joint", "round_in_plane"} <= worked
        assert "round_punching" not in worked
        assert check.ratio is not None and 0.0 < check.ratio < 0.5
        weld = next(c for c in proof.checks if c.key == f"{key}/weld")
        assert weld.ratio is not None and "not counted" in weld.rule


def test_a_joint_outside_the_tables_is_asked() -> None:
    # 3 in over a wall of 0.065 in is more than D/t of 40 for a cross-joint, and the angle of a
    # long low panel's X is under 30°.
    thin = [{"pattern": "X", "section": "round mechanical tube 3 x 0.065 in"}]
    _, proof = proved(2.4, 2.4, brace=thin)
    check = next(c for c in proof.checks if c.key == "leaf/brace-1/lower/upper/wall")
    assert check.verdict is Verdict.ASK
    assert "chord D/t is" in check.change and "have an engineer answer" in check.change
    flat = [{"pattern": "X", "section": PIPE}]
    _, proof = proved(1.0, 5.0, brace=flat)
    check = next(c for c in proof.checks if c.key == "leaf/brace-1/lower/upper/wall")
    assert check.verdict is Verdict.ASK and "under the limit of 30" in check.change
