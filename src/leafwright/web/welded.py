"""Seams on the page: the map, every joint enlarged, a tick for each seam, what is left."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from leafwright.doorway import Doorway, LeafPlace
from leafwright.job.store import LogEntry
from leafwright.leaf import Leaf
from leafwright.paper.annotate import Paper, on_paper
from leafwright.paper.drawing import Drawing, DrawingItem
from leafwright.paper.scene import Box, Scene, union
from leafwright.paper.sheet import item_box
from leafwright.paper.sheets.elevation import leaf_items
from leafwright.paper.sheets.seam_details import (
    JointSeams,
    detail_picture,
    enlarged_for,
    joints_of,
)
from leafwright.paper.sheets.seams import mark_of, seam_map
from leafwright.paper.weld_symbols import WeldMark, weld_mark
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import Words, sentence, words_of
from leafwright.shop.seams import (
    LeafSeams,
    NumberedSeam,
    Seams,
    SeamTick,
    left_of,
    seam_hash,
    ticked,
)
from leafwright.shop.seams.records import View
from leafwright.shop.seams.words import (
    FLUSH,
    HOLD,
    SHARP,
    best_position,
    extra_words,
    left_words,
    length_words,
    ranges,
    total_words,
    weld_words,
    where_words,
)
from leafwright.web.built import hands_of
from leafwright.web.entries import leaf_of
from leafwright.web.pictures import picture, screen_scale, svg_of
from leafwright.web.ticks import moment

#: A joint's picture on a phone [mm], and how large the joint is drawn in it.
_ROOM = Box(0.0, 0.0, 84.0, 84.0)
_WINDOW = (62.0, 58.0)
#: Room for a welding symbol on a phone, so that all are drawn alike large [mm].
_SYMBOL = 52.0


@dataclass(frozen=True, slots=True)
class SeamRow:
    """One seam as it is ticked; ``state`` is left, done or changed."""

    about: str
    hash: str
    mark: str
    side: str
    weld: str
    position: str
    mind: str
    field: bool
    state: str
    at: str


@dataclass(frozen=True, slots=True)
class EndRows:
    """The seams round one end of a member."""

    name: str
    rows: tuple[SeamRow, ...]


@dataclass(frozen=True, slots=True)
class JointRows:
    """One joint or part: its pictures, its seams, and how many are left."""

    id: str
    name: str
    told: str
    left: int
    pictures: tuple[tuple[Markup, str], ...]
    ends: tuple[EndRows, ...]


@dataclass(frozen=True, slots=True)
class SeamsPage:
    """What the page shows of one leaf's seams."""

    hand: str
    hands: tuple[tuple[str, str], ...]
    only_left: bool
    told: str
    state: str
    hold: str
    standard: str
    joints: tuple[JointRows, ...]
    together: tuple[tuple[str, str, str, str], ...]
    none: tuple[str, ...]
    notes: tuple[str, ...]
    symbols: tuple[tuple[Markup, str], ...]


def seams_values(made: Plan, log: Sequence[LogEntry], asked: Mapping[str, str]) -> dict[str, Any]:
    """Return the seams as a template's values, the map of the leaf among them."""
    found = _found(made, leaf_of(made, asked.get("leaf", "")))
    if isinstance(found, str):
        return {"seams": None, "seams_held": found}
    place, leaf, its = found
    words = words_of(made.job)
    left = left_of(its, log)
    only_left = asked.get("when") == "left"
    face = made.job.job.seen_from
    who = _name_of(its.leaf)
    page = SeamsPage(
        hand=place.hand,
        hands=hands_of(made),
        only_left=only_left,
        told=left_words(left, who),
        state="out" if left.shop else "ok",
        hold=HOLD if left.shop else "",
        standard=its.symbols,
        joints=tuple(_joints(leaf, its, log, words, face, only_left=only_left)),
        together=tuple(total_words(row, words.tape) for row in its.lengths),
        none=tuple(f"{sentence(each.where)}: {each.reason}." for each in its.unwelded),
        notes=(FLUSH, SHARP),
        symbols=tuple(_symbols(its, words)),
    )
    outline = Drawing(tuple(leaf_items(leaf)))
    drawing = seam_map(leaf, its, "face", screen_scale(outline))
    svg = picture(
        drawing,
        title=f"{who}: weld map",
        description=f"Seen from the {face}; numbers of the seams at each joint",
        words_first=True,
    )
    caption = f"{sentence(who)}, seen from the {face}: the numbers on the face, and across the "
    return {
        "seams": page,
        "seams_held": "",
        "drawing": svg,
        "caption": f"{caption}tubes. Those on the back are with each joint.",
    }


def _name_of(key: str) -> str:
    return "The leaf" if key == "leaf" else f"{key.capitalize()} leaf"


def hold_line(made: Plan, log: Sequence[LogEntry], hand: str) -> str:
    """Return what is not welded yet of a leaf before it is stood up, or ''."""
    found = _found(made, hand)
    if isinstance(found, str):
        return ""
    left = left_of(found[2], log)
    return f"{left_words(left, _name_of(found[2].leaf))}. {HOLD}" if left.shop else ""


def _found(made: Plan, hand: str) -> tuple[LeafPlace, Leaf, LeafSeams] | str:
    if not isinstance(made.seams, Seams):
        return made.seams.why
    if not isinstance(made.doorway, Doorway):
        return "the doorway is not there yet"
    for place, leaf, its in zip(made.doorway.leaves, made.leaves, made.seams.leaves, strict=False):
        if place.hand == hand and not isinstance(leaf, Held):
            return place, leaf, its
    return "there is no such leaf"


def _joints(
    leaf: Leaf,
    its: LeafSeams,
    log: Sequence[LogEntry],
    words: Words,
    face: str,
    *,
    only_left: bool,
) -> list[JointRows]:
    states = {tick.key: tick for tick in ticked(its.every, log)}
    drawn = {joint.place: joint for joint in joints_of(leaf, its.frame)}
    enlarged = enlarged_for(tuple(drawn.values()), _WINDOW)
    rows = []
    for number, group in enumerate((*_grouped(its.frame), *_grouped(its.mount)), start=1):
        place = group[0].place
        shown = [s for s in group if not only_left or states[s.key].state != "done"]
        if not shown:
            continue
        open_now = sum(states[seam.key].state != "done" for seam in group)
        joint = drawn.get(place) if group[0].joint else None
        before = "" if group[0].joint else "M"
        numbers = before + ranges([seam.number for seam in group])
        ends = []
        for name, same in itertools.groupby(shown, key=lambda seam: where_words(seam)[0]):
            made = tuple(_row(seam, states[seam.key], words) for seam in same)
            ends.append(EndRows(sentence(name), made))
        rows.append(
            JointRows(
                f"joint-{number}",
                sentence(place),
                numbers,
                open_now,
                _pictures(leaf, joint, enlarged, face) if joint else (),
                tuple(ends),
            )
        )
    return rows


def _grouped(seams: Sequence[NumberedSeam]) -> list[list[NumberedSeam]]:
    """Return seams joint by joint."""
    return [list(group) for _, group in itertools.groupby(seams, key=lambda seam: seam.place)]


def _pictures(
    leaf: Leaf, joint: JointSeams, enlarged: float, face: str
) -> tuple[tuple[Markup, str], ...]:
    views: tuple[tuple[View, str], ...] = (("face", f"from the {face}"), ("back", "from the back"))
    found = []
    for view, told in views:
        if not any(seam.view == view for seam in joint.seams):
            continue
        items = detail_picture(leaf, joint, view, enlarged, _ROOM)
        numbers = ranges([seam.number for seam in joint.seams if seam.view == view])
        title = f"{sentence(joint.place)}, {told}"
        found.append((_flat(items, title, f"Seams {numbers}"), f"Seen {told}: {numbers}"))
    return tuple(found)


def _flat(items: Sequence[DrawingItem], title: str, told: str, *, least: float = 0.0) -> Markup:
    """Return a picture drawn in millimetres of screen, cut to what is on it, but so wide [mm]."""
    flat = on_paper(Drawing(tuple(items)), Paper(1.0, (0.0, 0.0)))
    around = union([item_box(item) for item in flat]).inset(-1.0)
    page = Box(0.0, 0.0, max(around.width, least), around.height)
    moved = on_paper(Drawing(tuple(items)), Paper(1.0, (-around.left, -around.bottom)))
    return svg_of(
        Scene(title, page.width, page.height, page, page, moved), title=title, description=told
    )


def _symbols(its: LeafSeams, words: Words) -> list[tuple[Markup, str]]:
    """Return each welding symbol that the leaf has, with its words."""
    found: dict[WeldMark, str] = {}
    for seam in its.every:
        mark = mark_of(seam, words.tape, iso=words.system == "mm")
        said = f"{weld_words(seam, words.tape)} {length_words(seam, words.tape)}"
        said += ", ground flush" if seam.flush else ""
        found.setdefault(mark, f"{said}, on site" if seam.done_at == "field" else said)
    return [
        (_flat(weld_mark((0.0, 0.0), mark), said, said, least=_SYMBOL), said)
        for mark, said in found.items()
    ]


def _row(seam: NumberedSeam, tick: SeamTick, words: Words) -> SeamRow:
    return SeamRow(
        about=seam.about,
        hash=seam_hash(seam),
        mark=seam.mark,
        side=where_words(seam)[1],
        weld=f"{weld_words(seam, words.tape)} {length_words(seam, words.tape)}",
        position=best_position(seam, iso=words.system == "mm"),
        mind="; ".join(extra_words(seam)),
        field=seam.done_at == "field",
        state=tick.state,
        at=moment(tick.at) if tick.at else "",
    )
