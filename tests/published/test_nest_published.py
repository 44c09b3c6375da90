"""Nests against cutting-stock examples worked in print."""

from __future__ import annotations

import pytest

from leafwright.shop.nest import Nest, Piece, Rules, Stick, nest, verify

# V. Chvátal, Linear Programming (1983), chapter 13: raws of 100 in; finals and how many of each.
# The orders are printed in several course notes and solver manuals; the 453 is from memory, and
# the bound here proves it anew.
CHVATAL = (100, [(45, 97), (36, 610), (31, 395), (14, 211)], 453)

# Wikipedia, "Cutting stock problem" (read): a paper machine's 5600 mm master rolls, 13 widths;
# "the optimal answer requires 73 master rolls and has 0.401 % waste".
PAPER = (
    5600,
    [
        (1380, 22),
        (1520, 25),
        (1560, 12),
        (1710, 14),
        (1820, 18),
        (1880, 18),
        (1930, 20),
        (2000, 10),
        (2050, 12),
        (2100, 14),
        (2140, 16),
        (2150, 18),
        (2200, 20),
    ],
    73,
)


@pytest.mark.parametrize(
    ("stock", "orders", "least"),
    [
        pytest.param(*CHVATAL, id="Chvátal 1983, chapter 13"),
        pytest.param(*PAPER, id="paper machine"),
    ],
)
def test_least_number_of_sticks(stock: int, orders: list[tuple[int, int]], least: int) -> None:
    pieces = [Piece(f"{width}/{i}", width / 1000) for width, count in orders for i in range(count)]
    sticks = [Stick("new", "master", stock / 1000)]
    answer = nest(pieces, sticks, Rules(kerf=0.0))
    assert isinstance(answer, Nest)
    assert verify(answer, pieces, sticks, Rules(kerf=0.0)) == []
    assert (len(answer.layouts), answer.proven) == (least, True)


def test_the_paper_machines_waste() -> None:
    """0.401 % as printed: 73 × 5600 mm less the 407 160 mm ordered."""
    stock, orders, _ = PAPER
    pieces = [Piece(f"{width}/{i}", width / 1000) for width, count in orders for i in range(count)]
    answer = nest(pieces, [Stick("new", "master", stock / 1000)], Rules(kerf=0.0))
    assert isinstance(answer, Nest)
    waste = sum(layout.drop for layout in answer.layouts) / answer.bought_length
    assert waste == pytest.approx(0.00401, abs=0.000005)
