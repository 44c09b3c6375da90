"""A member made of two pieces: they and the root between them are the member, and no more."""

from __future__ import annotations

from typing import Any

import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union

from leafwright.leaf import Leaf, design_leaf
from leafwright.records import Held, Verdict
from leafwright.shop.closure import closure_after_rounding
from leafwright.units import Tape
from tests.leaves import INCH, STEEL, made, place, table
from tests.proof.proofs import proved

TUBE = "HSS 2-1/2 x 2-1/2 x 3/16"


def spliced(**wishes: Any) -> Leaf:
    given = {
        "frame": TUBE,
        "mid_rail": [{"at": "half"}],
        "brace": [{"pattern": "one diagonal"}],
        "splice": [
            {"member": "brace 1", "at": "30 in"},
            {"member": "hanging stile", "at": "48 in"},
            {"member": "top rail", "at": "20 in"},
        ],
    }
    return made(58 * INCH, 165 * INCH, **{**given, **wishes})[2]


@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize("corners", ["mitred", "stiles run through"])
def test_two_pieces_and_their_root_make_the_member(hand: str, corners: str) -> None:
    leaf = spliced(hand=hand, corners=corners, root_gap="1/16 in")
    assert len(leaf.splices) == 3
    for splice in leaf.splices:
        member = next(m for m in leaf.members if m.key == splice.member)
        whole = Polygon(member.bar.outline)
        first, second = (Polygon(piece.bar.outline) for piece in splice.pieces)
        assert first.intersection(second).area < 1e-12
        assert unary_union([first, second]).difference(whole).area < 1e-12
        missing = whole.area - first.area - second.area
        assert missing == pytest.approx(splice.root.value * member.section.width, abs=1e-12)
        # The root is open by the wall of the tube: 3/16 in.
        assert splice.root.value == pytest.approx(3 / 16 * INCH)
        assert sum(p.length.value for p in splice.pieces) + splice.root.value == pytest.approx(
            member.length.value, abs=1e-12
        )
        for piece in splice.pieces:
            assert piece.length.value == pytest.approx(piece.bar.long, abs=1e-12)
        assert splice.pieces[0].length.value == pytest.approx(splice.at.value - 1.5 / 16 * INCH)


def test_pieces_have_marks_of_their_own() -> None:
    marks = [piece.mark for splice in spliced().splices for piece in splice.pieces]
    assert marks == ["A-B1a", "A-B1b", "A-HSa", "A-HSb", "A-TRa", "A-TRb"]


def test_what_its_weld_pulls_in_is_added_to_the_farther_piece() -> None:
    plain, added = spliced(), spliced(weld_shrinkage="1/32 in")
    for before, after in zip(plain.splices, added.splices, strict=True):
        role = before.member.split("/")[1]
        # A rail between stiles has two joints of its own beside the splice.
        joints = 3 if "rail" in role else 1
        more = after.pieces[1].length.value - before.pieces[1].length.value
        assert more == pytest.approx(joints / 32 * INCH, abs=1e-12)
        assert after.pieces[0].length.value == before.pieces[0].length.value


@pytest.mark.parametrize(
    ("wish", "why"),
    [
        ({"member": "brace 7", "at": "30 in"}, "there is no member 'brace 7' to splice"),
        ({"member": "brace 1", "at": "3 in"}, "is in its end, or beyond it"),
        ({"member": "top rail", "at": "20 ft"}, "is in its end, or beyond it"),
        ({"member": "hanging stile", "at": "82 in"}, "where something is welded to it"),
    ],
)
def test_a_splice_that_cannot_be_made_is_held(wish: dict[str, str], why: str) -> None:
    wishes = table(
        frame=TUBE,
        mid_rail=[{"at": "half"}],
        brace=[{"pattern": "one diagonal"}],
        splice=[wish],
    )
    found = design_leaf(place(58 * INCH, 165 * INCH), wishes, STEEL, system="feet-inch", pair=True)
    assert isinstance(found, Held)
    assert why in found.why
    assert found.needs


def test_a_spliced_leaf_closes_by_the_marks_of_both_its_pieces() -> None:
    leaf = spliced(splice=[{"member": "brace 1", "at": "30.1 in"}])
    found = closure_after_rounding(leaf, Tape("feet-inch", 16))
    off = next(o for o in found.pieces if o.key == "leaf/brace-1")
    step = INCH / 16
    a, b = (round(p.length.value / step) * step for p in leaf.splices[0].pieces)
    assert off.cut == pytest.approx(a + b + 3 / 16 * INCH, abs=1e-9)


def test_the_proof_says_where_a_splice_is_asked_least_and_that_plates_are_not_worked() -> None:
    wishes: dict[str, Any] = {
        "frame": TUBE,
        "mid_rail": [{"at": "half"}],
        "brace": [{"pattern": "one diagonal"}],
    }
    for by, verdict in (("inner sleeve", Verdict.OK), ("plates", Verdict.ASK)):
        splice = [{"member": "hanging stile", "at": "20 in", "by": by}]
        _, proof = proved(58 * INCH, 165 * INCH, **wishes, splice=splice)
        check = next(c for c in proof.checks if c.key == "leaf/hanging stile/splice")
        assert check.verdict is verdict
        assert "of its length from its lower or hinge end" in check.rule
        assert check.ratio is not None
        assert 0.0 < check.ratio < 1.0


def test_a_bar_notched_half_through_is_never_said_to_be_whole() -> None:
    _, proof = proved(
        58 * INCH,
        165 * INCH,
        frame=TUBE,
        mid_rail=[{"at": "half"}],
        brace=[{"pattern": "X", "crossing": "half lapped"}],
    )
    laps = [c for c in proof.checks if c.key.endswith("/lap")]
    assert {c.key for c in laps} == {
        f"leaf/brace-{n}/{which}/lap" for n in (1, 2) for which in ("through", "across")
    }
    assert all(c.verdict in (Verdict.ASK, Verdict.SHORT) for c in laps)
    assert all("without the notch" in c.rule for c in laps)
