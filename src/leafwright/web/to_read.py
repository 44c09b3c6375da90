"""What of the opening is still to be read: each place with its number, its field, its picture."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from markupsafe import Markup

from leafwright.job.readings import NOT_READ
from leafwright.paper.drawing import Drawing, DrawingItem, Leader
from leafwright.paper.scene import Line, Point, Polyline
from leafwright.web.fields import Edit, Field, Sheet, name_of, place_of
from leafwright.web.measured import ReadingRow
from leafwright.web.pictures import leading, picture, ringed

#: How each kind is read, in a few words.
HOW = {
    "distance": "",
    "level": "how far over the laser's line it is; under it is minus",
    "plumb": "at the top, off a plumb line to the bottom corner; the other way is minus",
    "floor": "over the bottom corner on that side; lower is minus",
}
#: The opening as it is pictured before anything is known of it: any upright rectangle [m].
_WIDE, _HIGH = 3.0, 3.6
_AT: dict[str, Point] = {
    "BL": (0.0, 0.0),
    "BR": (_WIDE, 0.0),
    "TL": (0.0, _HIGH),
    "TR": (_WIDE, _HIGH),
}
#: Where along its line a number stands, so that no two come together.
_ALONG = {frozenset(("BL", "TR")): 0.74, frozenset(("BR", "TL")): 0.74}
_SPOTS: dict[tuple[str, str], tuple[Point, Point]] = {
    ("level", "BL"): (_AT["BL"], (-9.0, 6.0)),
    ("level", "BR"): (_AT["BR"], (9.0, 6.0)),
    ("level", "TL"): (_AT["TL"], (-6.0, 9.0)),
    ("level", "TR"): (_AT["TR"], (6.0, 9.0)),
    ("plumb", "TL"): ((0.0, 0.84 * _HIGH), (-9.0, 0.0)),
    ("plumb", "TR"): ((_WIDE, 0.84 * _HIGH), (9.0, 0.0)),
    ("floor", "left"): ((0.2 * _WIDE, 0.0), (0.0, -9.0)),
    ("floor", "right"): ((0.8 * _WIDE, 0.0), (0.0, -9.0)),
}


@dataclass(frozen=True, slots=True)
class ToRead:
    """One reading that nobody has taken yet: its number on the picture and where it is typed."""

    number: int
    at: int
    words: str
    field: Field


def is_to_read(table: Mapping[str, Any]) -> bool:
    """Return whether a reading of the file only says what is to be read."""
    return table.get("set_aside") == NOT_READ


def to_read(sheet: Sheet, rows: Sequence[ReadingRow]) -> tuple[ToRead, ...]:
    """Return the readings that are still to be taken, in the file's order.

    What stands in the file for one is invented, and so it is never shown.
    """
    found = []
    for number, row in enumerate(rows, 1):
        if not is_to_read(row.table):
            continue
        where = ("reading", row.number, "is")
        field = sheet.field(where, row.words, "reading")
        if name_of(where) not in sheet.typed:
            field = replace(field, value="")
        how = HOW.get(str(row.table.get("kind")), "")
        field = replace(field, help=how, apart="to-read")
        found.append(ToRead(number, row.number, row.words, field))
    return tuple(found)


def as_read(typed: Mapping[str, str], data: Mapping[str, Any], edits: Sequence[Edit]) -> list[Edit]:
    """Return the edits of a form, with what was still to be read no longer set aside.

    It counts as read even where what was read is what happened to stand in the file; a field that
    is left empty says nothing.
    """
    found = list(edits)
    for name, text in typed.items():
        where = place_of(name)
        if len(where) != 3 or where[0] != "reading" or where[2] != "is":
            continue
        readings, number = data.get("reading", []), where[1]
        if not isinstance(number, int) or number >= len(readings):
            continue
        if not is_to_read(readings[number]):
            continue
        found = [edit for edit in found if edit[0] != where]
        if text.strip():
            found += [(where, text.strip()), ((*where[:2], "set_aside"), None)]
    return found


def reading_picture(rows: Sequence[ReadingRow]) -> Markup:
    """Return any opening with the number of each reading that is asked for; no size is known."""
    corners = (_AT["BL"], _AT["BR"], _AT["TR"], _AT["TL"])
    items: list[DrawingItem] = [Polyline(corners, "cut", closed=True)]
    for number, row in enumerate(rows, 1):
        items += _numbered(str(number), row.table)
    for name, at in _AT.items():
        to = (5.0 if name[1] == "L" else -5.0, 4.5 if name[0] == "B" else -4.5)
        items.append(Leader(at, to, name, end="none", bold=True))
    svg = picture(
        Drawing(tuple(ringed(items))),
        title="What to read of the opening",
        description="Each number is a reading of the list. No size is known yet.",
    )
    links = {
        str(number): (
            f"#{'to-read' if is_to_read(row.table) else 'reading'}-{row.number}",
            f"{number}: {row.words}",
        )
        for number, row in enumerate(rows, 1)
    }
    return leading(svg, links)


def _numbered(number: str, table: Mapping[str, Any]) -> list[DrawingItem]:
    """Return a reading's line, where it has one, and its number in a ring."""
    kind = str(table.get("kind"))
    if kind == "distance":
        ends = str(table.get("from", "")), str(table.get("to", ""))
        a, b = (_AT.get(end) or _beside(end) for end in ends)
        if a is None or b is None:
            return []
        part = _ALONG.get(frozenset(ends), 0.5 if a[0] != b[0] else 0.36)
        part = 0.3 if "@" in ends[0] else part
        spot = (a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1]))
        return [
            Line(a, b, "thin"),
            Leader(spot, (0.0, 0.0), number, end="none", ring=True, knockout=True),
        ]
    of = str(table.get("leaf") or table.get("to") or table.get("at"))
    if (kind, of) not in _SPOTS:
        return []
    at, out = _SPOTS[kind, of]
    return [Leader(at, out, number, end="dot", ring=True, knockout=True)]


def _beside(name: str) -> Point | None:
    """Return where a mark on a side is pictured: half way up."""
    side = name.partition("@")[0]
    return {"L": (0.0, _HIGH / 2), "R": (_WIDE, _HIGH / 2)}.get(side)
