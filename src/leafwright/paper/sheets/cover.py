"""The cover: the doorway small, the main figures large, and what the maker must look at."""

from __future__ import annotations

from dataclasses import replace

from leafwright.doorway import Doorway
from leafwright.leaf import Leaf
from leafwright.paper.drawing import DrawingItem
from leafwright.paper.layout import Caution, bullets, figures, heading, paragraph
from leafwright.paper.scene import Box
from leafwright.paper.sheet import Sheet, area, fitted
from leafwright.paper.sheets.common import Desk, blank, halves, with_items
from leafwright.paper.sheets.opening import picture
from leafwright.records import Verdict
from leafwright.say import count_of, default_line, sentence
from leafwright.survey import Survey


def _cautions(at: Desk) -> tuple[Caution, ...]:
    stops = tuple(
        Caution(sentence(s.why), sentence(s.decide) + ".", kind="stop") for s in at.plan.stops
    )
    asked = [c for c in at.plan.checks if c.verdict is Verdict.ASK]
    asking = tuple(
        Caution(f"{sentence(c.subject)}: {c.question}?", sentence(c.change) + ".") for c in asked
    )
    return (*stops, *asking)


def cover_figures(at: Desk) -> list[tuple[str, str]]:
    """Return the plan's main figures, caption and value."""
    words, made = at.words, at.plan
    found: list[tuple[str, str]] = []
    doorway = made.doorway
    if isinstance(doorway, Doorway):
        found.append(("Least clear width of the opening", words.sure(doorway.width)))
        for place in doorway.leaves:
            name = "The leaf" if place.key == "leaf" else f"{place.key.capitalize()} leaf"
            size = f"{words.length(place.width)} × {words.length(place.height)}"
            found.append((f"{name}, wide × high", size))
        found.append(("Clear opening at 90°", words.length(doorway.clear_opening)))
    for leaf in made.leaves:
        if isinstance(leaf, Leaf):
            name = "The leaf" if leaf.key == "leaf" else f"{leaf.key.capitalize()} leaf"
            found.append(
                (
                    f"{name}, bare and hung",
                    f"{words.mass(leaf.lift_mass)}, {words.mass(leaf.hung_mass)}",
                )
            )
    found.append(("Checks", count_of(made.checks)))
    return found


def cover_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return the cover, and the sheet of defaults, assumptions and what is not done yet."""
    sheet = blank(at, "Cover", cautions=_cautions(at), steel=True)
    room = area(sheet)
    left, right = halves(room, 4.4, 5.6)
    title = heading(
        at.plan.job.job.name, left=right.left, top=right.top, width=right.width, height_mm=9.0
    )
    state = "This packet may be cut from." if at.plan.for_cutting else "NOT FOR CUTTING yet."
    open_words = (
        " What is boxed below is still open: it must be answered before anything is hung."
        if any(c.verdict is Verdict.ASK for c in at.plan.checks)
        else ""
    )
    intro = paragraph(
        state + open_words,
        left=right.left,
        top=title.bottom - 2.0,
        width=right.width,
        height_mm=3.6,
    )
    figs = figures(
        cover_figures(at),
        left=right.left,
        top=intro.bottom - 5.0,
        width=right.width,
        columns=2,
        height_mm=5.0,
    )
    items: list[DrawingItem] = [*title.items, *intro.items, *figs.items]
    found = at.plan.survey
    if isinstance(found, Survey):
        placed = fitted(
            picture(at, found),
            Box(left.left, left.bottom, left.right, left.top),
            at.scales,
            caption=f"SEEN FROM THE {at.plan.job.job.seen_from.upper()}",
        )
        sheet = replace(sheet, placed=(placed,))
    return (with_items(sheet, items),)


def notes_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return what was taken by default, and what this packet does not do."""
    sheet = blank(at, "Taken by default, and not done here", seen=False)
    left, right = halves(area(sheet), 5.0, 5.0)
    title = heading(
        "Not said in the job file, so taken by default",
        left=left.left,
        top=left.top,
        width=left.width,
    )
    note = paragraph(
        "Write any of these in the job file to change it.",
        left=left.left,
        top=title.bottom - 1.5,
        width=left.width,
    )
    listed = bullets(
        [default_line(q, at.words) for q in at.plan.defaults],
        left=left.left,
        top=note.bottom - 2.0,
        width=left.width,
        height_mm=2.8,
    )
    other = heading(
        "Not worked out by this packet", left=right.left, top=right.top, width=right.width
    )
    missing = bullets(
        [f"{name}: {held.why}. Go by: {'; '.join(held.needs)}." for name, held in at.plan.not_yet],
        left=right.left,
        top=other.bottom - 2.0,
        width=right.width,
        height_mm=2.8,
    )
    return (
        with_items(sheet, [*title.items, *note.items, *listed.items, *other.items, *missing.items]),
    )
