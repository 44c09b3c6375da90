"""The buying list as it is filled: every line with its mass, and its cost by the job's prices."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from leafwright.job.model import Job
from leafwright.shop.pack.records import Buying, BuyLine, Group
from leafwright.units import Tape

#: Bought over the area that boards and sheets cover [-] (common practice, no source).
WASTE: Final = 1.10
#: Under which name of [price] a group is priced.
_PRICED: Final[dict[Group, tuple[str, ...]]] = {
    "steel": ("frame_tube",),
    "plate": ("plate",),
    "bar": ("bar",),
    "bolts": ("bolts",),
}


class Bill:
    """Lines as they are put down, each priced as the job says, and what could not be counted."""

    def __init__(self, job: Job, tape: Tape) -> None:
        self.job, self.tape = job, tape
        self.lines: list[BuyLine] = []
        self.asked: list[str] = []

    @property
    def inch(self) -> bool:
        """Whether sizes are in inches."""
        return self.tape.system != "mm"

    def ask(self, what: str) -> None:
        """Say what is needed too and cannot be counted, once."""
        if what not in self.asked:
            self.asked.append(what)

    def put(
        self,
        group: Group,
        key: str,
        what: str,
        size: str,
        count: int,
        mass: float | None,
        why: str,
        *,
        length: float = 0.0,
        area: float = 0.0,
        volume: float = 0.0,
        priced: tuple[str, ...] = (),
        cost: float | None = None,
        supplier: str = "",
    ) -> None:
        """Put a line down: amounts are of all of it [kg, m, m2, m3].

        ``cost`` is what it costs where that is known otherwise than by a price of the job.
        """
        names = priced or _PRICED.get(group, ())
        name = next((n for n in names if n in self.job.price), "")
        shown = self.job.price[name].text if name and cost is not None else ""
        hired = False
        if name and cost is None:
            rate = self.job.price[name]
            amounts = {
                "kg": mass or 0.0,
                "m": length,
                "m2": area,
                "m3": volume,
                "each": float(count),
            }
            hired = rate.per in ("h", "day", "week")
            if hired:
                shown = rate.text
            elif amounts.get(rate.per, 0.0) > 0.0:
                cost, shown = rate.si * amounts[rate.per], rate.text
        line = BuyLine(key, group, what, size, count, mass, cost, shown, why, hired, supplier)
        self.lines.append(line)

    def made(self, rack: Sequence[str]) -> Buying:
        """Return the buying list; ``rack`` is what is not bought."""
        lines = tuple(self.lines)
        # To the cent, as each is shown: who adds the list up comes to the same.
        priced = [round(line.cost, 2) for line in lines if line.cost is not None]
        return Buying(
            lines=lines,
            rack=tuple(rack),
            mass=math.fsum(line.mass for line in lines if line.mass is not None),
            unweighed=tuple(_named(line) for line in lines if line.mass is None),
            cost=math.fsum(priced) if priced else None,
            currency=self.job.job.currency,
            unpriced=tuple(_named(line) for line in lines if line.cost is None and not line.hired),
            hired=tuple(f"{_named(line)}, {line.price}" for line in lines if line.hired),
            asked=tuple(self.asked),
        )


def _named(line: BuyLine) -> str:
    return f"{line.what}, {line.size}" if line.size else line.what


def spares(count: int) -> int:
    """Return how many spare of so many small parts: one in ten, never fewer than one."""
    return max(1, math.ceil(0.1 * count))


def sold_in(amount: float, sizes: Sequence[float]) -> tuple[float, int]:
    """Return the smallest size that holds an amount and 1; or the largest, and how many of it."""
    fits = next((size for size in sizes if size >= amount * (1.0 - 1e-9)), None)
    if fits is not None:
        return fits, 1
    return sizes[-1], math.ceil(amount / sizes[-1] * (1.0 - 1e-9))
