"""The swing on the page: leaves at an angle, gaps against angle, clear opening, where gaps go."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from leafwright.doorway import Doorway
from leafwright.doorway.budget import GapBudget
from leafwright.doorway.outline import Way
from leafwright.doorway.pinch import Caution
from leafwright.doorway.swing import LeafTurn, Swing
from leafwright.paper.sheets.common import desk
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import Words, sentence, words_of
from leafwright.site.records import Site
from leafwright.units import show_angle
from leafwright.web.planned import leaf_name
from leafwright.web.turning_pictures import clear_at, gap_graph, swing_picture

#: How far leaves are shown open where nothing is asked [°].
SHOWN = 45
#: What is nearer to nothing than this is told as nothing [m].
NOTHING = 1e-9
#: A smaller length is told in thousandths, where the tape would show too little of it [m].
FINE = 0.003

WAYS = {"toward": "toward you", "away": "away from you"}


@dataclass(frozen=True, slots=True)
class Graph:
    """One leaf's gaps against angle as it opens one way."""

    name: str
    picture: Markup
    told: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Spent:
    """Where one gap goes, share by share; ``left`` says what is over, or lacking."""

    key: str
    name: str
    gap: str
    shares: tuple[tuple[str, str], ...]
    left: str
    lacking: bool


@dataclass(frozen=True, slots=True)
class SwingPage:
    """What the swing's page shows; ``held`` says why nothing is drawn."""

    held: str
    angle: int
    most: int
    way: str
    ways: tuple[tuple[str, str], ...]
    picture: Markup | None
    caption: str
    at_angle: tuple[tuple[str, str], ...]
    graphs: tuple[Graph, ...]
    orders: tuple[tuple[str, ...], ...]
    order_words: tuple[str, ...]
    clear_heads: tuple[str, ...]
    clear_rows: tuple[tuple[str, ...], ...]
    budgets: tuple[Spent, ...]
    pinches: tuple[str, ...]
    pinch_source: str


def swing_page(made: Plan, asked: Mapping[str, str]) -> SwingPage:
    """Return what the swing's page shows of a plan."""
    words = words_of(made.job)
    room, there = made.doorway, made.site
    budgets = room.budgets if isinstance(room, Doorway) else ()
    spent = tuple(_spent(one, words) for one in budgets)
    found: Swing | Held = there.swing if isinstance(there, Site) else there
    if isinstance(found, Held) or not isinstance(room, Doorway):
        why = found.why if isinstance(found, Held) else "the doorway is held"
        return SwingPage(why, 0, 0, "", (), None, "", (), (), (), (), (), (), spent, (), "")
    ways = {turn.way for one in found.leaves for turn in one.turns}
    named = tuple((key, told) for key, told in WAYS.items() if key in ways)
    way: Way = "away" if asked.get("way") == "away" and "away" in ways else _first(ways)
    most = round(math.degrees(float(found.angles[-1])))
    angle = _angle(asked.get("angle", ""), most)
    at = desk(made)
    turned = math.radians(angle)
    svg = swing_picture(at, found, way, turned)
    caption = f"Seen from above, leaves open {angle}° {WAYS[way]}. You stand at its foot, on the "
    caption += f"{made.job.job.seen_from}. Dashed: shut; long dashes: the paths of nose and heel."
    heads, rows = _clear_table(found, words)
    return SwingPage(
        held="",
        angle=angle,
        most=most,
        way=way,
        ways=named,
        picture=svg,
        caption=caption,
        at_angle=tuple(_at_angle(found, way, turned, words)),
        graphs=tuple(_graphs(made, found)),
        orders=tuple(_orders(found, words)),
        order_words=tuple(_order_words(found)),
        clear_heads=heads,
        clear_rows=rows,
        budgets=spent,
        pinches=tuple(_pinches(found.cautions, words)),
        pinch_source=str(found.cautions[0].source) if found.cautions else "",
    )


def _first(ways: set[Way]) -> Way:
    return "toward" if "toward" in ways else "away"


def _angle(typed: str, most: int) -> int:
    """Return the angle asked for in whole degrees, within what is drawn."""
    try:
        wanted = round(float(typed.removesuffix("°").removesuffix("deg").strip()))
    except (ValueError, OverflowError):
        return min(SHOWN, most)
    return max(0, min(wanted, most))


def _who(key: str) -> str:
    return sentence(leaf_name(key))


def _fine(words: Words, value: float) -> str:
    return words.small(value) if 0.0 < abs(value) < FINE else words.length(value)


def _at_angle(found: Swing, way: Way, angle: float, words: Words) -> list[tuple[str, str]]:
    """Return every gap at the angle that is shown."""
    rows: list[tuple[str, str]] = []
    width = clear_at(found, way, angle)
    if width is not None:
        rows.append(("Clear opening", words.length(width)))
    for one in found.leaves:
        for turn in one.turns:
            if turn.way != way:
                continue
            number = int(abs(found.angles - min(angle, turn.opens_to)).argmin())
            for curve in turn.curves:
                gap = float(curve.gaps[number])
                shown = "touches" if gap <= NOTHING else words.length(gap)
                rows.append((sentence(curve.name), shown))
            if turn.floor is not None:
                i = int(abs(turn.floor.angles - angle).argmin())
                shown = words.length(float(turn.floor.gaps[i].min()))
                if angle > turn.floor.angles[-1] + 1e-6:
                    upto = show_angle(float(turn.floor.angles[-1]), decimals=0)
                    shown = f"not looked at past {upto}: see how far the leaves open"
                rows.append((f"{_who(one.key)} over the floor, at its least", shown))
            if turn.stopped_by and angle > turn.opens_to:
                stop = show_angle(turn.opens_to, decimals=0)
                rows.append((_who(one.key), f"stands at {stop}, against {turn.stopped_by}"))
    return rows


def _graphs(made: Plan, found: Swing) -> list[Graph]:
    at = desk(made)
    graphs = []
    for one in found.leaves:
        for turn in one.turns:
            name = f"{_who(one.key)}, opening {WAYS[turn.way]}"
            svg, told = gap_graph(at, found, turn, leaf_name(one.key))
            graphs.append(Graph(name, svg, (*told, *_floor(turn, words_of(made.job)))))
    return graphs


def _floor(turn: LeafTurn, words: Words) -> list[str]:
    if turn.floor is None:
        return []
    floor = turn.floor
    open_ = show_angle(floor.angle, decimals=0)
    return [
        f"Over the floor: least {words.length(floor.least)}, {open_} open, "
        f"{words.length(floor.along)} along the leaf"
    ]


def _orders(found: Swing, words: Words) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = []
    for turn in found.pair.turns if found.pair is not None else ():
        ways = WAYS[turn.left_way]
        if turn.left_way != turn.right_way:
            ways = f"left {turn.left_way}, right {turn.right_way}"
        for order in turn.orders:
            least = "touches" if order.least <= NOTHING else _fine(words, order.least)
            rows.append(
                (
                    f"{sentence(order.name)}, {ways}",
                    f"{least} at {show_angle(order.least_at, decimals=0)}",
                    "not to touch" if order.needed == 0.0 else _fine(words, order.needed),
                    "passes" if order.clears else "does not pass",
                )
            )
    return rows


def _order_words(found: Swing) -> list[str]:
    if found.pair is None:
        return []
    return [f"{sentence(WAYS[t.left_way])}: {t.words}." for t in found.pair.turns]


def _clear_table(found: Swing, words: Words) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    heads = ["Open"]
    for one in found.clear:
        heads += [f"Clear, {WAYS[one.way]}", "of it, within the wall's depth"]
    rows: list[tuple[str, ...]] = []
    for same in zip(*(one.table for one in found.clear), strict=True):
        cells = [show_angle(same[0].angle, decimals=0)]
        for row in same:
            cells += [words.length(row.seen), words.length(row.in_reveal)]
        # Past the angle at which the leaves meet something nothing changes any more.
        if rows and tuple(cells[1:]) == rows[-1][1:]:
            break
        rows.append(tuple(cells))
    return tuple(heads), tuple(rows)


def _spent(one: GapBudget, words: Words) -> Spent:
    shares: list[tuple[str, str]] = []
    for share in one.shares:
        times = "" if abs(share.times - 1.0) < 1e-9 else f"{share.times:g} × "
        shares.append((f"{times}{share.what.name}", words.small(share.amount)))
    shares.append(("how unsure the readings are (95 %)", words.small(one.unsure)))
    lacking = one.spare < -NOTHING
    left = (
        f"lacking {words.small(-one.spare)}" if lacking else f"left over {words.small(one.spare)}"
    )
    name = one.gap.name
    where = one.gap.key.partition("/")[0]
    if where in ("left", "right") and where not in name:
        name = f"{where} {name}"
    gap = f"{words.length(one.gap)} ({words.small(one.gap)})"
    return Spent(one.gap.key, sentence(name), gap, tuple(shares), left, lacking)


def _pinches(cautions: Sequence[Caution], words: Words) -> list[str]:
    """Return what moving gaps can catch, each said once with all the places where it can."""
    places: dict[str, list[str]] = {}
    for one in cautions:
        span = f"{words.length(one.least)} to {words.length(one.greatest)}"
        if one.greatest > 1.0:
            span = f"{words.length(one.least)} and up"
        places.setdefault(one.words, []).append(f"{one.where}, {span}")
    return [f"{sentence(what)}. Here: {'; '.join(where)}." for what, where in places.items()]


def swing_values(made: Plan, asked: Mapping[str, str]) -> dict[str, Any]:
    """Return the swing's page as a template's values, its drawing among them."""
    found = swing_page(made, asked)
    values: dict[str, Any] = {"swing": found}
    if found.picture is not None:
        values |= {"drawing": found.picture, "caption": found.caption}
    return values
