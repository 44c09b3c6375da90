"""Seams and frame of braces that stand on one face, clear of a bead, or with a root gap."""

from __future__ import annotations

import itertools
import math

import pytest
from shapely.geometry import LineString, Polygon

from leafwright.leaf import Leaf
from leafwright.proof.seam_lines import ends_of
from leafwright.proof.seam_sizes import size_of, welding_of
from tests.leaves import leaf_of_kinds, made
from tests.proof.proofs import analysed, job, proved
from tests.sizes import cases

SEEDS = range(cases(8, 150))


@pytest.mark.parametrize("seed", SEEDS)
def test_every_stretch_of_every_cut_has_its_seams_or_a_stated_reason(seed: int) -> None:
    leaf = leaf_of_kinds(seed)[2]
    for end in ends_of(leaf):
        assert bool(end.pieces) != bool(end.reason), end.key
        if not end.pieces or end.mate is not None:
            continue
        member = end.member
        c, s = member.direction
        middle = [(p.start[i] + p.end[i]) / 2 for p in end.pieces for i in (0, 1)]
        x, y = sum(middle[::2]) / len(end.pieces), sum(middle[1::2]) / len(end.pieces)
        ring = [*member.bar.outline, member.bar.outline[0]]
        # The cuts of this end, by the drawing: edges that do not run along the bar, near here.
        cut = [
            math.dist(a, b)
            for a, b in itertools.pairwise(ring)
            if abs((b[0] - a[0]) * s - (b[1] - a[1]) * c) > 1e-9
            and math.dist(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), (x, y)) < member.bar.long / 2
        ]
        along = [p.length for p in end.pieces if not p.across and p.start[2] > 0]
        assert sum(along) + end.bare_length == pytest.approx(sum(cut), abs=1e-9), end.key
        assert bool(end.bare) == (end.bare_length > 0.0)
        # Each seam lies on the bar's own edge, and its root gap from the wall it is welded to.
        for piece in end.pieces:
            line = LineString([piece.start[:2], piece.end[:2]])
            wall = Polygon(end.landings[piece.landing].onto.bar.outline)
            assert line.distance(Polygon(member.bar.outline).exterior) < 1e-9
            assert line.distance(wall) == pytest.approx(leaf.root_gap.value, abs=1e-7)


def brace(**wishes: str) -> Leaf:
    return made(1.2, 2.4, frame="SHS 60 x 60 x 4", brace=[{"pattern": "one diagonal", **wishes}])[2]


def test_an_end_on_the_stile_alone_has_one_landing_with_a_seam_all_round() -> None:
    end = next(e for e in ends_of(brace(lower_end="stile")) if e.key == "leaf/brace-1/lower")
    assert [landing.onto.role for landing in end.landings] == ["hanging stile"]
    assert [p.face for p in end.pieces] == ["face", "back", "lower", "upper"]
    assert end.subject == "A-B1 brace, lower end on the hanging stile"


def test_the_stretch_cut_back_for_the_bead_has_no_seam_and_says_so() -> None:
    end = next(e for e in ends_of(brace(bead_clearance="6 mm")) if e.key == "leaf/brace-1/lower")
    assert {landing.onto.role for landing in end.landings} == {"hanging stile", "bottom rail"}
    assert end.bare_length == pytest.approx(6e-3 * math.sqrt(2))
    assert "clear the bead" in end.bare


def test_a_root_gap_over_a_sixteenth_is_lost_of_every_fillets_leg() -> None:
    how = welding_of(job())
    throats = {}
    for gap in ("0 mm", "1.5 mm", "3 mm"):
        leaf = made(1.2, 2.4, frame="SHS 60 x 60 x 4", root_gap=gap)[2]
        rail = next(e for e in ends_of(leaf) if e.key == "leaf/top rail/hinge")
        piece = next(p for p in rail.pieces if p.face == "lower")
        size = size_of(piece, rail, how)
        assert size.leg is not None
        throats[gap] = size.throat
        assert size.throat == pytest.approx(
            (size.leg - (3e-3 if gap == "3 mm" else 0.0)) / math.sqrt(2), rel=1e-4
        )
    assert throats["1.5 mm"] == throats["0 mm"]


def test_a_brace_on_stiles_alone_still_holds_the_nose_up_but_less_stiffly() -> None:
    drops = {}
    for ends in ({}, {"lower_end": "stile", "upper_end": "stile", "clear_of_corner": "200 mm"}):
        found = analysed(brace(**ends))
        drops[bool(ends)] = abs(found.moved("standing").nose_drop)
        pivots = [r for r in found.reactions if r.situation == "standing"]
        carried = sum(r.y for r in pivots)
        assert carried == pytest.approx(found.leaf.hung_mass * 9.80665, rel=1e-6)
    assert drops[False] < drops[True] < 40 * drops[False]


def test_the_check_of_such_an_end_says_what_is_not_welded_and_what_the_gap_costs() -> None:
    _, proof = proved(
        1.2,
        2.4,
        frame="SHS 60 x 60 x 4",
        root_gap="2.5 mm",
        brace=[{"pattern": "one diagonal", "bead_clearance": "6 mm"}],
    )
    rule = next(c.rule for c in proof.checks if c.key == "leaf/brace-1/lower/weld")
    assert "is lost in the root gap" in rule
    assert "its nose is cut back to clear the bead in the corner: no seam there" in rule
