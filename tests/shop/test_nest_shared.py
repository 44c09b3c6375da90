"""Slanted ends on a stick: the saw's cut along it, two ends sharing a cut, straight sticks."""

from __future__ import annotations

import itertools
import math
import random
from dataclasses import replace

import pytest
from shapely.geometry import Polygon

from leafwright.records import Held
from leafwright.shop.nest import End, Layout, Nest, Piece, Rules, Stick, nest, verify
from tests.sizes import cases

WIDE = 0.06
ANGLES = (0.0, math.radians(30), math.radians(45))


def slant(angle: float, *, low: bool = True, shares: bool = True) -> End:
    return End(angle, WIDE * math.tan(angle) if angle else 0.0, shares and angle > 0, low)


def nested(pieces: list[Piece], sticks: list[Stick], rules: Rules) -> Nest:
    answer = nest(pieces, sticks, rules)
    assert isinstance(answer, Nest), answer
    assert verify(answer, pieces, sticks, rules) == []
    return answer


def outline(piece: Piece, cut_start: float, *, back: bool, over: bool) -> Polygon:
    """The piece in the stick, its two ends as straight lines across WIDE."""
    near, far = (piece.end, piece.start) if back else (piece.start, piece.end)
    corners = []
    for end, x, sign in ((near, cut_start, 1.0), (far, cut_start + piece.length, -1.0)):
        low = end.low != over
        bottom = x + (0.0 if low else sign * end.reach)
        top = x + (sign * end.reach if low else 0.0)
        corners.append((bottom, top))
    (b0, t0), (b1, t1) = corners
    return Polygon([(b0, 0.0), (b1, 0.0), (t1, WIDE), (t0, WIDE)])


def outlines(layout: Layout, pieces: list[Piece]) -> list[Polygon]:
    of = {piece.key: piece for piece in pieces}
    return [
        outline(of[cut.key], cut.start, back=cut.reversed, over=cut.over) for cut in layout.cuts
    ]


def a_job(draw: random.Random, count: int) -> tuple[list[Piece], list[Stick], Rules]:
    pieces = []
    for i in range(count):
        near, far = (
            slant(draw.choice(ANGLES), low=draw.random() < 0.5, shares=draw.random() < 0.9)
            for _ in range(2)
        )
        pieces.append(Piece(f"p{i}", draw.randint(200, 700) / 1000, near, far))
    sticks = [Stick("new", "long", draw.randint(1000, 1500) / 1000)]
    if draw.random() < 0.5:
        sticks.append(Stick("offcut", "rack", draw.randint(500, 900) / 1000, count=1))
    trims = draw.choice([(0.0, 0.0), (0.01, 0.0), (0.01, 0.012)])
    return pieces, sticks, Rules(draw.choice([0.002, 0.003]), *trims)


def needed(order: list[tuple[Piece, bool]], rules: Rules) -> float:
    """The length that pieces in an order take of a stick, worked from the shapes themselves.

    Each next piece is slid up until every point of it is clear of the saw's cut, which is as wide
    across the blade as the kerf: the clear way along the stick at each edge.
    """
    at = rules.trim_start
    first, back = order[0]
    near = first.end if back else first.start
    if rules.trim_start:
        at += rules.kerf / math.cos(near.angle)
    last = first.start if back else first.end
    at += first.length
    for piece, turned in order[1:]:
        near, far = (piece.end, piece.start) if turned else (piece.start, piece.end)
        if rules.share and near.shares and last.shares and near.angle == last.angle:
            at += rules.kerf / math.cos(near.angle) - WIDE * math.tan(near.angle)
        else:
            at += max(rules.kerf / math.cos(e.angle) for e in (near, last))
        at += piece.length
        last = far
    if rules.trim_end:
        at += rules.trim_end + rules.kerf / math.cos(last.angle)
    return at


def least_need(group: list[Piece], rules: Rules) -> float:
    return min(
        needed(list(zip(order, turns, strict=True)), rules)
        for order in itertools.permutations(group)
        for turns in itertools.product((False, True), repeat=len(group))
    )


def least_by_trying_everything(
    pieces: list[Piece], sticks: list[Stick], rules: Rules
) -> float | None:
    """The least cost over every way to share the pieces out, in every order, each way round."""
    need: dict[tuple[int, ...], float] = {}
    best: list[float | None] = [None]
    counts = [len(pieces) if s.count is None else s.count for s in sticks]

    def go(left: tuple[int, ...], spent: float) -> None:
        if best[0] is not None and spent >= best[0] - 1e-12:
            return
        if not left:
            best[0] = spent
            return
        first, others = left[0], left[1:]
        for mask in range(1 << len(others)):
            group = (first, *(o for b, o in enumerate(others) if mask >> b & 1))
            rest = tuple(o for b, o in enumerate(others) if not mask >> b & 1)
            if group not in need:
                small = sum(pieces[i].length for i in group) - 2 * WIDE * len(group)
                whole = [pieces[i] for i in group]
                need[group] = small if small > 1.5 else least_need(whole, rules)
            for s, stick in enumerate(sticks):
                crooked = not stick.straight and any(pieces[i].straight for i in group)
                if counts[s] and need[group] <= stick.length + 1e-7 and not crooked:
                    counts[s] -= 1
                    go(rest, spent + (stick.length if stick.kind == "new" else 0.0))
                    counts[s] += 1

    go(tuple(range(len(pieces))), 0.0)
    return best[0]


def test_small_jobs_cost_what_every_order_each_way_round_costs() -> None:
    draw = random.Random(1)
    shared = 0
    for _ in range(cases(12, 300)):
        pieces, sticks, rules = a_job(draw, draw.randint(2, 5))
        if draw.random() < 0.4:
            sticks = [replace(s, straight=s.kind == "new") for s in sticks]
            pieces = [replace(p, straight=draw.random() < 0.5) for p in pieces]
        answer = nested(pieces, sticks, rules)
        least = least_by_trying_everything(pieces, sticks, rules)
        assert answer.proven, answer.status
        assert answer.cost == pytest.approx(least, abs=1e-9)
        shared += answer.shared_cuts
    assert shared > 0


def test_no_two_pieces_overlap_and_the_saw_passes_between_them() -> None:
    """By shapely: what lies between two pieces is nowhere narrower than the kerf, across it."""
    draw = random.Random(2)
    shared = 0
    for _ in range(cases(10, 200)):
        pieces, sticks, rules = a_job(draw, draw.randint(3, 14))
        answer = nested(pieces, sticks, rules)
        for layout in answer.layouts:
            shapes = outlines(layout, pieces)
            for a, b in itertools.combinations(shapes, 2):
                assert a.distance(b) >= rules.kerf - 1e-7
            trims = (layout.cuts[0].start, layout.stick.length - shapes[-1].bounds[2])
            assert trims[0] >= rules.trim_start
            assert trims[1] >= rules.trim_end
            for (a, b), cut in zip(itertools.pairwise(shapes), layout.cuts[1:], strict=True):
                if cut.shared:
                    shared += 1
                    # One pass of the saw: the two ends lie a kerf apart all the way across.
                    assert a.distance(b) == pytest.approx(rules.kerf, abs=1e-6)
                    assert b.bounds[0] < a.bounds[2]
    assert shared > 5


def test_pieces_and_cuts_and_trims_and_drop_make_up_the_stick_where_cuts_are_shared() -> None:
    """By area: pieces, dust of the cuts and the rest are the whole bar, to a millionth."""
    draw = random.Random(3)
    for _ in range(cases(8, 100)):
        pieces, sticks, rules = a_job(draw, draw.randint(3, 10))
        answer = nested(pieces, sticks, rules)
        for layout in answer.layouts:
            lengths = sum(cut.length for cut in layout.cuts)
            rest = layout.trims + layout.kerfs + layout.drop - layout.shared
            assert lengths + rest == pytest.approx(layout.stick.length, abs=1e-8)
            bar = Polygon(
                [(0, 0), (layout.stick.length, 0), (layout.stick.length, WIDE), (0, WIDE)]
            )
            for shape in outlines(layout, pieces):
                assert bar.buffer(1e-9).covers(shape)


def test_sharing_a_cut_never_costs_more_than_not_sharing() -> None:
    draw = random.Random(4)
    saved = 0
    for _ in range(cases(12, 200)):
        pieces, sticks, rules = a_job(draw, draw.randint(2, 12))
        sticks.append(Stick("new", "tight", pieces[0].length + pieces[1].length - 0.01))
        with_sharing = nested(pieces, sticks, rules)
        without = nested(pieces, sticks, replace(rules, share=False))
        assert without.shared_cuts == 0
        assert with_sharing.cost <= without.cost + 1e-9
        assert with_sharing.bound <= without.cost + 1e-9
        saved += with_sharing.cost < without.cost - 1e-9
    assert saved > 0


@pytest.mark.parametrize(
    ("stick", "sticks", "shared"),
    [
        pytest.param(1.0 - 0.06 + 0.003 * math.sqrt(2) + 1e-6, 1, 1, id="just long enough"),
        pytest.param(1.0 - 0.06 + 0.003 * math.sqrt(2) - 1e-6, 2, 0, id="a hair too short"),
    ],
)
def test_two_mitred_pieces_share_a_cut_by_hand(stick: float, sticks: int, shared: int) -> None:
    """Two of 0.5 m, one end at 45° on a 60 mm bar, kerf 3 mm: 1.0 − 0.06 + 3 √2 mm of stick.

    The second lies in the first by the reach, 60 mm · tan 45°; the cut takes 3 mm / cos 45°.
    """
    mitre = slant(math.radians(45))
    pieces = [Piece("a", 0.5, End(), mitre), Piece("b", 0.5, End(), mitre)]
    answer = nested(pieces, [Stick("new", "bar", stick)], Rules(0.003))
    assert (len(answer.layouts), answer.shared_cuts, answer.proven) == (sticks, shared, True)


def test_ends_that_no_saw_makes_in_one_pass_share_nothing() -> None:
    marked = slant(math.radians(45), shares=False)
    pieces = [Piece("a", 0.5, End(), marked), Piece("b", 0.5, End(), marked)]
    answer = nested(pieces, [Stick("new", "bar", 1.2)], Rules(0.003))
    (layout,) = answer.layouts
    assert answer.shared_cuts == 0
    # The slanted cut is wider along the stick: 3 mm / cos 45°; square ends part at 3 mm.
    assert layout.cuts[1].start - 0.5 == pytest.approx(0.003, abs=1e-9)


def test_a_chain_of_mitres_is_turned_over_piece_by_piece() -> None:
    """Four rails mitred at both ends, long points on one edge: each next lies turned over."""
    mitre = slant(math.radians(45))
    pieces = [Piece(f"r{i}", 0.5, mitre, mitre) for i in range(4)]
    length = 4 * 0.5 - 3 * (0.06 - 0.003 * math.sqrt(2)) + 1e-6
    answer = nested(pieces, [Stick("new", "bar", length)], Rules(0.003))
    (layout,) = answer.layouts
    assert [cut.shared for cut in layout.cuts] == [False, True, True, True]
    assert [cut.over for cut in layout.cuts] == [False, True, False, True]
    assert answer.set_ups == 1


# --- straight sticks


def test_what_wants_a_straight_stick_never_comes_from_a_crooked_one() -> None:
    sticks = [Stick("new", "6 m", 6.0), Stick("offcut", "rack", 2.5, count=1, straight=False)]
    pieces = [Piece("stile", 2.4, straight=True), Piece("rail", 2.0), Piece("brace", 3.5)]
    answer = nested(pieces, sticks, Rules(0.003))
    crooked = [c.key for layout in answer.layouts if not layout.stick.straight for c in layout.cuts]
    assert crooked == ["rail"]
    assert (answer.cost, answer.straight_sticks, answer.proven) == (6.0, 1, True)


def test_as_few_sticks_as_can_be_must_be_picked_straight() -> None:
    """Two stiles and two rails in two sticks: both stiles come from one, though 2 + 2 also fits."""
    pieces = [
        Piece("s1", 2.9, straight=True),
        Piece("r1", 2.8),
        Piece("s2", 2.9, straight=True),
        Piece("r2", 2.8),
    ]
    answer = nested(pieces, [Stick("new", "6 m", 6.0)], Rules(0.003))
    assert (answer.cost, answer.straight_sticks) == (12.0, 1)


def test_a_straight_piece_with_only_crooked_steel_is_held() -> None:
    sticks = [Stick("offcut", "rack", 3.0, count=2, straight=False)]
    answer = nest([Piece("stile", 2.4, straight=True)], sticks, Rules(0.003))
    assert isinstance(answer, Held)
    assert answer.why.startswith("no straight stick is long enough: 'stile' (2.4000 m)")


# --- the check sees what is wrong


def test_verify_sees_a_shared_cut_that_cannot_be() -> None:
    mitre = slant(math.radians(45))
    pieces = [Piece("a", 0.5, End(), mitre), Piece("b", 0.5, End(), mitre)]
    sticks, rules = [Stick("new", "bar", 0.96)], Rules(0.003)
    answer = nested(pieces, sticks, rules)
    (layout,) = answer.layouts
    second = layout.cuts[1]

    def told(*cuts: object, of: list[Piece] = pieces) -> str:
        changed = replace(layout, cuts=tuple(cuts))  # type: ignore[arg-type]
        return " / ".join(verify(replace(answer, layouts=(changed,)), of, sticks, rules))

    assert "lean toward each other" in told(layout.cuts[0], replace(second, over=not second.over))
    assert "starts at" in told(layout.cuts[0], replace(second, start=second.start - 0.001))
    assert "there are 0 shared cuts, not 1" in told(layout.cuts[0], replace(second, shared=False))
    square = [pieces[0], replace(pieces[1], end=End())]
    assert "no saw makes that cut in one pass" in told(*layout.cuts, of=square)
