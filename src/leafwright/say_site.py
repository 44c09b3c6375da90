"""The floor, the head and the standing-up in the maker's words."""

from __future__ import annotations

import math

import numpy as np

from leafwright.documents.records import FloorOfLeaf
from leafwright.say import Words
from leafwright.site.stand_up import StandUp
from leafwright.survey import HeadOver
from leafwright.units import show_angle

#: A share of the floor or the head that was not mapped is told from here on [-].
UNMAPPED = 0.005

#: How far up the leaf is, at each row of what the hands hold [rad].
TILTS = tuple(math.radians(a) for a in range(0, 91, 15))


def floor_words(floor: FloorOfLeaf, words: Words) -> str:
    """Return the highest floor under a leaf's swing: how high, where, how much is not mapped."""
    under = floor.under
    where = "anywhere along its swing"
    if under.place is not None:
        where = _on_plan(floor, under.place, words)
    said = f"Highest {words.sure(under.highest)} over BL, {where}."
    most = under.unsure.value + under.unsure.band
    if most > under.highest.value + under.highest.band + float(words.tape.step) / 2:
        place = under.unsure_place
        at = "" if place is None else f", {_on_plan(floor, place, words)}"
        said += f" Between readings it may be as high as {words.length(most)}{at}."
    return said + _not_mapped(under.not_mapped, "what it sweeps", under.reach, "floor", words)


def head_words(head: HeadOver, words: Words) -> str:
    """Return the lowest head: how low, where, how much is not mapped."""
    said = f"Lowest {words.sure(head.lowest)} over BL, {words.length(head.place)} right of BL."
    least = head.unsure.value - head.unsure.band
    if least < head.lowest.value - head.lowest.band - float(words.tape.step) / 2:
        said += (
            f" Between readings it may be as low as {words.length(least)}, "
            f"{words.length(head.unsure_place)} right of BL."
        )
    return said + _not_mapped(head.not_mapped, "it", head.reach, "head", words)


def push_rows(up: StandUp, words: Words) -> list[tuple[str, str, str, str]]:
    """Return, for each tilt, what the hands push or hold back, where they are, the foot's push."""
    push, rows = up.push, []
    for tilt in TILTS:
        force, hands, foot = (
            float(np.interp(tilt, push.tilt, one))
            for one in (push.force, push.hands, push.foot_level)
        )
        way = "push" if force >= 0 else "HOLD BACK"
        rows.append(
            (
                show_angle(tilt, decimals=0),
                f"{way} {words.force(abs(force))}",
                words.length(hands),
                words.force(abs(foot)),
            )
        )
    return rows


def _not_mapped(share: float, what: str, reach: float, where: str, words: Words) -> str:
    if share <= UNMAPPED:
        return ""
    return (
        f" {100 * share:.0f} % of {what} is not mapped (farther than {words.length(reach)} from "
        f"any reading): read the {where} there."
    )


def _on_plan(floor: FloorOfLeaf, place: tuple[float, float], words: Words) -> str:
    x, z = place
    if floor.along_swing:
        return f"{words.length(abs(x - floor.axis))} out along its swing"
    right = f"{words.length(abs(x))} {'right' if x >= 0 else 'left'} of BL"
    if abs(z) < float(words.tape.step) / 2:
        return f"{right}, in the opening's plane"
    return f"{right}, {words.length(abs(z))} {'toward' if z > 0 else 'away from'} you"


def people(count: int | None) -> str:
    """Return how many people something takes; None where no number of them will do."""
    if count is None:
        return "no number of people will do"
    return f"{count} {'person' if count == 1 else 'people'}"
