"""A plate with its holes at true size: for the sheet, the template and the cutting machine."""

from __future__ import annotations

from leafwright.paper.drawing import Drawing, DrawingItem, RunningDimensions, Symbol
from leafwright.paper.scene import Anchor, Circle, Line, Point, Polyline, Text
from leafwright.paper.sheets.common import Desk
from leafwright.paper.sheets.mount_parts import shown, words_above
from leafwright.say import hole_size
from leafwright.shop.holes.records import Plate


def plate_drawing(at: Desk, plate: Plate) -> Drawing:
    """Return a plate as it is marked out: outline, holes, pin, and distances from two edges.

    Its lower left corner is at (0, 0) [m].
    """
    long, wide = plate.length.value, plate.width.value
    left, lower, right, upper = (_toward(words) for words in plate.edges)
    items: list[DrawingItem] = [
        Polyline(plate.outline, "cut", closed=True, fill="white", key=plate.key),
        Circle((0.0, 0.0), 0.0022, "note", key="datum"),
        *_pin(plate),
        *_holes(plate),
        _along(at, plate),
        _up(at, plate),
        words_above((long / 2.0, wide), upper, 3.0, wide=120.0),
        Symbol((long / 2.0, 0.0), (_edge((0.0, -1.4), lower, "centre-top"),)),
        Symbol((0.0, wide / 2.0), (_edge((-1.1, 0.0), left, "centre-bottom", _QUARTER),)),
        Symbol((long, wide / 2.0), (_edge((1.1, 0.0), right, "centre-top", _QUARTER),)),
    ]
    return Drawing(tuple(items))


_QUARTER = 1.5707963267948966


def _edge(at: Point, words: str, anchor: Anchor, angle: float = 0.0) -> Text:
    """Return what an edge is toward, close outside it: there are holes within."""
    height = 3.0 if angle == 0.0 else 2.4
    return Text(at, words, height_mm=height, anchor=anchor, angle=angle, knockout=True)


def _toward(words: str) -> str:
    return words if words.startswith("away") else f"toward {words}"


def cutting_drawing(plate: Plate) -> Drawing:
    """Return a plate for the cutting machine: outline and holes, and the pin's place as a mark."""
    long, wide = plate.length.value, plate.width.value
    reach = max(plate.pin / 2.0, 0.006)
    x, y = long / 2.0, wide / 2.0
    refused = [hole for hole in plate.holes if hole.refused]
    items: list[DrawingItem] = [
        Polyline(plate.outline, "cut", closed=True, key=plate.key),
        *(
            Circle((h.along.value, h.across.value), h.diameter.value / 2.0, "cut", key=h.key)
            for h in plate.holes
            if not h.refused
        ),
        Line((x - reach, y), (x + reach, y), "mark"),
        Line((x, y - reach), (x, y + reach), "mark"),
    ]
    items += [Circle((x, y), plate.pin / 2.0, "mark", key="pin")] if plate.pin > 0.0 else []
    for hole in refused:
        spot = (hole.along.value, hole.across.value)
        items.append(Text(spot, "DO NOT DRILL", height_mm=3.0, anchor="centre-middle"))
    return Drawing(tuple(items))


def _pin(plate: Plate) -> list[DrawingItem]:
    if plate.pin <= 0.0:
        return []
    middle = (plate.length.value / 2.0, plate.width.value / 2.0)
    items: list[DrawingItem] = [Circle(middle, plate.pin / 2.0, "mark", key="pin")]
    if plate.weld > 0.0:
        items.append(Circle(middle, plate.pin / 2.0 + plate.weld, "thin", key="weld"))
    x, y = middle
    reach = 0.7 * plate.pin
    items += [
        Line((x - reach, y), (x + reach, y), "centre"),
        Line((x, y - reach), (x, y + reach), "centre"),
    ]
    return items


def _holes(plate: Plate) -> list[DrawingItem]:
    items: list[DrawingItem] = []
    for hole in plate.holes:
        x, y, r = hole.along.value, hole.across.value, hole.diameter.value / 2.0
        layer = "hidden" if hole.refused else "cut"
        items.append(Circle((x, y), r, layer, key=hole.key))  # type: ignore[arg-type]
        reach = 1.5 * r
        items += [
            Line((x - reach, y), (x + reach, y), "centre"),
            Line((x, y - reach), (x, y + reach), "centre"),
        ]
    return items


def _along(at: Desk, plate: Plate) -> DrawingItem:
    xs = sorted({round(h.along.value, 9) for h in plate.holes} | {plate.length.value / 2.0})
    xs.append(plate.length.value)
    return RunningDimensions(
        (0.0, 0.0),
        tuple((x, 0.0) for x in xs),
        -9.5,
        tuple(shown(at, x) for x in xs),
        "x",
        height_mm=3.2,
        bold=True,
    )


def _up(at: Desk, plate: Plate) -> DrawingItem:
    ys = sorted({round(h.across.value, 9) for h in plate.holes} | {plate.width.value / 2.0})
    ys.append(plate.width.value)
    words = []
    for y in ys:
        row = [h for h in plate.holes if abs(h.across.value - y) < 1e-6]
        size = f": {len(row)} x {hole_size(row[0].diameter, at.words)}" if row else ""
        words.append(f"{shown(at, y)}{size}")
    return RunningDimensions(
        (plate.length.value, 0.0),
        tuple((plate.length.value, y) for y in ys),
        9.5,
        tuple(words),
        "y",
        height_mm=3.2,
        bold=True,
        knockout=True,
        apart=1.7,
    )
