"""An order of welding as a list of things to do: tacks, checks, welds, turns, and time to cool."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from leafwright.shop.weld_order.ends import Bead
from leafwright.shop.weld_order.orders import FRAME, Way
from leafwright.shop.weld_order.records import Step


def steps_of(way: Way, order: Sequence[int], beads: Sequence[Bead]) -> tuple[Step, ...]:
    """Return the steps of an order: checked when tacked, after the first round, and at the end.

    Where braces cover beads those are laid first, and the braces then put in.
    """
    steps = [Step("tack", "face"), Step("check", "face")]
    begun: set[int] = set()
    up: Literal["face", "back"] = "face"
    now, checked = 0, False
    ends = {bead.end for bead in beads}
    for number, b in enumerate(order, 1):
        bead = beads[b]
        while now < way.when[b]:
            was, now = way.passes[now], now + 1
            steps.append(Step("cool", up))
            if was == FRAME:
                steps += [Step("check", up), Step("fit", up)]
                continue
            if checked:
                steps.append(Step("check", up))
            up = "back" if up == "face" else "face"
            steps.append(Step("turn", up))
            checked = True
        steps.append(
            Step(
                "weld",
                up,
                number=number,
                seam=bead.seam,
                part=bead.part,
                side=bead.side,
                at=bead.at,
                length=bead.length,
                first=bead.end not in begun,
            )
        )
        begun.add(bead.end)
        if not checked and begun == ends:
            steps += [Step("cool", up), Step("check", up)]
            checked = True
    return (*steps, Step("cool", up), Step("check", up))
