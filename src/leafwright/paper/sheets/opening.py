"""Sheets of the opening as found, and of the doorway with its leaves in it."""

from __future__ import annotations

from leafwright.chain import Quantity
from leafwright.doorway import Doorway
from leafwright.paper.drawing import Drawing, DrawingItem, RunningDimensions
from leafwright.paper.layout import Caution, Column, Table
from leafwright.paper.scene import Text
from leafwright.paper.sheet import Sheet, area
from leafwright.paper.sheets.common import Desk, blank
from leafwright.paper.sheets.elevation import (
    WALL,
    filler_items,
    filler_marks,
    leaf_box,
    leaf_items,
    opening_dimensions,
    opening_outline,
    out_of_true,
    swing_arrow,
)
from leafwright.paper.sheets.flow import Rows, Says, Title, drawn, flowed
from leafwright.records import Held
from leafwright.say import rounding_note, swing_words
from leafwright.survey import Adjusted, Survey, side_marks


def _reading_row(at: Desk, a: Adjusted) -> tuple[str, ...]:
    seen = a.observation
    words = at.words
    number = "–" if a.standardised is None else f"{abs(a.standardised):.1f}"
    read = seen.quantity.note.split(" by ")[0] if not seen.assumed else words.length(a.read)
    how = "assumed" if seen.assumed else seen.quantity.note.partition(" by ")[2]
    if seen.set_aside:
        number, how = "set aside", seen.set_aside
    return (
        seen.words,
        read,
        "–" if a.adjusted != a.adjusted else words.length(a.adjusted),
        "–" if a.residual != a.residual else words.small(a.residual),
        words.length(seen.sd) if seen.sd >= 0.0007 else words.small(seen.sd),
        number,
        how,
    )


def _readings(at: Desk, found: Survey) -> Table:
    """Return the table of readings, the assumed ones last."""
    rows = sorted(found.adjusted, key=lambda a: a.observation.assumed)
    return Table(
        (
            Column("Reading", 46.0),
            Column("Read", 22.0, align="right"),
            Column("Fitted", 22.0, align="right"),
            Column("Fitted less read", 22.0, align="right"),
            Column("sd", 16.0, align="right"),
            Column("Misfit over its sd", 17.0, align="right"),
            Column("How", 30.0),
        ),
        tuple(_reading_row(at, a) for a in (*rows, *found.set_aside)),
        height_mm=2.6,
        title_height_mm=2.4,
    )


def opening_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return the opening as found, with every reading and how it agrees with the rest."""
    found = at.plan.survey
    sheet = blank(at, "The opening as found", drawing=True)
    if isinstance(found, Held):
        text = f"The opening cannot be found: {found.why}. It needs {'; '.join(found.needs)}."
        return flowed(sheet, area(sheet), lambda: sheet, (Says(text, 5.0),))
    head = at.plan.job.opening.head
    drawing = Drawing((*opening_outline(found, head), *opening_dimensions(found, at.words, head)))
    words = (
        "A side may lean and bow: it is measured at marks, not only at corners. Sizes on the "
        "drawing are between marks, along the tape. A reading that stands far out by its own sd "
        "is where to look first; a dash means that nothing checks it. "
    )
    return drawn(
        sheet,
        drawing,
        at.scales,
        lambda: blank(at, "The opening as found, readings"),
        (
            Title(_agreement(found), 4.0),
            Says(words + out_of_true(found, at.words) + _test_words(found)),
            Rows(_readings(at, found)),
        ),
        caption="OPENING AS FOUND, FITTED TO ALL READINGS",
        share=0.42,
    )


def _agreement(found: Survey) -> str:
    if found.agreement == "unverified":
        return "Nothing checks these readings: unverified."
    return (
        "The readings agree with one another."
        if found.agreement == "agrees"
        else "The readings DO NOT AGREE: at least one is wrong."
    )


def _test_words(found: Survey) -> str:
    """Return the numbers behind whether the readings agree."""
    if found.freedom <= 0:
        return ""
    return (
        f" Sum of the squared misfits, each over its sd: {found.weighted_sum:.2f}; up to "
        f"{found.critical:.2f} is chance (95 %, {found.freedom} readings more than needed)."
    )


def _across_points(at: Desk, doorway: Doorway, found: Survey) -> list[tuple[float, str]]:
    """Return the places across the opening, from its left side at its innermost [m]."""
    left = max(m.at[0] for m in side_marks(found, "left"))
    places: dict[float, None] = {}
    for post in doorway.posts:
        places[post.near_edge.value] = None
    for leaf in doorway.leaves:
        lo, _, hi, _ = leaf_box(leaf)
        places[lo] = None
        places[hi] = None
    places[left + doorway.width.value] = None
    return [(x, at.words.length(x - left)) for x in sorted(places)]


def doorway_drawing(at: Desk, doorway: Doorway, found: Survey) -> Drawing:
    """Return the doorway with leaves, posts and transom, and running dimensions from one corner."""
    items: list[DrawingItem] = [*opening_outline(found, at.plan.job.opening.head)]
    items += filler_items(doorway)
    items += filler_marks(doorway)
    made = {leaf.key: leaf for leaf in at.plan.leaves if not isinstance(leaf, Held)}
    for place in doorway.leaves:
        lo, bottom, _, _ = leaf_box(place)
        items += swing_arrow(place, (0.0, 0.0))
        if place.key in made:
            items += leaf_items(made[place.key], (lo, bottom), braces=False)
    left = max(m.at[0] for m in side_marks(found, "left"))
    lowest = min(m.at[1] for m in found.marks if not m.name.startswith("plane "))
    across = _across_points(at, doorway, found)
    items.append(
        RunningDimensions(
            (left, lowest),
            tuple((x, lowest) for x, _ in across),
            -14,
            tuple(text for _, text in across),
            "x",
            base=lowest - WALL,
        )
    )
    outer_left = min(m.at[0] for m in side_marks(found, "left")) - WALL
    first = doorway.leaves[0]
    ups = [first.bottom.value, first.bottom.value + first.height.value]
    if doorway.transom is not None:
        ups += [doorway.transom.near_edge.value, doorway.transom.far_edge.value]
        ups += [doorway.transom.far_edge.value + min(b.value for b in doorway.transom.behind)]
    ups = sorted({round(y, 9) for y in ups})
    items.append(
        RunningDimensions(
            (left, 0.0),
            tuple((left, y) for y in ups),
            -12,
            tuple(at.words.length(y) for y in ups),
            "y",
            base=outer_left,
        )
    )
    for place in doorway.leaves:
        lo, bottom, hi, top = leaf_box(place)
        lines = [
            "" if place.key == "leaf" else f"{place.key.upper()} LEAF",
            f"hangs {place.hand}",
            "swings",
            swing_words(place.swing),
        ]
        spot = ((lo + hi) / 2, bottom + 0.62 * (top - bottom))
        items.append(
            Text(
                spot,
                "\n".join(line for line in lines if line),
                height_mm=2.8,
                anchor="centre-middle",
                knockout=True,
            )
        )
    return Drawing(tuple(items))


def picture(at: Desk, found: Survey) -> Drawing:
    """Return the doorway without dimensions, or the bare opening where no leaf fits."""
    items: list[DrawingItem] = [*opening_outline(found, at.plan.job.opening.head)]
    doorway = at.plan.doorway
    if isinstance(doorway, Doorway):
        items += filler_items(doorway)
        made = {leaf.key: leaf for leaf in at.plan.leaves if not isinstance(leaf, Held)}
        for place in doorway.leaves:
            lo, bottom, _, _ = leaf_box(place)
            if place.key in made:
                items += leaf_items(made[place.key], (lo, bottom))
    return Drawing(tuple(items))


def _innermost(found: Survey) -> str:
    """Return the name of the mark where the left side stands farthest in."""
    return max(side_marks(found, "left"), key=lambda m: m.at[0]).name


def _sizes(at: Desk, doorway: Doorway) -> Table:
    """Return every size of the doorway with its band and how it comes about."""
    rows: list[tuple[str, str, str]] = []

    def add(quantity: Quantity) -> None:
        rows.append((quantity.name, at.words.sure(quantity), quantity.formula))

    for place in doorway.leaves:
        add(place.width)
    add(doorway.leaves[0].height)
    for gap in doorway.gaps:
        add(gap)
    add(doorway.clear_opening)
    for place in doorway.leaves:
        if place.packing is not None:
            add(place.packing)
    for filler in (*doorway.posts, *((doorway.transom,) if doorway.transom else ())):
        if filler.section is not None:
            add(filler.length)
        for quantity in filler.behind:
            add(quantity)
    return Table(
        (
            Column("Size", 52.0),
            Column("Is, ± its 95 % band", 42.0, align="right"),
            Column("Because", 80.0),
        ),
        tuple(rows),
        height_mm=2.4,
        title_height_mm=2.3,
        padding_mm=1.1,
    )


def doorway_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return the doorway with its leaves, and the table of its sizes."""
    doorway, found = at.plan.doorway, at.plan.survey
    cautions = (
        Caution(
            "What is over the opening and under the pivots",
            "Do not drill, cut or weld beam, column or slab until their owner and a licensed "
            "engineer have answered for them. Local codes decide on ways out and fire.",
        ),
    )
    sheet = blank(at, "The doorway with its leaves", cautions=cautions, drawing=True)
    if isinstance(doorway, Held) or isinstance(found, Held):
        held = doorway if isinstance(doorway, Held) else found
        why = f"{held.why}. It needs {'; '.join(held.needs)}" if isinstance(held, Held) else ""
        return flowed(sheet, area(sheet), lambda: sheet, (Says(f"No leaf fits: {why}.", 5.0),))
    words = (
        "Braces are left out here. Dashed lines meet at the hinge side. Distances across run from "
        f"the left side where it stands farthest in ({_innermost(found)}), so that the tape hooks "
        "once; heights from the bottom left corner, BL. "
    )
    return drawn(
        sheet,
        doorway_drawing(at, doorway, found),
        at.scales,
        lambda: blank(at, "The doorway, sizes"),
        (Says(words + _rounding(at, doorway)), Rows(_sizes(at, doorway))),
        caption=f"DOORWAY SEEN FROM THE {at.plan.job.job.seen_from.upper()}",
    )


def _rounding(at: Desk, doorway: Doorway) -> str:
    """Return what rounding to the tape does to the sum across, or nothing."""
    parts = [place.width.value for place in doorway.leaves]
    parts += [
        g.value for g in doorway.gaps if g.key.endswith(("heel gap", "meeting gap", "closing gap"))
    ]
    for post in doorway.posts:
        parts.append(abs(post.near_edge.value - post.far_edge.value))
    whole = doorway.width.value
    rest = whole - sum(parts)
    parts += [rest / 2, rest / 2] if len(doorway.posts) == 2 and rest > 1e-6 else []
    if abs(sum(parts) - whole) > 1e-6:
        return ""
    return rounding_note(parts, whole, at.words)
