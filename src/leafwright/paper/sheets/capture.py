"""The capture sheet: what is still to be read of the opening, with room to write it down."""

from __future__ import annotations

from collections.abc import Sequence

from leafwright.job.model import (
    DepthReading,
    DistanceReading,
    FloorReading,
    HeadReading,
    LevelReading,
    PlumbReading,
    Reading,
    RiseReading,
)
from leafwright.paper.drawing import DrawingItem
from leafwright.paper.layout import BLANK, Cell, Column, Table
from leafwright.paper.scene import Anchor, Box, Circle, Line, Polyline, Text
from leafwright.paper.sheet import Sheet
from leafwright.paper.sheets.common import Desk, blank
from leafwright.paper.sheets.flow import Block, Picture, Rows, Says, Title, in_columns
from leafwright.records import Held
from leafwright.say import sentence

HOW = (
    "Write what the tape shows, no rounding, as soon as it is read. Measure to the bare steel or "
    "wall that stays, never to a lining. Start at the hook, or say “burned an inch”. Read every "
    "length twice, from both ends. Say who, when, and with what."
)
#: How high the picture of the opening with its marks is [mm].
PICTURE_MM = 62.0


def _again(at: Desk) -> list[str]:
    """Return the readings to take again, and those that would tell most."""
    looked = at.plan.examined
    if isinstance(looked, Held):
        return []
    called = {one.key: one.called for one in looked.doubts.suspects}
    words = {one.key: one.words for one in looked.doubts.reliability}
    wanted = [
        f"{sentence(called.get(key, words.get(key, key)))}, again" for key in looked.doubts.first
    ]
    first = [sentence(one.words) for one in looked.further if one.kind != "again"]
    unchecked = [
        f"{sentence(words[one.key])}, a second time"
        for one in looked.doubts.reliability
        if one.smallest is None and not one.assumed
    ]
    return list(dict.fromkeys((*wanted, *first, *unchecked)))


def _taken(reading: Sequence[Reading]) -> list[Reading]:
    return [one for one in reading if not one.set_aside]


def _between(readings: Sequence[Reading], first: str, second: str) -> bool:
    return any(
        isinstance(r, DistanceReading) and {r.from_, r.to} == {first, second} for r in readings
    )


def _across_mid(readings: Sequence[Reading]) -> bool:
    return any(
        isinstance(r, DistanceReading) and "@" in r.from_ and "@" in r.to and r.from_[0] != r.to[0]
        for r in readings
    )


def _not_read(at: Desk) -> list[str]:
    """Return what is usually read of an opening and was not read of this one."""
    job = at.plan.job
    readings = _taken(job.reading)
    lacking = []

    def want(has: bool, words: str) -> None:
        if not has:
            lacking.append(words)

    want(_between(readings, "BL", "BR"), "Width along the bottom, BL to BR")
    want(_across_mid(readings), "Width half way up, L@mid to R@mid")
    want(_between(readings, "TL", "TR"), "Width along the top, TL to TR")
    want(_between(readings, "BL", "TL"), "Height at the left, BL to TL")
    want(_between(readings, "BR", "TR"), "Height at the right, BR to TR")
    want(_between(readings, "BL", "TR"), "Diagonal, BL to TR")
    want(_between(readings, "BR", "TL"), "Diagonal, BR to TL")
    plumb = {frozenset((r.from_, r.to)) for r in readings if isinstance(r, PlumbReading)}
    want(frozenset(("BL", "TL")) in plumb, "Left side off plumb, BL to TL; say left or right")
    want(frozenset(("BR", "TR")) in plumb, "Right side off plumb, BR to TR; say left or right")
    level = {r.at for r in readings if isinstance(r, LevelReading)}
    rises = {n for r in readings if isinstance(r, RiseReading) for n in (r.from_, r.to)}
    for name in ("BL", "BR", "TL", "TR"):
        want(name in level | rises, f"Level of {name} over one laser plane (+ up)")
    for table in job.leaf:
        along = [r for r in readings if isinstance(r, FloorReading) and r.leaf == table.hand]
        on_plan = any(isinstance(r, FloorReading) and r.x is not None for r in readings)
        if not on_plan and len(along) < 3:
            for share in ("a third", "two thirds", "the whole"):
                lacking.append(
                    f"Floor over BL along the {table.hand} leaf's swing, {share} of its width out, "
                    "highest on the arc"
                )
    if job.opening.head:
        want(
            any(isinstance(r, HeadReading) for r in readings),
            "Head over TL, half way across (and where it sags most)",
        )
    deep = any(isinstance(r, DepthReading) for r in readings) or job.opening.reveal_depth
    want(bool(deep), "Depth of the reveal, face to face")
    want(bool(job.obstacle), "Obstacles in the swing: name, how far right of BL, up, and out")
    return lacking


def _rows(words: Sequence[str], start: int) -> Table:
    rows: list[tuple[str | Cell, ...]] = [
        (str(n), text, BLANK, BLANK) for n, text in enumerate(words, start=start)
    ]
    return Table(
        (
            Column("", 10.0, bold=True, height_mm=4.0),
            Column("Measure", 84.0),
            Column("Read", 54.0),
            Column("By whom, with what", 40.0),
        ),
        tuple(rows),
        height_mm=3.4,
    )


def _marks_picture(room: Box) -> list[DrawingItem]:
    """Return an opening, not to scale, with the names of its marks [mm]."""
    high = room.height - 12.0
    wide = min(1.1 * high, room.width - 60.0)
    x0 = room.left + 0.5 * (room.width - wide)
    y0 = room.bottom + 6.0
    x1, y1 = x0 + wide, y0 + high
    items: list[DrawingItem] = [
        Line((x0 - 14, y0), (x1 + 14, y0), "cut"),
        Polyline(((x0, y0), (x0, y1), (x1, y1), (x1, y0)), "cut"),
        Line((x0, y0), (x1, y1), "centre"),
        Line((x1, y0), (x0, y1), "centre"),
        Line((x0, y0 + high / 2), (x1, y0 + high / 2), "thin"),
    ]
    for x, y, name, left in (
        (x0, y0, "BL", True),
        (x1, y0, "BR", False),
        (x0, y1, "TL", True),
        (x1, y1, "TR", False),
        (x0, y0 + high / 2, "L@mid", True),
        (x1, y0 + high / 2, "R@mid", False),
    ):
        items.append(Circle((x, y), 1.0, "note", fill="black"))
        lift = 2.0 if y == y0 else 0.0
        spot = (x - 3.0, y + lift) if left else (x + 3.0, y + lift)
        side: Anchor = "right-middle" if left else "left-middle"
        if lift:
            side = "right-bottom" if left else "left-bottom"
        items.append(Text(spot, name, height_mm=3.6, anchor=side, bold=True))
    items.append(
        Text(
            ((x0 + x1) / 2, y0 + 2.0),
            "floor",
            height_mm=2.6,
            anchor="centre-bottom",
            knockout=True,
        )
    )
    items.append(
        Text(((x0 + x1) / 2, y1 - 2.0), "head", height_mm=2.6, anchor="centre-top", knockout=True)
    )
    return items


def capture_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return what to read again and what was never read, each with a blank."""
    again, lacking = _again(at), _not_read(at)
    if not again and not lacking:
        return ()
    face = at.plan.job.job.seen_from
    blocks: list[Block] = [
        Title("To read on site", 5.0),
        Picture(PICTURE_MM, _marks_picture),
        Says(
            f"Stand on the {face} and look at the opening: left and right are yours. "
            "B is bottom, T is top. The sketch is not to scale.",
            3.0,
        ),
        Says(HOW, 3.0),
    ]
    found = at.plan.survey
    if isinstance(found, Held):
        why = f"The opening is not known yet: {found.why}. It needs {'; '.join(found.needs)}."
        blocks.insert(1, Says(why, 3.6, bold=True))
    if again:
        blocks += [Title("Read again, or to check: these first", 4.0), Rows(_rows(again, 1))]
    if lacking:
        blocks += [
            Title("Never read of this opening", 4.0),
            Rows(_rows(lacking, len(again) + 1)),
        ]
    title = "Readings to take"
    return in_columns(
        blank(at, title, drawing=True), lambda: blank(at, title, drawing=True), blocks
    )
