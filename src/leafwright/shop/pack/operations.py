"""The pack list: every operation of the work, and what must be there for it, each thing once.

How much of what wears out is a maker's rule of thumb, as each line says; the counts of what is
set, drilled and hung come from the plan.
"""

from __future__ import annotations

from leafwright.shop.pack.bag import Bag, Work
from leafwright.shop.pack.bench import cut, drill, fit_up, grind, measure, weld
from leafwright.shop.pack.hanging import clad, finish, fix, ground, line_up, stand, turn
from leafwright.shop.pack.records import Operation


def operations(work: Work) -> tuple[Operation, ...]:
    """Return the pack list, operation by operation in the order of the work."""
    bag = Bag()
    measure(bag, work)
    ground(bag, work)
    cut(bag, work)
    drill(bag, work)
    fit_up(bag, work)
    weld(bag, work)
    grind(bag, work)
    turn(bag, work)
    stand(bag, work)
    fix(bag, work)
    line_up(bag, work)
    clad(bag, work)
    finish(bag, work)
    return bag.packed()
