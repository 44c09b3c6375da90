"""Lengths and costs as whole numbers: the grid of one nanometre.

A nanometre, not a micrometre, because every 1/64 in is a whole number of nanometres (396 875):
two pieces that share a stick exactly in inches share it exactly here.
"""

from __future__ import annotations

import math
from fractions import Fraction
from functools import lru_cache

PER_METRE = 10**9
PER_COST = 10**9
# A float within a thousandth of a grid step of a grid point is that point, not the next one:
# 0.1 + 0.2 is 0.3. It is 280 times the spacing of floats near 25 m.
SNAP = Fraction(1, 1000)


@lru_cache(maxsize=1 << 15)
def grid_up(length: float) -> int:
    """Return a length [m] in nanometres, rounded up: for what must be there (pieces, kerf)."""
    exact = Fraction(length) * PER_METRE
    nearest = round(exact)
    return nearest if abs(exact - nearest) <= SNAP else math.ceil(exact)


@lru_cache(maxsize=1 << 15)
def grid_down(length: float) -> int:
    """Return a length [m] in nanometres, rounded down: for what can be counted on (stock)."""
    exact = Fraction(length) * PER_METRE
    nearest = round(exact)
    return nearest if abs(exact - nearest) <= SNAP else math.floor(exact)
