"""The hole schedule: each tube laid flat, each plate as a full-size template, tables of tools."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from leafwright.paper.drawing import Drawing
from leafwright.paper.layout import Caution, Cell, Column, Table
from leafwright.paper.scale import FULL_SIZE, check_square, scale_bar, standard_scales
from leafwright.paper.scene import Box
from leafwright.paper.sheet import Placed, Sheet, area, fitted
from leafwright.paper.sheets.common import Desk, blank, title_of_leaf
from leafwright.paper.sheets.flow import (
    WIDE_ENOUGH,
    Block,
    Listed,
    Rows,
    Says,
    Title,
    flowed,
    through_rooms,
)
from leafwright.paper.sheets.hole_plates import plate_drawing
from leafwright.paper.sheets.hole_strips import strips_drawing
from leafwright.records import Held
from leafwright.say import hole_size, sentence
from leafwright.shop.holes.records import Hole, HoledPart, Holes, InPlace, Plate, ScrewRow

DRILL = Caution(
    "Drill",
    "Clamp the work: a cutter that grabs in thin wall spins the tube or your wrist. Eyes covered, "
    "no gloves at a turning spindle. Read hand, face and datum end on the part before you punch.",
)

#: A part with fewer holes is told in the table and not drawn.
DRAWN_FROM = 3
#: Share of a wide sheet that a tube's strips take.
SHARE = 0.62
#: Room under the strips for the words that do not go beside them [mm].
UNDER_MM = 46.0


def hole_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return the hole schedule: a sheet for each part that has many holes, tables of the rest."""
    found = at.plan.holes
    if isinstance(found, Held):
        sheet = blank(at, "Holes and plates", seen=False)
        why = f"There is no hole schedule: {found.why}. It needs {'; '.join(found.needs)}."
        return flowed(sheet, area(sheet), lambda: sheet, (Says(why, 4.0),))
    sheets: list[Sheet] = []
    for hand in dict.fromkeys(one.hand for one in found.parts):
        parts = [part for part in found.parts if part.hand == hand]
        for alike in _alike([part for part in parts if len(part.holes) >= DRAWN_FROM]):
            sheets += _part_sheets(at, alike)
        rest = [part for part in parts if len(part.holes) < DRAWN_FROM]
        sheets += _rest_sheets(at, hand, rest)
        sheets += [s for p in found.plates if p.hand == hand for s in _plate_sheets(at, p)]
    return (*sheets, *_place_sheets(at, found))


def _later(at: Desk, title: str) -> Callable[[], Sheet]:
    return lambda: blank(at, title)


# ---------------------------------------------------------------- tubes


def _alike(parts: Sequence[HoledPart]) -> list[list[HoledPart]]:
    """Return the parts of a leaf, those together that are drilled in the same places."""
    found: dict[tuple[object, ...], list[HoledPart]] = {}
    for part in parts:
        holes = tuple(
            (h.face, h.label, round(h.along.value, 6), round(h.across.value, 6),
             round(h.diameter.value, 6), h.use, h.tool, h.why, h.refused)
            for h in part.holes
        )  # fmt: skip
        faces = tuple((f.key, f.name, round(f.width, 6), f.datum, f.datum_left) for f in part.faces)
        what = (part.section, round(part.length.value, 6), part.datum_end)
        found.setdefault((*what, faces, holes), []).append(part)
    return list(found.values())


def _part_sheets(at: Desk, alike: Sequence[HoledPart]) -> tuple[Sheet, ...]:
    part = alike[0]
    marks = ", ".join(one.mark for one in alike)
    names = ", ".join(dict.fromkeys(one.name for one in alike))
    title = f"{title_of_leaf(part.hand)}: holes of {marks}"
    sheet = blank(at, title, cautions=(DRILL,))
    off_middle = any(
        h.across.value > 0.0 and abs(h.across.value - f.width / 2.0) > 1e-6
        for h in part.holes
        for f in part.faces
        if f.key == h.face
    )
    across = "; across, from the edge that the table names"
    heavy = "; the heavy side is the edge to measure across from"
    blocks: list[Block] = [
        Title(f"{marks}: {names}", 4.0),
        *((Says("All alike: drill each so, and tick its box.", 2.7),) if alike[1:] else ()),
        Says(
            f"{part.section}, {at.words.length(part.length)}. For the "
            f"{'leaf' if part.hand == 'leaf' else part.hand + ' leaf'} and no other. Distances are "
            f"from {part.datum_end} along each face{across if off_middle else ''}. "
            "Faces stand side by side as they come round when the tube is turned, each looked at "
            f"square with that end down{heavy if off_middle else ''}."
        ),
        Rows(_hole_table(at, alike)),
        *_mind(part.holes),
    ]
    room = area(sheet)
    wide = room.width >= WIDE_ENOUGH
    edge = room.left + SHARE * room.width if wide else room.right
    beside = Box(edge + 6.0, room.bottom, room.right, room.top)
    # What does not go beside the drawing goes under it.
    spills = wide and len(flowed(sheet, beside, _later(at, title), blocks)) > 1
    low = room.bottom + 12.0 + (UNDER_MM if spills else 0.0)
    place = Box(room.left, low, edge, room.top)
    placed = _as_large(
        at, place, lambda scale: strips_drawing(at, part, scale), f"{marks}, FACES LAID FLAT"
    )
    if placed is None:
        return flowed(sheet, room, _later(at, title), blocks)
    bar = scale_bar((room.left, room.bottom), placed.scale, at.scales)
    first = replace(sheet, placed=(placed,), items=(*sheet.items, *bar))
    if wide:
        under = Box(room.left, room.bottom + 12.0, edge, low - 2.0)
        rooms = [beside, under] if spills else [beside]
        return through_rooms(first, rooms, _later(at, title), blocks)
    following = blank(at, title)
    return (first, *flowed(following, area(following), _later(at, title), blocks))


def _as_large(at: Desk, place: Box, draw: Callable[..., Drawing], caption: str) -> Placed | None:
    """Return a drawing that is spaced by its scale, at the largest scale that fits."""
    for scale in standard_scales(at.scales):
        try:
            return fitted(draw(scale), place, at.scales, caption=caption, scale=scale)
        except ValueError:
            continue
    return None


def _mind(holes: Sequence[Hole]) -> list[Block]:
    labels: dict[str, list[str]] = {}
    for hole in holes:
        if hole.why:
            labels.setdefault(sentence(hole.why), []).append(hole.label)
    every = len(labels) == 1 and all(hole.why for hole in holes)
    whys = tuple(
        f"{'All' if every else f'Hole {at[0]}' if len(at) == 1 else f'Holes {_listed(at)}'}: {why}"
        for why, at in labels.items()
    )
    refused = tuple(f"DO NOT DRILL {h.label}: {h.refused}" for h in holes if h.refused)
    blocks: list[Block] = [Says(words, 3.2, bold=True) for words in dict.fromkeys(refused)]
    return [*blocks, Title("Mind", 3.2), Listed(whys)] if whys else blocks


def _listed(words: Sequence[str]) -> str:
    return f"{', '.join(words[:-1])} and {words[-1]}"


def _where(at: Desk, part: HoledPart, hole: Hole) -> str:
    """Return a hole's face, and where across it is: its middle, or so far from its datum edge."""
    face = next(one for one in part.faces if one.key == hole.face)
    if hole.across.value <= 0.0:
        return hole.side
    name = hole.face if hole.face in ("face", "back") else face.name
    if abs(hole.across.value - face.width / 2.0) < 1e-6:
        return f"{name}, on its middle"
    return f"{name}, {at.words.length(hole.across)} from its {face.datum}"


def _hole_table(at: Desk, alike: Sequence[HoledPart]) -> Table:
    part = alike[0]
    rows: list[tuple[str | Cell, ...]] = []
    for hole in part.holes:
        rows.append(
            (
                Cell(hole.label, tick=None if alike[1:] else False, bold=True),
                *(Cell("", tick=False) for _ in alike[1:] and alike),
                Cell(at.words.length(hole.along), bold=True),
                hole_size(hole.diameter, at.words),
                f"{sentence(hole.use)}: {_where(at, part, hole)}",
                hole.tool,
            )
        )
    return Table(
        (
            Column("No.", 11.0 if alike[1:] else 13.0),
            *(Column(one.mark, 17.0) for one in alike[1:] and alike),
            Column("From datum end", 30.0, height_mm=3.8),
            Column("Size", 16.0, bold=True),
            Column("What for; face, and across it", 56.0 if not alike[1:] else 44.0),
            Column("Tool", 36.0),
        ),
        tuple(rows),
        height_mm=2.8,
    )


def _rest_sheets(at: Desk, hand: str, parts: Sequence[HoledPart]) -> tuple[Sheet, ...]:
    """Return the parts that have a hole or two, in one table."""
    if not parts:
        return ()
    title = f"{title_of_leaf(hand)}: holes of its other parts"
    alike: dict[tuple[str, ...], list[HoledPart]] = {}
    for part in parts:
        for hole in part.holes:
            row = (
                part.section,
                part.datum_end,
                at.words.length(hole.along),
                hole_size(hole.diameter, at.words),
                _where(at, part, hole),
                hole.tool,
                f"{sentence(hole.use)}: {hole.why}",
            )
            alike.setdefault(row, []).append(part)
    rows: list[tuple[str | Cell, ...]] = [
        (
            Cell(", ".join(one.mark for one in those), tick=False, bold=True),
            f"{', '.join(dict.fromkeys(one.name for one in those))}, {row[0]}",
            row[1],
            Cell(row[2], bold=True),
            *row[3:],
        )
        for row, those in alike.items()
    ]
    table = Table(
        (
            Column("Mark", 34.0),
            Column("Part", 44.0),
            Column("Hook the tape on", 36.0),
            Column("From there", 28.0, height_mm=4.0),
            Column("Size", 18.0, bold=True),
            Column("Face, and across it", 52.0),
            Column("Tool", 40.0),
            Column("For", 90.0),
        ),
        tuple(rows),
        height_mm=3.0,
    )
    sheet = blank(at, title, cautions=(DRILL,))
    return flowed(sheet, area(sheet), _later(at, title), (Title(title, 4.0), Rows(table)))


# ---------------------------------------------------------------- plates


def _plate_sheets(at: Desk, plate: Plate) -> tuple[Sheet, ...]:
    """Return a plate as a template in full size where the paper holds it, else to scale."""
    drawing = plate_drawing(at, plate)
    long, wide = plate.length.value, plate.width.value
    who = title_of_leaf(plate.hand)
    sheet = blank(at, f"{who}: {plate.name} {plate.mark}", cautions=(DRILL,), drawing=True)
    sheet = replace(
        sheet,
        block=replace(sheet.block, seen_from=plate.seen.partition(",")[0].removeprefix("from ")),
    )
    room = area(sheet)
    caption = f"{plate.mark}, {plate.name.upper()}, SEEN {plate.seen.upper()}"
    side = 101.6 if at.scales == "imperial" else 100.0
    beside = room.width - 1000.0 * long > side + 75.0
    edge = room.right - side - 8.0 if beside else room.right
    low = room.bottom + (0.0 if beside else 72.0)
    place = Box(room.left, low, edge, room.top)
    full = True
    try:
        placed = fitted(drawing, place, at.scales, caption=caption, scale=FULL_SIZE)
    except ValueError:
        placed, full = fitted(drawing, place, at.scales, caption=caption), False
    words = Box(edge + 6.0, room.bottom, room.right, room.top) if beside else Box(
        room.left, room.bottom, room.right, low - 4.0
    )  # fmt: skip
    items = sheet.items
    if full and beside:
        items = (*items, *check_square((words.left, room.top - side), at.scales))
        words = Box(words.left, room.bottom, words.right, room.top - side - 5.0)
    first = replace(sheet, placed=(placed,), items=items)
    holes = dict.fromkeys((h.tool, h.why, hole_size(h.diameter, at.words)) for h in plate.holes)
    said = [
        f"{len([h for h in plate.holes if h.tool == tool])} holes of {size}: {tool}. "
        f"{sentence(why)}." if why else f"Holes of {size}."
        for tool, why, size in holes
    ]  # fmt: skip
    how = (
        "Full size: lay a rule on the test square first; then stick it on, punch through it."
        if full and beside
        else "Not a template: mark out by the distances."
    )
    thick = at.words.length(plate.thickness)
    steel = "steel not said" if plate.grade == "unknown" else plate.grade
    rings = []
    if plate.pin > 0.0:
        rings.append(f"Dashed: the pin, {at.words.small(plate.pin)} across, on the middle.")
        if plate.weld > 0.0:
            rings.append(f"Thin ring: how far its weld reaches, {at.words.length(plate.weld)}.")
    drilled = "Drill before the pin is welded on."
    none = "No holes are given: where the anchors or bolts stand is not in the job."
    refused = tuple(dict.fromkeys(h.refused for h in plate.holes if h.refused))
    blocks: list[Block] = [
        *(Says(f"DO NOT DRILL: {words_}.", 3.4, bold=True) for words_ in refused),
        Says(f"{plate.count} of {thick}, {steel}, {at.words.length(long)} x "
             f"{at.words.length(wide)}.", 3.2, bold=True),
        Says(how),
        Listed(
            (
                "Distances run from the left and the lower edge, at the small ring: mark both.",
                *rings,
                *((drilled, *said) if plate.holes else (none,)),
            )
        ),
    ]  # fmt: skip
    return flowed(first, words, _later(at, sheet.title), blocks)


# ---------------------------------------------------------------- on site, screws, order


def _place_sheets(at: Desk, found: Holes) -> tuple[Sheet, ...]:
    title = "Holes drilled in place, in which order"
    sheet = blank(at, title, cautions=(DRILL,))
    marks = {plate.key: plate.mark for plate in found.plates}
    blocks: list[Block] = []
    if found.in_place:
        blocks += [Title("Drilled in place", 4.0), Rows(_in_place_table(at, found.in_place, marks))]
    if found.screws:
        blocks += [Title("Screws of the infill", 4.0), Rows(_screw_table(at, found.screws))]
    blocks += [Title("In this order", 4.0), Listed(found.order, 3.0, numbered_from=1)]
    if found.words:
        blocks += [Title("Mind", 3.6), Listed(on_both([*map(sentence, found.words)]), 3.0)]
    if found.asks:
        blocks += [Title("Not known yet", 3.6), Listed(on_both([*map(sentence, found.asks)]), 3.0)]
    return flowed(sheet, area(sheet), _later(at, title), blocks)


def on_both(texts: Sequence[str]) -> tuple[str, ...]:
    """Return texts, what is said of the left leaf and of the right one alike said once."""
    found = []
    for text in texts:
        if "right leaf" in text and text.replace("right leaf", "left leaf") in texts:
            continue
        both = "left leaf" in text and text.replace("left leaf", "right leaf") in texts
        found.append(text.replace("the left leaf", "each leaf") if both else text)
    return tuple(dict.fromkeys(found))


def _in_place_table(at: Desk, holes: Sequence[InPlace], marks: dict[str, str]) -> Table:
    alike: dict[tuple[str, ...], list[InPlace]] = {}
    hands = {hand for one in holes for hand in ("left leaf", "right leaf") if hand in one.use}
    for one in holes:
        why = f"DO NOT DRILL: {one.refused}" if one.refused else one.why
        told = f"{sentence(one.use)}: {why}"
        if len(hands) > 1:
            told = told.replace("the left leaf", "each leaf").replace("the right leaf", "each leaf")
        row = (hole_size(one.diameter, at.words), sentence(one.into), one.tool, one.when, told)
        alike.setdefault((str(one.count), *row), []).append(one)
    rows = []
    for (count, size, into, tool, when, told), those in alike.items():
        if len(those) == 1 and len(hands) > 1:
            why = f"DO NOT DRILL: {those[0].refused}" if those[0].refused else those[0].why
            told = f"{sentence(those[0].use)}: {why}"
        plates = [marks[one.template] for one in those if one.template in marks]
        where = f"through {' and '.join(plates)}" if plates else "the rod marks it"
        rows.append(
            (
                Cell(f"{count} each" if those[1:] else count, tick=False, bold=True),
                size,
                into,
                where,
                tool,
                when,
                told,
            )
        )
    return Table(
        (
            Column("How many", 22.0),
            Column("Size", 18.0, bold=True),
            Column("In", 52.0),
            Column("How it is placed", 34.0, bold=True),
            Column("Tool", 38.0),
            Column("When", 34.0),
            Column("For", 110.0),
        ),
        tuple(rows),
        height_mm=3.0,
    )


def _screw_table(at: Desk, rows: Sequence[ScrewRow]) -> Table:
    return Table(
        (
            Column("Mark", 22.0),
            Column("Face", 40.0),
            Column("How many", 16.0, bold=True),
            Column("First, from the datum end", 28.0, bold=True),
            Column("Then every", 24.0, bold=True),
            Column("Across", 20.0),
            Column("In the tube", 36.0),
            Column("In the infill", 40.0),
            Column("Mind", 70.0),
        ),
        tuple(
            (
                Cell(row.mark, tick=False, bold=True),
                row.side,
                str(row.count),
                at.words.length(row.first),
                at.words.length(row.pitch),
                at.words.length(row.across),
                row.tool,
                row.sheet_tool
                + (f", slots {at.words.length(row.slot)} long" if row.slot > 0.0 else ""),
                row.why,
            )
            for row in rows
        ),
        height_mm=2.8,
    )
