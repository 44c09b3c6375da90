"""Laying pieces out on sticks of stock at least cost, proven or with the bound shown."""

from leafwright.shop.nest.records import SQUARE, Cut, End, Layout, Nest, Piece, Rules, Stick
from leafwright.shop.nest.solve import nest
from leafwright.shop.nest.verify import verify

__all__ = ["SQUARE", "Cut", "End", "Layout", "Nest", "Piece", "Rules", "Stick", "nest", "verify"]
