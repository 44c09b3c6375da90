"""Buying and cutting on the page: sticks in cutting order, cut cards one at a time, ticks."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from leafwright.job.store import LogEntry
from leafwright.paper.annotate import Paper, on_paper
from leafwright.paper.drawing import Drawing, DrawingItem
from leafwright.paper.font import text_width
from leafwright.paper.scene import Box, Polyline, Primitive, Scene, Text
from leafwright.paper.sheet import item_box
from leafwright.paper.sheets import cuts as cut_sheets
from leafwright.paper.sheets.common import desk
from leafwright.pipeline import Plan
from leafwright.records import to_json
from leafwright.say import Words, edge_words, end_steps, end_words, words_of, wrap_rows
from leafwright.shop.cut_list import CutItem, CutList
from leafwright.shop.nest import Layout, Nest
from leafwright.shop.stock import Stock
from leafwright.web.pictures import svg_of, touchable

STICK_WIDE, STICK_HIGH = 80.0, 8.0


@dataclass(frozen=True, slots=True)
class StickRow:
    """One stick: what it is, the picture of its pieces, and what is left of it."""

    told: str
    picture: Markup
    pieces: tuple[tuple[str, str], ...]
    drop: str


@dataclass(frozen=True, slots=True)
class SectionRow:
    """One section to buy; ``held`` says why it could not be laid out."""

    name: str
    buy: str
    proven: str
    sticks: tuple[StickRow, ...]
    held: str


def section_rows(made: Plan, page: str) -> tuple[SectionRow, ...]:
    """Return what to buy and how each stick is cut."""
    if not isinstance(made.stock, Stock):
        return ()
    words = words_of(made.job)
    rows = []
    for one in made.stock.sections:
        name = f"{one.section.designation}, {one.section.grade.name}"
        if not isinstance(one.nest, Nest):
            rows.append(SectionRow(name, "", "", (), one.nest.why))
            continue
        counts: dict[str, int] = {}
        for layout in one.nest.layouts:
            label = f"{words.length(layout.stick.length)} {layout.stick.kind}"
            counts[label] = counts.get(label, 0) + 1
        longest = max(layout.stick.length for layout in one.nest.layouts)
        least = (
            "the least that can be bought for these pieces, proven"
            if one.nest.proven
            else "not proven to be the least"
        )
        rows.append(
            SectionRow(
                name,
                f"{', '.join(f'{n} × {label}' for label, n in counts.items())}, "
                f"{words.mass(one.mass)}",
                least,
                tuple(
                    _stick_row(i, layout, longest, words, page)
                    for i, layout in enumerate(one.nest.layouts, start=1)
                ),
                "",
            )
        )
    return tuple(rows)


def _stick_row(number: int, layout: Layout, longest: float, words: Words, page: str) -> StickRow:
    k = STICK_WIDE / longest
    end = k * layout.stick.length
    top = 3.0 + STICK_HIGH
    items: list[Primitive] = [
        Polyline(((0.0, 3.0), (end, 3.0), (end, top), (0.0, top)), "thin", closed=True)
    ]
    for share in (0.1, 0.9):
        x = share * end
        items.append(Polyline(((x - 1.6, 0.2), (x, 3.0), (x + 1.6, 0.2)), "thin"))
    for cut in layout.cuts:
        left, right = k * cut.start, k * (cut.start + cut.length)
        corners = Box(left, 3.0, right, top).corners
        items.append(Polyline(corners, "cut", closed=True, key=cut.key))
        shown = f"{cut.key} {words.length(cut.length)}"
        if text_width(shown, 2.4) > right - left - 1.5:
            shown = cut.key if text_width(cut.key, 2.4) < right - left - 1.0 else ""
        if shown:
            at = ((left + right) / 2, 3.0 + STICK_HIGH / 2)
            items.append(Text(at, shown, height_mm=2.4, anchor="centre-middle"))
    page_box = Box(-0.6, 0.0, STICK_WIDE + 0.6, top + 0.6)
    moved = tuple(on_paper(Drawing(tuple(items)), Paper(1.0, (0.6, 0.0))))
    told = f"Stick {number}: {words.length(layout.stick.length)} {layout.stick.kind}"
    scene = Scene(told, page_box.width, page_box.height, page_box, page_box, moved)
    names = {cut.key: f"{cut.key}, {words.length(cut.length)}" for cut in layout.cuts}
    svg = svg_of(scene, title=told, description="Its pieces in cutting order from the left")
    return StickRow(
        told,
        touchable(svg, names, "", page),
        tuple((cut.key, words.length(cut.length)) for cut in layout.cuts),
        words.length(layout.drop) if layout.drop > 0.001 else "none",
    )


@dataclass(frozen=True, slots=True)
class Tick:
    """Whether one piece is cut: ``state`` is open, done, or changed since it was ticked."""

    about: str
    mark: str
    state: str
    at: str


@dataclass(frozen=True, slots=True)
class EndCard:
    """One end, or both alike: how it looks, its cuts in order, and a round one's stations."""

    name: str
    shape: str
    steps: tuple[str, ...]
    stations: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class CutCard:
    """One line of the cut list, as the person at the saw reads it."""

    number: int
    marks: str
    count: int
    steel: str
    roles: str
    length: str
    overall: str
    edges: str
    ends: tuple[EndCard, ...]
    mass: str
    hash: str
    ticks: tuple[Tick, ...]
    item: CutItem

    @property
    def jig(self) -> bool:
        """Whether one of its cuts is made in a jig."""
        both = (*self.item.start.cuts, *self.item.end.cuts)
        return any(cut.way == "jig" for cut in both)

    @property
    def done(self) -> bool:
        """Whether every piece of it is cut, and as it now stands."""
        return all(tick.state == "done" for tick in self.ticks)


def cut_hash(item: CutItem) -> str:
    """Return what a tick remembers of a piece: its steel, its length and both ends."""
    told = [
        item.section.designation,
        item.section.grade.name,
        round(item.length.value, 6),
        [[round(x, 6) for x in point] for end in (item.start, item.end) for point in end.offsets],
    ]
    return hashlib.sha256(json.dumps(to_json(told)).encode()).hexdigest()[:16]


def ticks_of(log: Sequence[LogEntry]) -> dict[str, LogEntry]:
    """Return the last tick about each piece."""
    return {entry.about: entry for entry in log if entry.kind == "tick"}


def cut_cards(made: Plan, log: Sequence[LogEntry]) -> tuple[CutCard, ...]:
    """Return the cut cards in the order of the cut list, with what is ticked."""
    if not isinstance(made.cuts, CutList):
        return ()
    words = words_of(made.job)
    last = ticks_of(log)
    cards = []
    for number, item in enumerate(made.cuts.items, start=1):
        now = cut_hash(item)
        both = [end_steps(end, words) for end in (item.start, item.end)]
        alike = both[0] == both[1] and item.start.wrap == item.end.wrap
        names = ["Both ends"] if alike else ["Left end", "Right end"]
        told = [
            EndCard(name, end_words(end), steps, wrap_rows(end.wrap, words) if end.wrap else ())
            for name, end, steps in zip(names, (item.start, item.end), both, strict=False)
        ]
        cards.append(
            CutCard(
                number,
                ", ".join(item.marks),
                len(item.marks),
                f"{item.section.designation}, {item.section.grade.name}",
                ", ".join(item.roles),
                words.length(item.length),
                cut_sheets.overall(item),
                edge_words(item, words),
                tuple(told),
                words.mass(item.mass),
                now,
                tuple(
                    _tick(key, mark, now, last.get(f"cut/{key}"))
                    for key, mark in zip(item.keys, item.marks, strict=True)
                ),
                item,
            )
        )
    return tuple(cards)


def _tick(key: str, mark: str, now: str, entry: LogEntry | None) -> Tick:
    about = f"cut/{key}"
    if entry is None or not entry.data.get("done"):
        return Tick(about, mark, "open", "")
    state = "done" if entry.data.get("hash") == now else "changed"
    return Tick(about, mark, state, entry.at[:16].replace("T", " "))


def card_picture(made: Plan, card: CutCard) -> Markup:
    """Return the piece of a card: both ends at one scale, its middle broken out."""
    items: list[DrawingItem] = []
    cut_sheets.bar_picture(desk(made), card.item, Box(0.0, 0.0, 86.0, 60.0), 0.0, items)
    flat = on_paper(Drawing(tuple(items)), Paper(1.0, (0.0, 0.0)))
    boxes = [item_box(item) for item in flat]
    left, low = min(b.left for b in boxes) - 1.0, min(b.bottom for b in boxes) - 1.0
    right, top = max(b.right for b in boxes) + 1.0, max(b.top for b in boxes) + 1.0
    page = Box(0.0, 0.0, right - left, top - low)
    placed = tuple(on_paper(Drawing(tuple(items)), Paper(1.0, (-left, -low))))
    scene = Scene(card.marks, page.width, page.height, page, page, placed)
    told = f"{card.marks}: {card.length} long point to long point"
    return svg_of(
        scene, title=told, description="; ".join(f"{end.name}: {end.shape}" for end in card.ends)
    )
