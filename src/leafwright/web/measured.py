"""The readings on the page: how each agrees with the rest, and the opening drawn out of true."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any, cast

from markupsafe import Markup

from leafwright.chain import Quantity
from leafwright.job.errors import Problem
from leafwright.job.marks import side_of
from leafwright.job.model import Job
from leafwright.job.readings import NOT_READ
from leafwright.paper.clear import set_clear
from leafwright.paper.drawing import Drawing, DrawingItem, Leader, Symbol
from leafwright.paper.scene import Anchor, Layer, Line, Point, Polyline, Text
from leafwright.paper.sheets.elevation import opening_outline
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import Words, words_of
from leafwright.survey import Adjusted, Survey
from leafwright.survey.doubt import Suspect
from leafwright.survey.examine import Examined
from leafwright.survey.fits import Rectangle
from leafwright.survey.observe import observations
from leafwright.web.fields import words_on_page
from leafwright.web.pictures import picture, screen_scale, touchable

#: From so many times its own sd on a reading that is not in doubt is told to be watched.
WATCH = 1.6
#: By how much the drawing may enlarge what is out of true, and how far that may then show.
FACTORS = (50, 20, 10, 5, 2)
SHOWN_OUT = 0.07
#: From one line of words at a corner to the next [mm of screen].
LINE_MM = 3.9

#: What a maker reads, with the table that it becomes; {at} is a height or a distance.
KINDS: dict[str, tuple[str, dict[str, str]]] = {
    "width-floor": ("width at the floor", {"kind": "distance", "from": "BL", "to": "BR"}),
    "width-head": ("width at the head", {"kind": "distance", "from": "TL", "to": "TR"}),
    "width-at": ("width at a height", {"kind": "distance", "from": "L@{at}", "to": "R@{at}"}),
    "height-left": ("height of the left side", {"kind": "distance", "from": "BL", "to": "TL"}),
    "height-right": ("height of the right side", {"kind": "distance", "from": "BR", "to": "TR"}),
    "diagonal-up": (
        "diagonal, bottom left to top right",
        {"kind": "distance", "from": "BL", "to": "TR"},
    ),
    "diagonal-down": (
        "diagonal, bottom right to top left",
        {"kind": "distance", "from": "BR", "to": "TL"},
    ),
    "level-bl": ("laser line to bottom left", {"kind": "level", "at": "BL"}),
    "level-br": ("laser line to bottom right", {"kind": "level", "at": "BR"}),
    "level-tl": ("laser line to top left", {"kind": "level", "at": "TL"}),
    "level-tr": ("laser line to top right", {"kind": "level", "at": "TR"}),
    "plumb-left-out": (
        "left side, top off plumb outward",
        {"kind": "plumb", "from": "BL", "to": "TL", "toward": "outward"},
    ),
    "plumb-left-in": (
        "left side, top off plumb inward",
        {"kind": "plumb", "from": "BL", "to": "TL", "toward": "inward"},
    ),
    "plumb-right-out": (
        "right side, top off plumb outward",
        {"kind": "plumb", "from": "BR", "to": "TR", "toward": "outward"},
    ),
    "plumb-right-in": (
        "right side, top off plumb inward",
        {"kind": "plumb", "from": "BR", "to": "TR", "toward": "inward"},
    ),
    "floor-left": (
        "floor under the left leaf, so far out",
        {"kind": "floor", "leaf": "left", "out": "{at}"},
    ),
    "floor-right": (
        "floor under the right leaf, so far out",
        {"kind": "floor", "leaf": "right", "out": "{at}"},
    ),
    "floor-plan": (
        "floor at a place, so far right and toward you",
        {"kind": "floor", "x": "{at}", "z": "{toward}"},
    ),
    "head-at": ("head at a place, so far right, above TL", {"kind": "head", "x": "{at}"}),
    "depth-left": ("depth of the reveal at bottom left", {"kind": "depth", "at": "BL"}),
    "depth-right": ("depth of the reveal at bottom right", {"kind": "depth", "at": "BR"}),
}


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One reading as the page shows it; ``state`` is agrees, watch, look, alone, aside or held."""

    number: int
    key: str
    words: str
    typed: str
    fitted: str
    off: str
    times: str
    shows: str
    state: str
    told: str
    table: dict[str, Any]


_CORNERS = {"BL": "bottom left", "BR": "bottom right", "TL": "top left", "TR": "top right"}


def reading_name(table: dict[str, Any]) -> str:
    """Return what a reading is called: as in the list it was chosen from, or by its marks."""
    for name, rest in KINDS.values():
        if "{at}" not in "".join(rest.values()):
            if all(table.get(key) == value for key, value in rest.items()):
                return name
    kind = table.get("kind")
    first, second = str(table.get("from", "")), str(table.get("to", ""))
    if kind == "distance" and first[:2] == "L@" and second == f"R@{first[2:]}":
        up = re.sub(r"(?<=[0-9])(?=[a-z])", " ", first[2:])
        return "width half way up" if up == "mid" else f"width at {up} up"
    if kind == "floor" and table.get("x") is not None:
        return f"floor {table['x']} right, {table.get('z', '0')} toward you"
    if kind == "head":
        return f"head {table.get('x')} right, above {table.get('above', 'TL')}"
    if kind == "depth":
        at = str(table.get("at", ""))
        return f"depth of the reveal at {_CORNERS.get(at, at)}"
    if kind == "offset":
        return f"{table.get('at')} {table.get('toward')} of a string from {first} to {second}"
    if kind == "floor":
        out = table.get("out")
        return f"floor under the {table.get('leaf')} leaf, {out if out else 'highest'} out"
    if kind == "level":
        at = str(table.get("at", ""))
        return f"laser line to {_CORNERS.get(at, at)}"
    if kind == "rise":
        return f"{second} above {first}"
    if kind == "plumb":
        return f"{second} {table.get('toward')} of plumb from {first}"
    return f"{_CORNERS.get(first, first)} to {_CORNERS.get(second, second)}"


def added_errors(problems: Iterable[Problem], kind: str) -> dict[str, str]:
    """Return what is wrong with a reading that is added, by the field that it was typed in."""
    asks_at = any("{at}" in value for value in KINDS[kind][1].values())
    found: dict[str, str] = {}
    for problem in problems:
        key = problem.where[-1] if problem.where else "is"
        field = "new-toward" if key == "z" else "new-at" if key != "is" and asks_at else "new"
        found.setdefault(field, words_on_page(problem))
    return found


def reading_rows(made: Plan, data: dict[str, Any]) -> tuple[ReadingRow, ...]:
    """Return the readings in the file's order with how each agrees with the rest."""
    words = words_of(made.job)
    seen = observations(made.job)[0]
    fitted: dict[str, Adjusted] = {}
    if isinstance(made.survey, Survey):
        fitted = {a.observation.key: a for a in (*made.survey.adjusted, *made.survey.set_aside)}
    suspects: dict[str, Suspect] = {}
    smallest: dict[str, float | None] = {}
    first: tuple[str, ...] = ()
    if isinstance(made.examined, Examined):
        doubts = made.examined.doubts
        suspects = {one.key: one for one in doubts.suspects}
        smallest = {one.key: one.smallest for one in doubts.reliability}
        first = doubts.first if not suspects and doubts.verdict == "none stands out" else ()
    rows = []
    times: Counter[str] = Counter()
    for number, (table, observed) in enumerate(zip(data["reading"], seen, strict=False)):
        a = fitted.get(observed.key)
        state, told = _state(a, table, words, suspects.get(observed.key), observed.key in first)
        least = smallest.get(observed.key)
        name = reading_name(table)
        times[name] += 1
        known = a is not None and a.adjusted == a.adjusted
        rows.append(
            ReadingRow(
                number,
                observed.key,
                name if times[name] == 1 else f"{name}, reading {times[name]}",
                str(table.get("is", "")),
                words.length(a.adjusted) if known and a else "–",
                words.small(a.residual) if known and a else "–",
                f"{abs(a.standardised):.1f}" if a and a.standardised is not None else "–",
                _shows(state, observed.key in smallest, least, words),
                state,
                told,
                table,
            )
        )
    return tuple(rows)


def _shows(state: str, known: bool, least: float | None, words: Words) -> str:
    """Return the smallest mistake in a reading that the others would show."""
    if state in ("aside", "held") or not known:
        return "–"
    return "none would" if least is None else words.length(least)


def _state(
    a: Adjusted | None, table: dict[str, Any], words: Words, one: Suspect | None, is_first: bool
) -> tuple[str, str]:
    if table.get("set_aside"):
        return "aside", f"set aside: {table['set_aside']}"
    if a is None:
        return "held", "not fitted: the opening cannot be found yet"
    if one is not None:
        may = "in doubt" if one.certain else "in doubt, it or another"
        return "look", f"{may}: the rest would have it {words.length(one.fits)}"
    if is_first:
        return "look", "read this one again first"
    if a.standardised is None:
        return "alone", "unchecked: read it again, or read across it"
    if abs(a.standardised) > WATCH:
        return "watch", "a little far from the rest"
    return "agrees", "agrees with the rest"


def out_of_true_factor(found: Survey) -> int:
    """Return by how much the drawing enlarges what is out of true, 1 where it need not."""
    marks = {m.name: m.at for m in found.marks}
    corners = [marks[name] for name in _CORNERS]
    wide = max(p[0] for p in corners) - min(p[0] for p in corners)
    off = max(abs(marks[n][i] - _square(found)[n][i]) for n in _CORNERS for i in (0, 1))
    return next((f for f in FACTORS if off * f <= SHOWN_OUT * wide), 1)


def _square(found: Survey) -> dict[str, Point]:
    """Return where the corners of a true opening of the same size would be [m]."""
    at = {m.name: m.at for m in found.marks}
    left, right = (at["BL"][0] + at["TL"][0]) / 2, (at["BR"][0] + at["TR"][0]) / 2
    low, high = (at["BL"][1] + at["BR"][1]) / 2, (at["TL"][1] + at["TR"][1]) / 2
    return {"BL": (left, low), "BR": (right, low), "TL": (left, high), "TR": (right, high)}


def _enlarged(found: Survey, factor: int) -> Survey:
    """Return the survey with its marks moved as many times farther off a true opening."""
    true = _square(found)
    left, low = true["BL"]
    right, high = true["TR"]
    marks = []
    for mark in found.marks:
        x, y, z = mark.at
        if mark.name.startswith(("plane ", "floor ")):
            continue
        # What is not on the outline is not out of true by itself.
        if side_of(mark.name) is None:
            marks.append(mark)
            continue
        side = left if abs(x - left) < abs(x - right) else right
        edge = low if abs(y - low) < abs(y - high) else high
        new_y = edge + factor * (y - edge) if mark.name in _CORNERS else y
        marks.append(replace(mark, at=(side + factor * (x - side), new_y, z)))
    return replace(found, marks=tuple(marks))


def _largest(found: Survey, factor: int, fits: Rectangle) -> list[DrawingItem]:
    """Return the largest rectangle that fits, drawn as far out of true as the opening is."""
    true = _square(found)
    (left, low), (right, high) = true["BL"], true["TR"]
    x0, x1 = left + factor * (fits.left - left), right + factor * (fits.right - right)
    y0, y1 = low + factor * (fits.bottom - low), high + factor * (fits.top - high)
    return [Polyline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), "centre", closed=True)]


def opening_picture(
    made: Plan, rows: tuple[ReadingRow, ...], *, chosen: str, page: str
) -> tuple[Markup, int] | None:
    """Return the opening with the readings on it, and by how much out of true is enlarged."""
    found = made.survey
    if isinstance(found, Held):
        return None
    factor = out_of_true_factor(found)
    shown = _enlarged(found, factor)
    places = {m.name: (m.at[0], m.at[1]) for m in shown.marks}
    items: list[DrawingItem] = [*opening_outline(shown, made.job.opening.head)]
    if isinstance(made.examined, Examined) and isinstance(made.examined.largest, Rectangle):
        items += _largest(found, factor, made.examined.largest)
    names: dict[str, str] = {}
    lines: list[tuple[Point, Point, ReadingRow]] = []
    # What nobody has read yet is not drawn: what stands in the file for it is invented.
    rows = tuple(row for row in rows if row.table.get("set_aside") != NOT_READ)
    for row in rows:
        first, second = str(row.table.get("from", "")), str(row.table.get("to", ""))
        if row.table["kind"] != "distance" or first not in places or second not in places:
            continue
        pair = (first, second) if first < second else (second, first)
        names[row.key] = f"{row.words}: read {row.typed}, {row.told}"
        lines.append((places[pair[0]], places[pair[1]], row))
    items += [_reading_line(a, b, row) for a, b, row in lines]
    choices = [*_names(made, places), *_corner_words(rows, places)]
    choices += [_on_line(a, b, row) for a, b, row in lines]
    items += set_clear((), choices, screen_scale(Drawing(tuple(items))))
    svg = picture(
        Drawing(tuple(items)),
        title="The opening with the readings on it",
        description=f"What is out of true is drawn {factor} times as large as it is.",
    )
    return touchable(svg, names, chosen, page), factor


def _names(made: Plan, places: dict[str, Point]) -> list[list[DrawingItem]]:
    """Return the names of the corners, and of the maker's own marks, where each may stand."""
    found: list[list[DrawingItem]] = []
    for name in _CORNERS:
        inward = (4 if name[1] == "L" else -4, 4 if name[0] == "B" else -4)
        found.append([Leader(places[name], inward, name, end="none", bold=True)])
    for own in (mark for mark in made.job.mark if mark.name in places):
        ways = ((4, 4), (-4, 4), (4, -4), (-4, -4))
        at = places[own.name]
        found.append([Leader(at, way, own.name, end="none", bold=True) for way in ways])
    return found


def _corner_words(rows: Sequence[ReadingRow], places: dict[str, Point]) -> list[list[DrawingItem]]:
    """Return what was read at each corner, under or over its name [mm of screen]."""
    told: dict[str, list[str]] = {name: [] for name in _CORNERS}
    for row in rows:
        at = str(row.table.get({"level": "at", "plumb": "to"}.get(row.table["kind"], ""), ""))
        if at in told:
            toward = f" {row.table['toward']}" if row.table["kind"] == "plumb" else ""
            told[at].append(f"{row.table['kind']} {row.typed}{toward}")
    found: list[list[DrawingItem]] = []
    for name, lines in told.items():
        way = -1.0 if name[0] == "T" else 1.0
        x, anchor = (4.0, "left-middle") if name[1] == "L" else (-4.0, "right-middle")
        for number, words in enumerate(lines):
            # Narrow openings have no room for both corners' words side by side.
            places_down = [(x, way * (9.5 + LINE_MM * (number + more))) for more in range(5)]
            found.append([_words(places[name], at, words, anchor) for at in places_down])
    return found


def _words(at: Point, by: Point, words: str, anchor: str) -> Symbol:
    text = Text(by, words, height_mm=2.3, anchor=cast(Anchor, anchor), knockout=True)
    return Symbol(at, (text,))


def _reading_line(a: Point, b: Point, row: ReadingRow) -> Line:
    """Return a reading's line; a doubtful one stands out by its pen."""
    layer: Layer = "thin"
    if row.state in ("look", "aside"):
        layer = "mark" if row.state == "look" else "hidden"
    return Line(a, b, layer, key=row.key)


def _on_line(a: Point, b: Point, row: ReadingRow) -> list[DrawingItem]:
    """Return what was typed, at the places on its line where it may stand, the best first."""
    steep = abs(b[1] - a[1]) > abs(b[0] - a[0])
    level = row.words.startswith("width at the")
    best = 0.70 if steep else 0.5 if level else 0.25
    shares = sorted((0.04 * n for n in range(2, 24)), key=lambda share: abs(share - best))
    sign = {"look": "! ", "aside": "(", "watch": "~ "}.get(row.state, "")
    text = sign + row.typed + (")" if row.state == "aside" else "")
    return [
        Text(
            (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])),
            text,
            height_mm=2.5,
            anchor="centre-middle",
            knockout=True,
        )
        for share in (best, *shares)
    ]


def reading_table(kind: str, at: str, typed: str, toward: str = "") -> dict[str, str] | None:
    """Return a new reading's table, or None for a kind that is not in the list.

    ``at`` is how high up, how far out or how far right it was read, and ``toward`` how far toward
    the viewer.
    """
    if kind not in KINDS:
        return None
    table = {
        key: value.format(at=at or "mid", toward=toward or "0 in")
        for key, value in KINDS[kind][1].items()
    }
    if "out" in table and not at:
        del table["out"]
    return {**table, "is": typed}


def sure_of(job: Job, quantity: Quantity) -> str:
    """Return a length with its 95 % band in the job's words."""
    return words_of(job).sure(quantity)
