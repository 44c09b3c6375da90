"""How the leaves swing, told on a terminal: gaps against angle, the pair's order, where gaps go."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from leafwright.chain import BAND_95
from leafwright.documents.records import SwingDocument
from leafwright.doorway.budget import GapBudget
from leafwright.doorway.curves import GapCurve
from leafwright.doorway.meeting import PairSwing, PairTurn
from leafwright.doorway.opening import TABLE_STEP, ClearOpening
from leafwright.doorway.pinch import Caution
from leafwright.doorway.swing import LeafTurn, Swing
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import Words, sentence, words_of
from leafwright.told.lines import (
    NOTHING,
    cautions,
    check_lines,
    heading_lines,
    held_lines,
    leaf_name,
    stop_lines,
    table,
    wrapped,
)
from leafwright.units import show_angle


def swing_text(made: Plan, document: SwingDocument) -> str:
    """Return how the leaves swing, for a maker at a terminal."""
    words = words_of(made.job)
    lines = [*heading_lines(made, "how the leaves swing"), *stop_lines(document.stops)]
    swing = document.swing
    if isinstance(swing, Held):
        lines += [*held_lines("Swing", swing), ""]
    else:
        for leaf in swing.leaves:
            for turn in leaf.turns:
                lines += [*_turn_lines(leaf_name(leaf.key), turn, words), ""]
        if swing.pair is not None:
            lines += [*_pair_lines(swing.pair, words), ""]
        lines += [*_clear_lines(swing.clear, words), ""]
    lines += _budget_lines(document.budgets, words)
    if isinstance(swing, Swing) and swing.cautions:
        lines += ["", *_caution_lines(swing.cautions, words)]
    asked = check_lines(document.checks, words)
    if asked:
        lines += ["", "Checks that are not plainly ok", *asked]
    return "\n".join(lines)


def _caution_lines(said: Sequence[Caution], words: Words) -> list[str]:
    """Return what moving gaps can catch, each said once, with all the places where it can."""
    places: dict[str, list[Caution]] = {}
    for one in said:
        places.setdefault(one.words, []).append(one)
    sources = "; ".join(dict.fromkeys(str(one.source) for one in said))
    told = [
        f"{what} ("
        + "; ".join(
            f"{one.where}: {words.length(one.least)} to {words.length(one.greatest)}"
            for one in ones
        )
        + ")"
        for what, ones in places.items()
    ]
    head = wrapped(f"Cautions: what a moving gap can catch, and how it goes [{sources}]")
    return [*head, *cautions(told)]


def swing_brief(document: SwingDocument, words: Words) -> list[str]:
    """Return how the leaves swing, in a few lines."""
    swing = document.swing
    if isinstance(swing, Held):
        return held_lines("  swing", swing)
    lines = []
    for leaf in swing.leaves:
        for turn in leaf.turns:
            how = f"opens to {show_angle(turn.opens_to, decimals=0)}"
            if turn.stopped_by:
                how += f", where it meets {turn.stopped_by}"
            lines += wrapped(
                f"{leaf_name(leaf.key)}, {_way(turn.way)}: {how}; {_least(turn.heel, words)}",
                "    ",
                first="  ",
            )
    if swing.pair is not None:
        for pair in swing.pair.turns:
            lines += wrapped(f"{_pair_way(pair)}: {pair.words}", "    ", first="  ")
    return lines


def budget_brief(budgets: Sequence[GapBudget], words: Words) -> list[str]:
    """Return what is left of each gap, a line for each."""
    return [
        f"  {budget.gap.name}: {words.small(budget.gap)}, {_spare(budget, words)}"
        for budget in budgets
    ]


# ---------------------------------------------------------------- leaves


def _way(way: str) -> str:
    return "toward you" if way == "toward" else "away from you"


def _open(angle: float) -> str:
    return "shut" if angle < math.radians(0.05) else f"at {show_angle(angle)} open"


def _least(curve: GapCurve, words: Words) -> str:
    """Return the least of a gap and where it is."""
    if curve.contact is not None and curve.contact <= curve.upto:
        return f"{curve.name}: it TOUCHES {_open(curve.contact)}"
    band = BAND_95 * curve.sd
    sure = f" ± {words.length(band)}" if band > float(words.tape.step) / 2 else ""
    return f"{curve.name}: least {words.length(curve.least)}{sure}, {_open(curve.least_at)}"


def _turn_lines(name: str, turn: LeafTurn, words: Words) -> list[str]:
    how = f"It opens to {show_angle(turn.opens_to, decimals=0)}"
    how += f", where it meets {turn.stopped_by}." if turn.stopped_by else " and meets nothing."
    lines = [f"{name}, opening {_way(turn.way)}", f"  {how}"]
    if turn.opens_to > turn.heel.upto + math.radians(0.5):
        upto = show_angle(turn.heel.upto, decimals=0)
        how = f"Floor and checks are looked at to {upto}: stop it there, or give opens_to."
        lines.append(f"  {how}")
    for curve in turn.curves:
        lines += wrapped(f"{sentence(_least(curve, words))}.", "    ", first="  ")
    if turn.floor is not None:
        floor = turn.floor
        x, z = floor.at
        lines += wrapped(
            f"Over the floor: least {words.length(floor.least)} ± "
            f"{words.length(BAND_95 * floor.sd)}, {_open(floor.angle)}, "
            f"{words.length(floor.along)} along the leaf (over {words.length(x)} right of BL"
            f"{_off_wall(z, words)}).",
            "    ",
            first="  ",
        )
    return [*lines, *_angle_table(turn, words)]


def _off_wall(z: float, words: Words) -> str:
    if abs(z) < float(words.tape.step) / 2:
        return ""
    return f", {words.length(abs(z))} {_way('toward' if z >= 0 else 'away')}"


def _angle_table(turn: LeafTurn, words: Words) -> list[str]:
    """Return the gaps at every 15° up to where the leaf can go."""
    shown = np.arange(0.0, turn.opens_to + TABLE_STEP / 2, TABLE_STEP)
    shown = shown[shown <= turn.heel.angles[-1] + 1e-9]
    heads, columns = ["open"], [[show_angle(float(a), decimals=0) for a in shown]]
    short = {id(turn.heel): "heel", id(turn.nose): "nose"}
    for curve in turn.curves:
        heads.append(short.get(id(curve), curve.name.partition(" to the ")[2] or curve.name))
        columns.append(_cells(shown, curve.angles, curve.gaps, words))
    if turn.floor is not None:
        heads.append("floor")
        columns.append(_cells(shown, turn.floor.angles, turn.floor.gaps.min(axis=1), words))
    return table(heads, list(zip(*columns, strict=True)))


def _cells(shown: np.ndarray, angles: np.ndarray, gaps: np.ndarray, words: Words) -> list[str]:
    """Return a gap at each angle shown; a dash where the gap was not looked at so far."""
    found = []
    for angle in shown:
        gap = float(np.interp(angle, angles, gaps))
        if angle > angles[-1] + 1e-9:
            found.append("–")
        else:
            found.append("touches" if gap <= NOTHING else words.length(gap))
    return found


# ---------------------------------------------------------------- pair and clear opening


def _pair_way(turn: PairTurn) -> str:
    if turn.left_way == turn.right_way:
        return f"Meeting edges, {_way(turn.left_way)}"
    return f"Meeting edges, left {_way(turn.left_way)}, right {_way(turn.right_way)}"


def _pair_lines(pair: PairSwing, words: Words) -> list[str]:
    lines: list[str] = []
    for turn in pair.turns:
        lines += wrapped(f"{_pair_way(turn)}: {turn.words}.", "  ", first="")
        rows = []
        for order in turn.orders:
            least = "touches" if order.least <= NOTHING else words.length(order.least)
            rows.append(
                (
                    order.name,
                    least,
                    show_angle(order.least_at),
                    words.length(order.needed) if order.needed > 0 else "not to touch",
                    "clears" if order.clears else "DOES NOT CLEAR",
                )
            )
        lines += table(("order", "least gap", "at", "needed", ""), rows)
    return lines


def _clear_lines(clear: Sequence[ClearOpening], words: Words) -> list[str]:
    lines: list[str] = []
    for one in clear:
        lines.append(
            f"Clear opening, {_way(one.way)}: greatest {words.length(one.greatest)}, at "
            f"{show_angle(one.greatest_at, decimals=0)} open"
        )
    if not clear:
        return lines
    heads = ["open"]
    for one in clear:
        heads += [f"{one.way}: seen", f"{one.way}: in the wall"]
    rows: list[list[str]] = []
    for row in zip(*(one.table for one in clear), strict=True):
        cells = [show_angle(row[0].angle, decimals=0)]
        for cell in row:
            cells += [words.length(cell.seen), words.length(cell.in_reveal)]
        # Past the angle at which the leaves meet something nothing changes any more.
        if rows and cells[1:] == rows[-1][1:]:
            break
        rows.append(cells)
    return [
        *lines,
        *table(heads, rows),
        *wrapped(
            "Seen: free for a load carried straight through. In the wall: what of the leaves "
            "stands outside the wall's depth left out."
        ),
    ]


# ---------------------------------------------------------------- budgets


def _spare(budget: GapBudget, words: Words) -> str:
    if budget.spare + budget.unsure < -NOTHING:
        return f"TOO SMALL by {words.small(-budget.spare - budget.unsure)}"
    if budget.spare < -NOTHING:
        return f"too small by {words.small(-budget.spare)} where the readings err most"
    if budget.spare <= NOTHING:
        return "all of it is used"
    return f"spare {words.small(budget.spare)}"


def _budget_lines(budgets: Sequence[GapBudget] | Held, words: Words) -> list[str]:
    if isinstance(budgets, Held):
        return held_lines("Where the gaps go", budgets)
    lines = ["Where the gaps go"]
    for budget in budgets:
        lines.append(f"  {budget.gap.name}: {words.small(budget.gap)}")
        rows = []
        for share in budget.shares:
            times = "" if share.times == 1 else f"{share.times:g} × "
            rows.append((f"{times}{share.what.name}", words.small(share.amount)))
        rows.append(("how unsure the readings are (95 %)", words.small(budget.unsure)))
        lines += table(("it must take", ""), rows, "    ")
        lines.append(f"    {_spare(budget, words)}")
        if budget.spare < -NOTHING:
            lines += wrapped(
                "With all of these at once the running clearance is not kept: widen the gap, or "
                "read the opening more surely.",
                "    ",
            )
    return lines
