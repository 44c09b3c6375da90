"""Nesting: every piece once, nothing lost, and never dearer than an exhaustive search finds."""

from __future__ import annotations

import itertools
import random
from dataclasses import replace
from fractions import Fraction

import pytest

from leafwright.records import Held
from leafwright.shop.nest import Layout, Nest, Piece, Rules, Stick, nest, verify
from tests.sizes import cases

INCH = 0.0254
FOOT = 0.3048
NO_LOSS = Rules(kerf=0.0)


def nested(pieces: list[Piece], sticks: list[Stick], rules: Rules) -> Nest:
    answer = nest(pieces, sticks, rules)
    assert isinstance(answer, Nest), answer
    assert verify(answer, pieces, sticks, rules) == []
    return answer


def held(pieces: list[Piece], sticks: list[Stick], rules: Rules) -> Held:
    answer = nest(pieces, sticks, rules)
    assert isinstance(answer, Held), answer
    return answer


def pieces_of(*lengths: float) -> list[Piece]:
    return [Piece(f"part-{i}", length) for i, length in enumerate(lengths)]


def on_each(answer: Nest) -> list[list[float]]:
    return sorted([cut.length for cut in layout.cuts] for layout in answer.layouts)


def a_job(draw: random.Random, count: int) -> tuple[list[Piece], list[Stick], Rules]:
    """A job as a shop sees it: 1/16 in lengths (a few off any grid), three stocks, offcuts."""
    kinds = [draw.randint(8 * 16, 175 * 16) / 16 * INCH for _ in range(draw.randint(2, 20))]
    kinds = [k + draw.random() * 0.001 if draw.random() < 0.2 else k for k in kinds]
    pieces = [Piece(f"p{i}", draw.choice(kinds)) for i in range(count)]
    sticks = [Stick("new", f"{feet} ft", feet * FOOT) for feet in (20, 21, 24)]
    sticks += [
        Stick("offcut", f"rack {i}", draw.randint(20 * 16, 150 * 16) / 16 * INCH, count=1)
        for i in range(4)
    ]
    rules = Rules(
        kerf=draw.choice([0.0, 0.0625, 0.094, 0.125]) * INCH,
        trim_start=draw.choice([0.0, 0.5, 1.0]) * INCH,
        trim_end=draw.choice([0.0, 0.5]) * INCH,
    )
    return pieces, sticks, rules


# --- what must always hold


def nanometres(length: float) -> int:
    return round(Fraction(length) * 10**9)


def test_pieces_kerfs_trims_and_drop_add_up_to_the_stick_exactly() -> None:
    draw = random.Random(1)
    for _ in range(cases(10, 200)):
        pieces, sticks, rules = a_job(draw, draw.randint(1, 60))
        answer = nested(pieces, sticks, rules)
        cut = sorted(c.key for layout in answer.layouts for c in layout.cuts)
        assert cut == sorted(p.key for p in pieces)
        for layout in answer.layouts:
            parts = sum(nanometres(c.length) for c in layout.cuts)
            rest = nanometres(layout.trims) + nanometres(layout.kerfs) + nanometres(layout.drop)
            assert parts + rest == nanometres(layout.stick.length)


def test_a_piece_is_never_cut_short() -> None:
    pieces = pieces_of(1.0 / 3.0, 2.0 / 3.0 - 1e-4)
    answer = nested(pieces, [Stick("new", "1 m", 1.0)], NO_LOSS)
    for cut, piece in zip(answer.layouts[0].cuts, reversed(pieces), strict=True):
        assert 0.0 <= cut.length - piece.length < 1e-9


def test_the_bound_never_passes_the_cost_however_little_work_is_allowed() -> None:
    pieces, sticks, rules = a_job(random.Random(8), 60)
    full = nested(pieces, sticks, rules)
    for limit in (0, 100, 1000):
        hurried = nest(pieces, sticks, rules, work_limit=limit)
        assert isinstance(hurried, Nest)
        assert hurried.bound <= full.cost + 1e-9 <= hurried.cost + 2e-9
        assert hurried.proven == (hurried.gap == 0.0)


def test_the_same_question_has_the_same_answer() -> None:
    for seed in range(3):
        pieces, sticks, rules = a_job(random.Random(seed), 50)
        assert nest(pieces, sticks, rules) == nest(pieces, sticks, rules)


# --- known least costs


def test_sticks_sawn_apart_exactly_go_back_together() -> None:
    """The pieces fill 20 ft sticks to the last kerf, so no fewer sticks can do."""
    draw = random.Random(3)
    for _ in range(cases(8, 100)):
        count, kerf = draw.randint(2, 12), draw.choice([0, 1, 2])
        pieces = []
        for stick in range(count):
            left = 240 * 16
            while left > 0:
                length = draw.randint(30 * 16, 120 * 16)
                if left - length - kerf < 30 * 16:
                    length = left
                pieces.append(Piece(f"{stick}/{left}", length / 16 * INCH))
                left -= length + kerf
        draw.shuffle(pieces)
        stock = [Stick("new", "20 ft", 20 * FOOT)]
        answer = nested(pieces, stock, Rules(kerf=kerf / 16 * INCH))
        assert answer.proven
        assert len(answer.layouts) == count
        assert all(layout.drop == 0.0 for layout in answer.layouts)


def fits(lengths: list[float], stick: Stick, rules: Rules) -> bool:
    """Whether pieces fit a stick, straight from the saw: trims and their cuts, pieces, partings."""
    kerf = Fraction(str(rules.kerf))
    taken = kerf * (len(lengths) - 1) + sum(Fraction(str(length)) for length in lengths)
    for trim in (rules.trim_start, rules.trim_end):
        if trim > 0:
            taken += Fraction(str(trim)) + kerf
    return taken <= Fraction(str(stick.length))


def least_by_trying_everything(
    pieces: list[Piece], sticks: list[Stick], rules: Rules
) -> Fraction | None:
    """The least cost over every way to share the pieces out, None if there is no way."""
    price = [
        Fraction(str(s.cost if s.cost is not None else (s.length if s.kind == "new" else 0.0)))
        for s in sticks
    ]
    counts = [len(pieces) if s.count is None else s.count for s in sticks]
    best: Fraction | None = None

    def go(left: tuple[int, ...], spent: Fraction) -> None:
        nonlocal best
        if best is not None and spent >= best:
            return
        if not left:
            best = spent
            return
        first, others = left[0], left[1:]
        for mask in range(1 << len(others)):
            group = [first, *(o for b, o in enumerate(others) if mask >> b & 1)]
            rest = tuple(o for b, o in enumerate(others) if not mask >> b & 1)
            lengths = [pieces[i].length for i in group]
            for s, stick in enumerate(sticks):
                if counts[s] > 0 and fits(lengths, stick, rules):
                    counts[s] -= 1
                    go(rest, spent + price[s])
                    counts[s] += 1

    go(tuple(range(len(pieces))), Fraction(0))
    return best


def test_tiny_jobs_cost_what_trying_everything_costs() -> None:
    draw = random.Random(5)
    for _ in range(cases(25, 500)):
        kerf = draw.choice([0.0, 0.002, 0.0025, 0.003])
        rules = Rules(kerf, draw.choice([0.0, 0.01]), draw.choice([0.0, 0.015]))
        pieces = pieces_of(*(draw.randint(80, 600) / 1000 for _ in range(draw.randint(1, 7))))
        sticks = [Stick("new", "long", draw.randint(700, 1000) / 1000, draw.choice([None, 1.25]))]
        if draw.random() < 0.7:
            limit = draw.choice([None, 1, 2])
            sticks.append(Stick("new", "short", draw.randint(400, 700) / 1000, count=limit))
        if draw.random() < 0.7:
            sticks.append(Stick("offcut", "rack", draw.randint(200, 650) / 1000, count=1))
        if draw.random() < 0.3:
            sticks[0] = replace(sticks[0], count=2)
        least = least_by_trying_everything(pieces, sticks, rules)
        answer = nest(pieces, sticks, rules)
        if least is None:
            assert isinstance(answer, Held), answer
        else:
            assert isinstance(answer, Nest), answer
            assert answer.proven, answer.status
            assert answer.cost == pytest.approx(float(least), abs=1e-9)


def test_a_job_whose_linear_program_promises_a_stick_too_few() -> None:
    """L = 132, 2 × 44, 3 × 33, 6 × 12 (from memory: a standard small case with a gap of one).

    A third of a stick each for the 44s, a quarter for the 33s, an eleventh for the 12s: 1.96.
    """
    pieces = pieces_of(*[44.0] * 2, *[33.0] * 3, *[12.0] * 6)
    answer = nested(pieces, [Stick("new", "bar", 132.0)], NO_LOSS)
    assert (len(answer.layouts), answer.proven) == (3, True)


def test_a_proof_by_integer_program_says_so() -> None:
    """1.67 m of pieces: three 0.6 m sticks would hold it by length (1.8 m), but not in pieces."""
    pieces = pieces_of(0.49, 0.46, 0.31, 0.25, 0.16)
    sticks = [Stick("new", "long", 1.0), Stick("new", "short", 0.6)]
    answer = nested(pieces, sticks, NO_LOSS)
    assert least_by_trying_everything(pieces, sticks, NO_LOSS) == 2
    assert (answer.cost, answer.bound, answer.proven) == (2.0, 2.0, True)
    assert answer.status.endswith("every pattern that could do better tried by integer program")


def test_a_stick_too_short_for_any_piece_does_not_count_against_the_rest() -> None:
    sticks = [
        Stick("new", "long", 0.822),
        Stick("new", "short", 0.41, count=1),
        Stick("offcut", "rack", 0.012, count=1),
    ]
    answer = nested(pieces_of(0.592), sticks, Rules(kerf=0.002, trim_end=0.015))
    assert (answer.cost, answer.bound, answer.proven) == (0.822, 0.822, True)


def test_two_hundred_parts_from_three_lengths_and_offcuts_are_proven() -> None:
    for seed in range(cases(2, 40)):
        pieces, sticks, rules = a_job(random.Random(seed), 200)
        assert nested(pieces, sticks, rules).proven


# --- the saw


@pytest.mark.parametrize(
    ("second", "sticks"),
    [
        pytest.param(0.497, 1, id="last piece flush: 0.500 + kerf + 0.497 = 1"),
        pytest.param(0.498, 2, id="one millimetre over"),
    ],
)
def test_a_last_piece_flush_with_the_end_needs_no_cut(second: float, sticks: int) -> None:
    answer = nested(pieces_of(0.5, second), [Stick("new", "1 m", 1.0)], Rules(kerf=0.003))
    assert len(answer.layouts) == sticks


def only_layout(answer: Nest) -> Layout:
    assert len(answer.layouts) == 1
    return answer.layouts[0]


@pytest.mark.parametrize(
    ("length", "kerfs", "drop"),
    [
        pytest.param(1.0, 0.0, 0.0, id="the whole stick: no cut"),
        pytest.param(0.999, 0.001, 0.0, id="a sliver under the kerf is dust"),
        pytest.param(0.997, 0.003, 0.0, id="exactly the kerf"),
        pytest.param(0.9, 0.003, 0.097, id="a cut, then the drop"),
    ],
)
def test_what_is_left_after_the_last_piece(length: float, kerfs: float, drop: float) -> None:
    answer = nested(pieces_of(length), [Stick("new", "1 m", 1.0)], Rules(kerf=0.003))
    assert (only_layout(answer).kerfs, only_layout(answer).drop) == (kerfs, drop)


def test_each_trim_takes_a_cut_of_its_own() -> None:
    rules = Rules(kerf=0.003, trim_start=0.02, trim_end=0.01)
    answer = nested(pieces_of(0.5, 0.461), [Stick("new", "1 m", 1.0)], rules)
    layout = only_layout(answer)
    assert [cut.start for cut in layout.cuts] == [0.023, 0.526]
    assert (layout.trims, layout.kerfs, layout.drop) == (0.03, 0.009, 0.0)
    longer = nested(pieces_of(0.5, 0.462), [Stick("new", "1 m", 1.0)], rules)
    assert len(longer.layouts) == 2


def test_inch_fractions_share_a_stick_without_a_hair_lost() -> None:
    """Three pieces of 80 in less 1/24 in kerf … in floats: 64ths add up to 20 ft exactly."""
    pieces = pieces_of(*[(80 * 64 - k) / 64 * INCH for k in (5, 5, 6)])
    answer = nested(pieces, [Stick("new", "20 ft", 20 * FOOT)], Rules(kerf=INCH / 8))
    assert only_layout(answer).drop == 0.0


# --- which sticks


def test_an_offcut_that_serves_is_used_before_a_stick_is_bought() -> None:
    sticks = [Stick("new", "6 m", 6.0), Stick("offcut", "rack", 2.5, count=1)]
    answer = nested(pieces_of(5.0, 2.0, 0.9), sticks, Rules(kerf=0.003))
    assert answer.bought_length == 6.0
    assert on_each(answer) == [[2.0], [5.0, 0.9]]


def test_a_job_that_the_rack_covers_costs_nothing() -> None:
    sticks = [Stick("new", "6 m", 6.0), Stick("offcut", "rack", 2.0, count=3)]
    answer = nested(pieces_of(1.4, 1.2, 0.7, 0.5), sticks, Rules(kerf=0.003))
    assert (answer.cost, answer.bought_length, answer.proven) == (0.0, 0.0, True)


def test_a_mix_of_lengths_beats_either_alone() -> None:
    sticks = [Stick("new", "6 m", 6.0), Stick("new", "7.5 m", 7.5)]
    answer = nested(pieces_of(3.7, 3.7, 2.9, 2.9), sticks, Rules(kerf=0.003))
    assert answer.cost == answer.bought_length == 13.5
    assert on_each(answer) == [[2.9, 2.9], [3.7, 3.7]]


def test_prices_decide_where_they_are_given() -> None:
    """Two short sticks for 2 × 9.00 cost more than one long at 17.50, though both are 12 m."""
    sticks = [Stick("new", "6 m", 6.0, 9.0), Stick("new", "12 m", 12.0, 17.5)]
    answer = nested(pieces_of(5.0, 5.0), sticks, Rules(kerf=0.003))
    assert (answer.cost, answer.bought_length) == (17.5, 12.0)


def test_like_leaves_are_cut_in_like_layouts() -> None:
    """Four leaves' rails and stiles: one layout, cut four times, costs as little as any."""
    pieces = pieces_of(*[3.3, 1.5, 1.1] * 4)
    answer = nested(pieces, [Stick("new", "6 m", 6.0)], Rules(kerf=0.003))
    assert (len(answer.layouts), answer.set_ups) == (4, 1)


def test_pieces_go_longest_first_and_like_layouts_together() -> None:
    pieces, sticks, rules = a_job(random.Random(11), 60)
    answer = nested(pieces, sticks, rules)
    lists = [tuple(cut.length for cut in layout.cuts) for layout in answer.layouts]
    assert all(list(cuts) == sorted(cuts, reverse=True) for cuts in lists)
    changes = sum(a != b for a, b in itertools.pairwise(lists))
    assert changes == len(set(lists)) - 1 == answer.set_ups - 1


def test_of_equal_costs_the_longest_drop_worth_keeping_is_kept() -> None:
    """2.0, 1.5 and 1.0 need two 3 m sticks; 2.0 + 1.0 on one leaves half of the other whole."""
    answer = nested(pieces_of(2.0, 1.5, 1.0), [Stick("new", "3 m", 3.0)], NO_LOSS)
    assert answer.longest_drop == 1.5
    unkept = nest(
        pieces_of(2.0, 1.5, 1.0), [Stick("new", "3 m", 3.0)], NO_LOSS, reusable_drop_from=2.0
    )
    assert isinstance(unkept, Nest)
    assert unkept.longest_drop == 0.0


def test_no_pieces_need_no_sticks() -> None:
    answer = nested([], [Stick("new", "6 m", 6.0)], Rules(kerf=0.003))
    assert (answer.layouts, answer.cost, answer.proven) == ((), 0.0, True)
    assert answer.status == "nothing to cut"


# --- what cannot be done


def test_pieces_longer_than_any_stick_are_named_with_the_longest_stick() -> None:
    sticks = [Stick("new", "6 m", 6.0), Stick("new", "5 m", 5.0)]
    pieces = [Piece("left/brace", 5.99), Piece("left/rail", 1.0), Piece("right/brace", 6.2)]
    answer = held(pieces, sticks, Rules(kerf=0.003, trim_start=0.02))
    assert answer.why == (
        "longer than any stick: 'left/brace' (5.9900 m), 'right/brace' (6.2000 m); the longest "
        "stick, '6 m' of 6.0000 m, holds 5.9770 m once its ends are trimmed"
    )
    assert answer.needs == (
        "a stick for 'left/brace', 5.9900 m and the trims",
        "a stick for 'right/brace', 6.2000 m and the trims",
    )


def test_a_rack_too_small_names_what_is_left_over() -> None:
    sticks = [Stick("offcut", "a", 2.0, count=1), Stick("offcut", "b", 1.5, count=1)]
    answer = held(pieces_of(1.8, 1.2, 0.9), sticks, Rules(kerf=0.003))
    assert answer.why.startswith("the sticks cannot hold the pieces: the pieces come to 3.9000 m")
    assert "the sticks hold 3.5000 m" in answer.why
    assert answer.needs == ("room for 'part-2', 0.9000 m",)


def test_room_enough_in_all_but_not_in_any_one_stick() -> None:
    """Three pieces of 0.6 m in two sticks of 1 m: 1.8 m of 2.0 m, and yet it cannot be."""
    sticks = [Stick("new", "1 m", 1.0, count=2)]
    answer = held(pieces_of(0.6, 0.6, 0.6), sticks, NO_LOSS)
    assert answer.why.startswith("the sticks cannot hold the pieces")
    assert answer.needs == ("room for 'part-2', 0.6000 m",)


def test_no_stick_at_all() -> None:
    answer = held(pieces_of(1.0), [Stick("new", "6 m", 6.0, count=0)], NO_LOSS)
    assert answer.why == "there is no stick to cut from"


def test_numbers_that_cannot_be_are_all_refused_at_once() -> None:
    with pytest.raises(ValueError) as told:
        nest(
            [Piece("a", 0.0), Piece("a", 1.0)],
            [Stick("new", "s", -1.0), Stick("new", "t", 1.0, float("nan"), -2)],
            Rules(kerf=-0.003),
        )
    assert str(told.value) == (
        "piece 'a' has length 0.0 m; give one over zero; "
        "stick 's' has length -1.0 m; give one over zero; "
        "stick 't' costs nan; give zero or more; "
        "stick 't' has count -2; give zero or more; "
        "kerf is -0.003 m; give zero or more; "
        "piece key 'a' is given 2 times; give each once"
    )


# --- the check sees what is wrong


def tampered(answer: Nest, layout: Layout) -> Nest:
    return replace(answer, layouts=(layout, *answer.layouts[1:]))


def test_verify_sees_what_is_wrong() -> None:
    pieces = pieces_of(0.6, 0.3, 0.5)
    sticks = [Stick("new", "1 m", 1.0, count=2)]
    rules = Rules(kerf=0.003)
    answer = nested(pieces, sticks, rules)
    first = answer.layouts[0]
    moved = replace(first.cuts[1], start=first.cuts[1].start - 0.001)
    short = replace(first.cuts[0], length=0.599)
    for wrong, told in [
        (replace(answer, layouts=answer.layouts[1:]), "is cut 0 times, not once"),
        (replace(answer, layouts=answer.layouts * 2), "is cut 2 times, not once"),
        (replace(answer, layouts=answer.layouts * 2), "is used 4 times; there are 2"),
        (tampered(answer, replace(first, cuts=(first.cuts[0], moved))), "starts at"),
        (tampered(answer, replace(first, cuts=(short, first.cuts[1]))), "0.6 m was asked"),
        (tampered(answer, replace(first, drop=first.drop + 0.001)), "its drop come to"),
        (tampered(answer, replace(first, drop=first.drop + 0.001)), "add up to"),
        (tampered(answer, replace(first, stick=Stick("new", "2 m", 2.0))), "is not in stock"),
        (replace(answer, cost=1.0), "the cost is 2.0, not 1.0"),
        (replace(answer, bought_length=1.0), "the bought length is 2.0, not 1.0"),
        (replace(answer, bound=3.0), "the bound 3.0 is over the cost 2.0"),
        (replace(answer, proven=False), "proven is False with a gap of 0.0"),
        (replace(answer, set_ups=9), "there are 2 set-ups, not 9"),
    ]:
        found = verify(wrong, pieces, sticks, rules)
        assert any(told in sentence for sentence in found), (told, found)
    crowded = verify(answer, pieces, sticks, replace(rules, kerf=0.2))
    assert any("pass the end" in sentence for sentence in crowded)


def test_thousands_of_pieces_of_no_two_lengths_come_back_with_the_gap_told() -> None:
    """Lengths that share no grid: their sums pass any limit, and no table may be built of them."""
    draw = random.Random(1)
    pieces = [Piece(str(i), draw.uniform(0.2, 4.4)) for i in range(cases(2_000, 10_000))]
    sticks = [
        *(Stick("new", f"stock {length}", length) for length in (6.0, 6.5, 7.5)),
        *(Stick("offcut", f"rack {i}", draw.uniform(0.5, 3.8), count=1) for i in range(6)),
    ]
    rules = Rules(0.003, 0.015, 0.01)
    answer = nest(pieces, sticks, rules)
    assert isinstance(answer, Nest)
    assert verify(answer, pieces, sticks, rules) == []
    assert sum(piece.length for piece in pieces) < answer.bound <= answer.cost
    assert answer.gap == pytest.approx(answer.cost - answer.bound, abs=1e-6)
    assert not answer.proven
    assert "not proven" in answer.status
    assert f"{answer.gap:.6g}" in answer.status
