"""Holes and plates on the page: each part laid flat, its holes one by one with their ticks."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from leafwright.job.store import LogEntry
from leafwright.paper.scale import Scale
from leafwright.paper.sheet import scene_of
from leafwright.paper.sheets.common import desk, title_of_leaf
from leafwright.paper.sheets.hole_plates import plate_drawing
from leafwright.paper.sheets.hole_strips import strips_drawing
from leafwright.pipeline import Plan
from leafwright.records import Held, to_json
from leafwright.say import Words, hole_size, sentence, words_of
from leafwright.shop.holes.records import Hole, HoledPart, Holes, Plate
from leafwright.told.holes import in_place_words, screw_words
from leafwright.web.pictures import picture, svg_of
from leafwright.web.ticks import state_of, ticks_of

#: How a tube's strips are drawn on a screen, two beside one another.
ON_SCREEN = Scale(6, "to fit")


@dataclass(frozen=True, slots=True)
class HoleRow:
    """One hole with its tick: ``state`` is open, done, or changed since it was ticked."""

    about: str
    hash: str
    label: str
    along: str
    size: str
    where: str
    tool: str
    told: str
    why: str
    refused: str
    state: str
    at: str


@dataclass(frozen=True, slots=True)
class PartLink:
    """A part to be opened: its number in the list, and how many of its holes are drilled."""

    number: str
    mark: str
    name: str
    told: str
    here: bool


@dataclass(frozen=True, slots=True)
class PartPage:
    """The part that is open."""

    title: str
    lines: tuple[str, ...]
    rows: tuple[HoleRow, ...]


def hole_hash(hole: Hole) -> str:
    """Return what a tick remembers of a hole: where it is, how large, and in which face."""
    told = [
        hole.face,
        *(round(q.value, 6) for q in (hole.along, hole.across, hole.diameter)),
        round(hole.slot, 6),
        hole.tool,
        hole.refused,
    ]
    return hashlib.sha256(json.dumps(to_json(told)).encode()).hexdigest()[:16]


def holed_values(made: Plan, asked: Mapping[str, str], log: Sequence[LogEntry]) -> dict[str, Any]:
    """Return what the page of the holes shows: its parts, the open one, and what goes with them."""
    found = made.holes
    if isinstance(found, Held):
        return {"hole_held": f"{sentence(found.why)}. It needs {'; '.join(found.needs)}."}
    words = words_of(made.job)
    ticked = ticks_of(log)
    parts = _parts(found)
    chosen = _opened(found, asked)
    marks = {plate.key: plate.mark for plate in found.plates}
    rows = [
        PartLink(str(i), p.mark, _name(p), _tally(p, ticked), p is chosen)
        for i, p in enumerate(parts, 1)
    ]
    now = next((i for i, row in enumerate(rows) if row.here), 0)
    return {
        "hole_held": "",
        "hole_parts": rows,
        "hole_before": rows[now - 1] if now else None,
        "hole_next": rows[now + 1] if now + 1 < len(rows) else None,
        "hole_part": _page(chosen, words, ticked) if chosen is not None else None,
        "hole_place": [in_place_words(one, marks, words) for one in found.in_place],
        "hole_screws": [screw_words(row, words) for row in found.screws],
        "hole_order": found.order,
        "hole_words": [f"{sentence(said)}." for said in found.words],
        "hole_asks": [sentence(asked_) for asked_ in found.asks],
        "hole_cautions": found.cautions,
    }


def hole_picture(made: Plan, asked: Mapping[str, str]) -> tuple[Markup, str] | None:
    """Return the drawing of the open part with its caption; None where there is no part."""
    if isinstance(made.holes, Held):
        return None
    part = _opened(made.holes, asked)
    if part is None:
        return None
    at = desk(made)
    if isinstance(part, Plate):
        caption = f"{part.mark}, {part.name}, seen {part.seen}."
        return (
            picture(plate_drawing(at, part), title=caption, description="Its holes to scale"),
            caption,
        )
    caption = (
        f"{part.mark}, {part.name}: its faces side by side, {part.datum_end.removeprefix('its ')} "
        "down. The heavy side is the edge to measure across from."
    )
    drawing = strips_drawing(at, part, ON_SCREEN, in_row=2)
    scene = scene_of(drawing, ON_SCREEN, title=caption)
    return svg_of(scene, title=caption, description="Its holes, measured from that end"), caption


def _parts(found: Holes) -> list[HoledPart | Plate]:
    every: list[HoledPart | Plate] = [*found.parts, *found.plates]
    hands = list(dict.fromkeys(part.hand for part in every))
    return sorted(every, key=lambda part: hands.index(part.hand))


def _opened(found: Holes, asked: Mapping[str, str]) -> HoledPart | Plate | None:
    parts = _parts(found)
    number = asked.get("group", "1")
    chosen = next((p for i, p in enumerate(parts, 1) if str(i) == number), None)
    return chosen or (parts[0] if parts else None)


def _name(part: HoledPart | Plate) -> str:
    return f"{part.name}, {title_of_leaf(part.hand).lower()}"


def _state(hole: Hole, ticked: Mapping[str, LogEntry]) -> tuple[str, str]:
    return state_of(ticked.get(f"hole/{hole.key}"), hole_hash(hole))


def _tally(part: HoledPart | Plate, ticked: Mapping[str, LogEntry]) -> str:
    if not part.holes:
        return "no holes yet"
    states = [_state(hole, ticked)[0] for hole in part.holes if not hole.refused]
    if "changed" in states:
        return "changed since it was ticked: look again"
    return f"{states.count('done')} of {len(states)} drilled"


def _page(part: HoledPart | Plate, words: Words, ticked: Mapping[str, LogEntry]) -> PartPage:
    if isinstance(part, Plate):
        left, lower, right, upper = (
            edge if edge.startswith("away") else f"toward {edge}" for edge in part.edges
        )
        lines: tuple[str, ...] = (
            f"{part.count} of {words.length(part.thickness)} {part.grade}, "
            f"{words.length(part.length)} x {words.length(part.width)}, seen {part.seen}.",
            f"Left edge {left}, lower edge {lower}, right edge {right}, upper edge {upper}.",
        )
        datums: dict[str, str] = {"plate": "the lower edge"}
    else:
        lines = (
            f"{part.section}, {words.length(part.length)}. Hook the tape on {part.datum_end}.",
        )
        datums = {face.key: f"its {face.datum}" for face in part.faces}
    return PartPage(
        f"{part.mark}, {_name(part)}",
        lines,
        tuple(_row(hole, words, datums.get(hole.face, ""), ticked) for hole in part.holes),
    )


def _row(hole: Hole, words: Words, datum: str, ticked: Mapping[str, LogEntry]) -> HoleRow:
    state, at = _state(hole, ticked)
    across = f"{words.length(hole.across)} from {datum}" if hole.across.value > 0.0 else ""
    plate = hole.face == "plate"
    return HoleRow(
        about=f"hole/{hole.key}",
        hash=hole_hash(hole),
        label=hole.label,
        along=f"{words.length(hole.along)} from {'the left edge' if plate else 'the hook'}",
        size=hole_size(hole.diameter, words),
        where="; ".join(said for said in ("" if plate else hole.side, across) if said),
        tool=hole.tool,
        told=sentence(hole.use),
        why=f"{sentence(hole.when)}: {hole.why}",
        refused=hole.refused,
        state=state,
        at=at,
    )
