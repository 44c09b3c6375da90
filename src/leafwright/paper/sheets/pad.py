"""The fit-up pad: numbers to read of a leaf before it is welded, and what to push afterwards."""

from __future__ import annotations

import math

from leafwright.doorway import LeafPlace
from leafwright.doorway.heel import leaf_words
from leafwright.leaf import Leaf
from leafwright.paper.drawing import Drawing, DrawingItem, Symbol
from leafwright.paper.layout import BLANK, Caution, Cell, Column, Table
from leafwright.paper.scene import Circle, Fill, Line, Point, Polyline, Text
from leafwright.paper.sheet import Sheet
from leafwright.paper.sheets.common import Desk, as_noted, blank, title_of_leaf
from leafwright.paper.sheets.elevation import hinge_edge
from leafwright.paper.sheets.flow import (
    Block,
    Boxed,
    Drawn,
    Listed,
    Rows,
    Says,
    Title,
    in_columns,
)
from leafwright.paper.sheets.leaf import leaf_parts
from leafwright.records import Held, Verdict
from leafwright.say import sentence
from leafwright.site.as_built import AsBuilt, Resplit
from leafwright.site.fit_up import FitUp
from leafwright.site.packers import Packing
from leafwright.site.pad import CORNERS, EDGES
from leafwright.site.records import LeafOnSite, Site
from leafwright.site.wished import wished_of

#: Digits to be read at arm's length, gloved, are at least this high [mm].
DIGITS_MM = 6.0
#: So many blanks for stands where the floor was not read yet.
STANDS = 4
OUTLINE_MM = 140.0
SHAPE_MM = 125.0
#: A shape out of true is drawn with its greatest error about this share of the leaf's width [-].
SHARE = 0.07
#: Factors by which a shape's errors are enlarged.
FACTORS = (1, 2, 5, 10, 20, 50, 100, 200, 500)


def _mirror(leaf: Leaf, u: float, v: float) -> Point:
    """Return a place out from the hinge edge and up, on the leaf as seen from its face side."""
    return (u if leaf.hand == "left" else leaf.width - u), v


def _wanted(at: Desk, place: LeafPlace) -> list[tuple[str, str, str]]:
    """Return what is to be read: what, what it should be, and how far it may be off."""
    words = at.words
    limits = wished_of(at.plan.job).limits()
    wide, high = words.length(place.on_sheet), words.length(place.height_on_sheet)
    across = words.length(math.hypot(place.on_sheet.value, place.height_on_sheet.value))
    size, bow = f"± {words.length(limits.size)}", f"± {words.length(limits.bow)}"
    alike = f"1 and 2 within {words.length(limits.diagonals)}"
    flat = f"in one plane within {words.length(limits.twist)}"
    return [
        ("Diagonal, bottom hinge to top closing", across, alike),
        ("Diagonal, bottom closing to top hinge", across, alike),
        ("Width at the bottom", wide, size),
        ("Width half way up", wide, size),
        ("Width at the top", wide, size),
        ("Height at the hinge edge", high, size),
        ("Height at the closing edge", high, size),
        ("String, middle of the hinge edge: in or out", words.length(0.0), bow),
        ("String, middle of the closing edge: in or out", words.length(0.0), bow),
        *((f"Level of the {name} corner", "all alike", flat) for name in CORNERS),
    ]


def _read_table(at: Desk, place: LeafPlace) -> Table:
    rows: list[tuple[str | Cell, ...]] = [
        (str(n), what, should, within, BLANK)
        for n, (what, should, within) in enumerate(_wanted(at, place), start=1)
    ]
    return Table(
        (
            Column("", 16.0, bold=True, height_mm=DIGITS_MM),
            Column("Read", 48.0),
            Column("Should be", 54.0, align="right", bold=True, height_mm=DIGITS_MM),
            Column("Within", 32.0),
            Column("Is", 48.0),
        ),
        tuple(rows),
        height_mm=3.2,
    )


def _numbers(leaf: Leaf) -> list[DrawingItem]:
    """Return the number of each reading in a ring, where it is read."""
    wide, high = leaf.width, leaf.height
    items: list[DrawingItem] = []

    def line(a: Point, b: Point, number: int, share: float) -> None:
        start, end = _mirror(leaf, *a), _mirror(leaf, *b)
        items.append(Line(start, end, "centre"))
        spot = (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
        items.append(_ring(spot, (0.0, 0.0), str(number)))

    line((0.0, 0.0), (wide, high), 1, 0.74)
    line((wide, 0.0), (0.0, high), 2, 0.74)
    line((0.0, 0.5 * high), (wide, 0.5 * high), 4, 0.5)
    out = -1.0 if leaf.hand == "left" else 1.0
    hinge, closing = _mirror(leaf, 0.0, 0.0)[0], _mirror(leaf, wide, 0.0)[0]
    middle = wide / 2
    items += [
        _ring((middle, 0.0), (0.0, -7.0), "3"),
        _ring((middle, high), (0.0, 7.0), "5"),
        _ring((hinge, 0.68 * high), (out * 9.0, 0.0), "6"),
        _ring((closing, 0.68 * high), (-out * 7.0, 0.0), "7"),
        _ring((hinge, 0.5 * high), (out * 9.0, 0.0), "8"),
        _ring((closing, 0.5 * high), (-out * 7.0, 0.0), "9"),
    ]
    for number, (u, v) in enumerate(((0, 0), (wide, 0), (0, high), (wide, high)), start=10):
        x, y = _mirror(leaf, u, v)
        sideways = -7.0 if x < middle else 7.0
        items.append(_ring((x, y), (sideways, -6.0 if v == 0 else 6.0), str(number)))
    return items


def _ring(at: Point, off: Point, words: str) -> Symbol:
    """Return a number in a ring that stands off its place [mm]."""
    lead = () if off == (0.0, 0.0) else (Line((0.0, 0.0), off, "thin"),)
    return Symbol(
        at,
        (
            *lead,
            Circle(off, 3.9, "note", fill="white"),
            Text(off, words, height_mm=4.2, anchor="centre-middle", bold=True),
        ),
    )


def _frame(leaf: Leaf) -> list[DrawingItem]:
    return [
        Polyline(tuple((x, y) for x, y in m.bar.outline), "thin", closed=True, key=m.key)
        for m in leaf.members
    ]


def pad_outline(leaf: Leaf) -> Drawing:
    """Return the leaf lying face up, with the places of the numbers to read."""
    items: list[DrawingItem] = [*hinge_edge(leaf), *_frame(leaf), *_numbers(leaf)]
    out = -1.0 if leaf.hand == "left" else 1.0
    hinge = (0.0 if leaf.hand == "left" else leaf.width, 0.2 * leaf.height)
    along = Text(
        (out * 3.2, 0.0),
        "HINGE EDGE",
        height_mm=2.6,
        bold=True,
        anchor="centre-bottom" if leaf.hand == "left" else "centre-top",
        angle=math.pi / 2,
    )
    top = Text((0.0, 12.5), "TOP", height_mm=3.6, anchor="centre-bottom", bold=True)
    foot = Text((0.0, -12.5), "BOTTOM", height_mm=3.6, anchor="centre-top", bold=True)
    return Drawing(
        (
            *items,
            Symbol(hinge, (along,)),
            Symbol((leaf.width / 2, leaf.height), (top,)),
            Symbol((leaf.width / 2, 0.0), (foot,)),
        )
    )


def errors_enlarged(found: FitUp, leaf: Leaf) -> int:
    """Return how many times the shape's errors are drawn."""
    designed = _designed(leaf)
    errors = [math.dist((c.u, c.v), p) for c, p in zip(found.corners, designed, strict=True)] + [
        abs(i.value) for i in found.items if i.key.endswith("bow") and i.value is not None
    ]
    worst = max(errors)
    if worst < 1e-6:
        return 1
    return max((f for f in FACTORS if f * worst <= SHARE * leaf.width), default=1)


def _designed(leaf: Leaf) -> tuple[Point, ...]:
    return ((0.0, 0.0), (leaf.width, 0.0), (0.0, leaf.height), (leaf.width, leaf.height))


def shape_drawing(leaf: Leaf, found: FitUp, times: int) -> Drawing:
    """Return the leaf as read over the leaf as designed, its errors enlarged, and the pushes."""
    designed = _designed(leaf)
    corners = [
        (p[0] + times * (c.u - p[0]), p[1] + times * (c.v - p[1]))
        for c, p in zip(found.corners, designed, strict=True)
    ]
    bows = {i.key.removesuffix(" bow"): i.value or 0.0 for i in found.items}
    items: list[DrawingItem] = []
    square = [_mirror(leaf, *designed[i]) for i in (0, 1, 3, 2)]
    items.append(Polyline(tuple(square), "hidden", closed=True))
    middles: dict[str, Point] = {}
    for edge, (first, last, side) in EDGES.items():
        a, b = corners[first], corners[last]
        long = math.dist(a, b) or 1.0
        out = (-side * (b[1] - a[1]) / long, side * (b[0] - a[0]) / long)
        points = []
        for i in range(17):
            share = i / 16
            off = times * bows.get(edge, 0.0) * 4.0 * share * (1.0 - share)
            at = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
            points.append(_mirror(leaf, at[0] + off * out[0], at[1] + off * out[1]))
        items.append(Polyline(tuple(points), "cut"))
        middles[edge] = points[8]
    places = {name: _mirror(leaf, *corners[i]) for i, name in enumerate(CORNERS)}
    for number, push in enumerate(found.pushes, start=1):
        name = push.place.removesuffix(" corner").removeprefix("middle of the ")
        spot = places.get(name) or middles.get(name)
        if spot is None:
            continue
        goal = places.get(push.toward.removesuffix(" corner"))
        if push.toward == "down":
            goal = _mirror(leaf, leaf.width / 2, leaf.height / 2)
        if goal is None:
            centre = _mirror(leaf, leaf.width / 2, leaf.height / 2)
            goal = centre if push.toward == "in" else (2 * spot[0] - centre[0], spot[1])
            if name in ("bottom edge", "top edge"):
                goal = (spot[0], centre[1] if push.toward == "in" else 2 * spot[1] - centre[1])
            elif push.toward == "in":
                goal = (centre[0], spot[1])
        down, outward = push.toward == "down", push.toward == "out"
        items += _push_arrow(spot, goal, number, level=down, out=outward)
    hinge_x = _mirror(leaf, 0.0, 0.0)[0]
    out_x = -7.0 if leaf.hand == "left" else 7.0
    along = Text(
        (out_x, 0.0),
        "HINGE EDGE",
        height_mm=2.6,
        bold=True,
        anchor="centre-middle",
        angle=math.pi / 2,
    )
    top = Text((0.0, 6.0), "TOP", height_mm=3.4, anchor="centre-bottom", bold=True)
    items += [
        Symbol((hinge_x, 0.2 * leaf.height), (along,)),
        Symbol((leaf.width / 2, leaf.height), (top,)),
    ]
    return Drawing(tuple(items))


def _push_arrow(
    spot: Point, goal: Point, number: int, *, level: bool, out: bool
) -> list[DrawingItem]:
    """Return a heavy arrow on paper from a place toward another, with the push's number [mm].

    It stands outside the leaf, pointing at the place where it is pushed in and away from it where
    it is pushed out. What is let down or packed up off the pad has a number alone.
    """
    dx, dy = goal[0] - spot[0], goal[1] - spot[1]
    long = math.hypot(dx, dy) or 1.0
    ux, uy = dx / long, dy / long
    if level:
        return [Symbol(spot, _numbered((9.0 if dx < 0.0 else -9.0, -3.0), number))]
    start, end = (3.0, 17.0) if out else (-18.0, -3.0)
    base, ring = end - 5.0, (23.0 if out else -22.5)
    head = (
        (end * ux, end * uy),
        (base * ux - 2.2 * uy, base * uy + 2.2 * ux),
        (base * ux + 2.2 * uy, base * uy - 2.2 * ux),
    )
    shaft = Line((start * ux, start * uy), (base * ux, base * uy), "border")
    arrow = (shaft, Fill(head, "black", layer="note"))
    return [Symbol(spot, (*arrow, *_numbered((ring * ux, ring * uy), number)))]


def _numbered(at: Point, number: int) -> tuple[Circle, Text]:
    return (
        Circle(at, 3.6, "note", fill="white"),
        Text(at, str(number), height_mm=4.0, anchor="centre-middle", bold=True),
    )


def _verdict_words(found: FitUp) -> str:
    verdicts = {check.verdict for check in found.checks}
    if found.doubt.holds:
        return "THE READINGS DO NOT AGREE: push nothing before that is settled."
    if Verdict.SHORT in verdicts:
        return "OUT OF SHAPE: put it right before it is welded."
    if Verdict.TIGHT in verdicts:
        return "The readings cannot tell whether it is in shape: read again, more closely."
    if Verdict.ASK in verdicts:
        return "In shape as far as it was read; not all of it was read."
    return "In shape: weld it."


def _found_blocks(at: Desk, leaf: Leaf, found: FitUp, stage: str) -> list[Block]:
    """Return what was read of a leaf at a stage, its shape enlarged, and what to push."""
    times = errors_enlarged(found, leaf)
    state = {Verdict.SHORT: "OUT", Verdict.TIGHT: "cannot tell", Verdict.ASK: "not read"}
    by_key = {check.key.rpartition("/")[2]: check for check in found.checks}
    rows = []
    for item in found.items:
        check = by_key.get(item.key)
        limit = "–" if check is None or check.available is None else check.available
        verdict = "ok" if check is None else state.get(check.verdict, "ok")
        if found.doubt.holds and item.value is not None:
            verdict = "not settled"
        rows.append(
            (
                sentence(item.words),
                limit if isinstance(limit, str) else at.words.length(limit),
                verdict,
            )
        )
    words = _verdict_words(found)
    if stage == "welded" and words.startswith("OUT"):
        words = "OUT OF SHAPE as welded: see whether it still clears, before it is hung."
    elif stage == "welded":
        words = words.replace(": weld it.", ", as welded.")
    blocks: list[Block] = [
        Title(f"As read, {stage}", 4.4),
        Says(words, 4.2, bold=True),
        *(Boxed(Caution("The readings do not agree", sentence(s) + ".")) for s in found.suspects),
    ]
    blocks += [Says(f"{sentence(text)}.", 3.4, bold=True) for text in found.past_pushing]
    if found.answers:
        blocks += [
            Title("Nothing is to be pushed yet. What the shape comes to:", 4.0),
            Listed(
                tuple(
                    f"{f'Without {a.without}' if a.without else 'With every reading'}: {a.words}."
                    for a in found.answers
                ),
                3.4,
            ),
        ]
    if found.pushes:
        blocks += [
            Title("Push, in this order; read again after each", 4.0),
            Listed(tuple(sentence(push.words) + "." for push in found.pushes), 4.0, 1),
        ]
    if found.missing:
        blocks += [
            Title("Not known yet"),
            Listed(tuple(sentence(text) + "." for text in found.missing), 2.9),
        ]
    caption = f"AS READ, ERRORS {times} TIMES" if times > 1 else "AS READ"
    blocks += [
        Drawn(shape_drawing(leaf, found, times), SHAPE_MM, at.scales, caption),
        Says(
            "Dashed: as it should be. Heavy: as read"
            + (f", every error drawn {times} times as large. " if times > 1 else ". ")
            + found.standing
        ),
        Rows(
            Table(
                (
                    Column("What was found (± its 95 % band)", 100.0),
                    Column("Limit", 24.0, align="right"),
                    Column("", 24.0, bold=True),
                ),
                tuple(rows),
                height_mm=3.0,
            )
        ),
    ]
    return blocks


def _packing_blocks(at: Desk, packing: Packing | Held | None) -> list[Block]:
    columns = (
        Column("Place: out from the hinge edge, up from the bottom", 62.0, bold=True),
        Column("Floor read, + up", 40.0),
        Column("Pack", 50.0, align="right", bold=True, height_mm=DIGITS_MM),
    )
    if isinstance(packing, Held):
        why = f"{sentence(packing.why)}. It needs {'; '.join(packing.needs)}."
        return [Title("Packers under the stands", 4.0), Says(why, 3.4)]
    if packing is None:
        rows: list[tuple[str | Cell, ...]] = [(BLANK, BLANK, BLANK) for _ in range(STANDS)]
        return [
            Title("Floor under the stands", 4.0),
            Says(
                "Read the floor with a level where each stand goes, write it in the job file, and "
                "this sheet says what to pack."
            ),
            Rows(Table(columns, tuple(rows))),
        ]
    words = at.words
    rows = []
    for one in packing.packers:
        whole = words.length(math.fsum(one.stack)) if one.stack else "none"
        parts = " + ".join(words.length(t) for t in one.stack)
        rows.append((one.name, parts if len(one.stack) > 1 else "", whole))
    table = Table((columns[0], Column("made of", 40.0, align="right"), columns[2]), tuple(rows))
    return [
        Title("Packers under the stands", 4.0),
        Rows(table),
        Says(" ".join(packing.words[-2:]), 3.2),
    ]


def _as_built_blocks(at: Desk, made: AsBuilt) -> list[Block]:
    words = at.words
    rows = []
    for one in (*made.widths, *made.heights):
        value = "not known" if one.value is None else words.length(one.value)
        rows.append((sentence(one.name), value))
    return [
        Title("As made", 4.0),
        Rows(
            Table(
                (
                    Column("Size", 60.0),
                    Column("Is", 50.0, align="right", bold=True, height_mm=DIGITS_MM),
                ),
                tuple(rows),
                height_mm=3.2,
            )
        ),
    ]


def _resplit_blocks(one: LeafOnSite, split: Resplit | Held | None) -> list[Block]:
    """Return the width of the leaf that is still to be made, once the other one is."""
    if split is None or one.as_built is not None:
        return []
    if isinstance(split, Held):
        why = f"{sentence(split.why)}. It needs {'; '.join(split.needs)}."
        return [Boxed(Caution("The other leaf is made, but its width is not known", why), 3.4)]
    return [
        Boxed(
            Caution(
                f"The other leaf is made. {split.words[0]}",
                "\n".join(f"– {w}" for w in split.words[1:]),
                kind="stop",
            ),
            3.6,
        )
    ]


def _sheets_of(at: Desk, one: LeafOnSite, place: LeafPlace, leaf: Leaf, there: Site) -> list[Sheet]:
    title = f"{title_of_leaf(one.key)}: fitting it up"
    face = at.plan.job.job.seen_from
    side = "left" if leaf.hand == "left" else "right"
    blocks: list[Block] = [
        *_resplit_blocks(one, there.resplit),
        Title(f"Read these before you weld {leaf_words(one.key)}", 4.4),
        Says(
            f"It lies face up: the side that will be seen from the {face}. Stand at the bottom "
            f"edge and look toward the top: the hinge edge is on your {side}. Outside corner to "
            "outside corner. Equal diagonals alone prove little.",
            3.2,
        ),
        Drawn(pad_outline(leaf), OUTLINE_MM, at.scales, "THE LEAF, FACE UP"),
        Rows(_read_table(at, place)),
        *_packing_blocks(at, one.packing),
    ]
    sheets = [*_flowed(at, title, blocks)]
    for stage, found in (("tacked", one.tacked), ("welded", one.welded)):
        told: list[Block] = []
        if isinstance(found, FitUp):
            told += _found_blocks(at, leaf, found, stage)
        elif isinstance(found, Held):
            told += [Title(f"As read, {stage}", 4.4), Says(f"{sentence(found.why)}.", 3.4)]
        if stage == "welded" and one.as_built is not None:
            told += _as_built_blocks(at, one.as_built)
        if told:
            sheets += _flowed(at, f"{title_of_leaf(one.key)}: as read, {stage}", told)
    return sheets


def _flowed(at: Desk, title: str, blocks: list[Block]) -> tuple[Sheet, ...]:
    first = blank(at, title, drawing=True)
    return as_noted(in_columns(first, lambda: blank(at, f"{title}, on", drawing=True), blocks))


def pad_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return a fit-up sheet for each leaf; nothing where the site stage was not asked for."""
    there = at.plan.site
    if not isinstance(there, Site):
        return ()
    parts = {leaf.key: (place, leaf) for place, _, leaf in leaf_parts(at)}
    sheets: list[Sheet] = []
    for one in there.leaves:
        if one.key in parts:
            sheets += _sheets_of(at, one, *parts[one.key], there)
    return tuple(sheets)
