"""How sure the opening is: readings in doubt, what to measure next, and what fits for sure."""

from __future__ import annotations

from collections.abc import Sequence

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway import Doorway, LeafPlace
from leafwright.job.model import FloorReading
from leafwright.paper.drawing import Dimension, Drawing, DrawingItem, Leader
from leafwright.paper.layout import BLANK, Cell, Column, Table
from leafwright.paper.scene import Line, Point, Polyline
from leafwright.paper.sheet import Sheet
from leafwright.paper.sheets.common import Desk, blank
from leafwright.paper.sheets.elevation import WALL, box, opening_outline
from leafwright.paper.sheets.flow import Block, Figures, Rows, Says, Title, drawn
from leafwright.records import Held
from leafwright.say import sentence
from leafwright.site.wording import is_a_mark, shown
from leafwright.survey import Survey, head_points
from leafwright.survey.doubt import Suspect
from leafwright.survey.examine import Examined
from leafwright.survey.fits import Rectangle
from leafwright.survey.observe import floor_point

#: A table that compares the opening with and without readings has no more of them than this.
COMPARED = 4


def governing(doorway: Doorway, key: str) -> tuple[Quantity, Quantity] | None:
    """Return a greatest or least that the doorway rests on, and the one of its inputs that it is.

    Args:
        doorway: whose sizes are looked through.
        key: as in ``doorway/highest floor``.
    """
    tops = [*doorway.gaps, *(place.bottom for place in doorway.leaves)]
    tops += [] if doorway.height is None else [doorway.height]
    for top in tops:
        for quantity in (top, *chain.walked(top)):
            if quantity.key == key:
                near = min(quantity.inputs, key=lambda q: abs(q.value - quantity.value))
                return quantity, near
    return None


def point_name(quantity: Quantity) -> str:
    """Return the name of the mark whose height this is: ``BL``, ``floor left 40 in out``."""
    parts = quantity.key.split("/")
    return parts[1] if parts[0] == "survey" and len(parts) == 3 else quantity.name


def _out_along(place: LeafPlace, out: float) -> float:
    """Return the x of a place so far from a shut leaf's axis [m]."""
    sign = 1.0 if place.hand == "left" else -1.0
    return place.hinge_edge.value + sign * (place.axis.value + out)


def _floor_points(at: Desk, doorway: Doorway, found: Survey) -> list[tuple[str, Point]]:
    """Return the points of the floor that were read, as they lie under the shut leaves."""
    heights = {m.name: m.at[1] for m in found.marks}
    places = {place.hand: place for place in doorway.leaves}
    points: dict[str, Point] = {}
    for reading in at.plan.job.reading:
        if not isinstance(reading, FloorReading) or reading.set_aside:
            continue
        name = floor_point(reading)
        if name not in heights:
            continue
        if reading.x is not None:
            points[name] = (reading.x.si, heights[name])
        elif reading.out is not None and reading.leaf in places:
            points[name] = (_out_along(places[reading.leaf], reading.out.si), heights[name])
    return list(points.items())


def _sure_drawing(at: Desk, found: Survey, looked: Examined) -> Drawing:
    """Return the opening with the largest rectangle that fits it, and its extreme points."""
    words = at.words
    items: list[DrawingItem] = []
    largest = looked.largest
    if isinstance(largest, Rectangle):
        corners = box(largest.left, largest.bottom, largest.right, largest.top)
        items.append(Polyline(corners, "hidden", closed=True, fill="pale"))
    items += opening_outline(found, at.plan.job.opening.head)
    if isinstance(largest, Rectangle):
        left, right = largest.left, largest.right
        low, high = largest.bottom, largest.top
        walls = [m.at for m in found.marks if m.name in ("BL", "BR", "TL", "TR")]
        out = max(x for x, _, _ in walls) + WALL
        over = max(y for _, y, _ in walls) + (WALL if at.plan.job.opening.head else 0.0)
        across, up = words.length(largest.width), words.length(largest.height)
        items += [
            Dimension(
                (left, high), (right, high), 9, across, "x", base=over, bold=True, height_mm=3.6
            ),
            Dimension((right, low), (right, high), 9, up, "y", base=out, bold=True, height_mm=3.6),
        ]
    doorway = at.plan.doorway
    marks = {m.name: (m.at[0], m.at[1]) for m in found.marks}
    if isinstance(doorway, Doorway):
        floor = _floor_points(at, doorway, found)
        for _, point in floor:
            items.append(Line((point[0], point[1] + 0.03), (point[0], point[1] - 0.03), "thin"))
        known = marks | dict(floor)
        for key, text, way in (
            ("doorway/highest floor", "highest floor", 12.0),
            ("doorway/lowest floor", "lowest floor", 20.0),
        ):
            both = governing(doorway, key)
            if both is None or point_name(both[1]) not in known:
                continue
            spot = known[point_name(both[1])]
            middle = (marks["BL"][0] + marks["BR"][0]) / 2
            items.append(
                Leader(spot, (8.0 if spot[0] < middle else -8.0, way), text, knockout=True)
            )
        both = governing(doorway, "doorway/head")
        if both is not None and point_name(both[1]) in marks:
            spot = marks[point_name(both[1])]
            middle = (marks["TL"][0] + marks["TR"][0]) / 2
            to = (8.0 if spot[0] < middle else -8.0, -12.0)
            items.append(Leader(spot, to, "lowest head", knockout=True))
    for name in ("BL", "BR"):
        x, y = marks[name]
        items.append(Leader((x, y - WALL), (0.0, -4.0), name, end="none", bold=True))
    return Drawing(tuple(items))


def _heights(at: Desk, found: Survey) -> list[tuple[str, str]]:
    """Return the extreme heights of floor and head as figures."""
    doorway = at.plan.doorway
    pairs = []
    if isinstance(doorway, Doorway):
        for key, caption in (
            ("doorway/highest floor", "Highest floor under the leaves, over BL"),
            ("doorway/lowest floor", "Lowest floor under the leaves, over BL"),
            ("doorway/head", "Head at its lowest, over BL"),
        ):
            both = governing(doorway, key)
            if both is not None and (at.plan.job.opening.head or key != "doorway/head"):
                quantity, near = both
                pairs.append((f"{caption} ({point_name(near)})", at.words.sure(quantity)))
    elif at.plan.job.opening.head:
        marks = {m.name: m.at[1] for m in found.marks}
        name = min((n for n in head_points(found) if n in marks), key=lambda n: marks[n])
        pairs.append((f"Head at its lowest, over BL ({name})", at.words.length(marks[name])))
    return pairs


def _largest_blocks(at: Desk, largest: Rectangle | Held) -> list[Block]:
    if isinstance(largest, Held):
        return [Says(f"No rectangle surely fits: {largest.why}.", 3.0, bold=True)]
    words = at.words
    sure = f"{100 * largest.confidence:.0f}"
    size = f"{words.length(largest.width)} × {words.length(largest.height)}"
    why = (
        f"It can be no wider because of what lies {largest.governed_by[0]}, and no higher because "
        f"of what lies {largest.governed_by[1]}."
    )
    return [
        Figures(((f"Largest upright rectangle that fits, {sure} % sure", size),), 1, 6.0),
        Says(why),
    ]


def _suspect_table(at: Desk, suspects: Sequence[Suspect]) -> Table:
    words = at.words
    rows = []
    for one in suspects:
        rows.append(
            (
                sentence(one.called),
                "assumed" if one.assumed else words.length(one.read),
                "–" if one.assumed else words.length(one.fits),
                shown(one.error, words.tape),
                sentence(one.sentence) + ".",
                "–" if one.assumed else BLANK,
            )
        )
    return Table(
        (
            Column("In doubt", 34.0, bold=True),
            Column("Read", 20.0, align="right"),
            Column("What fits", 20.0, align="right", bold=True),
            Column("Off by", 16.0, align="right"),
            Column("What it may be", 62.0),
            Column("Read again", 26.0),
        ),
        tuple(rows),
    )


def _both_answers(at: Desk, suspects: Sequence[Suspect]) -> list[Block]:
    """Return the opening with all readings and without each that is in doubt."""
    words = at.words
    blocks: list[Block] = []
    for start in range(0, len(suspects), COMPARED):
        some = suspects[start : start + COMPARED]
        rows = []
        for i, span in enumerate(some[0].spans):
            rows.append(
                (
                    sentence(span.name),
                    words.length(span.with_all),
                    *(words.length(one.spans[i].without) for one in some),
                )
            )
        columns = [Column("Size", 44.0), Column("With all readings", 26.0, align="right")]
        columns += [
            Column(f"Without {one.called}", 104.0 / len(some), align="right") for one in some
        ]
        blocks.append(Rows(Table(tuple(columns), tuple(rows))))
    return blocks


def _further_table(looked: Examined) -> Table:
    return Table(
        (
            Column("", 6.0, bold=True),
            Column("Measure", 54.0, bold=True),
            Column("Because", 86.0),
            Column("Read", 30.0),
        ),
        tuple(
            (str(n), sentence(one.words), sentence(one.why) + ".", BLANK)
            for n, one in enumerate(looked.further, start=1)
        ),
    )


def _off_by(at: Desk, residual: float) -> str:
    """Return how far a reading is off what fits, as the tape shows it."""
    tape = at.words.tape
    if residual != residual:
        return "–"
    if not is_a_mark(residual, tape):
        return "nothing a tape shows"
    return f"{shown(residual, tape)} too {'little' if residual > 0 else 'much'}"


def _mark_words(name: str) -> str:
    """Return what a mark is called; a level's plane is kept as a mark of its own."""
    return f"the {name.removeprefix('plane ')} plane" if name.startswith("plane ") else name


def _checked_table(at: Desk, found: Survey, looked: Examined) -> Table:
    """Return each reading with the smallest mistake that would show in it, unchecked ones first."""
    tape = at.words.tape
    residuals = {a.observation.key: a for a in found.adjusted}
    rows: list[tuple[str | Cell, ...]] = []
    of = [one for one in looked.doubts.reliability if not one.assumed]
    for one in sorted(of, key=lambda r: (r.smallest is not None, -(r.moves or 0.0))):
        a = residuals[one.key]
        read = a.observation.quantity.note.split(" by ")[0]
        if one.smallest is None or one.moves is None:
            rows.append((one.words, read, "–", Cell("UNCHECKED", bold=True), "–"))
            continue
        moved = f"{shown(one.moves, tape)} at {_mark_words(one.farthest)}"
        shows = shown(one.smallest, tape)
        rows.append((one.words, read, _off_by(at, a.residual), shows, moved))
    return Table(
        (
            Column("Reading", 58.0),
            Column("Read", 26.0, align="right"),
            Column("Off by", 34.0, align="right"),
            Column("Smallest mistake that would show", 36.0, align="right"),
            Column("Missed, it moves the opening by", 36.0, align="right"),
        ),
        tuple(rows),
        height_mm=2.6,
        title_height_mm=2.4,
    )


def sureness_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return how sure the opening is: doubts, both answers, what to measure, what surely fits."""
    found, looked = at.plan.survey, at.plan.examined
    if isinstance(found, Held) or isinstance(looked, Held):
        return ()
    doubted = looked.doubts
    blocks: list[Block] = [
        Title(_verdict(looked), 4.4),
        Says(sentence(doubted.sentence) + ".", 3.0),
        *_largest_blocks(at, looked.largest),
    ]
    heights = _heights(at, found)
    if heights:
        blocks.append(Figures(tuple(heights), 2, 4.2))
    if doubted.suspects:
        blocks += [
            Title("In doubt"),
            Says("Nothing is dropped for you: read it again, then decide in the job file."),
            Rows(_suspect_table(at, doubted.suspects)),
            Title("Both answers"),
            *_both_answers(at, doubted.suspects),
        ]
    if looked.further:
        blocks += [Title("Measure next, the first tells most"), Rows(_further_table(looked))]
    blocks += [
        Title("What would show"),
        Says(
            "A mistake smaller than the one named would not be seen. UNCHECKED: no other reading "
            "tells of it, so that any mistake goes through; read it twice, from both ends."
        ),
        Rows(_checked_table(at, found, looked)),
    ]
    title = "The opening, how sure it is"
    return drawn(
        blank(at, title, drawing=True),
        _sure_drawing(at, found, looked),
        at.scales,
        lambda: blank(at, f"{title}, readings"),
        blocks,
        caption="LARGEST RECTANGLE THAT SURELY FITS",
        share=0.4,
    )


def _verdict(looked: Examined) -> str:
    return {
        "agrees": "The readings agree.",
        "unverified": "UNVERIFIED: nothing checks these readings.",
        "none stands out": "The readings DO NOT AGREE, and none stands out.",
        "in doubt": "A reading is IN DOUBT.",
        "ambiguous": "A reading is WRONG; it cannot be told which.",
    }[looked.doubts.verdict]
