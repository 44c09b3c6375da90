"""The swing sheet: the doorway seen from above, gaps against angle, and where each gap goes."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from leafwright.doorway import Doorway
from leafwright.doorway.budget import GapBudget
from leafwright.doorway.curves import GapCurve
from leafwright.doorway.heel import leaf_words
from leafwright.doorway.meeting import Order, PairSwing
from leafwright.doorway.opening import ClearOpening
from leafwright.doorway.pinch import Caution as Pinch
from leafwright.doorway.swing import LeafTurn, Swing
from leafwright.paper.graph import Axis, Curve, Level, graph
from leafwright.paper.layout import Caution, Column, Table
from leafwright.paper.scene import Box, Layer, Primitive
from leafwright.paper.sheet import Sheet, area
from leafwright.paper.sheets.common import Desk, as_noted, blank
from leafwright.paper.sheets.flow import (
    Block,
    Boxed,
    Drawn,
    Listed,
    Picture,
    Rows,
    Says,
    Title,
    flowed,
    in_columns,
)
from leafwright.paper.sheets.swing_plan import plan_drawing
from leafwright.records import Held
from leafwright.say import Words, sentence
from leafwright.site.records import Site
from leafwright.units import show_angle

INCH = 0.0254
#: Gaps wider than this are not what a swing hangs on: the graph ends at least here, and no higher
#: than so much over the widest gap of a heel [m].
GRAPH_TOP = 0.04
#: What comes no nearer than this is left off the graph [m].
NEAR = 0.15
GRAPH_MM = 62.0
PLAN_MM = 150.0
#: Curves of one graph, in order: each with a pen of its own, so that no colour is needed.
PENS: tuple[Layer, ...] = ("note", "mark", "centre", "hidden")

CRUSH = Caution(
    "Where it can catch",
    "A leaf this heavy does not stop for a hand. Nobody in the arc while it moves; hold it or tie "
    "it when it stands open.",
)


def _degrees(angle: float) -> str:
    return show_angle(angle, decimals=0)


def _gap_axis(words: Words, top: float) -> Axis:
    """Return the axis of gaps from nothing to a top [m]."""
    step = 0.25 * INCH if words.system == "feet-inch" else 0.005
    while top / step > 7.0:
        step *= 2.0
    count = math.ceil(top / step - 1e-9)
    ticks = tuple((i * step, words.length(i * step)) for i in range(count + 1))
    return Axis("Gap", 0.0, count * step, ticks)


def _angle_axis(last: float) -> Axis:
    degrees = round(math.degrees(last))
    step = 15 if degrees <= 120 else 30
    ticks = tuple((math.radians(d), f"{d}°") for d in range(0, degrees + 1, step))
    return Axis("How far the leaf is open", 0.0, last, ticks)


def _least_words(at: Desk, curve: GapCurve, name: str) -> str:
    words = f"{name}: least {at.words.length(curve.least)}"
    if at.words.length(curve.least) == at.words.length(0.0):
        words = f"{name}: least {at.words.small(curve.least)}"
    words += f", {_degrees(curve.least_at)} open"
    if curve.contact is not None:
        words += f"; it would touch at {_degrees(curve.contact)}"
    return words


def _curves_of(swing: Swing, turn: LeafTurn) -> list[tuple[GapCurve, str]]:
    """Return what a leaf passes as it opens one way, heel first, each with its name."""
    found = [(turn.heel, "Heel to its jamb")]
    if turn.nose is not None:
        found.append((turn.nose, "Nose to the jamb it shuts against"))
    order = None if swing.pair is None else best_order(swing.pair, turn.way)
    if order is not None:
        found.append(
            (order.steps[0], f"Meeting edges, {order.name.replace(' first', ' leaf first')}")
        )
    found += [
        (c, sentence(c.name.partition(" to the ")[2] or c.name))
        for c in turn.obstacles
        # What stands so far away that the leaf never comes near it is no news.
        if c.contact is not None or c.least < NEAR
    ]
    return [pair for pair in found if np.isfinite(pair[0].gaps).all()]


def best_order(pair: PairSwing, way: str) -> Order | None:
    """Return the order in which a pair is best opened one way; None where no turn is that way."""
    for turn in pair.turns:
        if way in (turn.left_way, turn.right_way):
            works = [o for o in turn.orders if o.clears] or list(turn.orders)
            return works[0]
    return None


def blocks_of_graphs(at: Desk, swing: Swing, turn: LeafTurn, who: str) -> list[Block]:
    """Return a leaf's gaps against its angle, drawn and told."""
    words = at.words
    curves = _curves_of(swing, turn)[: len(PENS)]
    upto = turn.heel.angles <= turn.heel.upto + 1e-9
    top = max(GRAPH_TOP, 1.1 * float(turn.heel.gaps[upto].max()))
    last = float(swing.angles[-1])
    letters = "ABCD"

    def draw(box: Box) -> Sequence[Primitive]:
        return graph(
            box,
            _angle_axis(last),
            _gap_axis(words, top),
            [
                Curve(
                    tuple(zip(c.angles.tolist(), c.gaps.tolist(), strict=True)),
                    PENS[i],
                    mark=letters[i],
                    at=(c.least_at, max(c.least, 0.0)) if c.least <= top else None,
                )
                for i, (c, _) in enumerate(curves)
            ],
            [
                Level(
                    "y",
                    swing.running_clearance,
                    f"running clearance {words.length(swing.running_clearance)}",
                ),
                Level("x", swing.wished, f"wished {_degrees(swing.wished)}"),
            ],
        )

    named = [f"{letters[i]}  {_least_words(at, c, name)}" for i, (c, name) in enumerate(curves)]
    stop = (
        f"It would touch {turn.stopped_by} at {_degrees(turn.opens_to)}: stop it before that."
        if turn.stopped_by
        else f"It touches nothing up to {_degrees(turn.opens_to)}."
    )
    way = "toward you" if turn.way == "toward" else "away from you"
    return [
        Title(f"{sentence(who)}, opening {way}: gap against angle"),
        Picture(GRAPH_MM, draw),
        *(Says(text, 2.9) for text in (*named, stop)),
    ]


def _alike(first: LeafTurn, other: LeafTurn) -> bool:
    """Return whether two leaves of a pair turn alike, so that one graph does for both."""
    return bool(
        np.allclose(first.heel.gaps, other.heel.gaps, atol=1e-6)
        and not first.obstacles
        and not other.obstacles
        and abs(first.opens_to - other.opens_to) < 1e-6
    )


def _graphs(at: Desk, swing: Swing) -> list[Block]:
    blocks: list[Block] = []
    first = {turn.way: turn for turn in swing.leaves[0].turns}
    second = swing.leaves[1].turns if len(swing.leaves) == 2 else ()
    both = {turn.way for turn in second if turn.way in first and _alike(first[turn.way], turn)}
    for number, one in enumerate(swing.leaves):
        for turn in one.turns:
            if number == 1 and turn.way in both:
                continue
            who = "either leaf" if turn.way in both else leaf_words(one.key)
            blocks += blocks_of_graphs(at, swing, turn, who)
    return blocks


def _exact(words: Words, value: float) -> str:
    """Return a share of a gap: fine where a tape shows too little of it."""
    return words.small(value) if abs(value) < 0.003 else words.length(value)


def budget_table(at: Desk, budgets: Sequence[GapBudget]) -> Table:
    """Return where each gap goes, share by share, with what is left of it."""
    words = at.words
    rows: list[tuple[str, ...]] = []
    for one in budgets:
        name = f"{sentence(one.gap.name)}: {words.length(one.gap)}"
        for i, share in enumerate(one.shares):
            what = share.what.name
            if abs(share.times - 1.0) > 1e-9:
                what = f"{share.times:g} × {what}"
            rows.append((name if i == 0 else "", what, _exact(words, share.amount)))
        rows.append(("", "not sure by the readings (95 %)", _exact(words, one.unsure)))
        left = "left over"
        if one.spare < -1e-9:
            # The readings may be that far off, but most likely are not.
            likely = one.spare + one.unsure > -1e-9
            left = "lacking only if the readings are that far off" if likely else "LACKING"
        rows.append(("", left, _exact(words, abs(one.spare))))
    return Table(
        (
            Column("Gap", 52.0, bold=True),
            Column("Goes to", 74.0),
            Column("How much", 26.0, align="right"),
        ),
        tuple(rows),
        height_mm=2.7,
        title_height_mm=2.4,
        padding_mm=1.1,
    )


def _clear_table(at: Desk, clear: Sequence[ClearOpening]) -> Table:
    words = at.words
    columns = [Column("Both leaves open" if len(at.plan.leaves) == 2 else "Open", 24.0, bold=True)]
    for one in clear:
        way = "toward you" if one.way == "toward" else "away"
        columns += [
            Column(f"Clear, {way}", 30.0, align="right"),
            Column(f"Within the wall's depth, {way}", 34.0, align="right"),
        ]
    rows = []
    for i, row in enumerate(clear[0].table):
        cells = [_degrees(row.angle)]
        for one in clear:
            cells += [words.length(one.table[i].seen), words.length(one.table[i].in_reveal)]
        rows.append(tuple(cells))
    return Table(tuple(columns), tuple(rows), height_mm=2.9)


def _pair_blocks(at: Desk, pair: PairSwing) -> list[Block]:
    rows = []
    told = []
    for turn in pair.turns:
        way = "toward you" if turn.left_way == "toward" else "away from you"
        if turn.left_way != turn.right_way:
            way = f"left {turn.left_way}, right {turn.right_way}"
        told.append(f"{sentence(way)}: {turn.words}.")
        for order in turn.orders:
            rows.append(
                (
                    way,
                    order.name,
                    _exact(at.words, order.least),
                    _degrees(order.least_at),
                    "must not touch" if order.needed == 0.0 else _exact(at.words, order.needed),
                    "passes" if order.clears else "DOES NOT PASS",
                )
            )
    return [
        Title("Which leaf first"),
        *(Says(text, 3.4, bold=True) for text in told),
        Rows(
            Table(
                (
                    Column("Opening", 30.0),
                    Column("Order", 26.0),
                    Column("Least gap of the meeting edges", 28.0, align="right"),
                    Column("Where", 18.0, align="right"),
                    Column("Needed", 26.0, align="right"),
                    Column("", 28.0, bold=True),
                ),
                tuple(rows),
                height_mm=2.7,
            )
        ),
    ]


def _pinches(at: Desk, cautions: Sequence[Pinch]) -> list[Block]:
    """Return what can catch somebody, the same words of several places said once."""
    if not cautions:
        return []
    said: dict[str, list[str]] = {}
    for one in cautions:
        span = f"{at.words.length(one.least)} to {at.words.length(one.greatest)}"
        if one.greatest > 1.0:
            span = f"{at.words.length(one.least)} and up"
        said.setdefault(one.words, []).append(f"{one.where} ({span})")
    return [
        Title("Where it can catch a finger, a hand, a foot"),
        Listed(tuple(f"{sentence(w)}. Here: {'; '.join(where)}." for w, where in said.items())),
        Says(f"Cautions, by {cautions[0].source}. They are no verdict and no approval.", 2.4),
    ]


def swing_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return how the leaves turn, or why that is not drawn; nothing where it was not asked."""
    there, room = at.plan.site, at.plan.doorway
    if not isinstance(there, Site) or not isinstance(room, Doorway):
        return ()
    title = "How the leaves turn"
    swing = there.swing

    def later() -> Sheet:
        return blank(at, f"{title}, on")

    budgets: list[Block] = [
        Title("Where each gap goes"),
        Says(
            "What a gap must hold, share by share. What is left over is yours; where it says "
            "LACKING the gap is too small."
        ),
        Rows(budget_table(at, room.budgets)),
    ]
    if isinstance(swing, Held):
        sheet = blank(at, title, cautions=(CRUSH,))
        why = f"Not drawn: {swing.why}. It needs {'; '.join(swing.needs)}."
        return flowed(sheet, area(sheet), later, [Says(why, 4.0, bold=True), *budgets])
    seen = at.plan.job.job.seen_from
    blocks: list[Block] = [
        Title("Seen from above", 4.4),
        Drawn(plan_drawing(at, swing), PLAN_MM, at.scales, "DOORWAY SEEN FROM ABOVE"),
        Says(
            f"You stand at the foot of the drawing, on the {seen}. Leaves shut are drawn heavy, at "
            "45° and 90° dashed; the long dashes are the paths of nose and heel."
        ),
        *_stops(swing),
        *_graphs(at, swing),
    ]
    if swing.pair is not None:
        blocks += _pair_blocks(at, swing.pair)
    blocks += [
        Title("Clear opening"),
        *(Says(_greatest(at, one)) for one in swing.clear),
        Rows(_clear_table(at, swing.clear)),
        *budgets,
        *_pinches(at, swing.cautions),
    ]
    sheet = blank(at, title, cautions=(CRUSH,), drawing=True)
    return as_noted(in_columns(sheet, lambda: blank(at, f"{title}, on", drawing=True), blocks))


def _greatest(at: Desk, one: ClearOpening) -> str:
    way = "toward you" if one.way == "toward" else "away from you"
    return (
        f"Opening {way} it is greatest at {_degrees(one.greatest_at)}: "
        f"{at.words.length(one.greatest)} seen straight on."
    )


def _stops(swing: Swing) -> list[Block]:
    """Return a stop for each gap that is too small as a leaf turns."""
    short = [c for c in swing.checks if c.verdict.value == "short"]
    return [
        Boxed(Caution(f"{sentence(c.subject)}: {c.question}? No.", sentence(c.change), kind="stop"))
        for c in short
    ]
