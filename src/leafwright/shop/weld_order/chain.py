"""An order of welding worked step by step: what each bead adds to the leaf's shape, and the sum.

A bead pulls on a leaf that every bead before it holds stiff and every tack after it holds softly;
once it has cooled it holds too. The steps add up, so many orders are worked together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.frame.element import Floats
from leafwright.records import Number
from leafwright.shop.weld_order.reduced import FREE, Linear, Welds

#: Measures that are judged: out of square, twist and bows. Sizes are told, not judged.
SIZE = "size"
SQUARE = "square"


@dataclass(frozen=True, slots=True, eq=False)
class Worked:
    """What orders come to: ``shapes`` (orders, m) by the names of the leaf's measures [m]."""

    shapes: Floats
    names: tuple[str, ...]

    def judged(self) -> Floats:
        """Return the measures that are judged (orders, some) [m]."""
        return self.shapes[:, [i for i, name in enumerate(self.names) if name != SIZE]]

    def total(self) -> Floats:
        """Return how far out each order leaves the leaf (orders): root of the sum of squares."""
        return np.asarray(np.sqrt((self.judged() ** 2).sum(axis=1)))

    def part(self, first_word: str) -> Floats:
        """Return the share of measures whose name begins so (orders), as `total` adds them."""
        mine = [i for i, name in enumerate(self.names) if name.split(" ")[0] == first_word]
        return np.asarray(np.sqrt((self.shapes[:, mine] ** 2).sum(axis=1)))


def worked(found: Linear, welded: Welds, orders: Sequence[Sequence[int]]) -> Worked:
    """Return what orders of the beads come to; each order names every bead once.

    What braces will cover comes first in each (see `Welds`).
    """
    order = np.array(orders, dtype=np.intp)
    count, steps = order.shape
    n, judged = found.stiffness.shape[0], found.shape.shape[0]
    gives = np.broadcast_to(np.linalg.inv(welded.bare), (count, n, n)).copy()
    shapes = np.zeros((count, judged))
    pressed = np.zeros((count, found.pressed.shape[0]))
    which = np.arange(count)[:, None]
    one = np.eye(FREE)
    turned = found.shape.T
    square = [i for i, name in enumerate(found.names) if name == SQUARE]
    for step in range(steps):
        if step == welded.bare_steps and step:
            # The braces are put in, the frame pushed square before: every order has laid the same
            # beads by now, and an open frame gives way to a push as to nothing.
            gives[:] = np.linalg.inv(welded.joined)
            shapes[:, square] = 0.0
        bead = order[:, step]
        rows = welded.rows[bead]
        columns = gives[which, :, rows].swapaxes(1, 2)
        corner = columns[which[:, 0, None], rows]
        adds = welded.adds[bead]
        within = adds @ np.linalg.inv(one + corner @ adds)
        gives -= columns @ (within @ columns.swapaxes(1, 2))
        moved = (gives @ welded.pulls[bead][..., None])[..., 0]
        shapes += moved @ turned + welded.moves[bead]
        if pressed.shape[1]:
            pressed += moved @ found.pressed.T + welded.presses[bead]
    if pressed.shape[1]:
        # Letting go takes the dogs' forces away from the leaf as it is welded by then.
        moved = -(gives @ (found.let_go_forces @ -pressed.T).T[..., None])[..., 0]
        shapes += -pressed @ found.let_go_shapes.T + moved @ turned
    return Worked(shapes, found.names)


def ratio(better: Number, plain: Number) -> Number:
    """Return one total over another; 1 where there is nothing to better [-]."""
    return better / plain if plain > 0.0 else 1.0
